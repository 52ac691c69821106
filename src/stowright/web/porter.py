"""The server that the network sees, there only while something is shared, and its entrance."""

from __future__ import annotations

import asyncio
import contextlib
import socket
from collections.abc import Callable, Iterator
from typing import Any
from urllib.parse import parse_qs

import uvicorn

from stowright.web.guards import COOKIE, App, OwnHost, Receive, Scope, Send, SharedDoor, Sized
from stowright.web.markup import h
from stowright.web.sharing import Sharing, lan_address

__all__ = ["Porter", "QuietServer"]

_SLOW_S = 0.4
_STYLE = """
body{font:1.15rem/1.5 system-ui,sans-serif;margin:0;background:#f3efe7;color:#221d16}
main{max-width:26rem;margin:12vh auto;padding:1.5rem}
input,button{font:inherit;padding:.7rem;width:100%;box-sizing:border-box;margin-top:.4rem}
input{text-transform:uppercase;letter-spacing:.2em;border:2px solid #6a6156;border-radius:6px}
button{margin-top:1rem;background:#1f4b57;color:#fff;border:0;border-radius:6px}
"""


class QuietServer(uvicorn.Server):
    """A server that leaves the signals to whoever runs it."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Take no signals."""
        yield


class Porter:
    """Opens and shuts the door to the network."""

    def __init__(
        self, app: App, sharing: Sharing, *, address: Callable[[], str] = lan_address
    ) -> None:
        self._sharing, self._address = sharing, address
        door = SharedDoor(app, sharing, self.entrance)
        self._app = OwnHost(Sized(door), self._hosts)
        self._server: QuietServer | None = None
        self._task: asyncio.Task[None] | None = None

    async def open(self, *, can_edit: bool) -> None:
        """Open the door on a free port of this machine's network address.

        Raises:
            OSError: If no port can be had.
        """
        await self.shut()
        host = self._address()
        line = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        line.bind((host, 0))
        config = uvicorn.Config(self._app, lifespan="off", log_level="warning", ws_max_size=2**21)
        self._server = QuietServer(config)
        self._task = asyncio.create_task(self._server.serve(sockets=[line]))
        self._sharing.open(host, line.getsockname()[1], can_edit=can_edit)

    async def shut(self) -> None:
        """Shut the door and end every session."""
        self._sharing.end()
        server, task = self._server, self._task
        self._server = self._task = None
        if server is not None and task is not None:
            server.should_exit = server.force_exit = True
            with contextlib.suppress(asyncio.CancelledError, TimeoutError):
                await asyncio.wait_for(task, 5.0)

    async def entrance(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Show the page that asks for the code, or let in who has it."""
        code = await _said(scope, receive)
        client = scope.get("client") or ("unknown", 0)
        if code:
            await asyncio.sleep(_SLOW_S)
            guest = self._sharing.enter(code, str(client[0]))
            if guest is not None:
                cookie = f"{COOKIE}={guest.key}; HttpOnly; SameSite=Lax; Path=/"
                await _answer(send, 303, b"", location="/", cookie=cookie)
                return
        wait = self._sharing.wait_s()
        status = 429 if wait > 0.0 else 403 if code else 401
        await _answer(send, status, _page(wrong=bool(code), wait_s=wait).encode(), wait_s=wait)

    def _hosts(self) -> frozenset[str]:
        door = self._sharing.door
        return frozenset({door.host}) if door is not None else frozenset()


async def _said(scope: Scope, receive: Receive) -> str:
    """Return the code in an address or a form; empty when there is none."""
    if scope["path"] != "/enter":
        return ""
    asked = scope.get("query_string", b"").decode("latin-1")
    if scope["method"] == "POST":
        message = await receive()
        asked = message.get("body", b"")[:200].decode("latin-1")
    return next(iter(parse_qs(asked).get("code", ())), "")[:40]


def _page(*, wrong: bool, wait_s: float) -> str:
    told = "That is not the code." if wrong else ""
    if wait_s > 0.0:
        told = f"Too many wrong codes. Wait {wait_s:.0f} seconds, then try again."
    return "<!doctype html>" + h(
        "html",
        h("head", h("meta", charset="utf-8"),
          h("meta", name="viewport", content="width=device-width, initial-scale=1"),
          h("title", "Enter the code"), h("style", _STYLE)),
        h("body", h("main", h("h1", "Enter the code"),
          h("p", "It stands on the screen of the machine that shares."),
          h("p", told, role="alert") if told else None,
          h("form", h("label", "Code", for_="code"),
            h("input", id="code", name="code", autocomplete="one-time-code", maxlength=12,
              autofocus=True), h("button", "Enter", type="submit"),
            method="post", action="/enter"))),
        lang="en",
    )  # fmt: skip


async def _answer(
    send: Send, status: int, body: bytes, *, location: str = "", cookie: str = "",
    wait_s: float = 0.0,
) -> None:  # fmt: skip
    headers: list[tuple[bytes, bytes]] = [
        (b"content-type", b"text/html; charset=utf-8"),
        (b"cache-control", b"no-store"),
    ]
    extra: dict[bytes, Any] = {b"location": location, b"set-cookie": cookie}
    headers += [(key, value.encode()) for key, value in extra.items() if value]
    if wait_s > 0.0:
        headers.append((b"retry-after", f"{int(wait_s) + 1}".encode()))
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
