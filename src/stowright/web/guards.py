"""What every request passes before a page sees it: host, origin, size, and the shared door."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import urlsplit

from stowright.web.sharing import Guest, Sharing

__all__ = ["COOKIE", "GUEST", "MOST_BYTES", "OwnHost", "SharedDoor", "Sized"]

type Scope = MutableMapping[str, Any]
type Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
type Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]
type App = Callable[[Scope, Receive, Send], Awaitable[None]]

COOKIE = "stowright-guest"
#: Where a request's scope holds the guest that came through the shared door.
GUEST = "stowright.guest"
#: No request body is larger: far above any job file or parts list.
MOST_BYTES = 2_000_000

_LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})
#: Nothing is loaded from anywhere else; pages are put together by scripts of their own.
_POLICY = (
    b"default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; "
    b"style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self' data:; "
    b"connect-src 'self' ws: wss: blob:; frame-src 'self' blob:; object-src 'self'; "
    b"base-uri 'self'; form-action 'self'; frame-ancestors 'self'"
)
_HEADERS = (
    (b"content-security-policy", _POLICY),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
)
#: Heard from this machine alone: over the network browsers take it for an error.
_HERE = (b"cross-origin-opener-policy", b"same-origin")


class OwnHost:
    """Refuses requests that name another host (rebinding) or come from another page (origin)."""

    def __init__(self, app: App, hosts: Callable[[], frozenset[str]]) -> None:
        self._app, self._hosts = app, hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on or refuse it."""
        if scope["type"] not in {"http", "websocket"}:
            await self._app(scope, receive, send)
            return
        reason = self._refused(scope)
        if reason:
            await _refuse(scope, receive, send, 403, reason)
            return
        is_here = _name(f"//{_header(scope, b'host')}") in _LOOPBACK
        await self._app(scope, receive, _with_headers(send, (_HERE,) if is_here else ()))

    def _refused(self, scope: Scope) -> str:
        host = _header(scope, b"host")
        if _name(f"//{host}") not in self._hosts():
            return "This address is not the app's own."
        origin = _header(scope, b"origin")
        changes = scope["type"] == "websocket" or scope["method"] not in {"GET", "HEAD", "OPTIONS"}
        if origin and urlsplit(origin).netloc != host:
            return "This request came from another page."
        if changes and not origin:
            return "This request does not say which page it came from."
        return ""


class Sized:
    """Refuses bodies that are larger than anything a person uploads here."""

    def __init__(self, app: App, most: int = MOST_BYTES) -> None:
        self._app, self._most = app, most

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it when its body is too large."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        said = _header(scope, b"content-length")
        if said and (not said.isdigit() or int(said) > self._most):
            await _refuse(scope, receive, send, 413, f"At most {self._most} bytes.")
            return
        taken = 0

        async def counted() -> MutableMapping[str, Any]:
            nonlocal taken
            message = await receive()
            taken += len(message.get("body", b""))
            if taken > self._most:
                return {"type": "http.disconnect"}
            return message

        await self._app(scope, counted, send)


class SharedDoor:
    """The way in over the network: nothing but the code's page is shown without a session."""

    def __init__(self, app: App, sharing: Sharing, entrance: App) -> None:
        self._app, self._sharing, self._entrance = app, sharing, entrance

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a guest on, everybody else to the entrance."""
        if scope["type"] not in {"http", "websocket"}:
            await self._app(scope, receive, send)
            return
        guest = self._sharing.guest(_cookie(scope))
        if guest is None:
            if scope["type"] == "websocket":
                await _refuse(scope, receive, send, 403, "no session")
                return
            await self._entrance(scope, receive, send)
            return
        scope[GUEST] = guest
        heard = _heard_while_in(receive, self._sharing, guest)
        await self._app(scope, heard, _while_in(send, self._sharing, guest))


def loopback() -> frozenset[str]:
    """Return the names of this machine for itself."""
    return _LOOPBACK


def _heard_while_in(receive: Receive, sharing: Sharing, guest: Guest) -> Receive:
    """Hear nothing more from a device whose session was ended."""

    async def hearing() -> MutableMapping[str, Any]:
        message = await receive()
        if message["type"] == "websocket.receive" and sharing.guest(guest.key) is None:
            return {"type": "websocket.disconnect", "code": 1008}
        return message

    return hearing


def _while_in(send: Send, sharing: Sharing, guest: Guest) -> Send:
    """Send nothing more to a device whose session was ended."""

    async def sending(message: MutableMapping[str, Any]) -> None:
        if message["type"] == "websocket.send" and sharing.guest(guest.key) is None:
            await send({"type": "websocket.close", "code": 1008})
            return
        await send(message)

    return sending


def _with_headers(send: Send, more: tuple[tuple[bytes, bytes], ...]) -> Send:
    async def sending(message: MutableMapping[str, Any]) -> None:
        if message["type"] == "http.response.start":
            message["headers"] = [*message.get("headers", ()), *_HEADERS, *more]
        await send(message)

    return sending


async def _refuse(scope: Scope, receive: Receive, send: Send, status: int, reason: str) -> None:
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.close", "code": 1008})
        return
    kind = [(b"content-type", b"text/plain; charset=utf-8")]
    await send({"type": "http.response.start", "status": status, "headers": kind})
    await send({"type": "http.response.body", "body": reason.encode()})


def _header(scope: Scope, name: bytes) -> str:
    found = [value for key, value in scope["headers"] if key == name]
    return found[0].decode("latin-1") if len(found) == 1 else ""


def _name(address: str) -> str:
    try:
        return urlsplit(address).hostname or ""
    except ValueError:
        return ""


def _cookie(scope: Scope) -> str:
    jar: SimpleCookie = SimpleCookie()
    try:
        jar.load(_header(scope, b"cookie"))
    except CookieError:
        return ""
    return jar[COOKIE].value if COOKIE in jar else ""
