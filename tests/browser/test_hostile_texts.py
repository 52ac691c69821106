"""Names and texts are shown as they are and never run."""

from browser_app import come_to, heard, stage

HOSTILE = '"><img src=x onerror="window.hit=1"><script>window.hit=1</script>${7*7}{{7*7}}'


def test_hostile_texts_in_every_text_field(app, page):
    come_to(page, app.copy("pickup", "hostile") + "/measure")
    for name in ("Measure", "Carry", "Arrange", "Prove"):
        stage(page, name)
        for place in range(page.locator("#work input[type=text]").count()):
            field = page.locator("#work input[type=text]").nth(place)
            if not field.is_visible():
                continue
            field.fill(HOSTILE)
            field.press("Tab")
            heard(page)
    assert page.evaluate("window.hit") is None
    assert page.locator("#work img[src=x]").count() == 0
    assert page.locator("h1").inner_text() == HOSTILE
    come_to(page, app.address)
    assert page.get_by_text(HOSTILE).count() == 1
    assert page.evaluate("window.hit") is None


def test_a_hostile_title_makes_a_plain_file_name(app, page):
    come_to(page, app.address)
    page.get_by_label("What it is called").fill("../../<b>outside</b>\\")
    page.locator("form[data-act=new-job] .kinds").get_by_text("tray", exact=True).click()
    page.wait_for_url("**/measure")
    assert page.locator("h1").inner_text() == "../../<b>outside</b>\\"
    assert (app.folder / "b outside b.toml").is_file() or len(
        list(app.folder.glob("*outside*"))
    ) == 1


def test_a_job_outside_the_folder_is_not_opened(app, page):
    (app.folder.parent / "secret.toml").write_text("format = 1\n")
    for name in ("..%2Fsecret", "..%5Csecret", "%2e%2e%2fsecret", ".stowright-shop.db"):
        for rest in ("measure", "get/job.toml"):
            answer = page.request.get(f"{app.address}/job/{name}/{rest}")
            assert "format = 1" not in answer.text()
            assert answer.status in {404, 409} or "cannot be opened" in answer.text()
    come_to(page, f"{app.address}/job/nowhere/measure")
    assert "cannot be opened" in page.locator(".notice.wrong").inner_text()


def test_a_file_that_is_too_large_is_not_taken(app, page):
    come_to(page, app.address)
    page.set_input_files(
        "#job-file",
        {"name": "big.toml", "mimeType": "text/plain", "buffer": b"# x\n" * 200_000},
    )
    page.wait_for_selector("text=too large")


def test_a_job_file_from_elsewhere_is_opened_or_its_mistakes_told(app, page):
    come_to(page, app.address)
    wrong = {"name": "wrong.toml", "mimeType": "text/plain", "buffer": b"[bay]\nlenght = 3\n"}
    page.set_input_files("#job-file", wrong)
    page.wait_for_selector("text=did you mean length")
    good = app.copy("tray", "source") and app.job("source").encode()
    page.set_input_files("#job-file", {"name": "a.b.toml", "mimeType": "", "buffer": good})
    page.wait_for_url("**/measure")
    assert app.job("a.b") == good.decode()
