"""Bolts: stock lengths that show one to three threads, modules joined, the unit held down.

Clearance holes are those of ISO 273, medium series (M6 6.6, M8 9, M10 11). 300 mm from belt and
seat anchorages follows a national vehicle inspection rule on corrosion, used as a distance to keep.
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import fixing_checks as check
import numpy as np
import pytest
from fixing_pieces import (
    PACKER,
    SHELF,
    THICKNESS,
    T,
    bay,
    joint,
    packers,
    panel,
    slab,
    worked_example,
)
from hypothesis import given
from hypothesis import strategies as st

from stowright.design.bolt_choice import anchor_bolt, bolt_set, large_washers, plates
from stowright.design.bolting import join_modules
from stowright.design.hold_down import HoldDownAsk, hold_down
from stowright.design.pieces import with_features
from stowright.model.bay import Access, Anchor, BeltAnchorage, NoDrill


def total(found):
    washers = sum(w.thickness for w in found.nut_washers)
    head = found.head_washer.thickness if found.head_washer else 0.0
    return head + washers + found.nut.height


@given(
    stack=st.floats(12.0, 60.0),
    head=st.sampled_from(["hex", "coach", "countersunk"]),
    thread=st.sampled_from(["M6", "M8"]),
)
def test_a_bolt_shows_one_to_three_threads_past_its_nut(stack, head, thread):
    washer = large_washers(SHELF, thread)[0]
    found = bolt_set(
        SHELF, thread=thread, head=head, stack=stack, head_washer=washer, nut_washer=washer
    )
    if found is None:
        return
    shows = found.bolt.length - stack - total(found)
    assert 1.0 - 1e-6 <= shows / found.bolt.pitch <= 3.0 + 1e-6
    assert found.shows == pytest.approx(shows, abs=1e-3)


@given(stack=st.floats(20.0, 60.0))
def test_every_common_stack_has_an_m8_with_a_lock_nut(stack):
    found = bolt_set(
        SHELF,
        thread="M8",
        head="hex",
        stack=stack,
        head_washer=large_washers(SHELF, "M8")[-1],
        nut_washer=plates(SHELF, "M8")[0],
    )
    assert found is not None
    assert found.nut.kind == "insert-lock"


def test_a_stack_worked_by_hand():
    # 14.6 + 14.6 + two washers of 1.6 + lock nut 8.0 = 40.4: 45 shows 4.6, too much for M6 (3.0);
    # one plain washer of 1.6 more leaves 3.0, just three threads.
    washer = large_washers(SHELF, "M6")[-1]
    found = bolt_set(
        SHELF, thread="M6", head="hex", stack=29.2, head_washer=washer, nut_washer=washer
    )
    assert found is not None
    assert (found.bolt.name, found.nut.name) == ("M6x45-8.8", "nut-M6-insert-lock")
    assert [w.name for w in found.nut_washers] == ["washer-M6-large", "washer-M6"]
    assert found.head_stands == pytest.approx(4.0 + 1.6)


def test_a_bolt_turns_one_to_two_diameters_into_an_anchor():
    found = anchor_bolt(
        SHELF, thread="M8", head="hex", stack=24.6, head_washer=large_washers(SHELF, "M8")[0]
    )
    assert found is not None
    assert found.nut is None
    assert 8.0 <= found.bolt.length - 24.6 - 3.0 <= 16.0


def test_an_unknown_thread_gets_no_bolt():
    assert large_washers(SHELF, "5/16") == ()
    assert anchor_bolt(SHELF, thread="5/16", head="hex", stack=20.0, head_washer=None) is None


# --- modules ----------------------------------------------------------------------------------


@pytest.fixture(scope="module", params=[0.0, 1.0], ids=["touching", "1 mm apart"])
def joined(request):
    unit = worked_example(gap=request.param)
    return unit, join_modules(unit.pieces, unit.drafts, unit.blocks, SHELF, THICKNESS)


def test_modules_are_bolted_above_the_runners(joined):
    _, result = joined
    bolts = [f for f in result.fixings if f.kind == "bolt"]
    assert len(bolts) >= 4
    runner_top = 24.6 + 50.0 + 40.0
    assert all(f.at[2] > runner_top for f in bolts)
    assert {f.step for f in bolts} == {"modules"}
    made = result.joints[0]
    assert (made.kind, made.count, made.glued) == ("bolted", len(bolts), False)


def test_what_stands_proud_clears_the_drawers(joined):
    unit, result = joined
    sides = {
        name: unit.piece(f"{name}/side-{hand}").box.y
        for name, hand in (("meters", "right"), ("ropes", "left"))
    }
    inner = {"meters": 535.4 - 520.8, "ropes": unit.piece("drawers/2/side-left").box.y.low}
    room = [sides["meters"].low - inner["meters"], inner["ropes"] - sides["ropes"].high]
    assert room == pytest.approx([19.4, 19.4])
    bolt = next(f for f in result.fixings if f.kind == "bolt")
    parts = [f for f in result.fixings if f.set == bolt.id]
    head = SHELF.bolt(bolt.type).head_height
    washers = [SHELF.washer(f.type).thickness for f in parts if f.kind == "washer"]
    nut = next(SHELF.nut(f.type).height for f in parts if f.kind == "nut")
    assert head + washers[0] + 2.0 <= 19.4
    shows = 3.0 * SHELF.bolt(bolt.type).pitch
    assert sum(washers[1:]) + nut + shows + 2.0 <= 19.4


def test_joining_bolts_are_drilled_through_both_uprights(joined):
    unit, result = joined
    made = with_features(unit.pieces, result.features)
    for piece in made:
        if piece.id not in {"drawers/1/side-right", "drawers/2/side-left"}:
            assert not [f for f in piece.features if f.fixing]
            continue
        holes = [f for f in piece.features if f.fixing]
        assert {f.size for f in holes} == {(6.6,)}  # ISO 273 medium for M6
        assert all(f.through for f in holes)
        assert check.outside_features(piece, holes) == []


def widened(side, by=13.4):
    """A drawer side nearer to its upright: 6 mm are left beside it, or less."""
    y = side.origin[1] - side.axes[2][1] * by
    return replace(side, origin=(side.origin[0], y, side.origin[2]))


def test_narrow_runner_space_takes_a_lower_head_or_flush_screws():
    unit = worked_example()
    tight = [widened(piece) if piece.role == "drawer-side" else piece for piece in unit.pieces]
    result = join_modules(tight, unit.drafts, unit.blocks, SHELF, THICKNESS)
    assert {f.kind for f in result.fixings} == {"screw"}
    assert result.joints[0].count >= 2
    assert any("flush screws" in note for note in result.notes)
    assert check.proud_points(result.fixings, tight, THICKNESS) == []


def test_a_flush_head_is_only_sunk_where_the_panel_is_thick_enough():
    unit = worked_example()
    tight = [
        widened(p, 17.0) if (p.role, p.opening) == ("drawer-side", "meters") else p
        for p in unit.pieces
    ]
    sunk = join_modules(tight, unit.drafts, unit.blocks, SHELF, THICKNESS)
    assert {"countersunk" in f.type for f in sunk.fixings if f.kind == "bolt"} == {True}
    thin = {name: replace(use, t_min=5.0) for name, use in THICKNESS.items()}
    kept = join_modules(tight, unit.drafts, unit.blocks, SHELF, thin)
    assert not any("countersunk" in f.type for f in kept.fixings)
    assert any("too thin for the flush head" in note for note in kept.notes)


def test_modules_that_stand_apart_are_not_bolted():
    unit = worked_example(gap=40.0)
    result = join_modules(unit.pieces, unit.drafts, unit.blocks, SHELF, THICKNESS)
    assert not result.fixings
    assert result.warnings


# --- hold-down --------------------------------------------------------------------------------


def held(unit=None, ask=None, **changes):
    unit = unit or worked_example()
    return hold_down(unit.pieces, unit.blocks, bay(**changes), SHELF, THICKNESS, ask)


def on_a_packer(anchor, unit):
    return any(
        p.box.x.low <= anchor.x <= p.box.x.high and p.box.y.low <= anchor.y <= p.box.y.high
        for p in unit.pieces
        if p.role == "packer"
    )


def test_each_module_gets_four_two_in_front_and_two_behind():
    unit = worked_example()
    result = held(unit)
    for name in ("1", "2"):
        mine = [a for a in result.anchors if a.module == name]
        assert len(mine) == 4
        assert sum(a.x < 725.0 for a in mine) == 2
        assert all(on_a_packer(a, unit) for a in mine)
    assert not result.warnings


def test_bolts_stand_near_an_upright_clear_of_the_runner():
    unit = worked_example()
    faces = [535.4, T, -T, -535.4]
    for anchor in held(unit).anchors:
        off = min(abs(anchor.y - face) for face in faces)
        assert off <= 60.0
        washer = SHELF.washer(anchor.washer).outside / 2.0 if anchor.washer else 10.35
        assert off >= 19.1 + washer  # the runner is 19.1 thick; a cup head is 20.7 wide


def test_heads_stay_under_what_slides_over_them():
    unit = worked_example()  # 10.0 under the box
    result = held(unit)
    for anchor in result.anchors:
        bolt = SHELF.bolt(anchor.bolt)
        washer = SHELF.washer(anchor.washer).thickness if anchor.washer else 0.0
        stands = 0.0 if bolt.head == "countersunk" else bolt.head_height + washer
        assert stands + 2.0 <= 10.0
    assert {a.thread for a in result.anchors} == {"M8"}
    assert {SHELF.bolt(a.bolt).head for a in result.anchors} == {"hex"}


def test_a_lower_gap_takes_a_cup_head_and_sag_is_allowed_for():
    result = held(ask=HoldDownAsk(sag=2.0))  # 8.0 are left: 5.3 + 2.0 + 2.0 is too much
    assert {SHELF.bolt(a.bolt).head for a in result.anchors} == {"coach"}


def test_the_stack_reaches_through_packer_and_valley():
    result = held()
    stack = 24.6 + 9.0 + 0.8  # floor top over the rib tops, rib, sheet
    for anchor in result.anchors:
        parts = [f for f in result.fixings if anchor.fixing in {f.id, f.set}]
        length = next(f.length for f in parts if f.kind == "bolt")
        grip = sum(SHELF.washer(f.type).thickness for f in parts if f.kind in {"washer", "plate"})
        nut = next(SHELF.nut(f.type).height for f in parts if f.kind == "nut")
        pitch = SHELF.bolt(anchor.bolt).pitch
        assert 1.0 - 1e-6 <= (length - stack - grip - nut) / pitch <= 3.0 + 1e-6
        assert {f.step for f in parts} == {"install"}
        assert "vehicle" in parts[0].joins


def test_drilling_without_any_no_drill_entry_is_not_proved():
    assert all("not proved: look behind first" in a.note for a in held().anchors)
    looked = (NoDrill(what="tank", surface="floor", a=(2000.0, 2100.0), b=(0.0, 10.0)),)
    assert not any("not proved" in a.note for a in held(no_drill=looked).anchors)


def test_nothing_is_drilled_where_it_must_not_be():
    tank = NoDrill(what="fuel tank", surface="floor", a=(0.0, 300.0), b=(0.0, 600.0))
    belt = BeltAnchorage(what="rear belt", surface="floor", x=1400.0, y=-500.0, z=0.0)
    hatch = Access(what="spare wheel", x=(1300.0, 1500.0), y=(0.0, 120.0), lift_out=True)
    result = held(no_drill=(tank,), belts=(belt,), access=(hatch,))
    assert result.anchors
    for a in result.anchors:
        assert not (0.0 <= a.x <= 300.0 and 0.0 <= a.y <= 600.0)
        assert hypot(a.x - 1400.0, a.y + 500.0) >= 300.0
        assert not (1300.0 <= a.x <= 1500.0 and 0.0 <= a.y <= 120.0)


def test_a_floor_that_may_not_be_drilled_at_all_is_said_with_the_reason():
    tank = NoDrill(what="fuel tank", surface="floor", a=(-10.0, 1600.0), b=(-600.0, 600.0))
    result = held(no_drill=(tank,))
    assert not result.anchors
    assert all("fuel tank" in text for text in result.warnings)
    assert len(result.warnings) == 2


def eye(**changes):
    base = Anchor(
        what="tie-down",
        surface="floor",
        x=45.0,
        y=480.0,
        z=0.0,
        thread="M8",
        tension=None,
        shear=None,
    )
    return replace(base, **changes)


def test_a_factory_anchor_is_used_before_any_hole():
    result = held(anchors=(eye(),))
    used = [a for a in result.anchors if a.existing]
    assert [(a.x, a.y, a.existing, a.nut) for a in used] == [(45.0, 480.0, "tie-down", "")]
    assert "not proved" not in used[0].note
    assert len([a for a in result.anchors if a.module == "1"]) == 4  # it stands for one of four


@pytest.mark.parametrize(
    ("anchor", "why"),
    [
        (eye(thread=""), "none given"),
        (eye(thread="7/16"), "7/16"),
        (eye(y=534.0), "head, washer or socket"),
    ],
    ids=["no thread", "no such bolt", "against the side"],
)
def test_a_factory_anchor_that_cannot_serve_is_left_with_a_reason(anchor, why):
    result = held(anchors=(anchor,))
    assert not any(a.existing for a in result.anchors)
    if anchor.y == 534.0:
        return  # it lies under the floor's own edge: no floor over it, nothing to say
    assert any(why in note for note in result.notes)


def test_walls_and_belt_points_are_never_used():
    wall = eye(surface="left", z=200.0)
    belt = BeltAnchorage(what="belt", surface="floor", x=45.0, y=480.0, z=0.0)
    assert not any(a.existing for a in held(anchors=(wall,)).anchors)
    result = held(anchors=(eye(),), belts=(belt,))
    assert not any(a.existing for a in result.anchors)


def test_a_planned_place_is_taken_as_it_is():
    ask = HoldDownAsk(wanted={("drawers", "1"): ((45.0, 500.0), (1405.0, 500.0))})
    result = held(ask=ask)
    assert [(a.x, a.y) for a in result.anchors if a.module == "1"] == [
        (45.0, 500.0),
        (1405.0, 500.0),
    ]
    assert len([a for a in result.anchors if a.module == "2"]) == 4


def test_a_planned_place_that_breaks_a_rule_is_refused_with_the_reason():
    tank = NoDrill(what="fuel tank", surface="floor", a=(0.0, 300.0), b=(0.0, 600.0))
    ask = HoldDownAsk(wanted={("drawers", "1"): ((45.0, 500.0), (900.0, 900.0))})
    result = held(ask=ask, no_drill=(tank,))
    assert not [a for a in result.anchors if a.module == "1"]
    assert ["fuel tank" in text or "no carcass floor" in text for text in result.warnings] == [
        True,
        True,
    ]


def test_a_bolt_that_would_stand_on_nothing_gets_a_packer_of_its_own():
    unit = worked_example()
    result = held(unit, HoldDownAsk(add_packers=True), anchors=(eye(x=300.0),))
    (own,) = result.pieces
    assert own.role == "packer"
    assert own.box.x.low <= 300.0 <= own.box.x.high
    assert own.box.z.high == pytest.approx(PACKER)
    for other in packers():
        assert own.box.overlap(other.box) <= 0.0
    assert [f for piece, f in result.features if piece == own.id]
    asked = held(unit, anchors=(eye(x=300.0),))
    assert next(a for a in asked.anchors if a.existing).note.startswith("put a packer there")


def test_no_hold_down_meets_another_or_leaves_its_piece():
    unit = worked_example()
    result = held(unit)
    assert check.clashing_fixings(result.fixings, SHELF) == []
    for piece in with_features(unit.pieces, result.features):
        assert check.outside_features(piece, piece.features) == []


def test_a_body_that_does_not_stand_on_the_floor_is_not_bolted_to_it():
    unit = worked_example()
    raised = [
        replace(p, origin=(p.origin[0], p.origin[1], p.origin[2] + 300.0))
        for p in unit.pieces
        if p.role != "packer"
    ]
    result = hold_down(raised, unit.blocks, bay(), SHELF, THICKNESS)
    assert not result.anchors
    told = [w for w in result.warnings if "no hold-down bolt" in w]
    assert [w.split(":")[0] for w in told] == ["drawers, module 1", "drawers, module 2"]


def test_an_unknown_floor_is_reckoned_and_said():
    result = held(floor=None)
    assert any("bay.floor is not given" in text for text in result.warnings)


@given(x=st.floats(0.0, 1450.0), y=st.floats(-550.0, 550.0), reach=st.floats(50.0, 700.0))
def test_bans_are_kept_wherever_they_lie(x, y, reach):
    area = NoDrill(what="loom", surface="floor", a=(x, x + reach), b=(y, y + reach / 2.0))
    for a in held(no_drill=(area,)).anchors:
        assert not (x <= a.x <= x + reach and y <= a.y <= y + reach / 2.0)
        assert np.isfinite(a.x)


def test_a_module_on_ladder_rails_is_bolted_through_the_rails():
    unit = worked_example()
    rails, kept = [], [p for p in unit.pieces if p.role != "carcass-floor"]
    for name, y in (("1", (T, 535.4)), ("2", (-535.4, -T))):
        rails += [
            panel(
                f"drawers/{name}/floor-rail-{n}",
                "floor-rail",
                slab((start, start + 90.0), y, (PACKER, PACKER + T)),
                ("-y", "+x", "+z"),
                module=name,
            )
            for n, start in enumerate((0.0, 680.0, 1360.0), start=1)
        ]
    result = hold_down((*kept, *rails), unit.blocks, bay(), SHELF, THICKNESS)
    assert len(result.anchors) == 8
    assert all("floor-rail" in a.part for a in result.anchors)


def test_a_bolted_draft_between_what_does_not_stand_side_by_side_is_said():
    unit = worked_example()
    odd = (joint("drawers/1/floor", "drawers/2/floor", "bolted", "modules"),)
    result = join_modules(unit.pieces, odd, unit.blocks, SHELF, THICKNESS)
    assert any("not bolted" in text for text in result.warnings)
