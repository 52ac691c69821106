"""WCAG 2.2 AA by axe-core on every page in every look; the keyboard alone; no page too wide."""

import pytest
from axe_checks import found
from browser_app import DESKTOP, PHONE, SLOW_MS, come_to, version

STAGES = ("measure", "carry", "arrange", "prove", "cut", "buy", "build", "install", "history")


@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
def test_no_page_has_a_violation_in_any_look(app, contexts, size):
    name = f"accessible {size['width']}"
    address = app.copy("pickup", name)
    page = contexts.page(size=size)
    (app.folder / "cracked.toml").write_text("format = 1\n[bay\n")
    come_to(page, f"{address}/cut")
    page.wait_for_selector(".downloads", timeout=SLOW_MS)
    wrong = []
    for place in STAGES:
        page.get_by_role("link", name=place.capitalize(), exact=True).click()
        page.wait_for_selector(f"#work[data-stage={place}]")
        wrong += [(place, *each) for each in found(page)]
        wide = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        assert wide <= 1, place
    for path in ("/", "/job/cracked/measure"):
        come_to(page, app.address + path)
        wrong += [(path, *each) for each in found(page)]
    assert wrong == []


def test_the_keyboard_alone_is_enough(app, page):
    come_to(page, app.copy("pickup", "keys") + "/measure")
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "f-bay-length":
            break
    page.keyboard.press("Control+a")
    page.keyboard.type("1502")
    before = version(page)
    page.keyboard.press("Tab")
    page.wait_for_function(
        "before => Number(document.querySelector('#work').dataset.version) !== before", arg=before
    )
    assert page.evaluate("document.activeElement !== document.body")  # the place is kept
    assert "length = 1502" in app.job("keys")
