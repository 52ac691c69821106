"""Hinges, stays, latches, holds and handles: each in its place, with its screws."""

from __future__ import annotations

from collections import Counter
from math import cos, hypot, radians, sin

import pytest
from fixing_pieces import SHELF

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.design.plates import PLACED_KINDS
from stowright.design.stays import stay_places
from stowright.jobfile import read_job
from stowright.model.given import AnchorPlan, Given, ModuleAnchors

JOB = """
format = 1
[job]
title = "invented"
[bay]
kind = "tray"
length = 1500
width = 1600
rail = 600
floor = {{material = "steel", thickness = 1.2, rib_depth = 9, rib_pitch = 80}}
[[block]]
name = "b"
face = "{face}"
place = {{{place}}}
wings = {{left = "{wing}", right = "{wing}"}}
columns = [ {{stack = [ {{fill = "locker", name = "low", door = "{door}"}},
                        {{fill = "locker", name = "high", door = "lift", latch = "turn-catch"}} ]}},
            {{stack = [ {{fill = "locker", name = "wide", door = "drop"}},
                        {{fill = "drawer", name = "tools"}} ]}} ]
[[deck]]
over = ["b"]
kind = "{deck}"
[build]
front = "{front}"
front_sheet = "{sheet}"
top = "{top}"
between_fills = "{between}"
handle = {{projection = {handle}}}
"""


def planned(given=None, **words):
    words = {
        "face": "tail",
        "place": "y = [-500, 500]",
        "wing": "lid",
        "deck": "fixed",
        "front": "inset",
        "sheet": "ply-15",
        "top": "rails",
        "handle": 0,
        "door": "drop",
        "between": "shelf",
    } | words
    text = JOB.format(**words)
    # a table that spans lines is no TOML 1.0: join them
    text = text.replace(",\n                        ", ", ").replace(",\n            ", ", ")
    return design(read_job(text), SHELF, given)


def fittings(made, kind):
    return [f for f in made.fixings if f.kind == kind]


def screws_of(made, fitting):
    return [f for f in made.fixings if f.set == fitting.id]


def motion_of(made, body):
    return next(m for m in made.motions if m.body == body)


def off_line(point, motion):
    """Distance of a point from the line that a motion turns about."""
    rel = [p - q for p, q in zip(point, motion.pivot, strict=True)]
    along = sum(r * a for r, a in zip(rel, motion.axis, strict=True))
    return hypot(*(r - along * a for r, a in zip(rel, motion.axis, strict=True)))


FACES = [("tail", "y = [-500, 500]"), ("left", "y = [-300, 500]"), ("right", "y = [-500, 300]")]


@pytest.mark.parametrize(("face", "place"), FACES)
@pytest.mark.parametrize("front", ["inset", "overlay"])
def test_every_door_hangs_on_hinges_that_lie_on_the_line_it_turns_about(face, place, front):
    made = planned(face=face, place=place, front=front, wing="none")
    for name in ("low", "high", "wide"):
        hinges = [h for h in fittings(made, "hinge") if h.joins[0] == f"{name}/door"]
        assert len(hinges) >= 2
        for hinge in hinges:
            assert off_line(hinge.at, motion_of(made, name)) == pytest.approx(0.0, abs=1e-3)
            joined = Counter(f.joins[0] for f in screws_of(made, hinge))
            assert set(joined) == set(hinge.joins)  # screws in the door and in what it hangs on
            assert min(joined.values()) >= 2


def test_a_hinged_wing_turns_about_the_gap_between_it_and_the_deck():
    made = planned()
    lids = [p for p in made.placed if p.role == "wing-lid"]
    assert len(lids) == 2
    for lid in lids:
        (hinge,) = [h for h in fittings(made, "hinge") if h.joins[0] == lid.id]
        assert off_line(hinge.at, motion_of(made, lid.body)) == pytest.approx(0.0, abs=1e-3)
        assert {f.joins[0] for f in screws_of(made, hinge)} == {lid.id, "deck/1"}


def test_the_legs_under_a_hinged_wing_are_held_by_angles_to_the_block():
    made = planned()
    legs = {p.id for p in made.placed if p.role in {"infill", "wing-leg"}}
    angles = fittings(made, "bracket")
    assert Counter(a.joins[0] for a in angles) == dict.fromkeys(legs, 2)
    for angle in angles:
        assert {f.joins[0] for f in screws_of(made, angle)} == set(angle.joins)
    assert not any(name == "angle-60" for name, _, _ in made.hardware)


