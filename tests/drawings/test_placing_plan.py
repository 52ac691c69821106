"""Plans of places: each loose piece and anchor from two datums, figures true, nothing crossed."""

from dataclasses import replace

import pytest
from plans_2d import EXAMPLES, design_of

from stowright.drawings.dimension_check import false_dimensions
from stowright.drawings.overlap import overlaps
from stowright.drawings.placing_check import unplaced
from stowright.drawings.placing_plan import extent, placing_figures
from stowright.drawings.scene import Leader, Running

ROOM = (174.0, 215.0)


def plans_of(name):
    design = design_of(name)
    return design, placing_figures(design, units=design.job.units, room=ROOM)


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_every_loose_piece_and_anchor_has_its_place(name):
    design, scenes = plans_of(name)
    assert unplaced(design, scenes) == []
    names = {line for s in scenes for i in s.items if isinstance(i, Leader) for line in i.lines}
    loose = {p.mark for p in design.placed if p.role in {"packer", "bearer", "wing-cleat", "deck"}}
    assert loose <= names
    assert {a.id for a in design.anchors} <= names
    for scene in scenes:
        assert scene.width <= ROOM[0]
        assert scene.height <= ROOM[1]
        assert overlaps(scene) == []
        assert false_dimensions(scene, units=design.job.units) == []


def test_places_are_the_designs_own_coordinates():
    """Read by hand from the pickup's design: packers 90 wide, 1090 long, about the centre line."""
    design, (floor, _) = plans_of("pickup")
    packers = [extent(p) for p in design.placed if p.role == "packer"]
    runs = [i for i in floor.items if isinstance(i, Running)]
    along = {round(v, 3) for run in runs if run.axis == "y" for v in run.values}
    across = {round(v, 3) for run in runs if run.axis == "x" for v in run.values}
    assert {round(x[0], 3) for x, _, _ in packers} <= along
    assert {round(end, 3) for _, y, _ in packers for end in y} <= across
    assert all(y[1] - y[0] == pytest.approx(1090.0) for _, y, _ in packers)


def test_a_piece_that_is_not_dimensioned_is_found():
    design, scenes = plans_of("pickup")
    piece = next(p for p in design.placed if p.role == "packer")
    x, y, z = piece.origin
    moved = replace(piece, origin=(x + 3.0, y, z))
    placed = tuple(moved if p is piece else p for p in design.placed)
    assert unplaced(replace(design, placed=placed), scenes) == [
        f"{piece.mark} ({piece.id}): no place along"
    ]
    anchor = design.anchors[0]
    anchors = (replace(anchor, y=anchor.y + 7.0), *design.anchors[1:])
    assert unplaced(replace(design, anchors=anchors), scenes) == [f"{anchor.id}: no place across"]


def test_a_bay_without_deck_or_wings_has_the_floor_alone():
    _, scenes = plans_of("wagon")
    assert [scene.name for scene in scenes] == ["placing-floor"]
