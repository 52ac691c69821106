"""Every fixing of whole units: the five examples and generated jobs, judged by shared-nothing code.

No two features of a part overlap, no fixing hits another, none comes through on the worst sheet,
counts are what is placed, and what stands proud clears the drawers.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

import fixing_checks as check
import pytest
from fixing_pieces import SHELF
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import stowright.design.build as build_room
from stowright.design.fixings import HoldDownAsk, all_fixings
from stowright.design.pieces import with_features
from stowright.design.plates import PLACED_KINDS
from stowright.errors import DesignError
from stowright.jobfile import load_job, read_job

#: Wood between a fixing's hole and a hand-hole, latch, notch, cable way or vent (common practice).
ROUND_OPENINGS = 12.0
EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("pickup", "van", "wagon", "pickup-inches", "tray")


def asked_of(job):
    """What the design room hands to the fixings for a job."""
    seen = {}

    def listen(pieces, drafts, **words):
        seen["all"] = (tuple(pieces), tuple(drafts), words)
        return all_fixings(pieces, drafts, **words)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(build_room, "all_fixings", listen)
        build_room.design(job, SHELF)
    return seen["all"]


@cache
def whole(name):
    pieces, drafts, words = asked_of(load_job(EXAMPLES / name / "job.toml"))
    words["hold"] = HoldDownAsk(add_packers=True)
    result = all_fixings(pieces, drafts, **words)
    return with_features((*pieces, *result.pieces), result.features), words, result


def recess(feature):
    return feature.kind in {"groove", "rebate", "slot"}


def judge(pieces, words, result):
    assert check.clashing_fixings(result.fixings, SHELF) == []
    assert check.strangers(result.fixings, pieces) == []
    assert check.proud_points(result.fixings, pieces, words["thickness_of"]) == []
    assert all(room >= 5.0 - 1e-6 for _, room in check.room_before_points(result.fixings, pieces))
    for piece in pieces:
        crossing = [
            pair
            for pair in check.overlapping_features(piece, piece.features)
            if not (recess(pair[0]) and recess(pair[1]))  # recesses of a box cross at its corners
        ]
        assert crossing == []
        assert check.outside_features(piece, piece.features) == []
        assert check.near_openings(piece, piece.features, ROUND_OPENINGS) == []
    count_everything(result)


def count_everything(result):
    ids = [f.id for f in result.fixings]
    assert ids == [f"f{n:04d}" for n in range(1, len(ids) + 1)]
    shanks = Counter(f.joint for f in result.fixings if f.kind in {"screw", "bolt"})
    assert {m.id: m.count for m in result.joints if m.count} == {
        name: n for name, n in shanks.items() if name
    }
    bolts = {f.id for f in result.fixings if f.kind == "bolt"}
    fittings = {f.id for f in result.fixings if f.kind in {*PLACED_KINDS, "bracket"}}
    assert {f.set for f in result.fixings if f.set} <= bolts | fittings
    assert {f.set for f in result.fixings if f.set and f.kind == "screw"} <= fittings
    assert {a.fixing for a in result.anchors} <= bolts
    served = {f.fixing for _, f in result.features if f.fixing} - fittings
    assert served == {f.id for f in result.fixings if f.kind in {"screw", "bolt"}}


@pytest.mark.parametrize("name", NAMES)
def test_an_example_holds_together_and_nothing_meets(name):
    judge(*whole(name))


@pytest.mark.parametrize("name", NAMES)
def test_an_example_is_held_down(name):
    pieces, words, result = whole(name)
    standing = Counter((a.block, a.module) for a in result.anchors)
    assert standing
    assert min(standing.values()) >= 4
    strips = [p.box for p in pieces if p.role == "packer"]
    for anchor in result.anchors:
        if strips and "put a packer there" not in anchor.note:
            assert any(
                s.x.low < anchor.x < s.x.high and s.y.low < anchor.y < s.y.high for s in strips
            )
    for one in strips:
        assert sum(one.overlap(other) > 1e-6 for other in strips) == 1  # itself
    del words


@pytest.mark.parametrize("name", NAMES)
def test_the_same_job_gives_the_same_fixings(name):
    pieces, drafts, words = asked_of(load_job(EXAMPLES / name / "job.toml"))
    assert all_fixings(pieces, drafts, **words) == all_fixings(pieces, drafts, **words)


def test_a_thinner_batch_is_drilled_with_shorter_screws():
    pieces, drafts, words = asked_of(load_job(EXAMPLES / "pickup" / "job.toml"))
    thin = {
        name: replace(use, t_min=use.t_min - 1.0) for name, use in words["thickness_of"].items()
    }
    usual = all_fixings(pieces, drafts, **words)
    short = all_fixings(pieces, drafts, **{**words, "thickness_of": thin})
    assert check.proud_points(short.fixings, pieces, thin) == []
    assert check.proud_points(usual.fixings, pieces, thin) != []  # the check can fail


JOB = """
format = 1
[job]
title = "generated"
[bay]
kind = "tray"
length = {length}
width = {width}
rail = 600
floor = {{material = "steel", thickness = 1.2, rib_depth = {rib}, rib_pitch = 80,
          ribs_run = "{run}"}}
