"""Refit: a cut part keeps its holes and its contour; what it would need beyond them is told."""

from dataclasses import replace

import pytest
from refit_jobs import BASE, CATALOGUE, SIZES, done, job, reading, refit

from stowright.design.as_drilled import as_drilled
from stowright.design.build import design
from stowright.design.pieces import Piece
from stowright.explore.drilled_bolts import as_bolted
from stowright.explore.drilling import drilling_words
from stowright.explore.refit import Asked, find_refit
from stowright.model.given import AnchorPlan, Given, ModuleAnchors
from stowright.model.part import Feature
from stowright.model.refit import FrozenPart, Refit

SHAPES = {part.mark: (part.features, part.outline) for part in BASE.parts}
CARCASS = done(*((m, SIZES[m]) for m in ("A1", "A2", "A3", "A4", "A5", "A6", "A7")))
SHALLOW = BASE.opening("left").depth - 60.0


def made(*texts, lost=None):
    """The design after a refit that knows what holes the cut parts have."""
    asked = job(*texts)
    known = Asked(sizes=SIZES, marks={}, shapes=SHAPES, lost=lost or {})
    found = find_refit(BASE, asked, CATALOGUE, known)
    return design(asked, CATALOGUE, Given(refit=found))


def holes(part):
    return sorted((f.kind, f.face, f.at, f.size, f.depth, f.purpose) for f in part.features)


@pytest.mark.parametrize(
    "read",
    [
        reading("depth", SHALLOW),
        reading("width", 516.0),
        reading("height", BASE.opening("left").height - 2.0),
        reading("width", 518.0, 517.5, 516.5) + reading("depth", SHALLOW, opening="right"),
    ],
)
def test_a_cut_part_keeps_its_holes_and_contour(read):
    unit = made(CARCASS, read)
    for row in unit.refit.frozen:
        assert holes(unit.part(row.mark)) == holes(BASE.part(row.mark))
        assert unit.part(row.mark).outline == BASE.part(row.mark).outline


def test_a_shorter_runner_asks_for_new_holes_in_cut_uprights():
    unit = made(CARCASS, reading("depth", SHALLOW))
    rows = {row.mark: row for row in unit.refit.redrills}
    assert set(rows) == {"A1", "A2"}
    screws = {f.at for f in rows["A1"].drill}
    assert not screws & {f.at for f in BASE.part("A1").features}
    (line, *_) = drilling_words(unit.refit, "mm")
    assert line.startswith("A1 side, left: drill 2 new holes of 3.2 mm")
    assert " in (" not in line
    assert " in deep" in drilling_words(unit.refit, "in")[0]


def test_cut_as_planned_asks_for_no_hole():
    unit = made(done(*((mark, SIZES[mark]) for mark in SIZES)))
    assert unit.refit.redrills == ()
    assert unit.parts == BASE.parts


def test_a_part_cut_to_another_size_is_drilled_to_the_new_drawing():
    unit = made(done(("A3", (1437.0, 516.0, 14.6))))
    assert unit.refit.redrills == ()
    assert unit.part("A3").width == 516.0


def test_a_part_that_would_need_a_groove_elsewhere_is_cut_new():
    cut = done(("A8", SIZES["A8"]), ("A9", SIZES["A9"]))
    pieces = tuple(piece.id for piece in BASE.placed if piece.mark == "A8")
    unit = made(cut, lost=dict.fromkeys(pieces, "the groove for the bottom"))
    (row,) = unit.refit.no_longer
    assert (row.mark, row.way, row.size) == ("A8", "recut", SIZES["A8"][:2])
    assert row.pieces == pieces
    assert "groove" in row.why
    assert {row.mark for row in unit.refit.frozen} == {"A9"}


def panel(*features):
    return Piece(
        id="p", name="panel", role="side", block="b", module="b/1", opening="", body="fixed",
        material="ply-15", origin=(0.0, 0.0, 0.0), axes=((1, 0, 0), (0, 1, 0), (0, 0, 1)),
        length=500.0, width=300.0, thickness=15.0, features=features,
    )  # fmt: skip


