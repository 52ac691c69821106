"""The same job gives the same bytes from the web, the terminal and Python."""

import subprocess
import sys

from browser_app import SLOW_MS, come_to

import stowright


def test_one_job_gives_one_plan_everywhere(app, page, tmp_path):
    address = app.copy("tray", "same")
    come_to(page, f"{address}/history")
    with page.expect_download(timeout=SLOW_MS) as data:
        page.get_by_role("link", name="Plan as data").click()
    data.value.save_as(tmp_path / "web.json")
    told = subprocess.run(
        [sys.executable, "-m", "stowright", "plan", str(app.folder / "same.toml"), "--json"],
        check=True,
        capture_output=True,
    ).stdout
    web = (tmp_path / "web.json").read_bytes()
    assert web == told
    made = stowright.plan(stowright.load_job(app.folder / "same.toml"))
    stowright.write_outputs(made, tmp_path / "out")
    assert web == (tmp_path / "out" / "plan.json").read_bytes()