def test_an_angle_under_a_hold_down_bolt_is_screwed_to_the_upright():
    row = ModuleAnchors(block="b", module="1", angle="angle-60")
    made = planned(wing="none", given=Given(anchors=AnchorPlan(modules=(row,))))
    angles = fittings(made, "bracket")
    assert len(angles) == sum(bool(a.angle) for a in made.anchors)
    assert len(angles) > 0
    for angle in angles:
        screws = screws_of(made, angle)
        assert {f.joins[0] for f in screws} == {angle.joins[1]}  # the upright
        assert len(screws) == 2


def test_a_hinged_wing_beside_a_deck_that_lifts_out_is_told_to_hang_on_nothing():
    made = planned(deck="lift-out")
    assert any("no fixed deck beside it to hinge it to" in w for w in made.warnings)


def test_a_door_with_nothing_to_hang_on_is_told_so():
    made = planned(wing="none", door="lift", between="none")
    assert any(w.startswith("low: nothing above the door") for w in made.warnings)
    assert not any(h.joins[0] == "low/door" for h in fittings(made, "hinge"))


def test_a_thin_overlay_door_takes_no_cup():
    made = planned(front="overlay", sheet="ply-12", wing="none")
    assert any("concealed hinge's cup" in w for w in made.warnings)
    assert fittings(made, "hinge") == []


@pytest.mark.parametrize(("face", "place"), FACES)
def test_a_stay_is_stretched_by_the_open_door_and_folds_behind_the_shut_one(face, place):
    made = planned(face=face, place=place, wing="none")
    stays = fittings(made, "stay")
    assert {s.joins[0] for s in stays} == {"low/door", "high/door", "wide/door"}
    for stay in stays:
        turn = motion_of(made, stay.joins[0].split("/")[0])
        door, side = (
            [f.at for f in screws_of(made, stay) if f.joins[0] == name] for name in stay.joins
        )
        shut, fixed = (tuple(sum(c) / len(c) for c in zip(*p, strict=True)) for p in (door, side))
        length = next(h for h in SHELF.hardware if h.name == stay.type).size[0]
        opened = turned(shut, turn, 90.0)
        flat = [k for k in range(3) if abs(turn.axis[k]) < 0.5]
        assert hypot(*(opened[k] - fixed[k] for k in flat)) == pytest.approx(length, abs=0.5)
        assert hypot(*(shut[k] - fixed[k] for k in flat)) < length


def turned(point, motion, degrees):
    """A point turned about a motion's line, by the formula of Rodrigues (a general reference)."""
    rel = [p - q for p, q in zip(point, motion.pivot, strict=True)]
    k, angle = motion.axis, radians(degrees)
    cross = (
        k[1] * rel[2] - k[2] * rel[1],
        k[2] * rel[0] - k[0] * rel[2],
        k[0] * rel[1] - k[1] * rel[0],
    )
    dot = sum(a * b for a, b in zip(k, rel, strict=True))
    return tuple(
        q + r * cos(angle) + c * sin(angle) + a * dot * (1.0 - cos(angle))
        for q, r, c, a in zip(motion.pivot, rel, cross, k, strict=True)
    )


def test_a_door_turns_outward_and_not_into_its_locker():
    made = planned(wing="none")
    for name in ("low", "high", "wide"):
        door = made.placed_by_id(f"{name}/door")
        middle = door.point(door.length / 2.0, door.width / 2.0, door.thickness / 2.0)
        assert turned(middle, motion_of(made, name), 90.0)[0] < middle[0] - 50.0


def test_no_stay_place_for_a_door_lower_than_its_brackets():
    assert (
        list(stay_places(length=220.0, door=60.0, thickness=15.0, depth=400.0, height=60.0)) == []
    )


@pytest.mark.parametrize("top", ["rails", "panel"])
def test_each_lift_out_piece_has_two_holds(top):
    made = planned(deck="lift-out", wing="none", top=top)
    pieces = [p.id for p in made.placed if p.role == "deck"]
    held = Counter(f.joins[0] for f in fittings(made, "hold-down"))
    assert held == dict.fromkeys(pieces, 2)
    for hold in fittings(made, "hold-down"):
        assert len(screws_of(made, hold)) == 2
        assert len(hold.joins) == 2  # what it grips


