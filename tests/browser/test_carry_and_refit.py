"""What lies where, and what a reading changes, shown where they are asked for."""

from axe_checks import found
from browser_app import SLOW_MS, come_to, press

READ = """
[[reading]]
of = {opening = "tools", what = "between-runners"}
values = [485.2, 486.0, 486.4]
"""


def test_every_opening_has_a_plan_of_what_lies_in_it(app, page):
    come_to(page, app.copy("pickup", "carry") + "/carry")
    page.wait_for_selector(".packed .card", timeout=SLOW_MS)
    page.wait_for_function(
        """() => {
          const plans = [...document.querySelectorAll(".packed img")];
          plans.forEach((each) => each.scrollIntoView());
          return plans.length === 2 && plans.every((each) => each.complete && each.naturalWidth);
        }""",
        timeout=SLOW_MS,
    )
    assert page.get_by_text("Everything has a place.").count() == 1
    assert found(page) == []


def test_packing_is_stopped_and_begun_again(app, page):
    address = app.copy("van", "stopped")
    come_to(page, address + "/carry")
    page.get_by_role("button", name="Stop packing").click()
    page.wait_for_selector("text=The load is not packed.")
    page.get_by_role("button", name="Pack it").click()
    page.wait_for_selector(".packed .card", timeout=SLOW_MS)


def test_a_reading_is_answered_with_the_parts_that_change_and_can_be_taken_back(app, page):
    address = app.copy("pickup", "read")
    with (app.folder / "read.toml").open("a") as file:
        file.write(READ)
    come_to(page, address + "/build")
    page.wait_for_selector(".refit table.changed", timeout=SLOW_MS)
    told = page.locator(".refit").inner_text()
    assert "tools, between runners: 485.2 486.0 486.4" in told
    rows = page.locator("table.changed tbody tr")
    assert rows.count() > 0
    for cells in rows.all():
        was, now = (cells.locator("td").nth(place).inner_text() for place in (0, 1))
        assert was
        assert now
    assert found(page) == []
    sheet = page.request.get(f"{address}/get/changes.pdf")
    assert sheet.body().startswith(b"%PDF")
    press(page, "Take back: tools, between runners")
    assert "[[reading]]" not in app.job("read")
    page.wait_for_selector(".refit", state="detached")
