"""What is sent of the model: only what a page has not, and nothing that was lost stays lost."""

import asyncio
import json
from concurrent.futures import Future
from pathlib import Path

import pytest

from stowright.app.loading import load_job
from stowright.app.planning import design_job
from stowright.app.scene import scene_of
from stowright.web.model_on_page import ModelOnPage

TRAY = (Path(__file__).parents[2] / "examples" / "tray" / "job.toml").read_text()


class Page:
    def __init__(self):
        self.told = []

    def place(self, number, told):
        self.told.append((number, json.loads(told)))


class Cutter:
    """Shapes that are whole when the test says so."""

    def __init__(self):
        self.whole = {}
        self.wanted = []

    def ready(self, number):
        return self.whole.get(number)

    def want(self, parts):
        done = Future()
        self.wanted.append((parts, done))
        return done

    def cut(self):
        for parts, done in self.wanted:
            self.whole |= {each: {"corners": "", "triangles": ""} for each in parts}
            done.set_result(None)
        self.wanted.clear()


@pytest.fixture(scope="module")
def scene():
    return scene_of(design_job(load_job(TRAY), settle=False))


async def turn():
    for _ in range(5):
        await asyncio.sleep(0)


def test_nothing_is_sent_before_the_page_can_draw(scene):
    async def visit():
        page, cutter = Page(), Cutter()
        model = ModelOnPage(page, cutter)
        model.show(scene)
        assert page.told == []
        await model.begin()
        ((number, (told,)),) = page.told
        assert (number, told["what"], told["key"]) == (1, "showScene", scene.key)
        assert told["fresh"].keys() == {str(each) for each in scene.parts}
        assert not told["whole"]

    asyncio.run(visit())


def test_outlines_come_first_and_what_is_cut_follows(scene):
    async def visit():
        page, cutter = Page(), Cutter()
        model = ModelOnPage(page, cutter)
        await model.begin()
        model.show(scene)
        model.show(scene)  # the same again: nothing is sent
        assert len(page.told) == 1
        model.placed(1)
        await turn()
        cutter.cut()
        await turn()
        number, (told,) = page.told[-1]
        assert (number, told["what"]) == (2, "cutShapes")
        assert told["fresh"].keys() == {str(each) for each in scene.parts}

    asyncio.run(visit())


def test_what_the_page_did_not_take_note_of_is_handed_over_again(scene):
    async def visit():
        page, cutter = Page(), Cutter()
        model = ModelOnPage(page, cutter)
        await model.begin()
        model.show(scene)
        await turn()
        cutter.cut()
        await turn()
        assert [each["what"] for each in page.told[-1][1]] == ["showScene", "cutShapes"]

    asyncio.run(visit())


def test_a_page_that_begins_anew_gets_everything(scene):
    async def visit():
        page, cutter = Page(), Cutter()
        cutter.wanted.append((scene.parts, Future()))
        cutter.cut()
        model = ModelOnPage(page, cutter)
        await model.begin()
        model.show(scene)
        assert page.told[-1][1][0]["whole"]
        await model.begin()
        assert page.told[-1][1][0]["fresh"].keys() == {str(each) for each in scene.parts}

    asyncio.run(visit())
