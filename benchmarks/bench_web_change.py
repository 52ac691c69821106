"""How long a change of one dimension takes in the browser, on the pickup example.

Timed from the change of the field to the new model's scene in the page, its numbers and proofs with
it; painting is apart, since tests draw in software. New shapes come as outlines, true in size; what
is cut into them follows, and is timed as well. A fixed loop is timed before each change: on a
machine that others use, its time tells how much of the machine was there.
"""

import os
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

ROOT = Path(__file__).parents[1]
FLAGS = ["--no-sandbox", "--use-gl=swiftshader", "--enable-unsafe-swiftshader"]
TIMES = 12
#: Turns of the fixed loop.
TURNS = 1_000_000

CHANGE = """async ([path, value]) => {
  const field = document.querySelector(`input[data-path="${path}"]`);
  const viewer = document.querySelector(".viewer");
  const before = viewer.dataset.model;
  const version = document.querySelector("#work").dataset.version;
  let numbers = 0, model = 0, whole = 0, begin = 0;
  return new Promise((done) => {
    const look = () => {
      const now = performance.now() - begin;
      if (!numbers && document.querySelector("#work").dataset.version !== version) numbers = now;
      if (!model && viewer.dataset.model !== before) model = now;
      if (model && !whole && viewer.dataset.whole === viewer.dataset.model) whole = now;
      if (numbers && whole) done([numbers, Math.max(numbers, model), whole]);
    };
    for (const kind of ["pane-written", "model-in-place"]) window.addEventListener(kind, look);
    begin = performance.now();
    field.value = value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
  });
}"""


#: A person looks at one change before making the next: what follows it has ended.
QUIET = "!document.querySelector('.saved').textContent.includes('packing')"


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def wait_until_it_answers(port):
    for _ in range(600):
        try:
            with socket.create_connection(("127.0.0.1", port), timeout=1):
                return
        except OSError:
            time.sleep(0.05)
    raise SystemExit("the app did not start")


def main():
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(ROOT / "examples/pickup/job.toml", Path(folder) / "pickup.toml")
        port = free_port()
        command = [sys.executable, "-m", "stowright", "open", "--folder", folder, "--no-show"]
        app = subprocess.Popen([*command, "--port", str(port)])
        try:
            address = f"http://127.0.0.1:{port}"
            wait_until_it_answers(port)
            measure(address)
        finally:
            app.terminate()
            app.wait()


def measure(address):
    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        page = chromium.new_page(viewport={"width": 1440, "height": 900})
        begin = time.perf_counter()
        page.goto(f"{address}/")
        page.wait_for_selector("h1")
        first = time.perf_counter() - begin
        page.goto(f"{address}/job/pickup/arrange")
        page.wait_for_function("document.querySelector('.viewer').dataset.model")
        taken, loops = [], []
        for turn in range(TIMES):
            width = 480 + turn * 5
            change = ["block[1].columns[1].width", str(width)]
            loops.append(fixed_loop_ms())
            taken.append(page.evaluate(CHANGE, change))
            page.wait_for_function(QUIET, timeout=120_000)
            page.wait_for_timeout(400)
        chromium.close()
    warm = sorted(model for _, model, _ in taken[2:])
    numbers = statistics.median(first for first, _, _ in taken[2:])
    whole = statistics.median(whole for _, _, whole in taken[2:])
    ratio = statistics.median(
        model / loop for (_, model, _), loop in zip(taken[2:], loops[2:], strict=True)
    )
    print(f"first screen: {first * 1000:.0f} ms")
    print(
        f"one dimension changed: median {statistics.median(warm):.0f} ms, worst {warm[-1]:.0f} ms, "
        f"best {warm[0]:.0f} ms of {len(warm)}; its numbers and proofs at {numbers:.0f} ms, "
        f"every hole and groove of the model at {whole:.0f} ms "
        f"(the first two, {taken[0][1]:.0f} and {taken[1][1]:.0f} ms, left out: libraries load)"
    )
    print(
        f"a loop of {TURNS} turns took {statistics.median(loops):.0f} ms meanwhile, at best "
        f"{min(loops):.0f} ms; a change took {ratio:.2f} times as long as the loop before it; "
        f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores"
    )


def fixed_loop_ms():
    begin = time.perf_counter()
    total = 0
    for turn in range(TURNS):
        total += turn * turn
    return (time.perf_counter() - begin) * 1000.0


if __name__ == "__main__":
    main()
