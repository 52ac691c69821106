"""Codes that open once, guesses that get slower."""

import pytest

from stowright.web.sharing import CODE_SIGNS, Sharing, qr_svg


class Clock:
    def __init__(self):
        self.now = 100.0

    def __call__(self):
        return self.now


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def sharing(clock):
    return Sharing(now=clock)


def test_without_a_door_no_code_opens(sharing):
    assert sharing.enter("", "a") is None
    assert sharing.address() == ""


def test_a_code_opens_once(sharing):
    door = sharing.open("192.0.2.7", 80, can_edit=True)
    code = door.code
    assert set(code) <= set(CODE_SIGNS)
    assert sharing.enter(f" {code[:4].lower()} {code[4:]}", "a").can_edit
    assert sharing.enter(code, "b") is None
    assert sharing.enter("", "b") is None  # the code is used up, nothing is no code


def test_an_old_code_opens_nothing(sharing, clock):
    door = sharing.open("192.0.2.7", 80, can_edit=True)
    clock.now += 601.0
    assert sharing.enter(door.code, "a") is None


def test_wrong_codes_make_the_door_deaf_for_longer_and_longer(sharing, clock):
    door = sharing.open("192.0.2.7", 80, can_edit=True)
    waits = []
    for _ in range(8):
        clock.now += sharing.wait_s()
        assert sharing.enter("WRONGONE", "a") is None
        waits.append(sharing.wait_s())
    assert waits[:3] == [0.0, 0.0, 1.0]
    assert waits[3:] == sorted(waits[3:])
    assert waits[-1] == 32.0
    assert sharing.enter(door.code, "a") is None  # even the right one, while it is deaf
    clock.now += 32.0
    assert sharing.enter(door.code, "a") is not None


def test_however_many_codes_are_wrong_the_wait_has_an_end(sharing, clock):
    door = sharing.open("192.0.2.7", 4000, can_edit=True)
    for _ in range(3000):
        clock.now += 301.0
        assert sharing.enter("WRONG", "a") is None
        assert sharing.wait_s() <= 300.0
    assert door.code


def test_a_new_code_may_be_for_looking_only(sharing):
    sharing.open("192.0.2.7", 80, can_edit=True)
    sharing.renew(can_edit=False)
    assert not sharing.enter(sharing.door.code, "a").can_edit


def test_ending_sends_everybody_out(sharing):
    guest = sharing.enter(sharing.open("192.0.2.7", 80, can_edit=True).code, "a")
    assert sharing.guest(guest.key) == guest
    sharing.end()
    assert sharing.guest(guest.key) is None


def test_the_qr_code_is_a_drawing_without_a_text():
    drawing = qr_svg("http://192.0.2.7:80/enter?code=ABCD")
    assert drawing.startswith("<svg")
    assert "script" not in drawing
