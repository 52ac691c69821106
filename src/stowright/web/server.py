"""The app put together: pages, files, guards, and the server of this machine."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import socket
import time
from collections.abc import AsyncIterator, Awaitable, Callable
from concurrent.futures import ThreadPoolExecutor
from logging.handlers import RotatingFileHandler
from pathlib import Path
from typing import Any

import uvicorn
from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from nicegui import Client, ui
from nicegui import app as nicegui_app
from starlette.staticfiles import StaticFiles

from stowright.app.bench import Benches
from stowright.app.long_work import Workroom
from stowright.app.second_hand import SecondHand
from stowright.drawings.lettering import font_folder
from stowright.errors import StowrightError
from stowright.web import shell
from stowright.web.downloads import routes
from stowright.web.guards import GUEST, App, OwnHost, Sized, loopback
from stowright.web.house import House
from stowright.web.markup import h
from stowright.web.porter import Porter
from stowright.web.sharing import Sharing
from stowright.web.tab import Tab, script_call
from stowright.web.visitor import Notice, Visitor

__all__ = ["LOG", "build", "serve"]

#: The log in the jobs folder.
LOG = ".stowright-web.log"
_STATIC = Path(__file__).parent / "static"
#: A page waits this long for its job to be worked out, on however busy a machine. [s]
_PATIENCE_S = 120.0
#: Threads for what is waited for beside the loop. Long work holds one each while it goes on or is
#: in line for a place, and no change may have to wait until one of them is free.
_THREADS = 64
#: What the server says of requests that it cuts off when it ends.
_CUT_OFF = "Cancel %s running task(s), timeout graceful shutdown exceeded"
_HEAD = """
<script>
  try { document.documentElement.dataset.look = localStorage.getItem("stowright-look") || ""; }
  catch { document.documentElement.dataset.look = ""; }
