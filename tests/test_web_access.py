"""The guard before the pages: hosts, origins, sizes, the pass-phrase and its limits."""

from __future__ import annotations

import asyncio
from typing import Any

import pytest

from loamwright.errors import InputError
from loamwright.web import access
from loamwright.web.access import Guard
from loamwright.web.serving import phrase_for

LOCAL = {"127.0.0.1", "localhost"}


async def _inside(scope: Any, receive: Any, send: Any) -> None:
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.accept"})
        return
    while (await receive()).get("more_body"):
        pass
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": scope.get(access.OWNER, "").encode()})


def ask(
    guard: Guard, path: str = "/", *, method: str = "GET", body: bytes = b"", kind: str = "http",
    client: str = "10.0.0.5", **headers: str,
) -> tuple[int, dict[str, str], bytes]:  # fmt: skip
    """One request; status (of a web socket: 101 or the code it was shut with), headers, body."""
    said: list[Any] = []
    told = {"host": "127.0.0.1:8321", **{k.replace("_", "-"): v for k, v in headers.items()}}
    waiting = [{"type": "http.request", "body": body, "more_body": False}]

    async def receive() -> Any:
        return waiting.pop(0) if kind == "http" else {"type": "websocket.connect"}

    async def send(message: Any) -> None:
        said.append(message)

    scope = {"type": kind, "path": path, "method": method, "client": (client, 1),
             "headers": [(k.encode(), v.encode()) for k, v in told.items()]}  # fmt: skip
    asyncio.run(guard(scope, receive, send))
    if kind == "websocket":
        last = said[-1]
        return (101 if last["type"] == "websocket.accept" else last["code"]), {}, b""
    out = {k.decode(): v.decode() for k, v in said[0]["headers"]}
    return said[0]["status"], out, b"".join(m.get("body", b"") for m in said[1:])


def guard(phrase: str | None = None, hosts: set[str] | None = None) -> Guard:
    kept = access.hashed(phrase) if phrase else None
    return Guard(_inside, LOCAL if hosts is None else hosts, kept, "a secret of the test")


def test_another_name_of_the_host_is_refused() -> None:
    """A page elsewhere whose name is made to point here (DNS rebinding) gets nothing."""
    assert ask(guard())[0] == 200
    assert ask(guard(), host="evil.example")[0] == 421
    assert (
        ask(guard(), host="evil.example", kind="websocket", origin="http://evil.example")[0] == 1008
    )


@pytest.mark.parametrize(
    ("origin", "wanted"),
    [("http://127.0.0.1:8321", 101), ("http://evil.example", 1008), ("null", 1008),
     ("http://127.0.0.1:9999", 1008)],
)  # fmt: skip
def test_web_sockets_come_from_our_own_pages(origin: str, wanted: int) -> None:
    assert ask(guard(), "/_nicegui_ws/socket.io", kind="websocket", origin=origin)[0] == wanted


def test_a_web_socket_without_an_origin_is_refused() -> None:
    assert ask(guard(), "/_nicegui_ws/socket.io", kind="websocket")[0] == 1008


def test_forms_of_other_origins_are_refused() -> None:
    assert ask(guard(), "/put", method="POST", origin="http://evil.example")[0] == 403
    assert ask(guard(), "/put", method="POST", origin="http://127.0.0.1:8321")[0] == 200
    polled = ask(guard(), "/_nicegui_ws/socket.io", origin="http://evil.example")
    assert polled[0] == 403


def test_too_large_a_request_is_refused() -> None:
    size = str(access.MOST_BYTES + 1)
    assert ask(guard(), "/put", method="POST", content_length=size)[0] == 413
    assert ask(guard(), "/put", method="POST", content_length="many")[0] == 413


def test_answers_say_what_a_page_may_do() -> None:
    _, headers, _ = ask(guard())
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"


def test_each_browser_has_its_own_signed_name() -> None:
    _, headers, owner = ask(guard())
    cookie = headers["set-cookie"]
    assert "HttpOnly" in cookie
    value = cookie.split(";")[0]
    _, again, same = ask(guard(), cookie=value)
    assert same == owner
    assert "set-cookie" not in again
    _, _, other = ask(guard(), cookie=value[:-3] + "abc")
    assert other != owner


def test_the_pass_phrase_is_asked_for_and_taken() -> None:
    """Hashed with a salt, compared whole, and good for a signed cookie only."""
    kept = access.hashed("seven quiet geckos")
    assert b"geckos" not in kept
    assert access.hashed("seven quiet geckos") != kept
    door = guard("seven quiet geckos")
    assert ask(door)[0] == 401
    assert ask(door, "/get/habitat.yaml")[0] == 401
    assert ask(door, "/_nicegui_ws/", kind="websocket", origin="http://127.0.0.1:8321")[0] == 1008
    assert ask(door, "/enter", method="POST", body=b"phrase=wrong")[0] == 403
    status, headers, _ = ask(door, "/enter", method="POST", body=b"phrase=seven+quiet+geckos")
    assert status == 303
    cookie = headers["set-cookie"].split(";")[0]
    assert ask(door, cookie=cookie)[0] == 200
    # Not the last letter: it carries spare bits, and another may stand for the same signature.
    other = "A" if cookie[-10] != "A" else "B"
    assert ask(door, cookie=f"{cookie[:-10]}{other}{cookie[-9:]}")[0] == 401
    # The cookie of one pass-phrase does not open the door of another.
    assert ask(guard("another phrase"), cookie=cookie)[0] == 401


def test_tries_are_limited_by_address_and_in_all() -> None:
    door = guard("seven quiet geckos")

    def attempt(client: str) -> int:
        return ask(door, "/enter", method="POST", body=b"phrase=guess", client=client)[0]

    assert [attempt("10.0.0.1") for _ in range(7)] == [403] * 5 + [429] * 2
    right = ask(door, "/enter", method="POST", body=b"phrase=seven+quiet+geckos",
                client="10.0.0.1")  # fmt: skip
    assert right[0] == 429
    assert attempt("10.0.0.2") == 403


def test_tries_are_allowed_again_after_a_while() -> None:
    now = [0.0]
    limiter = access.Limiter(clock=lambda: now[0])
    assert [limiter.allow("a") for _ in range(6)] == [True] * 5 + [False]
    now[0] = access.SPAN + 1
    assert limiter.allow("a")
    for n in range(9 * access.TRIES + 4):
        limiter.allow(f"many {n}")
    assert not limiter.allow("one more")


def test_a_network_demands_a_pass_phrase() -> None:
    assert phrase_for("127.0.0.1", None) is None
    for phrase in (None, "", "short"):
        with pytest.raises(InputError, match="needs a pass-phrase of at least 10"):
            phrase_for("0.0.0.0", phrase)
    assert phrase_for("0.0.0.0", "seven quiet geckos") is not None


def test_the_servers_secret_is_made_once_and_is_nobody_elses(tmp_path) -> None:
    first = access.secret_of(tmp_path / "state")
    assert access.secret_of(tmp_path / "state") == first
    assert (tmp_path / "state" / "secret").stat().st_mode & 0o077 == 0