def hole(x, y, wide=5.0):
    return Feature(
        kind="hole", face="good", at=(x, y), size=(wide,), depth=15.0, through=True, purpose="bolt"
    )


def groove(v, wide):
    return Feature(
        kind="groove", face="good", at=(0.0, v), size=(500.0, wide), depth=6.0, through=False,
        purpose="groove for the bottom",
    )  # fmt: skip


def drilled(cut, wanted):
    row = FrozenPart(
        mark="A1", stage="cut", pieces=("p",), length=500.0, width=300.0, thickness=15.0,
        features=cut,
    )  # fmt: skip
    (piece,), found = as_drilled((panel(*wanted),), Refit(frozen=(row,)))
    return piece, found.redrills


def test_a_hole_within_the_error_of_hand_drilling_serves():
    piece, asked = drilled((hole(100.0, 50.0),), (replace(hole(100.6, 50.6), fixing="f1"),))
    assert asked == ()
    assert piece.features == (replace(hole(100.0, 50.0), fixing="f1"),)


def test_a_hole_deeper_than_wanted_serves_and_a_shallow_one_is_drilled_deeper():
    blind = replace(hole(100.0, 50.0), through=False)
    _, asked = drilled((blind,), (replace(blind, depth=8.0),))
    assert asked == ()
    _, (row,) = drilled((replace(blind, depth=8.0),), (blind,))
    assert (row.drill, row.fill, row.deepen) == ((), (), (blind,))
    (line,) = drilling_words(Refit(redrills=(row,)), "mm")
    assert line.startswith("A1 panel: drill a hole deeper, to 15 mm")


def test_bolts_stand_in_the_holes_that_a_cut_floor_has():
    """Places planned for a new batch may be others: the floor is not drilled again for that."""
    asked = job(CARCASS)
    known = Asked(sizes=SIZES, marks={}, shapes=SHAPES)
    found = find_refit(BASE, asked, CATALOGUE, known)
    elsewhere = tuple(
        ModuleAnchors(
            block="unit",
            module=module,
            places=tuple((a.x, a.y - 13.0) for a in BASE.anchors if a.module == module),
        )
        for module in ("1", "2")
    )
    planned = AnchorPlan(modules=elsewhere)
    moved = design(asked, CATALOGUE, Given(anchors=planned, refit=found))
    assert any("hold-down bolt" in line for line in drilling_words(moved.refit, "mm"))
    kept = as_bolted(moved, moved.refit, planned)
    back = design(asked, CATALOGUE, Given(anchors=kept, refit=found))
    places = [sorted((a.module, a.x, a.y) for a in unit.anchors) for unit in (back, BASE)]
    assert places[0] == places[1]
    assert not any("hold-down bolt" in line for line in drilling_words(back.refit, "mm"))
    assert as_bolted(back, back.refit, kept) is None


def test_an_old_hole_that_the_new_one_meets_is_filled_first():
    _, (near,) = drilled((hole(100.0, 50.0),), (hole(104.0, 50.0),))
    assert near.drill == (hole(104.0, 50.0),)
    assert near.fill == (hole(100.0, 50.0),)
    _, (far,) = drilled((hole(100.0, 50.0),), (hole(140.0, 50.0),))
    assert far.fill == ()


def test_a_groove_is_widened_where_it_lies_and_never_moved():
    _, (wider,) = drilled((groove(40.0, 12.0),), (groove(39.0, 14.5),))
    assert wider.widen == (groove(39.0, 14.5),)
    assert wider.lost == ()
    _, (moved,) = drilled((groove(40.0, 12.0),), (groove(60.0, 12.0),))
    assert moved.lost == ("groove for the bottom",)


def test_a_panel_shorter_than_its_neighbours_is_told():
    cut = [(m, SIZES[m]) for m in ("A1", "A2", "A4", "A5", "A6")]
    found = refit(done(*cut, ("A3", (SIZES["A3"][0], SIZES["A3"][1] - 2.0, SIZES["A3"][2]))))
    assert any(line.startswith("A3 is 2.0 mm shorter") for line in found.open)
    assert refit(done(*cut, ("A3", SIZES["A3"]))).open == ()
