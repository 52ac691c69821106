"""Refit: laws, reasons, frozen parts, shims, parts that no longer serve."""

from dataclasses import replace

import numpy as np
import pytest
from refit_jobs import (
    BASE,
    CATALOGUE,
    SIZES,
    done,
    job,
    marks_of,
    reading,
    refit,
    refitted,
    size_of,
)

from stowright.design.build import design
from stowright.drawings.clashes import interpenetrations
from stowright.explore.build_record import still_to_cut
from stowright.explore.recut import Leftover
from stowright.explore.refit import Asked, find_refit
from stowright.explore.refit_chances import refit_chances, stacks_of
from stowright.explore.shimming import best_pack, box_width_of
from stowright.formulas.fit_window import runs_probability
from stowright.model.given import Given
from stowright.proofs.tolerance_terms import fit_of

CARCASS = ("A1", "A2", "A3", "A4", "A5", "A6", "A7", "A14", "A15")


def sizes(unit):
    return {part.mark: (*size_of(part), part.quantity) for part in unit.parts}


def changed(unit):
    """Marks whose size or number is not the plan's."""
    old, new = sizes(BASE), sizes(unit)
    return {mark for mark in old | new if old.get(mark) != new.get(mark)}


def test_nothing_cut_or_read_changes_nothing():
    assert refit() is None
    assert design(job(), CATALOGUE, Given(refit=None)) == BASE


def test_readings_equal_to_the_plan_change_nothing():
    opening = BASE.opening("left")
    runner = opening.runner.runner.thickness
    unit, found = refitted(
        reading("width", 518.0, 518.0, 518.0),
        reading("height", opening.height),
        reading("depth", opening.depth),
        reading("between-runners", 518.0 - 2 * runner),
        reading("runner-thickness", runner),
        reading("box-width", opening.box.width),
        reading("diagonals", 645.0, 645.0),
    )
    assert found.reasons == ()
    assert found.shims == ()
    assert unit.parts == BASE.parts
    assert unit.placed == BASE.placed
    assert unit.fixings == BASE.fixings


def test_cut_as_planned_changes_nothing():
    unit, found = refitted(done(*((mark, SIZES[mark]) for mark in CARCASS)))
    assert found.reasons == ()
    assert unit.parts == BASE.parts
    assert unit.placed == BASE.placed


def test_a_taper_is_told_as_in_the_workshop():
    unit, found = refitted(reading("width", 518.0, 517.5, 516.5))
    told = "left: inner front and back 1.5 mm narrower: opening reads 516.5 at the back"
    assert found.reasons[0] == told
    front, back, bottom = (
        unit.part(*marks_of(role))
        for role in ("drawer-inner-front", "drawer-inner-back", "drawer-bottom")
    )
    assert front.length == back.length == SIZES["A10"][0] - 1.5
    assert bottom.width == SIZES["A12"][1] - 1.5
    # the front lies at the face, which reads as planned
    assert changed(unit) == {"A10", "A11", "A12"}
    assert interpenetrations(unit) == []


def test_the_other_drawer_stays_as_it_is():
    unit, _ = refitted(reading("width", 516.0))
    assert all(unit.part(m) == BASE.part(m) for m in ("A16", "A17", "A18", "A19"))


def test_a_front_follows_its_face():
    unit, found = refitted(reading("width", 516.8, 518.0, 518.0))
    # 518 to 516.8 on a grid of 0.5: 512 - 1.2 = 510.8, down to 510.5
    assert unit.part("A13").length == 510.5
    assert "left: front 1.5 mm narrower: opening reads 516.8 at the face" in found.reasons


def test_a_wider_opening_gives_a_wider_box_and_its_gap_counts_as_read():
    unit, found = refitted(reading("width", 519.5))
    assert unit.part("A10").length == SIZES["A10"][0] + 1.5
    assert unit.opening("left").runner.side_space == BASE.opening("left").runner.side_space
    assert all(gap.sum >= gap.least for gap in unit.gaps if gap.name.startswith("left: runner"))
    assert found.open == ()


def test_thick_runners_make_a_narrower_box():
    runner = BASE.opening("left").runner.runner.thickness
    unit, _ = refitted(reading("runner-thickness", runner + 0.5))
    assert unit.part("A10").length == SIZES["A10"][0] - 1.0


