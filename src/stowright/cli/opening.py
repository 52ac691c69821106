"""The command ``open``: the web app on this machine."""

from __future__ import annotations

import contextlib
import socket
import webbrowser
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

import click

from stowright.errors import JobError, Mistake

if TYPE_CHECKING:
    from stowright.web.house import House

__all__ = ["PORT", "run_open"]

#: The port that is tried first.
PORT = 8765
_TRIED = 20


def run_open(
    *, job: str | None, folder: str | None, port: int | None, share: bool, show: bool
) -> None:
    """Serve the jobs of a folder until interrupted."""
    root, name = _where(job, folder)
    chosen = port if port is not None else _free_port()
    _require_free(chosen)

    def opened(address: str, house: House) -> None:
        click.echo(f"stowright is at {address} (jobs in {root}); stop it with Ctrl-C")
        door = house.sharing.door
        if door is not None:
            click.echo(f"Shared at {house.sharing.address()} with the one-time code {door.code}")
        if show:
            _show(address + (f"job/{quote(name, safe='')}/measure" if name else ""))

    from stowright.web.server import serve

    with contextlib.suppress(KeyboardInterrupt):
        serve(root, port=chosen, share=share, opened=opened)


def _where(job: str | None, folder: str | None) -> tuple[Path, str]:
    """Return the jobs folder, and the job to open at once."""
    if job is None:
        return Path(folder or ".").resolve(), ""
    path = Path(job)
    if not path.is_file() or path.suffix != ".toml":
        raise JobError((Mistake(field="JOB", found=job, allowed="a job file that is there"),))
    return path.resolve().parent, path.stem


def _free_port() -> int:
    for port in range(PORT, PORT + _TRIED):
        if _is_free(port):
            return port
    return PORT


def _require_free(port: int) -> None:
    if not _is_free(port):
        found = f"port {port}, which is taken"
        raise JobError((Mistake(field="--port", found=found, allowed="a free port"),))


def _is_free(port: int) -> bool:
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except (OSError, OverflowError):
            return False
    return True


def _show(address: str) -> None:
    with contextlib.suppress(webbrowser.Error):
        webbrowser.open(address)
