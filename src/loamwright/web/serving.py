"""Serving the workbench on this machine, or with a pass-phrase on a network."""

from __future__ import annotations

import gc
import socket
import sys
import threading
import webbrowser
from pathlib import Path
from urllib.parse import quote

from loamwright.errors import InputError, Problem
from loamwright.web import access
from loamwright.web.app import create_app
from loamwright.web.base import LOCAL, Settings


def phrase_for(host: str, phrase: str | None) -> bytes | None:
    """The hashed pass-phrase that serving on a host demands; None on the machine itself."""
    if host in LOCAL:
        return access.hashed(phrase) if phrase else None
    if not phrase or len(phrase) < access.SHORTEST:
        message = (
            f"on a network ({host}) the workbench needs a pass-phrase of at least "
            f"{access.SHORTEST} characters: set LOAMWRIGHT_PASSPHRASE, or type it when asked"
        )
        raise InputError(Problem(message, "--host"))
    return access.hashed(phrase)


def settings_for(file: Path | None, host: str, phrase: str | None) -> Settings:
    """Settings for opening a file, or the folder one stands in."""
    path = file.resolve() if file else None
    if path is not None and not path.is_file():
        hint = f"make one with: loamwright new {file}"
        raise InputError(Problem(f"there is no such file; {hint}", file=str(file)))
    root = path.parent if path else Path.cwd()
    hosts = LOCAL if host in LOCAL else frozenset()
    return Settings(root=root, file=path, hosts=hosts, phrase=phrase_for(host, phrase))


def address(host: str, port: int, file: Path | None) -> str:
    """Where a browser finds the workbench."""
    shown = f"[{host}]" if ":" in host else "127.0.0.1" if host == "0.0.0.0" else host
    page = f"/habitat?file={quote(file.name)}" if file else "/"
    return f"http://{shown}:{port}{page}"


def listener(host: str, port: int) -> socket.socket:
    """A socket to listen on; ``port`` 0 takes any that is free."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    found = socket.socket(family, socket.SOCK_STREAM)
    found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        found.bind((host, port))
        found.listen(128)
    except OSError as error:
        found.close()
        message = f"port {port} of {host} cannot be had: {error.strerror}; take another --port"
        raise InputError(Problem(message, "--port")) from None
    return found


def serve(settings: Settings, sock: socket.socket, *, browse: str = "") -> None:
    """Serve until interrupted; opens ``browse`` in the person's browser when it is ready."""
    import uvicorn

    # What is loaded now stays; to look through it for what could go would only take time.
    gc.disable()
    # A habitat is read in a thread beside the pages; they take turns at this interval.
    sys.setswitchinterval(0.001)
    if browse:
        # The socket listens already: the browser comes up while the pages do.
        threading.Thread(target=webbrowser.open, args=(browse,), daemon=True).start()
    app = create_app(settings)
    config = uvicorn.Config(
        app, log_level="warning", lifespan="on", timeout_graceful_shutdown=3,
        ws_max_size=access.MOST_BYTES, server_header=False,
    )  # fmt: skip
    server = uvicorn.Server(config)
    server.run(sockets=[sock])
