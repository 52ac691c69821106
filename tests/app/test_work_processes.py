"""Work in processes of its own: the same results, stopped at once, mistakes as they are."""

import threading
import time
from pathlib import Path

import pytest

from stowright.app.loading import load_catalogue, load_job
from stowright.app.long_work import Task, Workroom
from stowright.app.planning import design_job, prove_design
from stowright.app.second_hand import SecondHand
from stowright.app.study import study
from stowright.drawings.glb import part_mesh
from stowright.errors import JobError, StoppedError

TRAY = (Path(__file__).parents[2] / "examples" / "tray" / "job.toml").read_text()


def quiet(_):
    pass


@pytest.fixture(scope="module")
def room():
    opened = Workroom()
    yield opened
    opened.close()


def test_a_study_is_settled_elsewhere(room):
    looked = room.run("a", Task(kind="settled", text=TRAY), quiet)
    assert looked.settled
    assert looked.findings


def test_mistakes_come_back_as_they_are(room):
    with pytest.raises(JobError) as refused:
        room.run("a", Task(kind="plan", text="format = 1\n"), quiet)
    assert refused.value.mistakes


def test_stopped_work_ends_at_once_and_the_room_goes_on(room):
    told = []
    outcome = []

    def work():
        try:
            room.run("b", Task(kind="plan", text=TRAY), told.append)
        except StoppedError as error:
            outcome.append(error)

    going = threading.Thread(target=work)
    going.start()
    while len(told) < 2:
        time.sleep(0.01)
    assert room.stop("b")
    going.join(20.0)
    assert outcome
    assert not room.stop("b")
    assert room.run("b", Task(kind="settled", text=TRAY), quiet).design is not None


@pytest.fixture(scope="module")
def hand():
    opened = SecondHand(patience_s=60.0)
    assert opened.prove(TRAY, None) is None  # nobody is there yet: whoever asks does it
    opened.start()
    while opened.shape(()) is None:
        time.sleep(0.05)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def design():
    return design_job(load_job(TRAY), settle=False)


def test_half_of_the_proofs_made_beside_are_the_same_proofs(hand, design):
    alone = prove_design(design)
    assert prove_design(design, in_use=hand.prove(TRAY, load_catalogue())) == alone
    assert prove_design(design, in_use=lambda: None) == alone
    assert study(TRAY, load_catalogue(), beside=hand.prove).findings == prove_design(
        design, advise=False
    )
    assert study(TRAY, load_catalogue(), beside=lambda *_: None).findings
    assert study("format = 1\n", load_catalogue(), beside=hand.prove).mistakes


def test_shapes_cut_beside_are_the_same_shapes(hand, design):
    cut = hand.shape(design.parts).result(30.0)
    for part, (corners, triangles) in zip(design.parts, cut, strict=True):
        known_corners, known_triangles = part_mesh(part)
        assert corners.tobytes() == known_corners.tobytes()
        assert triangles.tobytes() == known_triangles.tobytes()


def test_proofs_do_not_wait_behind_shapes(hand, design):
    several = [hand.shape(design.parts) for _ in range(3)]
    assert hand.prove(TRAY, load_catalogue())() is not None
    assert all(each.result(30.0) for each in several)


def test_a_hand_that_is_late_is_left_alone_for_a_while():
    opened = SecondHand(patience_s=0.0)
    opened.start()
    while opened.shape(()) is None:
        time.sleep(0.05)
    waiting = opened.prove(TRAY, load_catalogue())
    assert waiting() is None
    assert opened.prove(TRAY, load_catalogue()) is None
    opened.close()


def test_whoever_waits_for_a_hand_that_is_gone_does_it_himself(design):
    opened = SecondHand()
    opened.start()
    while opened.shape(()) is None:
        time.sleep(0.05)
    opened.close()
    alone = prove_design(design)
    for _ in range(3):
        assert prove_design(design, in_use=opened.prove(TRAY, load_catalogue())) == alone
