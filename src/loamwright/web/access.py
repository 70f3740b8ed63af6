"""Who may come in: a guard before every request and every web socket.

On the machine itself nothing is asked. On a network a pass-phrase is: it is kept as a salted scrypt
hash, tries are limited, and who knows it gets a signed cookie. A page of another origin reaches
neither the pages nor the web socket, and nothing larger than `MOST_BYTES` is taken in.
"""

from __future__ import annotations

import hashlib
import hmac
import os
import secrets
import time
from collections.abc import Awaitable, Callable, MutableMapping, Sequence
from dataclasses import dataclass, field
from http.cookies import SimpleCookie
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

from itsdangerous import BadSignature, TimestampSigner

Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Any]]
Send = Callable[[Any], Awaitable[None]]

MOST_BYTES = 24_000_000
"""Largest request taken in: a scanned piece has some megabytes."""

SHORTEST = 10
"""Characters a pass-phrase has at least."""

TRIES, SPAN = 5, 60.0
"""Tries that one address has in so many seconds; all addresses together have ten times as many."""

OWNER = "loamwright.owner"
"""Under this name a request carries whose browser it comes from."""

COOKIE, STAYS = "loamwright-pass", 30 * 86400
"""The cookie of who knows the pass-phrase, and how long it is good [s]."""

_N, _R, _P = 2**14, 8, 1
"""Cost of a hash: 16 MB and about 50 ms (RFC 7914's parameters for interactive use)."""

POLICY = (
    "default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; "
    "style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self' data:; "
    "connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'"
)
"""Nothing of a page comes from, or goes, elsewhere. The page's framework compiles its templates in
the browser and so needs the two loose words for scripts; nothing out of a file becomes markup."""


def secret_of(folder: Path) -> str:
    """The server's own secret, made once and kept where only its user reads it."""
    path = folder / "secret"
    try:
        return path.read_text("ascii")
    except OSError:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        made = secrets.token_urlsafe(32)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "w") as stream:
            stream.write(made)
        return made


def hashed(phrase: str, salt: bytes | None = None) -> bytes:
    """Salt and scrypt hash of a pass-phrase."""
    salt = secrets.token_bytes(16) if salt is None else salt
    return salt + hashlib.scrypt(phrase.encode(), salt=salt, n=_N, r=_R, p=_P, dklen=32)


def knows(phrase: str, kept: bytes) -> bool:
    """Whether a pass-phrase is the one that was hashed."""
    return hmac.compare_digest(hashed(phrase, kept[:16]), kept)


@dataclass
class Limiter:
    """Counts tries; ``clock`` gives seconds."""

    clock: Callable[[], float] = time.monotonic
    _tries: dict[str, list[float]] = field(default_factory=dict)

    def allow(self, address: str) -> bool:
        """Whether another try is allowed now; it is counted."""
        now = self.clock()
        self._tries = {
            k: kept for k, v in self._tries.items() if (kept := [t for t in v if now - t < SPAN])
        }
        mine = self._tries.setdefault(address, [])
        everybody = sum(len(v) for v in self._tries.values())
        if len(mine) >= TRIES or everybody >= 10 * TRIES:
            return False
        mine.append(now)
        return True


