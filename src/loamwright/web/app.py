"""The workbench as an application: `create_app` makes it and serves nothing by itself."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

from loamwright.web import access
from loamwright.web.base import LOCAL, Page, Settings, Workbench


def pages() -> tuple[Page, ...]:
    """Every page there is: each module of `web.pages` with a ``PAGE``, in their order."""
    from loamwright.web import pages as package

    found = []
    for module in iter_modules(package.__path__):
        page = getattr(import_module(f"{package.__name__}.{module.name}"), "PAGE", None)
        if isinstance(page, Page):
            found.append(page)
    return tuple(sorted(found, key=lambda p: p.order))


@contextmanager
def _unneeded(module: str) -> Iterator[None]:
    """Let a module be missing: one that the framework loads only to be a client, and can do without,
    takes a tenth of a second of the start."""
    if module in sys.modules:
        yield
        return
    sys.modules[module] = None  # type: ignore[assignment]
    try:
        yield
    finally:
        del sys.modules[module]


def create_app(settings: Settings) -> Any:
    """The whole workbench as an ASGI application, guard included; one for each process."""
    # The framework keeps a folder of its own; nothing is stored there, but it shall not be in the
    # folder of the person's files.
    os.environ.setdefault("NICEGUI_STORAGE_PATH", str(settings.state / "pages"))
    with _unneeded("aiohttp"), _unneeded("requests"):
        from nicegui import app as framework
        from nicegui import ui
    from fastapi import FastAPI
    from fastapi.middleware.gzip import GZipMiddleware

    from loamwright.web import downloads, shell, start

    bench = Workbench(settings, pages())
    api = FastAPI(docs_url=None, redoc_url=None, openapi_url=None)
    start.register(bench)
    for page in bench.pages:
        shell.register(bench, page)
    downloads.register(bench, api)
    framework.on_shutdown(bench.engines.end)
    # On the machine itself packing costs more than it saves.
    packer = None if set(settings.hosts) >= LOCAL else GZipMiddleware
    ui.run_with(
        api, title="loamwright", favicon=shell.ICON, dark=None, language="en-GB", tailwind=False,
        show_welcome_message=False, reconnect_timeout=20.0, message_history_length=200,
        binding_refresh_interval=None, gzip_middleware_factory=packer,
    )  # fmt: skip
    secret = access.secret_of(settings.state)
    return access.Guard(api, set(settings.hosts), settings.phrase, secret)