def test_between_the_runners_counts_before_the_width():
    runner = BASE.opening("left").runner.runner.thickness
    unit, _ = refitted(reading("width", 518.0), reading("between-runners", 516.0 - 2 * runner))
    assert unit.part("A10").length == SIZES["A10"][0] - 2.0


def test_a_later_reading_takes_the_place_of_an_earlier_one():
    unit, _ = refitted(reading("width", 510.0), reading("width", 518.0))
    assert changed(unit) == set()


def test_a_low_opening_gives_lower_sides_and_front():
    unit, _ = refitted(reading("height", BASE.opening("left").height - 2.0))
    # 385.3 - 2 less the gaps of 8 and 10: 365.3, down to 365
    left = next(p for p in unit.placed if p.id == "left/side-left")
    assert left.width == pytest.approx(365.0)
    right = next(p for p in unit.placed if p.id == "right/side-left")
    assert right.width == SIZES["A8"][1]
    assert {left.mark, right.mark} == {"A8", "A8b"}


def test_a_leaning_face_narrows_its_front():
    # d1² - d2² = 4 W s: at 518 wide, 652 and 638 lean 8.7 mm over the height
    unit, found = refitted(reading("diagonals", 652.0, 638.0))
    lean = (652.0**2 - 638.0**2) / (4 * 518.0)
    assert unit.part("A13").length <= 512.0 - 2 * (1.0 + lean / 2 - 3.0)
    assert any("leans" in line for line in found.reasons)


def test_a_shallow_opening_takes_a_shorter_runner_unless_one_is_fitted():
    depth = BASE.opening("left").depth
    unit, found = refitted(reading("depth", depth - 60.0))
    assert unit.opening("left").box.length == BASE.opening("left").box.length - 50.0
    assert any("reads" in line and "deep" in line for line in found.reasons)
    runner = BASE.opening("left").runner.runner.thickness
    fitted, _ = refitted(
        reading("depth", depth - 60.0), reading("between-runners", 518.0 - 2 * runner)
    )
    assert fitted.opening("left").box == BASE.opening("left").box


def test_gaps_beside_the_unit_move_a_wing():
    wing = next(w for w in BASE.wings if w.side == "left")
    side = BASE.blocks[0].box.y.high
    planned = wing.offsets[0][1] + wing.scribe_gap - side
    unit, found = refitted(reading("gap-left", planned - 3.0, block="unit"))
    assert unit.part("W1").width == SIZES["W1"][1] - 3.0
    assert unit.part("W5") == BASE.part("W5")
    assert any(line.startswith("unit wing, left") for line in found.reasons)
    same, found = refitted(reading("gap-left", planned, block="unit"))
    assert same.parts == BASE.parts
    assert found.reasons == ()


def test_a_unit_that_reads_narrow_gets_a_narrow_deck():
    planned = BASE.blocks[0].box.y.size
    unit, found = refitted(reading("width", planned, planned - 2.0, block="unit"))
    assert unit.part("T1").width == SIZES["T1"][1] - 2.0
    assert any("deck 2 mm narrower" in line for line in found.reasons)
    assert interpenetrations(unit) == []
    same, _ = refitted(reading("width", planned, block="unit"))
    assert same.parts == BASE.parts


def test_a_skewed_unit_is_told_to_be_pulled_square():
    _, found = refitted(reading("diagonals", 1806.0, 1800.0, block="unit"))
    assert any("pull it square" in line for line in found.open)
    _, found = refitted(reading("box-diagonals", 1435.0, 1434.5))
    assert found.open == ()


def test_a_frozen_part_never_changes():
    cut = [(mark, SIZES[mark]) for mark in (*CARCASS, "A8", "A9", "A10", "A11", "A12", "W1")]
    told = (done(*cut), reading("width", 517.8), reading("gap-left", 140.0, block="unit"))
    unit, found = refitted(*told)
    for mark, size in cut:
        assert size_of(unit.part(mark)) == size
    assert {row.mark for row in found.frozen} == {mark for mark, _ in cut}