[[block]]
name = "b"
face = "{face}"
modules = "{modules}"
{place}
columns = [{columns}]
{deck}
[build]
carcass = "{carcass}"
front_sheet = "{carcass}"
joint = "{joint}"
carcass_kind = "{kind}"
top = "{top}"
back = "{back}"
between_fills = "{between}"
bottom_fit = "{fit}"
front = "{front}"
lever = "{lever}"
handle = {{projection = {handle}}}
lining = {{drawer = {lining}, carcass = {lining}, bay = 0}}
packers = {{how = "{packers}", sheet = "ply-12"}}
under_gap = {under}
"""


@st.composite
def jobs(draw):
    pick = {
        "length": st.integers(900, 2600),
        "width": st.integers(900, 1900),
        "rib": st.sampled_from([0, 8, 15]),
        "run": st.sampled_from(["lengthwise", "crosswise", "none"]),
        "face": st.sampled_from(["tail", "left", "right"]),
        "modules": st.sampled_from(["separate", "shared"]),
        "joint": st.sampled_from(["butt", "rebate", "housing"]),
        "kind": st.sampled_from(["box", "frame"]),
        "top": st.sampled_from(["rails", "panel"]),
        "back": st.sampled_from(["panel", "frame", "none"]),
        "between": st.sampled_from(["shelf", "rail", "none"]),
        "fit": st.sampled_from(["grooved", "planted", "between"]),
        "front": st.sampled_from(["inset", "overlay"]),
        "carcass": st.sampled_from(["ply-12", "ply-15", "birch-18"]),
        "lever": st.sampled_from(["notch", "hand-hole", "narrow", "none"]),
        "handle": st.sampled_from([0, 12, 35]),
        "lining": st.sampled_from([0, 3]),
        "packers": st.sampled_from(["on-ribs", "in-valleys", "none"]),
        "under": st.sampled_from([5, 8, 12]),
    }
    words = {name: draw(strategy) for name, strategy in pick.items()}
    kinds = [
        'fill = "drawer"',
        'fill = "tray"',
        'fill = "open"',
        'fill = "locker", door = "drop"',
        'fill = "locker", door = "lift"',
        'fill = "locker", door = "lift", latch = "turn-catch"',
        'fill = "through"',
        'fill = "blank"',
    ]
    fills = st.sampled_from(kinds)
    stacks = draw(st.lists(st.lists(fills, min_size=1, max_size=3), min_size=1, max_size=3))
    extra = draw(st.sampled_from(["", ", vent = 40", ", cable_way = 40"]))
    columns = []
    for i, stack in enumerate(stacks):
        rows = ", ".join(
            f'{{{fill}, name = "o{i}{j}"{"" if "through" in fill else extra}}}'
            for j, fill in enumerate(stack)
        )
        columns.append(f"{{stack = [{rows}]}}")
    words["columns"] = ", ".join(columns)
    words["deck"] = draw(
        st.sampled_from(["", '[[deck]]\nover = ["b"]', '[[deck]]\nover = ["b"]\nkind = "lift-out"'])
    )
    words["place"] = draw(
        st.sampled_from(["", 'place = {y = [-350, 350]}\nwings = {left = "lid", right = "fixed"}'])
    )
    return JOB.format(**words).replace(",\n          ", ", ")


@settings(
    max_examples=20,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(text=jobs(), add=st.booleans())
def test_generated_jobs_hold_together_and_nothing_meets(text, add):
    job = read_job(text)
    try:
        pieces, drafts, words = asked_of(job)
    except DesignError:
        return  # the bay does not take what was drawn
    words["hold"] = HoldDownAsk(add_packers=add)
    result = all_fixings(pieces, drafts, **words)
    judge(with_features((*pieces, *result.pieces), result.features), words, result)
