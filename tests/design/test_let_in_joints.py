"""Housings and rebates: what goes into what, the recess that takes it, and its line in the sum.

Expected sizes are worked by hand from the carcass table of the geometry: a panel between uprights
grows by the depth that it is let in on each side.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_texts import CATALOGUE, VAN, check, job, made, placed, span, sum_of

from stowright.design.build import design
from stowright.design.let_in import Cut, let_in, let_in_all
from stowright.design.pieces import Piece
from stowright.errors import DesignError

SHARED = """
[[block]]
name = "unit"
modules = "shared"
place = {z = [0, 420]}
columns = [ {stack = [ {fill = "open"}, {fill = "open"} ]},
            {stack = [ {fill = "open"}, {fill = "open"} ]} ]
"""


def unit_of(joint, **build):
    keys = "\n".join(f"{key} = {value!r}".replace("'", '"') for key, value in build.items())
    return made(VAN, SHARED, f'[build]\njoint = "{joint}"\n{keys}')


def recesses(unit, role, kind):
    marks = {piece.mark for piece in placed(unit, role)}
    return [f for mark in marks for f in unit.part(mark).features if f.kind == kind]


def test_a_partition_is_housed_into_floor_and_top():
    butt, housed = unit_of("butt", top="panel"), unit_of("housing", top="panel", joint_depth=5)
    (one,), (other,) = placed(butt, "partition"), placed(housed, "partition")
    assert other.width - one.width == 10
    (floor,) = placed(housed, "carcass-floor")
    assert span(other, "z")[0] == pytest.approx(span(floor, "z")[1] - 5)
    for role in ("carcass-floor", "carcass-top"):
        (slot,) = recesses(housed, role, "slot")
        assert slot.depth == pytest.approx(5, abs=0.5)  # the cut grid shortens the partition
        assert other.thickness in (pytest.approx(slot.size[0]), pytest.approx(slot.size[1]))
    row = sum_of(housed, "unit 1: partition height")
    assert {(x.what, x.value) for x in row.lines} >= {
        ("let into the floor", 5),
        ("let into the top", 5),
    }
    assert row.result == other.width


def test_under_rails_it_is_housed_into_each_rail():
    unit = unit_of("housing", top="rails", rails=3)
    rails = placed(unit, "carcass-rail")
    assert len(rails) == 3
    assert recesses(unit, "carcass-rail", "slot")


def test_a_rebate_is_cut_at_edges_only():
    unit = unit_of("rebate", joint_depth=5)
    assert placed(unit, "partition")[0].width == placed(unit_of("butt"), "partition")[0].width
    assert recesses(unit, "carcass-side", "rebate")  # for floor, top and back
    housings = recesses(unit, "carcass-side", "slot")  # for the shelves
    assert housings
    assert all(f.depth == pytest.approx(5, abs=0.5) for f in housings)  # the cut grid
    uprights = ("side", "partition")
    kinds = {
        joint.kind
        for joint in unit.joints
        if "shelf" in joint.parts[1] and any(word in joint.parts[0] for word in uprights)
    }
    assert kinds == {"housing"}


def test_shelves_on_both_faces_leave_a_third_of_the_partition():
    unit = unit_of("housing")
    (partition,) = placed(unit, "partition")
    slots = [f for f in unit.part(partition.mark).features if f.kind == "slot"]
    assert {f.face for f in slots} == {"good", "back"}
    assert partition.thickness - 2 * max(f.depth for f in slots) >= partition.thickness / 3 - 1e-9


def test_the_sum_of_a_shelf_is_its_length():
    for joint in ("butt", "rebate", "housing"):
        unit = unit_of(joint)
        for column in (1, 2):
            row = sum_of(unit, f"unit 1: shelf, column {column}, across")
            shelf = next(p for p in placed(unit, "shelf") if p.id == f"unit/1/shelf-{column}-1")
            assert row.result in (shelf.length, shelf.width)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    keys=st.fixed_dictionaries(
        {
            "joint": st.sampled_from(["rebate", "housing"]),
            "carcass_kind": st.sampled_from(["box", "frame"]),
            "top": st.sampled_from(["rails", "panel", "deck"]),
            "back": st.sampled_from(["panel", "frame", "none"]),
            "between_fills": st.sampled_from(["shelf", "rail", "none"]),
        },
        optional={"joint_depth": st.integers(2, 8)},
    ),
    modules=st.sampled_from(["separate", "shared"]),
    fill=st.sampled_from(["open", "drawer", "tray", "through", "locker", "blank"]),
    face=st.sampled_from(["tail", "left"]),
)
def test_nothing_overlaps_and_every_recess_leaves_wood(keys, modules, fill, face):
    block = SHARED.replace('"shared"', f'"{modules}"\nface = "{face}"')
    block = block.replace('{fill = "open"} ]}', f'{{fill = "{fill}"}} ]}}', 1)
    build = "".join(f"{key} = {value!r}\n".replace("'", '"') for key, value in keys.items())
    deck = '[[deck]]\nover = ["unit"]\ntop = 435\n' if keys["top"] == "deck" else ""
    try:
        unit = design(job(VAN, block, deck, f"[build]\n{build}"), CATALOGUE)
    except DesignError:
        return
    check(unit)
    for part in unit.parts:
        for feature in part.features:
            if feature.kind in {"rebate", "slot", "groove"}:
                assert feature.depth < part.thickness - 2.0


WHOLE = st.integers(-(10**9), 10**9).map(lambda count: count / 1e6)
UP = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def board(name, at, size):
    words = {"role": "", "block": "", "module": "", "opening": "", "body": "", "material": ""}
    length, width, thickness = size
    sizes = {"length": length, "width": width, "thickness": thickness}
    return Piece(id=name, name=name, origin=at, axes=UP, **sizes, **words)


@given(x=WHOLE, y=WHOLE, z=WHOLE)
def test_recesses_are_the_same_wherever_a_box_stands(x, y, z):
    # a floor 400 x 300 x 18 and a wall 282.3 x 12.1 let into it by 6, 51.7 from its end
    floor = board("floor", (x, y, z), (400.0, 300.0, 18.0))
    wall = board("wall", (x + 51.7, y + 17.7, z + 12.0), (12.1, 282.3, 200.0))
    cut, kept = let_in_all((floor, wall), (Cut(0, (1,), "for the"),))
    assert kept is wall
    (slot,) = cut.features
    assert (slot.at, slot.size, slot.depth) == ((51.7, 17.7), (12.1, 282.3), 6.0)
    assert let_in(floor, (wall,), purpose="for the") == cut
