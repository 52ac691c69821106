"""Changes: undone, met by another device, kept over a kill, refused where they stand."""

import pytest
from browser_app import PHONE, App, come_to, drawn, press, put, saved, settled, stage, version


def length(page):
    return page.get_by_label("Length on the floor", exact=False).first


def test_undo_and_redo_by_button_and_by_key(app, page):
    come_to(page, app.copy("pickup", "undo") + "/measure")
    put(page, "Length on the floor", "1505", exact=False)
    press(page, "Undo")
    assert length(page).input_value() == "1510"
    assert "length = 1510" in app.job("undo")
    press(page, "Redo")
    assert length(page).input_value() == "1505"
    before = version(page)
    page.locator("#work").focus()
    page.keyboard.press("Control+z")
    saved(page, before)
    assert length(page).input_value() == "1510"


def test_what_cannot_stand_is_refused_at_its_field_and_kept_to_be_mended(app, page):
    come_to(page, app.copy("pickup", "wrong") + "/measure")
    length(page).fill("15o0")
    length(page).press("Tab")
    page.wait_for_selector("#f-bay-length-notes .wrong")
    assert length(page).input_value() == "15o0"
    assert length(page).get_attribute("aria-invalid") == "true"
    assert "length = 1510" in app.job("wrong")
    put(page, "Length on the floor", "1500", exact=False)
    assert page.locator("#f-bay-length-notes").count() == 0


def test_an_odd_reading_is_questioned_where_it_stands(app, page):
    come_to(page, app.copy("pickup", "odd") + "/measure")
    put(page, "Diagonal, left tail to right cab", "2400", exact=False)
    page.wait_for_selector("#f-bay-diagonals-1-notes .odd")


def test_two_devices_see_each_other_and_a_conflict_is_shown(app, contexts):
    address = app.copy("pickup", "two") + "/measure"
    one, two = contexts.page(), contexts.page(size=PHONE)
    for page in (one, two):
        come_to(page, address)
    put(one, "Floor to side rail", "490", exact=False)
    two.wait_for_function("document.querySelector('#f-bay-rail').value === '490'")

    length(two).fill("1490")  # typed, not yet left
    put(one, "Length on the floor", "1505", exact=False)
    two.wait_for_function("Number(document.querySelector('#work').dataset.version) === 3")
    assert length(two).input_value() == "1490"  # what is being typed stays
    length(two).press("Tab")
    two.wait_for_selector(".conflict")
    assert "1510" in two.locator(".conflict").inner_text()
    assert "length = 1505" in app.job("two")
    before = version(two)
    two.get_by_role("button", name="Take mine").click()
    saved(two, before)
    assert "length = 1490" in app.job("two")
    one.wait_for_function("document.querySelector('#f-bay-length').value === '1490'")


def test_a_job_file_typed_over_meets_what_was_changed_meanwhile(app, page):
    come_to(page, app.copy("pickup", "typed") + "/history")
    page.get_by_text("The job file as it is written").click()
    text = app.job("typed")
    page.locator("#file-text").fill(text.replace("rail = 492", "rail = 490"))
    (app.folder / "typed.toml").write_text(text.replace("length = 1510\n", "length = 1507\n"))
    page.wait_for_function("document.querySelector('#work').dataset.version === '2'")
    page.get_by_role("button", name="Check and save").click()
    page.wait_for_selector(".conflict")
    assert "length = 1507" in app.job("typed")


def test_what_an_editor_writes_shows_at_once(app, page):
    come_to(page, app.copy("pickup", "editor") + "/measure")
    text = app.job("editor").replace("length = 1510\n", "length = 1507\n")
    (app.folder / "editor.toml").write_text(text)
    page.wait_for_function("document.querySelector('#f-bay-length').value === '1507'")


def test_a_killed_app_comes_back_with_everything(contexts, tmp_path):
    own = App(tmp_path)
    try:
        page = contexts.page()
        come_to(page, own.copy("pickup", "killed") + "/measure")
        put(page, "Length on the floor", "1505", exact=False)
        rail = page.get_by_label("Floor to side rail", exact=False).first
        rail.click()
        page.keyboard.type("7")  # under way, the field not yet left
        own.kill()
        own.start()
        come_to(page, f"{own.address}/job/killed/measure")
        assert length(page).input_value() == "1505"
        assert rail.input_value() == "4927"
        rail.press("Escape")
        assert rail.input_value() == "492"
        press(page, "Undo")
        assert length(page).input_value() == "1510"
        rail.fill("494")
        own.kill()
        rail.press("Tab")  # left while nobody hears it
        own.start()
        page.wait_for_selector("#f-bay-rail.is-draft")  # the page comes back by itself
        assert rail.input_value() == "494"
        rail.focus()
        rail.press("Enter")
        page.wait_for_selector("#f-bay-rail:not(.is-draft):not([data-dirty])")
        assert "rail = 494" in own.job("killed")
    finally:
        own.stop()


@pytest.mark.parametrize(
    ("text", "told"),
    [("format = 1\n[bay\n", "has mistakes"), ("format = 9\n", "newer release")],
    ids=["corrupt", "newer"],
)
def test_a_job_that_cannot_be_read_is_only_looked_at(app, page, text, told):
    name = f"locked {len(text)}"
    address = app.copy("tray", name)
    come_to(page, address + "/measure")
    (app.folder / f"{name}.toml").write_text(text)
    page.wait_for_selector("text=can only be looked at")
    assert page.get_by_text(told).count()
    assert app.job(name) == text
    press(page, "Let the last good version stand")
    page.wait_for_selector("#f-bay-length")


def test_every_act_on_the_arrangement(app, page):
    come_to(page, app.copy("pickup", "acts") + "/arrange")
    page.wait_for_function("document.querySelector('.viewer').dataset.whole")
    press(page, "Add a column")
    press(page, "Column 3 to the left")
    press(page, "Take column 2 out")
    press(page, "Add a drawer on top of column 1")
    settled(page)
    grip = page.locator(".grip-x").first
    grip.scroll_into_view_if_needed()
    box = grip.bounding_box()
    before = version(page)
    page.mouse.move(box["x"] + 4, box["y"] + 60)
    page.mouse.down()
    page.mouse.move(box["x"] - 36, box["y"] + 60, steps=4)
    page.mouse.up()
    saved(page, before)
    assert "width = 4" in app.job("acts")
    stage(page, "History")
    assert page.locator(".versions li").count() == 6


def test_a_part_is_picked_in_the_model(app, page):
    come_to(page, app.copy("pickup", "pick") + "/arrange")
    page.wait_for_function("document.querySelector('.viewer').dataset.whole")
    page.get_by_role("button", name="face", exact=True).click()
    drawn(page)
    box = page.locator(".viewer canvas").bounding_box()
    page.mouse.click(box["x"] + box["width"] * 0.42, box["y"] + box["height"] * 0.52)
    page.wait_for_selector(".card.part")
    assert "birch" in page.locator(".card.part").inner_text()