def test_latches_have_screws_and_a_keeper_opposite():
    made = planned(wing="none")
    latches = fittings(made, "latch")
    assert {f.joins[0] for f in latches} == {"low/door", "high/door", "wide/door"}
    for latch in latches:
        assert {f.joins[0] for f in screws_of(made, latch)} == set(latch.joins)
        assert len(latch.joins) == 2


def test_handles_are_bolted_from_inside():
    made = planned(handle=35, wing="none")
    handles = fittings(made, "handle")
    assert {h.type for h in handles} == {"pull-handle"}
    assert len(handles) == 4
    for handle in handles:
        bolts = [f for f in made.fixings if f.kind == "bolt" and f.joint == handle.joint]
        assert len(bolts) == 2
        assert {b.joins for b in bolts} == {tuple(reversed(handle.joins))}
        for bolt in bolts:
            stack = sum(made.placed_by_id(j).thickness for j in bolt.joins)
            turns = bolt.length - stack - (1.6 if "countersunk" not in bolt.type else 0.0)
            assert 4.0 <= turns <= 10.0  # one to two diameters of M5, washer allowed for


def test_what_has_a_place_is_not_listed_a_second_time():
    made = planned()
    placed = {row.name for row in SHELF.hardware if row.kind in PLACED_KINDS}
    assert [row for row in made.hardware if row[0] in placed] == []
    assert len({f.id for f in made.fixings}) == len(made.fixings)


FLAT = """
[[runners]]
name = "flat-60"
section = 60
thickness = 16
set_back = 1
overlap = 150
droop = 0.005
flange = 1.5
screw = "pan-8g-15"
mount = "flat"
basis = "pair, 500 long, 10000 cycles"
source = "invented"
standing = "assumed"
[runners.side_space]
least = 16.2
aim = 16.3
most = 16.5
[runners.holes]
cabinet = {first = 32, step = 192, pair = 32, end = 20, up = 0}
drawer = {first = 40, step = 192, pair = 32, end = 20, up = 0}
[runners.sizes]
length = [500, 600, 700]
travel = [490, 590, 690]
rating_kg = [100, 100, 100]
mass = [2, 2.2, 2.4]
"""

FLAT_JOB = """
format = 1
[job]
title = "invented"
[bay]
kind = "tray"
length = 900
width = 900
rail = 500
[[block]]
name = "b"
columns = [ {{stack = [ {{fill = "drawer", name = "tools"}} ]}} ]
[build]
runner = "flat-60"
under_gap = {gap}
bottom_fit = "{fit}"
"""


@pytest.mark.parametrize(("gap", "fit"), [(16, "planted"), (20, "between")])
def test_a_flat_runner_is_screwed_down_to_the_floor_and_up_into_the_bottom(gap, fit):
    made = design(read_job(FLAT_JOB.format(gap=gap, fit=fit)), load_catalogue(FLAT))
    screws = [f for f in made.fixings if f.step == "runners"]
    assert {(f.joins[1], f.direction) for f in screws} == {
        ("b/1/floor", (0.0, 0.0, -1.0)),
        ("tools/bottom", (0.0, 0.0, 1.0)),
    }
    floor, bottom = (made.placed_by_id(p) for p in ("b/1/floor", "tools/bottom"))
    top, low = floor.origin[2] + floor.thickness, min(bottom.point(0, 0, w)[2] for w in (0.0, 12.0))
    assert max(abs(f.at[1]) for f in screws) < made.opening("tools").width / 2.0
    for screw in screws:
        tip = screw.at[2] + screw.direction[2] * screw.length
        part = floor if screw.direction[2] < 0.0 else bottom
        least = made.thickness(made.part(part.mark).material).t_min
        face = top if screw.direction[2] < 0.0 else low
        assert 0.0 < abs(tip - face) <= least - 0.5 + 1e-6
    assert any("pack its flat runners up by 4.0" in n for n in made.notes) == (gap == 20)


def test_a_flat_runner_without_room_is_told_by_how_much():
    made = design(read_job(FLAT_JOB.format(gap=10, fit="planted")), load_catalogue(FLAT))
    assert any("raise under_gap by 6.0" in w for w in made.warnings)
    assert not [f for f in made.fixings if f.step == "runners"]
