"""From an empty bay to a downloaded book, on a tub and a van, in millimetres and in inches."""

import json

import pytest
from browser_app import SLOW_MS, come_to, press, put, stage

from stowright.app.loading import load_job
from stowright.app.plain import json_text
from stowright.app.plan_dict import plan_to_dict
from stowright.app.planning import plan

TUB_MM = {
    "Length on the floor": "1510",
    "Width on the floor at the tail": "1402",
    "Floor to side rail": "492",
}
VAN_IN = {
    "Length on the floor": "94 1/2",
    "Width on the floor at the tail": "66 15/16",
    "Floor to roof, canopy or lid": "68",
}


@pytest.mark.parametrize(
    ("kind", "units", "readings"), [("tub", "mm", TUB_MM), ("van", "in", VAN_IN)]
)
def test_from_an_empty_bay_to_a_downloaded_book(app, page, kind, units, readings, tmp_path):
    come_to(page, app.address)
    page.get_by_label("What it is called").fill(f"Path {kind}")
    page.get_by_label("Unit", exact=True).select_option(units)
    page.locator("form[data-act=new-job] .kinds").get_by_text(kind, exact=True).click()
    page.wait_for_url(f"**/job/Path%20{kind}/measure")
    page.wait_for_selector("#work")
    for label, reading in readings.items():
        put(page, label, reading, exact=False)
    assert page.locator("aside .sketch").count() == 2
    assert page.get_by_text("Worst width").is_visible()

    stage(page, "Carry")
    press(page, "Add a thing")
    stage(page, "Arrange")
    press(page, "Add a column")
    page.wait_for_function("document.querySelector('.viewer').dataset.whole")
    stage(page, "Prove")
    assert page.locator(".finding").count() > 20

    stage(page, "Cut")
    page.wait_for_selector(".sheet img", timeout=SLOW_MS)
    page.locator("summary", has_text="Cuts:").first.click()
    page.locator(".cuts input").first.check()
    page.wait_for_selector("summary:has-text('Cuts: 1 of')")
    stage(page, "Buy")
    page.locator("input.price").first.fill("12.50")
    page.locator("input.price").first.press("Tab")
    page.wait_for_selector(".total:not(:has-text('Together 0.00'))")
    stage(page, "Build")
    page.get_by_role("button", name="The next step").click()
    page.wait_for_selector("text=Step 2 of")
    stage(page, "Install")
    page.wait_for_selector("text=Weighbridge slip")

    assert page.locator(".notice.wrong").count() == 0
    with page.expect_download(timeout=SLOW_MS) as book:
        page.get_by_role("link", name="Plan book (PDF)").first.click()
    book.value.save_as(tmp_path / "book.pdf")
    assert (tmp_path / "book.pdf").read_bytes().startswith(b"%PDF")
    stage(page, "History")
    with page.expect_download(timeout=SLOW_MS) as data:
        page.get_by_role("link", name="Plan as data").click()
    data.value.save_as(tmp_path / "plan.json")
    job = load_job(app.job(f"Path {kind}"))
    assert job.units == units
    assert (tmp_path / "plan.json").read_bytes() == json_text(plan_to_dict(plan(job))).encode()
    assert json.loads((tmp_path / "plan.json").read_bytes())["format"] == 1
