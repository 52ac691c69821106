"""Runner screws: on the line, in the catalogue's holes, never through, never into each other.

The runner line 50 above the carcass floor and 40 above the drawer side's lower edge, for an 80 mm
section over a 10 mm gap, is common practice; 76 and 53 over other gaps are worked beside it.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from fixing_pieces import (
    PACKER,
    SHELF,
    THICKNESS,
    T,
    block,
    carcass,
    module,
    opening,
    panel,
    runner_fit,
    slab,
    thickness,
    worked_example,
)

from stowright.design.runner_holes import STAGGER, runner_fixings
from stowright.model.job import Build, Lining


def placed(unit, thickness_of=THICKNESS):
    return runner_fixings(unit.pieces, unit.blocks, SHELF, thickness_of)


def test_every_hole_of_the_catalogue_gets_its_screw():
    unit = worked_example()
    result = placed(unit)
    size = unit.openings[0].runner.size
    per_runner = len(size.holes)  # cabinet and drawer member together
    assert len(result.fixings) == 4 * per_runner
    assert {f.type for f in result.fixings} == {"pan-10g-15"}
    assert {f.step for f in result.fixings} == {"runners"}
    assert not result.warnings


def test_screws_lie_on_the_runners_line_fifty_above_the_floor():
    result = placed(worked_example())
    assert {round(f.at[2], 6) for f in result.fixings} == {24.6 + 50.0}  # 74.6, worked by hand


def test_pilots_lie_forty_above_the_drawer_sides_lower_edge():
    result = placed(worked_example())
    ups = {f.at[1] for piece, f in result.features if piece == "meters/side-left"}
    assert ups == {40.0}


@pytest.mark.parametrize(
    ("runner", "gap", "line"),
    [("heavy-80-lock", 10.0, 50.0), ("heavy-76", 10.0, 48.0), ("heavy-76", 8.0, 46.0)],
)
def test_other_sections_and_gaps_beside_it(runner, gap, line):
    section = SHELF.runner(runner).section
    assert gap + section / 2.0 == line  # the rule, by hand
    fit = runner_fit(name=runner, length=1400.0, line=line, set_back=T)
    result = placed(worked_example(fit=fit))
    cabinet = [f for f in result.fixings if f.joins[-1].startswith("drawers/")]
    assert {round(f.at[2], 6) for f in cabinet} == {24.6 + line}


def test_first_slot_lies_at_the_set_back_plus_the_holes_distance():
    result = placed(worked_example())
    along = sorted({f.at[0] for piece, f in result.features if piece == "drawers/1/side-left"})
    assert along[0] == pytest.approx(T + 37.0)  # inset front, first hole 37 from the runner's end


def test_slots_come_before_round_holes():
    unit = worked_example()
    kinds = {h.at: h.kind for h in unit.openings[0].runner.size.holes}
    result = placed(unit)
    order = [
        kinds[round(f.at[0] - T, 6)]
        for f in result.fixings
        if f.joins == ("meters/runner-left", "drawers/1/side-left")
    ]
    assert order == sorted(order, key=lambda kind: kind != "slot")
    assert order[0] == "slot"


def test_the_worst_sheet_gets_a_shorter_screw_and_it_is_said():
    thin = {
        "ply-15": thickness("ply-15", T, least=13.9, most=14.8),
        "ply-12": THICKNESS["ply-12"],
    }
    result = placed(worked_example(), thin)
    assert {f.type for f in result.fixings} == {"pan-10g-13"}
    assert any("pan-10g-13" in note for note in result.notes)


def test_a_lining_is_passed_through():
    lined = worked_example()
    build = Build(lining=Lining(drawer=0.0, carcass=3.0, bay=0.0))
    only = replace(lined.blocks[0].openings[0], build=build)
    blocks = (replace(lined.blocks[0], openings=(only,)),)
    result = runner_fixings(lined.pieces, blocks, SHELF, THICKNESS)
    into_upright = [f for f in result.fixings if f.joins[-1].startswith("drawers/")]
    into_drawer = [f for f in result.fixings if f.joins[-1].startswith("meters/")]
    assert {f.type for f in into_upright} == {"pan-10g-16"}  # 1.5 + 3 + 14.4 - 0.5 = 18.4
    assert {f.type for f in into_drawer} == {"pan-10g-15"}  # 1.5 + 14.4 - 0.5 = 15.4
    left = next(f for f in into_upright if f.joins[0] == "meters/runner-left")
    assert left.at[1] == pytest.approx(550.0 - T - 4.5)  # head 4.5 off the upright's face


def shared_unit(*, drop=0.0, same=True):
    """One carcass with a partition in the middle and a runner on both of its faces."""
    pieces, drafts = carcass("1", left=550.0, width=1100.0)
    partition = panel(
        "drawers/1/partition-1",
        "partition",
        slab((0.0, 1435.4), (-T / 2.0, T / 2.0), (PACKER + T, 420.4)),
        ("+x", "+z", "-y"),
        module="1",
    )
    openings, boxes = [], []
    for name, left, right, bounds in (
        ("one", 535.4, T / 2.0, ("side-left", "partition-1")),
        ("two", -T / 2.0, -535.4, ("partition-1", "side-right")),
    ):
        boxes += [
            panel(
                f"{name}/side-{hand}",
                "drawer-side",
                slab((T, T + 1400.0), (y - T / 2.0, y + T / 2.0), (34.6, 410.4)),
                ("+x", "+z", "-y"),
                opening=name,
                body=name,
            )
            for hand, y in (("left", left - 26.7), ("right", right + 26.7))
        ]
        fit = runner_fit(line=50.0 if name == "one" else 50.0 + drop)
        if name == "two" and not same:
            fit = runner_fit(length=1000.0)
        openings.append(
            opening(
                name,
                "1",
                (*(f"drawers/1/{b}" for b in bounds), "drawers/1/floor", ""),
                at=(0.0, left, 24.6),
                clear=slab((0.0, 1435.4), (right, left), (24.6, 420.4)),
                fit=fit,
            )
        )
    whole = slab((0.0, 1450.0), (-550.0, 550.0), (PACKER, 435.0))
    unit = block(tuple(openings), (module("1", whole, ("one", "two")),), whole)
    return (*pieces, partition, *boxes), drafts, (unit,)


def apart_on_partition(result):
    meeting = [
        (f.joins[0], np.array([f.at[0], f.at[2]]))
        for f in result.fixings
        if f.joins[-1] == "drawers/1/partition-1"
    ]
    ones = [at for name, at in meeting if name.startswith("one")]
    twos = [at for name, at in meeting if name.startswith("two")]
    assert ones
    assert twos
    return min(np.linalg.norm(a - b) for a in ones for b in twos), len(ones), len(twos)


@pytest.mark.parametrize("same", [True, False], ids=["equal lengths", "unequal lengths"])
def test_screws_on_both_faces_of_a_partition_stand_ten_apart(same):
    pieces, _, blocks = shared_unit(same=same)
    result = runner_fixings(pieces, blocks, SHELF, THICKNESS)
    least, ones, twos = apart_on_partition(result)
    assert least >= STAGGER
    assert min(ones, twos) >= 3
    assert any("staggered" in note and "partition-1" in note for note in result.notes)


def test_both_runners_of_a_partition_keep_a_slot():
    pieces, _, blocks = shared_unit()
    result = runner_fixings(pieces, blocks, SHELF, THICKNESS)
    slots = {h.at for h in blocks[0].openings[0].runner.size.holes if h.kind == "slot"}
    for name in ("one", "two"):
        mine = {
            round(f.at[0] - T, 6)
            for f in result.fixings
            if f.joins[-1] == "drawers/1/partition-1" and f.joins[0].startswith(name)
        }
        assert mine & slots


def test_runners_at_other_heights_keep_all_their_holes():
    pieces, _, blocks = shared_unit(drop=40.0)
    result = runner_fixings(pieces, blocks, SHELF, THICKNESS)
    _, ones, twos = apart_on_partition(result)
    every = sum(h.member == "cabinet" for h in blocks[0].openings[0].runner.size.holes)
    assert (ones, twos) == (every, every)


def test_counts_of_joints_are_what_is_placed():
    result = placed(worked_example())
    for made in result.joints:
        mine = [f for f in result.fixings if f.joint == made.id]
        assert len(mine) == made.count
        assert {f.type for f in mine} == {made.fixing}


def test_a_flat_runner_is_said_not_to_be_laid_out():
    fit = runner_fit()
    flat = replace(fit, runner=replace(fit.runner, mount="flat"))
    result = placed(worked_example(fit=flat))
    assert not result.fixings
    assert any("flat-mounted" in text for text in result.warnings)