def test_thickness_read_after_release_a_changes_release_b_alone():
    cut = done(*((mark, SIZES[mark]) for mark in (*CARCASS, "A8", "A9")))
    asked = job(cut)
    thin = (("ply-15", (14.3,)), ("ply-12", (11.8,)))
    asked = replace(asked, measured_thickness=thin)
    base = design(replace(job(), measured_thickness=thin), CATALOGUE)
    found = find_refit(base, asked, CATALOGUE, Asked(sizes=SIZES, marks={}))
    unit = design(asked, CATALOGUE, Given(refit=found))
    for mark in (*CARCASS, "A8", "A9"):
        assert size_of(unit.part(mark)) == SIZES[mark]
    # sides are cut from the old batch, so the inner front is as long as it was; it is thinner
    assert size_of(unit.part("A10")) == (SIZES["A10"][0], SIZES["A10"][1], 14.3)
    assert unit.opening("left").width == 518.0
    assert interpenetrations(unit) == []


@pytest.mark.parametrize("batch", [14.3, 15.0])
def test_what_is_not_cut_yet_is_as_thick_as_the_new_batch(batch):
    """Some of a carcass is cut from the old batch, the rest will be from the new one."""
    asked = job(done(("A1", SIZES["A1"]), ("A3", SIZES["A3"])))
    thick = (("ply-15", (batch,)), ("ply-12", (11.8,)))
    asked = replace(asked, measured_thickness=thick)
    base = design(replace(job(), measured_thickness=thick), CATALOGUE)
    marks = {piece.id: piece.mark for piece in BASE.placed}
    found = find_refit(base, asked, CATALOGUE, Asked(sizes=SIZES, marks=marks))
    unit = design(asked, CATALOGUE, Given(refit=found))
    cut = {name for row in found.frozen for name in row.pieces}
    for piece in unit.placed:
        part = unit.part(piece.mark)
        if piece.id in cut:
            assert size_of(part) == SIZES[marks[piece.id]]
        elif part.material == "ply-15":
            assert part.thickness == batch, piece.id
    assert interpenetrations(unit) == []
    # what is told of a front is what becomes of it
    for name in ("left", "right"):
        now, was = (
            next(p for p in one.placed if (p.opening, p.role) == (name, "drawer-front"))
            for one in (unit, BASE)
        )
        grown = now.length - was.length
        told = [line for line in found.reasons if line.startswith(f"{name}: front")]
        assert bool(told) == (abs(grown) > 1e-9)
        assert all(f"{abs(grown):g} mm" in line for line in told)


@pytest.mark.parametrize("batch", [14.3, 15.0])
def test_a_cut_cleat_stays_against_its_block_whatever_the_new_batch_measures(batch):
    """It is drilled and as thick as it was cut: no hole moves and nothing meets."""
    cleats = {piece.mark for piece in BASE.placed if piece.role == "wing-cleat"}
    assert len(cleats) == 2
    thick = (("ply-15", (batch,)), ("ply-12", (11.8,)))
    asked = replace(
        job(done(*((mark, SIZES[mark]) for mark in (*CARCASS, *sorted(cleats))))),
        measured_thickness=thick,
    )
    base = design(replace(job(), measured_thickness=thick), CATALOGUE)
    marks = {piece.id: piece.mark for piece in BASE.placed}
    found = find_refit(base, asked, CATALOGUE, Asked(sizes=SIZES, marks=marks))
    unit = design(asked, CATALOGUE, Given(refit=found))
    assert interpenetrations(unit) == []
    was, now = (
        {p.id: p.origin for p in one.placed if p.role == "wing-cleat"} for one in (BASE, unit)
    )
    assert {name: at[1] for name, at in now.items()} == pytest.approx(
        {name: at[1] for name, at in was.items()}
    )
    legs = {unit.part(p.mark).thickness for p in unit.placed if p.role in {"infill", "wing-leg"}}
    assert legs == {batch}


