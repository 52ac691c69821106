"""Pictures of every page of the web app, at each size and in each look, into out/screens.

With --only a part of a file's name, fewer; with --readme also the picture that the README shows.
"""

import argparse
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).parents[1]
OUT = ROOT / "out" / "screens"
FLAGS = ["--no-sandbox", "--use-gl=swiftshader", "--enable-unsafe-swiftshader"]
SIZES = {"desktop": (1440, 900), "tablet": (820, 1180), "phone": (390, 844)}
LOOKS = ("light", "dark", "outdoor")
STAGES = (
    "measure",
    "carry",
    "arrange",
    "prove",
    "cut",
    "buy",
    "build",
    "install",
    "history",
)


def main() -> None:
    """Start the app on copies of the examples and look at it."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--only", default="", help="a part of the file's name")
    asked.add_argument("--readme", action="store_true", help="renew the README's picture")
    given = asked.parse_args()
    OUT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        for name in ("pickup", "pickup-inches", "van"):
            shutil.copy(ROOT / "examples" / name / "job.toml", Path(folder) / f"{name}.toml")
        (Path(folder) / "broken.toml").write_text("format = 1\n[bay\nlength = 3\n")
        port = _free_port()
        command = [sys.executable, "-m", "stowright", "open", "--folder", folder, "--no-show"]
        app = subprocess.Popen([*command, "--port", str(port)])
        try:
            _look(port, given.only, readme=given.readme)
        finally:
            app.terminate()
            app.wait()


def _look(port: int, only: str, *, readme: bool) -> None:
    address = f"http://127.0.0.1:{port}"
    for _ in range(600):
        try:
            with socket.create_connection(("127.0.0.1", port), timeout=1):
                break
        except OSError:
            time.sleep(0.05)
    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        _warm(chromium, address)
        for size, (width, height) in SIZES.items():
            for look in LOOKS:
                _series(chromium, address, size=size, look=look, box=(width, height), only=only)
        if readme:
            page = chromium.new_page(viewport={"width": 1440, "height": 900})
            page.goto(f"{address}/job/pickup/arrange")
            page.wait_for_function("document.querySelector('.viewer').dataset.model")
            page.wait_for_timeout(2500)
            page.screenshot(path=ROOT / "docs" / "images" / "web.png")
        chromium.close()


def _warm(chromium: Browser, address: str) -> None:
    """Let the plan and the figures be worked out once."""
    page = chromium.new_page()
    page.goto(f"{address}/job/pickup/build")
    page.wait_for_selector(".step", timeout=600_000)
    page.wait_for_selector(".work", state="detached", timeout=600_000)
    page.close()


def _series(
    chromium: Browser, address: str, *, size: str, look: str, box: tuple[int, int], only: str
) -> None:
    pages = {"jobs": "/", "locked": "/job/broken/measure", "inches": "/job/pickup-inches/measure"}
    pages |= {stage: f"/job/pickup/{stage}" for stage in STAGES}
    wanted = {name: path for name, path in pages.items() if only in f"{name}-{size}-{look}"}
    if not wanted:
        return
    context = chromium.new_context(viewport={"width": box[0], "height": box[1]})
    context.add_init_script(f"localStorage.setItem('stowright-look', '{look}')")
    page = context.new_page()
    for name, path in wanted.items():
        page.goto(f"{address}{path}")
        page.wait_for_selector("#work")
        page.wait_for_timeout(1800 if name in {"arrange", "prove"} else 500)
        _act(page, name)
        page.screenshot(path=OUT / f"{name}-{size}-{look}.png", full_page=True)
    context.close()


def _act(page: Page, name: str) -> None:
    """Show something of what a page can do."""
    if name == "arrange":
        page.get_by_role("button", name="open all").click()
        page.wait_for_timeout(900)
    if name == "prove":
        page.locator(".finding summary").first.click()
    if name == "build":
        for _ in range(3):
            page.get_by_role("button", name="The next step").click()
            page.wait_for_timeout(200)
        page.wait_for_timeout(500)
    if name == "cut":
        page.locator("summary", has_text="Cuts:").first.click()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


if __name__ == "__main__":
    main()