class Guard:
    """The first thing every request meets.

    Parameters
    ----------
    app : ASGI application
        What lies behind.
    hosts : set of str
        Names the server answers to; empty: any (a pass-phrase is then asked for anyway).
    kept : bytes or None
        The hashed pass-phrase, None where none is asked for.
    secret : str
        Signs the cookie.
    """

    def __init__(self, app: Any, hosts: set[str], kept: bytes | None, secret: str) -> None:
        self.app, self.hosts, self.kept = app, hosts, kept
        # Another pass-phrase ends every pass given for the old one.
        self._signer = TimestampSigner(secret, salt=hashlib.sha256(kept or b"").hexdigest())
        self._owners = TimestampSigner(secret, salt="owner")
        self._limiter = Limiter()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it here."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        headers = {k.decode("latin-1").lower(): v.decode("latin-1") for k, v in scope["headers"]}
        refusal = self._refusal(scope, headers)
        if refusal:
            await _refuse(scope, receive, send, *refusal)
            return
        if self.kept is not None and not self._passed(headers):
            await self._ask(scope, headers, receive, send)
            return
        scope[OWNER], fresh = self._owner(headers)
        cookie = [(b"set-cookie", fresh)] if fresh and scope["type"] == "http" else []
        await self.app(scope, _limited(receive), _with_headers(send, cookie))

    def _owner(self, headers: dict[str, str]) -> tuple[str, bytes]:
        """Whose browser it is, by a signed cookie; a browser without one gets one."""
        found = SimpleCookie(headers.get("cookie", "")).get("loamwright-desk")
        try:
            if found is not None:
                return self._owners.unsign(found.value).decode("ascii"), b""
        except BadSignature:
            pass
        owner = secrets.token_urlsafe(12)
        value = self._owners.sign(owner).decode("ascii")
        cookie = f"loamwright-desk={value}; Path=/; HttpOnly; SameSite=Lax; Max-Age=31536000"
        return owner, cookie.encode("ascii")

    def _refusal(self, scope: Scope, headers: dict[str, str]) -> tuple[int, str] | None:
        host = headers.get("host", "")
        name = urlsplit(f"//{host}").hostname or ""
        if self.hosts and name not in self.hosts:
            return 421, "this server does not go by that name"
        origin = headers.get("origin")
        unsafe = scope["type"] == "websocket" or scope["method"] not in ("GET", "HEAD", "OPTIONS")
        socket = scope["path"].startswith("/_nicegui_ws")
        if origin is None:
            # Browsers name the origin of every web socket; programs without one bring no cookie along.
            if scope["type"] == "websocket":
                return 403, "a web socket must say where it comes from"
        elif (unsafe or socket) and urlsplit(origin).netloc != host:
            return 403, "that page belongs to another origin"
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > MOST_BYTES:
            return 413, f"more than {MOST_BYTES // 1_000_000} MB at once is not taken"
        return None

    def _passed(self, headers: dict[str, str]) -> bool:
        found = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
        try:
            return found is not None and bool(self._signer.unsign(found.value, max_age=STAYS))
        except BadSignature:
            return False

    async def _ask(
        self, scope: Scope, headers: dict[str, str], receive: Receive, send: Send
    ) -> None:
        if scope["type"] == "websocket":
            await _refuse(scope, receive, send, 403, "the pass-phrase is needed")
            return
        if scope["path"] == "/enter" and scope["method"] == "POST":
            body = await _body(receive, 4096)
            phrase = parse_qs(body.decode("utf-8", "replace")).get("phrase", [""])[0]
            address = (scope.get("client") or ("?",))[0]
            if not self._limiter.allow(address):
                await _page(send, 429, "Too many tries. Wait a minute, then try again.")
            elif knows(phrase, self.kept or b""):
                token = self._signer.sign(secrets.token_urlsafe(12)).decode("ascii")
                cookie = (f"{COOKIE}={token}; Path=/; HttpOnly; SameSite=Strict; "
                          f"Max-Age={STAYS}")  # fmt: skip
                await _answer(send, 303, b"", [(b"location", b"/"),
                                               (b"set-cookie", cookie.encode())])  # fmt: skip
            else:
                await _page(send, 403, "That is not the pass-phrase.")
            return
        if scope["path"].startswith("/_nicegui"):
            await _refuse(scope, receive, send, 403, "the pass-phrase is needed")
            return
        await _page(send, 401, "")


_FORM = """<!doctype html><html lang="en"><meta charset="utf-8"><title>loamwright</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>body{{font:1.1rem/1.5 system-ui,sans-serif;background:#faf8f1;color:#25302b;
display:grid;place-items:center;min-height:90vh;margin:0}}form{{max-width:22rem;padding:2rem}}
input,button{{font:inherit;padding:.6rem;width:100%;box-sizing:border-box;margin:.4rem 0}}
button{{background:#2f6b4f;color:#fff;border:0;border-radius:.4rem}}p{{color:#9a3412}}
@media(prefers-color-scheme:dark){{body{{background:#171c19;color:#e7ece7}}p{{color:#f0a080}}}}
</style><body><main><form method="post" action="/enter"><h1>loamwright</h1>
<label for="phrase">The pass-phrase of this workbench</label>
<input id="phrase" name="phrase" type="password" autocomplete="current-password" required autofocus>
<button>come in</button><p role="alert">{said}</p></form></main></body></html>"""


async def _page(send: Send, status: int, said: str) -> None:
    """The page that asks for the pass-phrase; ``said`` is one of our own sentences."""
    await _answer(send, status, _FORM.format(said=said).encode(),
                  [(b"content-type", b"text/html; charset=utf-8")])  # fmt: skip


async def _answer(send: Send, status: int, body: bytes, headers: list[tuple[bytes, bytes]]) -> None:
    more = [*headers, (b"content-length", str(len(body)).encode())]
    await _with_headers(send)({"type": "http.response.start", "status": status, "headers": more})
    await send({"type": "http.response.body", "body": body})


async def _refuse(scope: Scope, receive: Receive, send: Send, status: int, why: str) -> None:
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.close", "code": 1008, "reason": why})
        return
    await _answer(send, status, why.encode(), [(b"content-type", b"text/plain; charset=utf-8")])


async def _body(receive: Receive, most: int) -> bytes:
    found = b""
    while len(found) <= most:
        message = await receive()
        found += message.get("body", b"")
        if not message.get("more_body"):
            break
    return found[:most]


def _limited(receive: Receive) -> Receive:
    """Ends a body that goes on for longer than it may, whatever its head said."""
    taken = 0

    async def inner() -> Any:
        nonlocal taken
        message = await receive()
        if message["type"] == "http.request":
            taken += len(message.get("body", b""))
            if taken > MOST_BYTES:
                return {"type": "http.disconnect"}
        return message

    return inner


def _with_headers(send: Send, more: Sequence[tuple[bytes, bytes]] = ()) -> Send:
    async def inner(message: Any) -> None:
        if message["type"] == "http.response.start":
            message["headers"] = [
                *message.get("headers", []),
                *more,
                (b"content-security-policy", POLICY.encode()),
                (b"x-content-type-options", b"nosniff"),
                (b"referrer-policy", b"same-origin"),
                (b"x-frame-options", b"DENY"),
            ]
        await send(message)

    return inner
