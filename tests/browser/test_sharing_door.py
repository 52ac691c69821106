"""The way in over the network: refused, slowed, let in, looking only, sent out."""

import re
from urllib.parse import urlsplit

from browser_app import PHONE, come_to, put
from playwright.sync_api import Error


def opened(app, page, name):
    come_to(page, app.address)
    page.get_by_role("button", name=name).click()
    page.wait_for_selector(".code")
    code = page.locator(".code").inner_text().replace(" ", "")
    address = re.search(r"http://\S+", page.locator("text=On the phone go to").inner_text())[0]
    return address, code


def guests_page(contexts, address):
    host = urlsplit(address).hostname
    guest = contexts.page(size=PHONE)
    known = contexts._seen
    guest.context.remove_listener("request", known)
    guest.context.on("request", lambda r: None if urlsplit(r.url).hostname == host else known(r))
    return guest


def test_without_the_code_nothing_is_seen_and_with_it_a_device_looks_on(app, contexts):
    job = app.copy("tray", "shared")
    owner = contexts.page()
    address, code = opened(app, owner, "Share, look only")
    guest = guests_page(contexts, address)
    for path in ("/", "/job/shared/measure", "/job/shared/get/job.toml", "/static/shell.js"):
        assert guest.request.get(address + path).status == 401
    guest.goto(address + "/job/shared/measure")
    guest.get_by_label("Code").fill("WRONGONE")
    guest.get_by_role("button", name="Enter").click()
    guest.wait_for_selector("text=That is not the code")
    guest.get_by_label("Code").fill(code)
    guest.get_by_role("button", name="Enter").click()
    guest.wait_for_selector("#work")
    guest.goto(f"{address}/job/shared/measure")
    guest.wait_for_selector("text=This device looks only")
    assert guest.locator("#f-bay-length").is_disabled()

    come_to(owner, job + "/measure")
    put(owner, "Length on the floor", "1801", exact=False)
    guest.wait_for_function("document.querySelector('#f-bay-length').value === '1801'")

    second = guests_page(contexts, address)
    second.goto(f"{address}/enter?code={code}")  # a code works once
    assert second.locator("#work").count() == 0
    come_to(owner, app.address)
    owner.get_by_role("button", name="End sharing").click()
    owner.wait_for_selector("text=Share, look only")
    reached = True
    try:
        guest.goto(f"{address}/job/shared/measure", timeout=5_000)
    except Error:  # the door is shut: nothing answers
        reached = False
    assert not reached


def test_a_device_that_may_change_does_and_can_be_sent_out(app, contexts):
    app.copy("tray", "shared too")
    owner = contexts.page()
    address, code = opened(app, owner, "Share, may change")
    guest = guests_page(contexts, address)
    guest.goto(f"{address}/enter?code={code}")
    guest.wait_for_selector("#work")
    come_to(guest, f"{address}/job/shared%20too/measure")
    put(guest, "Length on the floor", "1803", exact=False)
    assert "1803" in app.job("shared too")
    come_to(owner, app.address)
    send_out = owner.get_by_role("button", name="Send", exact=False)
    send_out.click()
    send_out.wait_for(state="detached")  # the page is told only once the door has shut
    assert guest.request.get(f"{address}/job/shared%20too/measure").status == 401
    owner.get_by_role("button", name="End sharing").click()
    owner.wait_for_selector("text=Share, look only")
