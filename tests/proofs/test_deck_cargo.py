"""Cargo on a deck: where it lies, what its straps hold, and where its mass counts."""

from functools import cache
from math import cos, pi
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from use_jobs import CATALOGUE, SOUND

from stowright.design.build import design
from stowright.design.deck_spans import held_well, lying, spans_under
from stowright.formulas.restraint import RULE_SETS
from stowright.jobfile import read_job
from stowright.model.bay import Anchor
from stowright.model.geometry import Box, Span
from stowright.proofs.axle_cases import axle_cases
from stowright.proofs.deck_laden import laden_deck_findings
from stowright.proofs.index import index_of
from stowright.proofs.lashings import held_n, pushes_on, ring_straps, to_anchors
from stowright.proofs.prove import prove
from stowright.proofs.restraint_check import studied

EXAMPLES = Path(__file__).parents[2] / "examples"
ITEM = '\n[[carry]]\nwhat = "tent"\nsize = [900, 400, %s]\nmass = %s\non = "deck"\n%s\n'
EYES = """anchors = [
  {what = "rail eye", surface = "left", x = 150, z = 470, tension = %(force)s, shear = %(force)s},
  {what = "rail eye", surface = "left", x = 1400, z = 470, tension = %(force)s, shear = %(force)s},
  {what = "rail eye", surface = "right", x = 150, z = 470, tension = %(force)s, shear = %(force)s},
  {what = "rail eye", surface = "right", x = 1400, z = 470, tension = %(force)s, shear = %(force)s},
"""
BOX = Box(x=Span(low=0.0, high=600.0), y=Span(low=-200.0, high=200.0), z=Span(low=0.0, high=300.0))


def text_of(*, height=250, mass=25, more="", force=""):
    text = SOUND if not force else SOUND.replace("anchors = [", EYES % {"force": force})
    return text + ITEM % (height, mass, more)


@cache
def designed(text):
    return design(read_job(text), CATALOGUE)


@cache
def findings(text):
    return {found.id: found for found in prove(designed(text), CATALOGUE, builds=0)}


def eye(x, y, z=0.0, force=3000.0):
    return Anchor(what="eye", surface="left", x=x, y=y, z=z, thread="", tension=force, shear=force)


def test_four_diagonal_straps_hold_a_push_with_two_of_them():
    # statics by hand: 2 straps x 1000 N x cos 45 (down) x cos 45 (sideways) = 1000 N each way
    straps = ring_straps(4, holds_n=1000.0)
    for _, _, x, y in pushes_on(RULE_SETS["light-envelope"]):
        assert held_n(straps, x=x, y=y) == pytest.approx(2.0 * 1000.0 * cos(pi / 4.0) ** 2)


def test_a_strap_to_an_anchor_pulls_along_the_line_between_them():
    # from the corner (600, 200, 300) to (900, 600, 300): 300-400-500, so 0.6 and 0.8
    (strap,) = to_anchors(BOX, (eye(900.0, 600.0, 300.0),), 1, strap_n=1000.0)
    assert held_n((strap,), x=-1.0, y=0.0) == pytest.approx(600.0)
    assert held_n((strap,), x=0.0, y=-1.0) == pytest.approx(800.0)
    assert held_n((strap,), x=1.0, y=0.0) == 0.0


def test_straps_share_what_an_anchor_is_stated_to_take():
    two = to_anchors(BOX, (eye(900.0, 600.0, force=1200.0),), 2, strap_n=1000.0)
    assert [strap.holds_n for strap in two] == [600.0, 600.0]


@settings(max_examples=40, deadline=None)
@given(
    x=st.floats(-500.0, 1100.0),
    y=st.floats(-900.0, 900.0),
    z=st.floats(-400.0, 300.0),
    factor=st.floats(1.0, 5.0),
)
def test_a_stronger_strap_or_one_more_never_holds_less(x, y, z, factor):
    anchors = (eye(x, y, z, force=1.0e9),)
    weak = to_anchors(BOX, anchors, 1, strap_n=500.0)
    strong = to_anchors(BOX, anchors, 1, strap_n=500.0 * factor)
    for way in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)):
        one = held_n(weak, x=way[0], y=way[1])
        assert held_n(strong, x=way[0], y=way[1]) == pytest.approx(factor * one)
        assert held_n((*weak, *strong), x=way[0], y=way[1]) >= one


