"""Work in processes of its own: the same results, stopped at once, mistakes as they are."""

import threading
import time
from pathlib import Path

import pytest

from stowright.app.loading import load_job
from stowright.app.long_work import Task, Workroom
from stowright.app.model_maker import ModelMaker
from stowright.app.planning import design_job
from stowright.drawings.glb import to_glb
from stowright.errors import JobError, StoppedError

TRAY = (Path(__file__).parents[2] / "examples" / "tray" / "job.toml").read_text()


def quiet(_):
    pass


@pytest.fixture(scope="module")
def room():
    opened = Workroom()
    yield opened
    opened.close()


def test_a_settled_study_comes_with_its_model(room):
    looked, glb = room.run("a", Task(kind="settled", text=TRAY), quiet)
    assert looked.settled
    assert looked.findings
    assert glb == to_glb(looked.design)


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
    assert room.run("b", Task(kind="settled", text=TRAY), quiet)[0].design is not None


def test_a_model_made_beside_is_the_same_model():
    design = design_job(load_job(TRAY), settle=False)
    maker = ModelMaker()
    assert maker.begin(design) is None  # nobody is there yet: whoever asks makes it
    maker.start()
    waiting = None
    while waiting is None:
        waiting = maker.begin(design)
        time.sleep(0.05)
    assert maker.begin(design) is None  # one at a time
    assert waiting() == to_glb(design)
    maker.close()
    time.sleep(0.2)
    gone = maker.begin(design)
    assert gone is None or gone() is None
