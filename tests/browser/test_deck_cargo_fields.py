"""Deck cargo and rails of decks: given on the pages, kept in the job file."""

import tomllib

from axe_checks import found
from browser_app import DESKTOP, come_to, press

JOB = """[job]
title = "Tyre on the deck"
[bay]
kind = "tub"
length = 1500
width = 1400
rail = 500
[[carry]]
what = "tyre"
size = [600, 600, 200]
mass = 22
[[block]]
name = "unit"
[[deck]]
over = ["unit"]
deck_sheet = "birch-18"
"""


def kept(app, page, *, version):
    page.wait_for_selector(f"text=saved, version {version}")
    return tomllib.loads(app.job("tyre"))


def test_a_thing_rides_on_a_deck_tied_to_a_rail_that_was_added(app, page):
    page.set_viewport_size(DESKTOP)
    (app.folder / "tyre.toml").write_text(JOB, encoding="utf-8")
    address = f"{app.address}/job/tyre"
    come_to(page, f"{address}/arrange")
    press(page, "Add a tie rail")
    page.get_by_label("One point takes, as its maker says").fill("2000")
    page.keyboard.press("Tab")
    assert kept(app, page, version=3)["deck"][0]["rails"] == [{"side": "left", "rating": 2000}]
    assert found(page) == []
    come_to(page, f"{address}/carry")
    page.get_by_label("rides on").select_option("deck")
    page.get_by_label("left rail").check()
    page.get_by_label("its middle, forward of the tail").fill("900")
    page.keyboard.press("Tab")
    thing = kept(app, page, version=6)["carry"][0]
    assert (thing["on"], thing["lash"]) == ("deck", {"count": 2, "to": ["left rail"]})
    assert thing["at"][0] == 900
    assert found(page) == []
    come_to(page, f"{address}/arrange")
    page.wait_for_function("document.querySelector('.viewer').dataset.whole")
    page.wait_for_selector(".viewer-load >> text=tyre, 22 kg")
    page.get_by_role("button", name="load", exact=True).click()
    page.wait_for_selector(".viewer-load", state="hidden")
    come_to(page, f"{address}/carry")
    page.get_by_label("rides on").select_option("")
    assert set(kept(app, page, version=7)["carry"][0]) == {"what", "size", "mass"}