def test_without_straps_it_is_not_proved_and_the_advice_passes_when_followed():
    found = findings(text_of())["LOOSE:tent:deck"]
    assert found.status == "not proved"
    assert "carry.lash" in found.needs[0]
    key = found.advice[0].split(" under ")[0]
    assert findings(text_of(more=key))["LOOSE:tent:deck"].status == "pass"


def test_straps_are_held_against_the_push_of_the_rule_set():
    # 0.9 x 25 kg x 9.81 = 220.7 N; two of four ring straps, 1500 N each, a half of each counts
    found = findings(text_of(more='lash = {count = 4, to = "unit"}'))["LOOSE:tent:deck"]
    assert (found.status, found.demand) == ("pass", pytest.approx(220.7, rel=1e-3))
    assert found.capacity == pytest.approx(1500.0)
    heavy = findings(text_of(mass=180, more='lash = {count = 4, to = "unit"}'))["LOOSE:tent:deck"]
    assert heavy.status == "fail"
    key = heavy.advice[0].split(" under ")[0]
    assert findings(text_of(mass=180, more=key))["LOOSE:tent:deck"].status == "pass"


def test_two_straps_leave_corners_free():
    found = findings(text_of(more='lash = {count = 2, to = "unit"}'))["LOOSE:tent:deck"]
    assert found.status == "fail"
    assert "4 at least" in " ".join(found.working)


def test_straps_to_anchors_count_what_is_stated_for_them():
    tied = 'lash = {count = 4, to = "rail eye"}'
    assert findings(text_of(more=tied, force=3000))["LOOSE:tent:deck"].status == "pass"
    weak = findings(text_of(mass=120, more=tied, force=300))["LOOSE:tent:deck"]
    assert weak.status == "fail"
    unknown = findings(text_of(more=tied, force='"unknown"'))["LOOSE:tent:deck"]
    assert unknown.status == "not proved"
    assert "bay.anchors" in unknown.needs[0]


def test_an_anchor_that_the_unit_covers_is_not_counted():
    text = text_of(more='lash = {count = 4, to = "under it"}').replace(
        "anchors = [",
        'anchors = [{what = "under it", x = 700, y = 100, tension = 9000, shear = 9000},',
    )
    found = findings(text)["LOOSE:tent:deck"]
    assert found.status == "not proved"
    assert "does not cover" in found.needs[0]


def test_an_anchor_that_takes_no_strap_is_told_beside_those_that_do():
    text = text_of(more='lash = {count = 4, to = ["under it", "rail eye"]}', force=3000).replace(
        "anchors = [",
        'anchors = [{what = "under it", x = 700, y = 100, tension = 9000, shear = 9000},',
    )
    found = findings(text)["LOOSE:tent:deck"]
    assert found.status == "pass"
    assert any("no strap to under it at (700, 100)" in line for line in found.working)


def held_kg(text):
    return sum(held.body.loaded.mass for held in studied(designed(text), CATALOGUE).held)


def test_cargo_tied_to_the_unit_is_held_by_it_and_that_tied_to_the_vehicle_is_not():
    bare = held_kg(SOUND)
    assert held_kg(text_of()) == pytest.approx(bare + 25.0)
    assert held_kg(text_of(more='lash = {count = 4, to = "unit"}')) == pytest.approx(bare + 25.0)
    tied = text_of(more='lash = {count = 4, to = "rail eye"}', force=3000)
    assert held_kg(tied) == pytest.approx(bare)


