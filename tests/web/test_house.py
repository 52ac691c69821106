"""Long work of a job: one after another, the next as soon as the last is done."""

import asyncio
import shutil
import threading
from pathlib import Path

import pytest

from stowright.app.bench import Benches
from stowright.errors import StoppedError
from stowright.web import shell
from stowright.web.house import House
from stowright.web.packing_part import packing_part
from stowright.web.sharing import Sharing
from stowright.web.visitor import Event, Visitor

TRAY = Path(__file__).parents[2] / "examples" / "tray" / "job.toml"


class Room:
    """Work that ends at once, or goes on until it is stopped."""

    def __init__(self):
        self.kinds = []
        self.goes_on = set()
        self.begun, self.stopped = threading.Event(), threading.Event()

    def run(self, _name, task, progress):
        self.kinds.append(task.kind)
        if task.kind == "settled":
            progress("packing the load: other orders, 40 %")
        self.begun.set()
        if task.kind in self.goes_on:
            assert self.stopped.wait(60.0)
            raise StoppedError("the work was stopped")
        return task.kind

    def stop(self, _name):
        self.stopped.set()
        return True


@pytest.fixture
def room():
    return Room()


@pytest.fixture
def house(tmp_path, room):
    shutil.copy(TRAY, tmp_path / "tray.toml")
    benches = Benches(tmp_path)
    yield House(benches=benches, workroom=room, settling=room, sharing=Sharing(now=lambda: 0.0))
    benches.close()


def test_what_a_page_wants_next_begins_when_it_is_told_that_the_last_is_done(house, room):
    bench = house.benches.open("tray")
    begun = []

    async def watcher():
        if house.plan_of(bench) is not None and not begun:
            begun.append(house.begin(bench, house.task(bench, "figures"), "figures"))

    async def work():
        house.watch("tray", 1, watcher)
        await house.begin(bench, house.task(bench, "plan"), "plan")
        await begun[0]

    asyncio.run(work())
    assert room.kinds == ["plan", "figures"]
    assert house.running == {}


def test_a_search_for_proposals_stops_what_goes_on_and_begins(house, room):
    room.goes_on = {"pages"}
    bench = house.benches.open("tray")

    async def work():
        house.begin(bench, house.task(bench, "pages"), "pages")
        await asyncio.to_thread(room.begun.wait, 60.0)
        visitor = Visitor(house=house, job="tray", stage="arrange")
        await shell.act(visitor, Event(act="propose", data={}))
        await asyncio.wait(set(house.running.values()))
        assert visitor.notice is None
        assert not house.was_stopped(bench, "pages")  # by no person: it begins when it is wanted

    asyncio.run(work())
    assert room.kinds == ["pages", "proposals"]
    assert house.made_of(bench, "pages") is None
    assert house.files["proposals", "tray"] == "proposals"


def test_how_far_the_packing_is_shows_where_the_load_lies(house, room):
    room.goes_on = {"settled"}
    bench = house.benches.open("tray")

    async def work():
        house.want_settled(bench)
        await asyncio.to_thread(room.begun.wait, 60.0)
        page = str(packing_part(Visitor(house=house, job="tray", stage="carry")))
        house.stop_settling(bench)
        await asyncio.wait(set(house.settlers.values()))
        return page

    page = asyncio.run(work())
    assert "Packing the load: other orders, 40 % …" in page
    assert 'value="40"' in page
    assert "The load is not packed" in str(
        packing_part(Visitor(house=house, job="tray", stage="carry"))
    )


def test_what_a_person_stopped_begins_again_when_asked_for_and_not_by_itself(house, room):
    room.goes_on = {"plan"}
    bench = house.benches.open("tray")
    house.unsettled.add(bench.text)  # nothing is packed here
    visitor = Visitor(house=house, job="tray", stage="cut", can_edit=False)

    async def work():
        shell.arrive(visitor)  # one who only looks has the plan worked out as well
        going = house.running["tray"]
        await asyncio.to_thread(room.begun.wait, 60.0)
        house.stop("tray")
        await asyncio.wait({going})
        shell.arrive(visitor)
        assert "tray" not in house.running
        assert 'data-act="work-out"' in str(shell.work(visitor))
        room.goes_on = set()
        await shell.act(visitor, Event(act="work-out", data={}))
        shell.arrive(visitor)
        await asyncio.wait(set(house.running.values()))

    asyncio.run(work())
    assert room.kinds.count("plan") == 2
    assert house.plan_of(bench) == "plan"


def test_packing_asked_for_while_what_was_stopped_still_ends_is_done(house, room):
    room.goes_on = {"settled"}
    bench = house.benches.open("tray")
    visitor = Visitor(house=house, job="tray", stage="carry")

    async def work():
        house.want_settled(bench)
        first = house.settlers["tray"]
        await asyncio.to_thread(room.begun.wait, 60.0)
        room.begun.clear()
        await shell.act(visitor, Event(act="stop-packing", data={}))
        await shell.act(visitor, Event(act="pack", data={}))  # before the first has ended
        assert first.done()
        await asyncio.to_thread(room.begun.wait, 60.0)
        await asyncio.wait(set(house.settlers.values()))

    asyncio.run(work())
    assert room.kinds == ["settled", "settled"]


def test_packing_asked_for_twice_does_not_keep_the_tab_waiting_until_all_is_packed(house):
    bench = house.benches.open("tray")
    house.unsettled.add(bench.text)
    visitor = Visitor(house=house, job="tray", stage="carry")

    async def work():
        await shell.act(visitor, Event(act="pack", data={}))
        going = house.settlers["tray"]
        await shell.act(visitor, Event(act="pack", data={}))
        assert not going.done()
        house.stop_settling(bench)
        await asyncio.wait({going})

    asyncio.run(work())


def test_packing_stopped_before_it_has_begun_does_not_begin(house, room, monkeypatch):
    bench = house.benches.open("tray")
    monkeypatch.setattr(bench, "read_ahead", lambda: house.stop_settling(bench))

    async def work():
        house.want_settled(bench)
        await asyncio.wait(set(house.settlers.values()))

    asyncio.run(work())
    assert room.kinds == []
