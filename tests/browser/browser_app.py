"""The app in a process of its own, and a real browser that counts what it asks others for."""

import shutil
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path
from urllib.parse import urlsplit

from playwright.sync_api import Error

EXAMPLES = Path(__file__).parents[2] / "examples"
FLAGS = ["--no-sandbox", "--use-gl=swiftshader", "--enable-unsafe-swiftshader"]
DESKTOP = {"width": 1440, "height": 900}
PHONE = {"width": 390, "height": 844}
SLOW_MS = 240_000


class App:
    """The running app and its jobs folder."""

    def __init__(self, folder, *more):
        self.folder = folder
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self.more = more
        self.start()

    def start(self):
        command = [sys.executable, "-m", "stowright", "open", "--folder", str(self.folder)]
        self.process = subprocess.Popen(
            [*command, "--port", str(self.port), "--no-show", *self.more],
            stdout=subprocess.DEVNULL,
        )
        for _ in range(1200):
            try:
                with socket.create_connection(("127.0.0.1", self.port), timeout=1):
                    return
            except OSError:
                time.sleep(0.05)
        raise AssertionError("the app did not start")

    def kill(self):
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def stop(self):
        self.process.terminate()
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.kill()

    def job(self, name):
        return (self.folder / f"{name}.toml").read_text(encoding="utf-8")

    def copy(self, example, name):
        shutil.copy(EXAMPLES / example / "job.toml", self.folder / f"{name}.toml")
        return f"{self.address}/job/{name}"


class Contexts:
    """Makes browser contexts; every request that leaves this machine is kept."""

    def __init__(self, chromium):
        self.chromium = chromium
        self.elsewhere = []
        self.errors = []
        self.open = []

    def page(self, *, size=None, look="", downloads=True):
        context = self.chromium.new_context(viewport=size or DESKTOP, accept_downloads=downloads)
        context.set_default_timeout(60_000)
        if look:
            context.add_init_script(f"localStorage.setItem('stowright-look', '{look}')")
        context.on("request", self._seen)
        page = context.new_page()
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.open.append(context)
        return page

    def _seen(self, request):
        parts = urlsplit(request.url)
        if parts.scheme in {"http", "https", "ws", "wss"} and parts.hostname != "127.0.0.1":
            self.elsewhere.append(request.url)


def come_to(page, address):
    """Open a page and wait for its work; a page that just then reloads itself may cut in once."""
    try:
        page.goto(address)
    except Error as cut_in:
        if "ERR_ABORTED" not in str(cut_in):
            raise
        page.wait_for_load_state()
        page.goto(address)
    page.wait_for_selector("#work")
    page.wait_for_function("window.did_handshake")  # before that a click has nobody to hear it


def stage(page, name):
    """Go to a stage and wait until it stands."""
    page.get_by_role("link", name=name, exact=True).click()
    page.wait_for_selector(f"#work[data-stage={name.lower()}]")


def version(page):
    return int(page.get_attribute("#work", "data-version"))


def put(page, label, value, *, exact=True):
    """Type into a field and wait until it is saved."""
    before = version(page)
    field = page.get_by_label(label, exact=exact).first
    field.fill(value)
    field.press("Tab")
    saved(page, before)


def saved(page, before):
    page.wait_for_function(
        "before => Number(document.querySelector('#work').dataset.version) !== before", arg=before
    )


def settled(page):
    """Wait until the load of the very version in the page is packed and its bolts are planned."""
    page.wait_for_function(
        "document.querySelector('.saved').textContent"
        " === `saved, version ${document.querySelector('#work').dataset.version}`",
        timeout=SLOW_MS,
    )


def heard(page):
    """Wait until no field waits for an answer: what was typed is saved, or refused."""
    page.wait_for_function("!document.querySelector('[data-sent]')")


def drawn(page):
    """Wait until the model stands as it was last turned."""
    page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")


def press(page, name, *, exact=True):
    """Press a button that changes the job and wait until it is saved."""
    before = version(page)
    page.get_by_role("button", name=name, exact=exact).first.click()
    saved(page, before)