def test_cargo_counts_on_the_axles_where_it_lies():
    # moments about the front axle: dR = m (L + x_rear - x) / L
    before, after = (axle_cases(designed(t))[-1] for t in (SOUND, text_of(more="at = [700, 0]")))
    vehicle = designed(SOUND).job.vehicle
    share = (vehicle.wheelbase + vehicle.rear_axle_x - 700.0) / vehicle.wheelbase
    assert after.rear - before.rear == pytest.approx(25.0 * share)
    assert after.total - before.total == pytest.approx(25.0)


def test_it_has_room_or_the_plan_says_so():
    assert findings(text_of())["ON-DECK:tent:deck"].status == "pass"
    assert findings(text_of())["STOWED:carry"].status == "pass"
    beside = findings(text_of(more="at = [700, 700]"))["ON-DECK:tent:deck"]
    assert beside.status == "fail"
    full = findings(text_of(more="quantity = 9"))
    assert full["ON-DECK:tent:deck"].status == "fail"
    assert full["STOWED:carry"].status == "fail"
    assert "deck has no free place for" in " ".join(full["STOWED:carry"].working)


def test_it_stays_under_the_roof():
    high = findings(text_of(height=1000))["ON-DECK-HEIGHT:tent:deck"]
    assert high.status == "fail"
    assert high.demand == pytest.approx(high.capacity + 1000.0 - 250.0 - _air(), abs=0.2)


def _air():
    low = findings(text_of())["ON-DECK-HEIGHT:tent:deck"]
    return low.capacity - low.demand


def test_the_deck_carries_it_on_the_road():
    light = findings(text_of(mass=10, more="at = [700, 0]"))
    heavy = findings(text_of(mass=40, more="at = [700, 0]"))
    for code in ("DECK-CARGO-STRESS:deck/1", "DECK-CARGO-SHEAR:deck/1", "DECK-CARGO-SAG:deck/1"):
        assert heavy[code].utilisation > light[code].utilisation
    assert "DECK-CARGO-JOINT:deck" in heavy


def test_a_lift_out_piece_is_held_with_the_cargo_on_it():
    lift = SOUND.replace("below_rail = 45", 'below_rail = 45\nkind = "lift-out"')
    item = ITEM % (250, 20, 'lash = {count = 4, to = "unit"}')
    pieces = [row for row in designed(lift).loose if row.where == "deck"]
    before = findings(lift)[f"LOOSE:{pieces[0].what}:deck"]
    after = findings(lift + item)[f"LOOSE:{pieces[0].what}:deck"]
    more = 0.9 * 20.0 / len(pieces) * 9.80665
    assert after.demand - before.demand == pytest.approx(more, rel=1e-3)


def test_copies_lie_beside_one_another():
    rows = designed(text_of(more="quantity = 2")).deck_cargo
    assert len(rows) == 2
    one, two = (row.box for row in rows)
    assert min(one.x.overlap(two.x), one.y.overlap(two.y)) <= 1e-6


def test_cargo_without_a_place_lies_where_the_deck_is_borne():
    """A bed that runs on past the last partition: nothing holds two opposite edges there."""
    text = (EXAMPLES / "van" / "job.toml").read_text(encoding="utf-8")
    item = '[[carry]]\nwhat = "tent"\nsize = [600, 400, 250]\nmass = 20\non = "bed"\n%s\n'
    whole = designed(text + item % "")
    free = [
        s for p in whole.placed if p.role == "deck" for s in spans_under(lying(whole.placed), p)
    ]
    assert not all(held_well(span) for span in free)
    assert not refused(whole)
    (row,) = whole.deck_cargo
    assert row.fits
    fixed = designed(text + item % f"at = [{row.box.x.middle + 120.0}, {row.box.y.middle}]")
    assert refused(fixed)  # further forward, where it would have lain


def refused(unit):
    """Pieces of a deck that cargo lies on where no two opposite edges are held."""
    rows = laden_deck_findings(index_of(unit, CATALOGUE))
    return [row.id for row in rows if any("no two opposite edges" in line for line in row.working)]