@pytest.mark.parametrize("batch", [11.1, 12.4])
@pytest.mark.parametrize("spoiled", ["", '\n[[spoiled]]\nmark = "P1"\n'])
def test_a_unit_stands_on_its_cut_packers_whatever_sheet_comes_after_them(batch, spoiled):
    """With one cut again from the new batch it stands on the thicker ones."""
    packers = [part.mark for part in BASE.parts if part.name == "packer strip"]
    asked = job(done(*((mark, SIZES[mark]) for mark in (*CARCASS, *packers))), spoiled)
    thick = (("ply-15", (14.6,)), ("ply-12", (batch,)))
    asked = replace(asked, measured_thickness=thick)
    base = design(replace(job(), measured_thickness=thick), CATALOGUE)
    marks = {piece.id: piece.mark for piece in BASE.placed}
    found = find_refit(base, asked, CATALOGUE, Asked(sizes=SIZES, marks=marks))
    unit = design(asked, CATALOGUE, Given(refit=found))
    under = {unit.part(p.mark).thickness for p in unit.placed if p.role == "packer"}
    assert under == ({11.8, batch} if spoiled else {11.8})
    assert unit.blocks[0].box.z.low == max(under)
    assert interpenetrations(unit) == []
    assert not [line for line in unit.warnings if "packer" in line]


def test_a_cut_front_stands_as_it_was_cut_with_what_is_in_it():
    unit, found = refitted(done(("A13", (511.0, SIZES["A13"][1] - 1.0, 14.6))))
    assert size_of(unit.part("A13")) == (511.0, SIZES["A13"][1] - 1.0, 14.6)
    assert found.of_opening("left").front_across.by < 0.0
    assert found.of_opening("left").front_up.by < 0.0
    assert interpenetrations(unit) == []


def test_a_front_follows_a_low_opening_also_when_the_box_is_cut():
    sides = marks_of("drawer-side")
    opening = BASE.opening("left")
    unit, _ = refitted(
        done(*((mark, SIZES[mark]) for mark in sides)), reading("height", opening.height - 2.0)
    )
    assert unit.part("A13").width == SIZES["A13"][1] - 2.0
    assert all(size_of(unit.part(mark)) == SIZES[mark] for mark in sides)


def test_a_floor_cut_short_makes_a_narrow_opening():
    unit, _ = refitted(done(("A1", SIZES["A1"]), ("A3", (1437.0, 516.0, 14.6))))
    assert unit.opening("left").width == 516.0
    assert unit.part("A10").length == SIZES["A10"][0] - 2.0
    assert interpenetrations(unit) == []


def test_refit_twice_is_refit_once():
    told = (reading("width", 518.0, 517.5, 516.5), done(("A8", SIZES["A8"])))
    once, found = refitted(*told)
    sizes_now = {part.mark: size_of(part) for part in once.parts}
    marks = {piece.id: piece.mark for piece in once.placed}
    again = find_refit(BASE, job(*told), CATALOGUE, Asked(sizes=sizes_now, marks=marks))
    twice = design(job(*told), CATALOGUE, Given(refit=again))
    assert twice.parts == once.parts
    assert twice.placed == once.placed
    assert again.shims == found.shims


def test_refit_from_the_plan_that_a_refit_gave_is_the_same_where_it_told_copies_apart():
    """A mark speaks of every copy, also of those that are called otherwise since."""
    length, width, thickness = SIZES["A3"]
    cut = done(("A3", (length - 1.0, width - 0.5, thickness)))
    once, _ = refitted(cut)
    assert "A3b" in {part.mark for part in once.parts}
    asked = job(cut)
    later = Asked(
        sizes={part.mark: size_of(part) for part in once.parts},
        marks={piece.id: piece.mark for piece in once.placed},
        covers={"A3": (1, 0)},
    )
    found = find_refit(BASE, asked, CATALOGUE, later)
    assert sizes(design(asked, CATALOGUE, Given(refit=found))) == sizes(once)
    left = still_to_cut(asked, [("A3", "A3"), ("A3b", "A3b")], {"A3": (1, 0)})
    assert left == {"A3": 0, "A3b": 0}


def test_a_part_is_judged_under_the_mark_that_it_was_cut_under():
    """A new batch may number parts otherwise; what is cut bears the mark of the plan before."""
    front, side = marks_of("drawer-inner-front")[0], marks_of("drawer-side")[0]
    swap = {front: side, side: front}
    before = Asked(
        sizes={swap.get(mark, mark): size for mark, size in SIZES.items()},
        marks={piece.id: swap.get(piece.mark, piece.mark) for piece in BASE.placed},
    )
    length, width, thickness = SIZES[front]
    asked = job(done((side, (length + 6.0, width, thickness))))
    (row,) = find_refit(BASE, asked, CATALOGUE, before).no_longer
    assert (row.mark, row.name, row.way) == (side, "drawer inner front", "trim")


