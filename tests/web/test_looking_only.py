"""A device that may only look changes nothing, whatever it sends; a guest never opens the door."""

import asyncio
import shutil
from pathlib import Path

import pytest

from stowright.app.bench import Benches
from stowright.errors import StoppedError
from stowright.web import shell
from stowright.web.house import House
from stowright.web.sharing import Sharing
from stowright.web.visitor import Event, Visitor

PICKUP = Path(__file__).parents[2] / "examples" / "pickup" / "job.toml"
#: Everything that an act may look for, each leading somewhere.
DATA = {
    "path": "block[1].columns[1].width", "block": "1", "column": "1", "place": "1", "by": "1",
    "finding": "X", "about": "tools", "way": "x", "part": "A1", "mark": "A1", "what": "step:x:y",
    "number": "1", "note": "step", "job": "pickup", "go": "carry", "reading": "1", "kind": "tub",
    "opening": "tools", "stage": "cut", "corner": "left-bottom", "material": "birch-15",
    "row": "1", "version": "1", "name": "pickup", "key": "x", "sheet": "S1", "edit": "1",
}  # fmt: skip
VALUES = {"values": "512", "list": "what,length,width,height,mass\nbox,1,1,1,1", "title": "other",
          "units": "mm", "opening": "tools", "what": "width", "name": "x.toml", "kind": "tub",
          "along": "10", "across": "10"}  # fmt: skip


class NoWork:
    def run(self, _name, _task, _progress):
        raise StoppedError("no work in this test")

    def stop(self, _name):
        return False


@pytest.fixture
def house(tmp_path):
    shutil.copy(PICKUP, tmp_path / "pickup.toml")
    benches = Benches(tmp_path)
    yield House(
        benches=benches, workroom=NoWork(), settling=NoWork(), sharing=Sharing(now=lambda: 0.0)
    )
    benches.close()


def kept(house):
    root = house.benches.folder.root
    files = {path.name: path.read_bytes() for path in root.glob("*.toml")}
    versions = [each.number for each in house.benches.records.versions("pickup")]
    records = house.benches.records
    return files, versions, records.ticks("pickup"), records.note("pickup", "step")


def press_everything(visitor):
    async def press():
        for act in shell.ACTS:
            visitor.job, visitor.stage = "pickup", "measure"
            event = Event(act=act, data=dict(DATA), value="500", values=dict(VALUES), seen=1)
            await shell.act(visitor, event)
        await asyncio.sleep(0)

    asyncio.run(press())


def test_a_device_that_may_only_look_changes_nothing_by_any_act(house):
    house.benches.open("pickup")
    before = kept(house)
    press_everything(Visitor(house=house, job="pickup", can_edit=False, is_local=False))
    assert kept(house) == before
    assert house.sharing.door is None


def test_a_guest_that_may_change_does_not_open_the_door_or_let_others_in(house):
    house.benches.open("pickup")
    press_everything(Visitor(house=house, job="pickup", can_edit=True, is_local=False))
    assert house.sharing.door is None
    assert house.sharing.guests == {}
