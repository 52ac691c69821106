"""Sharing with a phone: one-time codes, sessions that can be ended, guesses that get slower."""

from __future__ import annotations

import hmac
import secrets
import socket
from collections.abc import Callable
from dataclasses import dataclass, field

import segno

__all__ = ["CODE_SIGNS", "Door", "Guest", "Sharing", "lan_address", "qr_svg"]

#: Digits and capitals without those that are read for each other.
CODE_SIGNS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
_CODE_LENGTH = 8
_CODE_LIVES_S = 600.0
_FIRST_WAIT_S = 1.0
_LONGEST_WAIT_S = 300.0
_FREE_TRIES = 3
#: After so many the wait is the longest, however many guesses follow.
_DOUBLINGS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Guest:
    """A device that was let in."""

    key: str
    can_edit: bool
    address: str


@dataclass(slots=True)
class Door:
    """The open door: where it is and the code that opens it once."""

    host: str
    port: int
    code: str
    can_edit: bool
    code_until: float


@dataclass(slots=True)
class Sharing:
    """Who may come in over the network. Without a door nobody can.

    Attributes:
        now: Seconds of a clock that only goes forward.
        door: The open door, or None.
        guests: Devices that are in.
    """

    now: Callable[[], float]
    door: Door | None = None
    guests: dict[str, Guest] = field(default_factory=dict)
    wrong: int = 0
    shut_until: float = 0.0

    def open(self, host: str, port: int, *, can_edit: bool) -> Door:
        """Open the door at an address with a fresh code."""
        self.door = Door(host, port, "", can_edit, 0.0)
        self.renew(can_edit=can_edit)
        return self.door

    def renew(self, *, can_edit: bool) -> None:
        """Make a new one-time code for the next device."""
        if self.door is not None:
            self.door.code = "".join(secrets.choice(CODE_SIGNS) for _ in range(_CODE_LENGTH))
            self.door.can_edit = can_edit
            self.door.code_until = self.now() + _CODE_LIVES_S
            self.wrong, self.shut_until = 0, 0.0

    def end(self) -> None:
        """Shut the door and send everybody out."""
        self.door = None
        self.guests.clear()

    def send_out(self, key: str) -> None:
        """End one device's session."""
        self.guests.pop(key, None)

    def wait_s(self) -> float:
        """Return how long the door hears no guess. [s]."""
        return max(self.shut_until - self.now(), 0.0)

    def enter(self, code: str, address: str) -> Guest | None:
        """Let a device in that has the code; each wrong one makes the next wait longer."""
        door = self.door
        if door is None or self.wait_s() > 0.0:
            return None
        said = code.strip().upper().replace(" ", "").replace("-", "")
        fresh = bool(door.code) and self.now() < door.code_until
        if not hmac.compare_digest(said.encode(), door.code.encode()) or not fresh:
            self.wrong += 1
            if self.wrong >= _FREE_TRIES:
                doublings = min(self.wrong - _FREE_TRIES, _DOUBLINGS)
                wait = min(_FIRST_WAIT_S * 2.0**doublings, _LONGEST_WAIT_S)
                self.shut_until = self.now() + wait
            return None
        guest = Guest(key=secrets.token_urlsafe(32), can_edit=door.can_edit, address=address)
        self.guests[guest.key] = guest
        door.code = ""
        return guest

    def guest(self, key: str) -> Guest | None:
        """Return the device that a session belongs to."""
        return self.guests.get(key) if self.door is not None else None

    def address(self) -> str:
        """Return where a phone goes, without the code."""
        return "" if self.door is None else f"http://{self.door.host}:{self.door.port}"


def lan_address() -> str:
    """Return this machine's address in its own network; no packet is sent to learn it."""
    for target in ("192.0.2.1", "198.51.100.1"):  # RFC 5737: addresses that belong to nobody
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            try:
                probe.connect((target, 9))
                return str(probe.getsockname()[0])
            except OSError:
                continue
    return "127.0.0.1"


def qr_svg(text: str) -> str:
    """Return a QR code as SVG."""
    svg: str = segno.make(text, error="m").svg_inline(scale=5, border=2, omitsize=False)
    return svg