def test_what_is_cut_is_not_told_to_be_cut_narrower():
    ends = marks_of("drawer-inner-front") + marks_of("drawer-inner-back")
    cut = done(*((mark, SIZES[mark]) for mark in ends))
    _, open_yet = refitted(reading("width", 519.0, 518.5, 518.0))
    assert any("narrower than listed" in line for line in open_yet.reasons)
    _, found = refitted(cut, reading("width", 519.0, 518.5, 518.0))
    assert any("shims" in line for line in found.reasons)
    assert not any("narrower than listed" in line for line in found.reasons)


def test_shims_fill_what_tapers():
    _, found = refitted(reading("width", 518.0, 517.5, 516.5))
    left = [pack for pack in found.shims if pack.side == "left"]
    assert left[0].at < left[-1].at
    assert sum(left[0].shims) > sum(left[-1].shims)
    assert all(set(pack.shims) <= {0.25, 0.5, 1.0} for pack in found.shims)


def test_a_taper_adds_to_the_play_of_its_end_in_the_chance():
    unit, _ = refitted(reading("width", 518.0, 517.5, 516.5))
    fit = fit_of(unit, CATALOGUE, unit.blocks[0], unit.opening("left"))
    _, stack = stacks_of(fit)
    assert stack.face_mm - stack.back_mm == pytest.approx(1.5, abs=1e-9)
    assert runs_probability(stack) < runs_probability(replace(stack, face_mm=stack.back_mm))


@pytest.mark.parametrize("batch", [14.3, 15.0])
def test_shims_go_by_the_box_that_is_built_over_sides_of_an_older_batch(batch):
    cut = done(*((mark, SIZES[mark]) for mark in (*CARCASS, "A8", "A9")))
    asked = job(cut, reading("width", 518.0, 517.5, 516.5))
    thick = (("ply-15", (batch,)), ("ply-12", (11.8,)))
    asked = replace(asked, measured_thickness=thick)
    base = design(replace(job(), measured_thickness=thick), CATALOGUE)
    found = find_refit(base, asked, CATALOGUE, Asked(sizes=SIZES, marks={}))
    unit = design(asked, CATALOGUE, Given(refit=found))
    opening = base.opening("left")
    told = box_width_of(replace(base, job=asked), opening, found, 518.0)
    assert told == pytest.approx(unit.opening("left").box.width, abs=1e-6)
    assert told == pytest.approx(unit.part("A10").length + 2.0 * SIZES["A8"][2], abs=1e-6)


@pytest.mark.parametrize(
    ("wanted", "pack"),
    [(0.1, ()), (0.2, (0.25,)), (0.8, (0.5, 0.25)), (1.3, (1.0, 0.25)), (9.0, (1.0, 0.5, 0.25))],
)
def test_the_nearest_pack_of_one_set(wanted, pack):
    assert best_pack(wanted) == pack


def test_a_part_cut_too_wide_is_trimmed_and_costs_no_new_part():
    unit, found = refitted(
        done(("A10", SIZES["A10"]), ("A11", SIZES["A11"])), reading("width", 515.0)
    )
    rows = {row.mark: row for row in found.no_longer}
    assert set(rows) == {"A10", "A11"}
    assert all(row.way == "trim" and row.new_parts == 0 for row in rows.values())
    assert rows["A10"].size == (447.0, 367.0)
    assert unit.part("A10").length == 447.0


def test_a_part_cut_too_narrow_is_cut_new_from_what_is_left():
    cut = [
        ("A10", (440.0, 367.0, 14.6)),
        ("A11", (440.0, 367.0, 14.6)),
        ("A12", (1332.5, 452.0, 11.8)),
    ]
    asked = job(done(*cut), reading("width", 518.0))
    left = (
        Leftover(name="offcut K1", material="ply-15", length=460.0, width=380.0),
        Leftover(name="offcut K2", material="ply-12", length=1400.0, width=500.0),
        Leftover(name="offcut K3", material="ply-15", length=2000.0, width=900.0),
    )
    found = find_refit(BASE, asked, CATALOGUE, Asked(sizes=SIZES, marks={}, leftovers=left))
    rows = {row.mark: row for row in found.no_longer}
    assert {row.way for row in rows.values()} == {"recut"}
    assert {rows["A10"].source, rows["A11"].source} == {"offcut K1", "offcut K3"}
    assert rows["A12"].source == "offcut K2"
    assert all(row.new_area == 0.0 for row in rows.values())


