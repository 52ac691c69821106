"""The short cut for trying many designs: its bodies are those of the whole design."""

from dataclasses import replace
from pathlib import Path

import pytest

from stowright.app.loading import load_catalogue, load_job
from stowright.design.bodies import bodies
from stowright.design.build import design
from stowright.proofs.quick import feasible

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("pickup", "pickup-inches", "tray", "van", "wagon")
#: Holes of fixings are missing: parts may weigh this much more. A 4 mm pilot every 100 mm takes
#: far less; counterbores for bolts and added side packing the most.
LIGHTER = 0.03


def changed(name, change):
    job = load_job(EXAMPLES / name / "job.toml")
    return change(job) if change else job


def with_joint(joint):
    def change(job):
        return replace(
            job,
            blocks=tuple(
                replace(block, build=replace(block.build, joint=joint), modules="shared")
                for block in job.blocks
            ),
        )

    return change


CASES = [(name, None) for name in NAMES] + [
    ("pickup", with_joint("rebate")),
    ("van", with_joint("butt")),
    ("tray", with_joint("housing")),
]


@pytest.mark.parametrize(("name", "change"), CASES)
def test_bodies_are_those_of_the_whole_design(name, change):
    shelf = load_catalogue()
    job = changed(name, change)
    whole, quick = design(job, shelf), bodies(job, shelf)
    for one, two in zip(quick.blocks, whole.blocks, strict=True):
        assert one.box == two.box
        assert one.face_at == two.face_at
        assert [m.box for m in one.modules] == [m.box for m in two.modules]
        for mine, theirs in zip(one.openings, two.openings, strict=True):
            same = ("name", "fill", "clear", "at", "width", "height", "depth", "box", "front")
            for key in (*same, "front_thickness", "runner", "usable", "contents_kg", "carried"):
                assert getattr(mine, key) == getattr(theirs, key), key
            assert mine.gross_kg == pytest.approx(theirs.gross_kg, rel=LIGHTER)
    stand = {
        piece.id: (piece.origin, piece.axes, piece.length, piece.width, piece.thickness)
        for piece in whole.placed
    }
    for piece in quick.placed:
        size = (piece.origin, piece.axes, piece.length, piece.width, piece.thickness)
        assert stand[piece.id] == size, piece.id
    missing = {p.role for p in whole.placed} - {p.role for p in quick.placed}
    assert missing <= {"side-packing", "packer"}
    assert quick.empty_kg == pytest.approx(whole.empty_kg, rel=LIGHTER)
    assert [wing.mark for wing in quick.wings] == [wing.mark for wing in whole.wings]


@pytest.mark.parametrize("name", NAMES)
def test_the_quick_verdict_is_the_same_on_bodies(name):
    shelf = load_catalogue()
    job = changed(name, None)
    assert (
        feasible(bodies(job, shelf), shelf).feasible == feasible(design(job, shelf), shelf).feasible
    )
