"""Host, origin and size are looked at before anything else."""

import asyncio

import pytest

from stowright.web.guards import OwnHost, SharedDoor, Sized, loopback
from stowright.web.sharing import Sharing


async def answers(scope, receive, send):
    if scope["type"] == "websocket":
        await send({"type": "websocket.accept"})
        return
    body = b""
    while True:
        message = await receive()
        if message["type"] == "http.disconnect":
            return
        body += message.get("body", b"")
        if not message.get("more_body"):
            break
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": body})


def asked(app, *, kind="http", method="GET", headers=(), body=(b"",), path="/"):
    sent = []
    chunks = list(body)

    async def receive():
        if not chunks:
            return {"type": "http.disconnect"}
        data = chunks.pop(0)
        return {"type": "http.request", "body": data, "more_body": bool(chunks)}

    async def send(message):
        sent.append(message)

    scope = {
        "type": kind,
        "method": method,
        "path": path,
        "query_string": b"",
        "headers": [(k.encode(), v.encode()) for k, v in headers],
    }
    asyncio.run(app(scope, receive, send))
    return sent


GUARDED = OwnHost(answers, loopback)


@pytest.mark.parametrize("host", ["127.0.0.1:8765", "localhost:1", "[::1]:8765"])
def test_the_machine_s_own_names_are_answered(host):
    assert asked(GUARDED, headers=[("host", host)])[0]["status"] == 200


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "", "a@b:c:d"])
def test_another_host_is_refused(host):
    assert asked(GUARDED, headers=[("host", host)])[0]["status"] == 403


def test_two_host_headers_are_refused():
    twice = [("host", "127.0.0.1"), ("host", "evil.example")]
    assert asked(GUARDED, headers=twice)[0]["status"] == 403


@pytest.mark.parametrize("origin", ["http://evil.example", "http://127.0.0.1:9", "null"])
def test_another_origin_is_refused(origin):
    headers = [("host", "127.0.0.1:8765"), ("origin", origin)]
    assert asked(GUARDED, headers=headers)[0]["status"] == 403
    assert asked(GUARDED, kind="websocket", headers=headers)[-1]["type"] == "websocket.close"


def test_a_change_without_an_origin_is_refused():
    headers = [("host", "127.0.0.1:8765")]
    assert asked(GUARDED, method="POST", headers=headers)[0]["status"] == 403
    assert asked(GUARDED, kind="websocket", headers=headers)[-1]["type"] == "websocket.close"


def test_the_own_page_may_change():
    headers = [("host", "127.0.0.1:8765"), ("origin", "http://127.0.0.1:8765")]
    assert asked(GUARDED, method="POST", headers=headers)[0]["status"] == 200
    assert asked(GUARDED, kind="websocket", headers=headers)[-1]["type"] == "websocket.accept"


def test_answers_forbid_scripts_from_elsewhere():
    headers = dict(asked(GUARDED, headers=[("host", "localhost")])[0]["headers"])
    assert headers[b"content-security-policy"].startswith(b"default-src 'self'")
    assert headers[b"x-content-type-options"] == b"nosniff"


def test_a_body_that_says_it_is_too_large_is_refused():
    app = Sized(answers, most=10)
    assert asked(app, headers=[("content-length", "11")])[0]["status"] == 413
    assert asked(app, headers=[("content-length", "-1")])[0]["status"] == 413


def test_a_body_that_is_too_large_without_saying_so_is_cut_off():
    assert asked(Sized(answers, most=10), body=[b"12345", b"67890", b"1"]) == []
    assert asked(Sized(answers, most=10), body=[b"12345", b"67890"])[0]["status"] == 200


async def entrance(_scope, _receive, send):
    await send({"type": "http.response.start", "status": 401, "headers": []})


def test_nobody_without_a_session_gets_past_the_shared_door():
    sharing = Sharing(now=lambda: 0.0)
    door = SharedDoor(answers, sharing, entrance)
    for path in ("/", "/job/pickup/measure", "/job/pickup/get/job.toml", "/static/style.css"):
        assert asked(door, path=path)[0]["status"] == 401
    guessed = [("cookie", "stowright-guest=guessed")]
    assert asked(door, headers=guessed)[0]["status"] == 401
    assert asked(door, kind="websocket", headers=guessed)[-1]["type"] == "websocket.close"


def test_a_session_is_let_in_until_it_is_ended():
    sharing = Sharing(now=lambda: 0.0)
    code = sharing.open("192.0.2.7", 80, can_edit=False).code
    guest = sharing.enter(code, "192.0.2.9")
    door = SharedDoor(answers, sharing, entrance)
    cookie = [("cookie", f"stowright-guest={guest.key}")]
    assert asked(door, headers=cookie)[0]["status"] == 200
    sharing.send_out(guest.key)
    assert asked(door, headers=cookie)[0]["status"] == 401


def test_a_device_that_was_sent_out_is_not_heard_on_a_line_that_is_still_open():
    sharing = Sharing(now=lambda: 0.0)
    code = sharing.open("192.0.2.7", 4000, can_edit=True).code
    guest = sharing.enter(code, "192.0.2.9")
    heard = []

    async def listens(_scope, receive, _send):
        heard.append(await receive())
        sharing.send_out(guest.key)
        heard.append(await receive())

    async def receive():
        return {"type": "websocket.receive", "text": "a change"}

    async def send(_message):
        pass

    cookie = [(b"cookie", f"stowright-guest={guest.key}".encode())]
    scope = {"type": "websocket", "path": "/", "headers": cookie}
    asyncio.run(SharedDoor(listens, sharing, entrance)(scope, receive, send))
    assert [message["type"] for message in heard] == ["websocket.receive", "websocket.disconnect"]


def test_a_websocket_of_another_page_or_host_is_refused():
    for headers in (
        [("host", "127.0.0.1:1"), ("origin", "http://evil.example")],
        [("host", "127.0.0.1:1")],
        [("host", "evil.example"), ("origin", "http://evil.example")],
    ):
        sent = asked(GUARDED, kind="websocket", headers=headers)
        assert [message["type"] for message in sent] == ["websocket.close"]
    own = [("host", "127.0.0.1:1"), ("origin", "http://127.0.0.1:1")]
    assert asked(GUARDED, kind="websocket", headers=own)[0]["type"] == "websocket.accept"


def test_what_browsers_take_for_an_error_over_the_network_is_told_to_this_machine_alone():
    shared = OwnHost(answers, lambda: frozenset({"192.0.2.9"}))
    for guarded, host in ((GUARDED, "127.0.0.1:1"), (shared, "192.0.2.9:1")):
        told = dict(asked(guarded, headers=[("host", host)])[0]["headers"])
        assert b"content-security-policy" in told
        assert (b"cross-origin-opener-policy" in told) == (guarded is GUARDED)