def test_two_parts_come_from_one_leftover_that_is_large_enough():
    cut = done(("A10", (440.0, 367.0, 14.6)), ("A11", (440.0, 367.0, 14.6)))
    asked = job(cut, reading("width", 518.0))
    for width, sources in ((367.0, {"offcut K1"}), (366.0, {""})):
        left = (Leftover(name="offcut K1", material="ply-15", length=904.0, width=width),)
        found = find_refit(BASE, asked, CATALOGUE, Asked(sizes=SIZES, marks={}, leftovers=left))
        assert {row.source for row in found.no_longer} == sources
        assert sum(row.new_area for row in found.no_longer) == (
            0.0 if width == 367.0 else 2 * 450.0 * 367.0
        )


def test_a_bottom_too_wide_for_its_narrower_box_is_trimmed():
    found = refit(done(("A12", SIZES["A12"])), reading("width", 516.0))
    (row,) = found.no_longer
    assert (row.mark, row.way) == ("A12", "trim")
    assert row.size == (SIZES["A12"][0], SIZES["A12"][1] - 2.0)


def test_a_box_too_high_for_its_opening_is_cut_down():
    height = BASE.opening("left").height
    cut = done(("A8", SIZES["A8"]), ("A9", SIZES["A9"]))
    _, found = refitted(cut, reading("height", height - 7.0))
    assert found.no_longer == ()
    unit, found = refitted(cut, reading("height", height - 9.0))
    rows = {row.mark: row for row in found.no_longer}
    assert set(rows) == {"A8", "A9"}
    assert all(row.way == "trim" for row in rows.values())
    assert {unit.part(mark).width for mark in rows} == {row.size[1] for row in rows.values()}
    assert interpenetrations(unit) == []


def test_a_box_too_long_for_its_opening_is_cut_down_to_the_next_runner():
    opening = BASE.opening("left")
    cut = done(("A8", SIZES["A8"]), ("A9", SIZES["A9"]), ("A12", SIZES["A12"]))
    behind = opening.depth - opening.runner.set_back - SIZES["A8"][0]
    _, found = refitted(cut, reading("depth", opening.depth - behind))
    assert found.no_longer == ()
    unit, found = refitted(cut, reading("depth", opening.depth - behind - 1.0))
    rows = {row.mark: row for row in found.no_longer}
    assert set(rows) == {"A8", "A9", "A12"}
    assert unit.part("A8").length == SIZES["A8"][0] - 50.0
    assert unit.part("A12").length == SIZES["A12"][0] - 50.0
    assert interpenetrations(unit) == []


def test_a_cut_front_that_rubs_above_is_cut_down():
    height = BASE.opening("left").height
    unit, found = refitted(done(("A13", SIZES["A13"])), reading("height", height - 2.5))
    (row,) = found.no_longer
    assert (row.mark, row.way) == ("A13", "trim")
    assert unit.part("A13").width == row.size[1] < SIZES["A13"][1]
    assert unit.part("A13").length == SIZES["A13"][0]


def test_ends_of_unequal_length_are_cut_to_the_shorter():
    length, height, t = SIZES["A10"]
    unit, found = refitted(done(("A10", (length - 1.0, height, t)), ("A11", SIZES["A11"])))
    (row,) = found.no_longer
    assert (row.mark, row.way, row.size) == ("A11", "trim", (length - 1.0, height))
    assert unit.part("A10").length == unit.part("A11").length == length - 1.0
    assert interpenetrations(unit) == []


def test_a_bottom_that_still_fills_its_grooves_is_kept():
    cut = [
        ("A10", (445.0, 367.0, 14.6)),
        ("A11", (445.0, 367.0, 14.6)),
        ("A12", (1332.5, 457.0, 11.8)),
    ]
    found = refit(done(*cut), reading("width", 518.0))
    assert {row.mark for row in found.no_longer} == {"A10", "A11"}