</script>
<link rel="stylesheet" href="/static/style.css">
<script src="/static/shell.js" defer></script>
"""
_FAVICON = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><path d="M3 8H29V26H3ZM3 17H29'
    'M16 8V26" fill="none" stroke="#1f4b57" stroke-width="2.5"/></svg>'
)
_BROKEN = "<!doctype html>" + h(
    "html",
    h("head", h("title", "Something went wrong")),
    h("body", h("h1", "Something went wrong in the program"),
      h("p", "Nothing that was saved is lost. What happened is in the log of the jobs folder."),
      h("p", h("a", "To the jobs", href="/"))),
    lang="en",
)  # fmt: skip
log = logging.getLogger("stowright.web")


def build(root: Path) -> tuple[App, House]:
    """Return the guarded app of a jobs folder, and what its visitors share."""
    benches = Benches(root)
    house = House(
        benches=benches,
        workroom=Workroom(),
        settling=Workroom(),
        sharing=Sharing(now=time.monotonic),
    )
    inner = FastAPI(title="stowright", docs_url=None, redoc_url=None, openapi_url=None,
                    lifespan=_lifespan(house))  # fmt: skip
    inner.mount("/static", StaticFiles(directory=_STATIC))
    inner.mount("/font", StaticFiles(directory=font_folder()))
    inner.include_router(routes(house))
    inner.add_exception_handler(Exception, _broken)
    _pages(house)
    ui.run_with(
        inner,
        title="stowright",
        favicon=_FAVICON,
        language="en-US",
        tailwind=False,
        show_welcome_message=False,
        reconnect_timeout=120.0,
        binding_refresh_interval=None,
    )
    # the bar that shows requests under way has no name for screen readers; ours are told in words
    nicegui_app.config.quasar_config["loadingBar"]["skipHijack"] = True
    house.porter = Porter(inner, house.sharing)
    return OwnHost(Sized(inner), loopback), house


def serve(root: Path, *, port: int, share: bool, opened: Any = None) -> None:
    """Serve a jobs folder on this machine until it is interrupted.

    Args:
        root: The folder that jobs are kept in; made when it is not there.
        port: Port on 127.0.0.1.
        share: Open the network at once, for one device that may change.
        opened: Called with the address once it answers.

    Raises:
        OSError: If the port is taken or the folder cannot be made.
    """
    guarded, house = build(root)
    _keep_log(root)
    config = uvicorn.Config(
        guarded, host="127.0.0.1", port=port, log_level="warning", ws_max_size=2**21,
        ws_per_message_deflate=False, timeout_graceful_shutdown=2,
    )  # fmt: skip

    async def begun() -> None:
        if share and house.porter is not None:
            await house.porter.open(can_edit=True)
        if opened is not None:
            opened(f"http://127.0.0.1:{port}/", house)

    _Server(config, begun, house.end_work).run()


class _Server(uvicorn.Server):
    """A server that tells when it answers, and ends without noise."""

    def __init__(
        self,
        config: uvicorn.Config,
        begun: Callable[[], Awaitable[None]],
        ends: Callable[[], None],
    ) -> None:
        super().__init__(config)
        self._begun, self._ends = begun, ends

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, then tell."""
        await super().startup(sockets)
        if self.started:
            await self._begun()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End what requests wait for, then as ever; what is cut off then is told in the log."""
        for handler in logging.getLogger("uvicorn").handlers:
            handler.addFilter(_is_news)
        await asyncio.to_thread(self._ends)
        await super().shutdown(sockets)


def _is_news(record: logging.LogRecord) -> bool:
    """Whether a line belongs on the screen while the program ends: what it cuts off does not."""
    error = record.exc_info[1] if record.exc_info else None
    return not isinstance(error, asyncio.CancelledError) and record.msg != _CUT_OFF


def _lifespan(house: House) -> Any:
    @contextlib.asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        asyncio.get_running_loop().set_default_executor(ThreadPoolExecutor(_THREADS))
        looking = asyncio.create_task(house.keep_looking())
        hand = house.benches.hand = house.benches.shapes.hand = SecondHand()
        hand.start()
        yield
        looking.cancel()
        if house.porter is not None:
            await house.porter.shut()
        house.end_work()
        hand.close()
        house.benches.close()

    return lifespan


def _pages(house: House) -> None:
    @ui.page("/", response_timeout=_PATIENCE_S)
    async def jobs(request: Request) -> None:
        await _open_tab(house, request, "", "jobs")

    @ui.page("/job/{job}")
    async def job(job: str) -> Response:
        return RedirectResponse(f"/job/{job}/measure")

    @ui.page("/job/{job}/{stage}", response_timeout=_PATIENCE_S)
    async def stage(request: Request, job: str, stage: str) -> None:
        await _open_tab(house, request, job, stage)


async def _open_tab(house: House, request: Request, job: str, stage: str) -> None:
    guest = request.scope.get(GUEST)
    visitor = Visitor(house=house, can_edit=guest is None or guest.can_edit, is_local=guest is None)
    if guest is not None:
        visitor.who = f"device {guest.address}"
    if job:
        try:
            bench = await asyncio.to_thread(house.benches.open, job)
            await asyncio.to_thread(bench.scene)
        except (StowrightError, OSError) as error:
            visitor.notice = Notice(text=f"That job cannot be opened: {error}", kind="wrong")
        else:
            visitor.job = job
            visitor.stage = stage if stage in shell.STAGES else "measure"
            house.want_again(job)
    ui.add_head_html(_HEAD)
    client: Client = ui.context.client
    tab = Tab(visitor)
    _tie(client, visitor, tab, house)


def _tie(client: Client, visitor: Visitor, tab: Tab, house: House) -> None:
    def run(name: str, *words: object) -> None:
        with tab.head:
            client.run_javascript(script_call(name, *words))

    visitor.print_pages = lambda address: run("printPages", address)
    visitor.go_to = lambda address: run("goTo", address)
    house.watch(visitor.job, visitor.number, tab.show)
    client.on_delete(lambda: house.leave(visitor.job, visitor.number))


async def _broken(request: Request, error: Exception) -> Response:
    log.error("%s %s broke off", request.method, request.url.path, exc_info=error)
    return HTMLResponse(_BROKEN, 500)


def _keep_log(root: Path) -> None:
    handler = RotatingFileHandler(root / LOG, maxBytes=1_000_000, backupCount=2, encoding="utf-8")
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    for name in ("stowright", "nicegui", "uvicorn.error"):
        logging.getLogger(name).addHandler(handler)
    nicegui_app.on_exception(lambda error: log.error("a page broke off", exc_info=error))