def test_only_what_is_not_done_is_still_to_cut():
    pieces = [(piece.mark, piece.mark) for piece in BASE.placed]
    asked = job(done(("A1", SIZES["A1"]), ("A3", SIZES["A3"])), '\n[[spoiled]]\nmark = "A3"\n')
    left = still_to_cut(asked, pieces, {})
    assert left["A1"] == 0
    assert left["A3"] == 1
    assert left["A2"] == 1


def test_a_reading_far_off_is_told_to_be_taken_again():
    _, found = refitted(reading("width", 490.0))
    assert any("read it again" in line for line in found.open)


def test_random_builds_stay_sound():
    """Readings drawn from the tolerances: no solids overlap, and drawers keep their windows."""
    random = np.random.Generator(np.random.PCG64(7))
    for _ in range(4):
        values = np.round((518.0 + random.uniform(-1.5, 1.5, 3)) * 2) / 2
        unit, found = refitted(reading("width", *map(float, values)))
        assert interpenetrations(unit) == []
        runner = unit.opening("left").runner
        low = runner.runner.side_space.least
        assert runner.side_space >= low - 1e-9, found.reasons
        grid = 0.5
        assert runner.side_space <= runner.runner.side_space.aim + grid / 2


@pytest.mark.parametrize("off", [-90.0, -30.0, -8.0, 8.0, 30.0, 90.0])
@pytest.mark.parametrize("what", ["width", "height", "depth"])
def test_a_reading_far_off_still_gives_a_sound_design(what, off):
    opening = BASE.opening("left")
    planned = getattr(opening, what)
    unit, found = refitted(reading(what, planned + off))
    assert interpenetrations(unit) == []
    assert any("read it again" in line for line in found.open)


def test_a_higher_opening_gives_a_higher_front_with_its_gap_as_read():
    unit, _ = refitted(reading("height", BASE.opening("left").height + 1.5))
    assert unit.part("A13").width == SIZES["A13"][1] + 1.5
    fit = fit_of(unit, CATALOGUE, unit.blocks[0], unit.opening("left"))
    planned = fit_of(BASE, CATALOGUE, BASE.blocks[0], BASE.opening("left"))
    assert fit.gaps == pytest.approx(planned.gaps)


@pytest.mark.slow
def test_five_hundred_random_builds_stay_sound():
    random = np.random.Generator(np.random.PCG64(11))
    for _ in range(500):
        values = np.round((518.0 + random.uniform(-2.5, 2.5, 3)) * 2) / 2
        other = float(np.round(518.0 + random.uniform(-2.5, 2.5)))
        unit, _ = refitted(
            reading("width", *map(float, values)), reading("width", other, opening="right")
        )
        assert interpenetrations(unit) == []
        for name in ("left", "right"):
            runner = unit.opening(name).runner
            assert runner.side_space >= runner.runner.side_space.least - 1e-9


def test_three_figures_of_many_builds_agree_with_the_closed_form():
    """Monte Carlo of a refit against the exact sums of the terms' distributions (derived)."""
    fit = fit_of(BASE, CATALOGUE, BASE.blocks[0], BASE.opening("left"))
    many = refit_chances(fit, builds=20_000)
    first, recut = stacks_of(fit)
    # four standard errors: a seeded run outside them would be a fault, not chance
    assert many.first.runs == pytest.approx(
        runs_probability(first), abs=4 * many.first.error + 2e-4
    )
    assert many.recut.runs == pytest.approx(runs_probability(recut), abs=4 * many.recut.error)
    few = refit_chances(fit, grid=0.5, builds=500)
    assert few.first.runs < few.recut.runs < few.shimmed.runs
    assert few.shimmed.runs >= 0.995


@pytest.mark.parametrize("grid", [0.1, 0.5, 25.4 / 32.0, 1.0])
def test_recut_and_shimmed_all_but_every_build_runs_on_any_usual_grid(grid):
    """What the saw's grid takes off is anything up to a step of it, not always half of one."""
    fit = fit_of(BASE, CATALOGUE, BASE.blocks[0], BASE.opening("left"))
    (inner,) = (s for s in BASE.sums if s.size_of == "left: inner front and back")
    many = refit_chances(fit, grid=grid, taken=inner.exact - inner.result, builds=4_000)
    assert many.shimmed.runs >= 0.995
    assert many.recut.runs > many.first.runs
