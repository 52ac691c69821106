"""Steps in build order, counts that agree, prices only where the shop gave them."""

import re
from collections import Counter
from pathlib import Path

import pytest

from stowright import load_job, plan
from stowright.making.places import lies_of

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module", params=["pickup", "van"])
def made(request):
    return plan(load_job(EXAMPLES / request.param / "job.toml"))


def test_every_piece_is_introduced_once_and_every_fixing_used_once(made):
    new = Counter(
        piece for s in made.making.steps for p in s.parts if p.first for piece in p.placed
    )
    assert new == Counter(piece.id for piece in made.design.placed)
    used = Counter(i for s in made.making.steps for row in s.fixings for i in row.ids)
    assert used == Counter(f.id for f in made.design.fixings)


def test_the_schedule_counts_the_placed_fixings(made):
    listed = {r.name: r.quantity for r in made.making.schedule}
    wanted = Counter(f.type for f in made.design.fixings)
    for name, count, _ in made.design.hardware:  # stops with their screws, rings with their bolts
        wanted[name] += count
    for name, count in wanted.items():
        assert listed[name] == count


def test_steps_use_up_every_row_that_is_counted_by_the_piece_or_the_pair(made):
    used = Counter()
    for step in made.making.steps:
        for row in step.fixings:
            used[row.type] += row.count
    counted = {r.name: r.quantity for r in made.making.schedule if r.unit in {"piece", "pair"}}
    assert {name: float(n) for name, n in used.items()} == counted
    assert any(name.endswith(" long") for name in counted)  # runners are among them


def test_parts_that_wait_for_a_reading_are_named_with_their_sum(made):
    waiting = {p.mark for p in made.design.parts if "between runners" in p.waits_for}
    told = " ".join(
        line for s in made.making.steps if s.kind == "drawer" for line in s.text if "less" in line
    )
    assert waiting
    assert all(re.search(rf"\b{mark}\b", told) for mark in waiting)


def test_pieces_lie_inside_what_they_are_measured_from(made):
    sizes = {f"{b.name}/{m.name}": m for b in made.design.blocks for m in b.modules}
    seen = 0
    for step in made.making.steps:
        for lie in lies_of(made.design, step):
            if step.kind == "carcass":
                whole = sizes[step.about]
                deep, across, up = lie.away
                assert all(-0.05 <= v <= whole.depth for v in deep)
                assert all(-0.05 <= v <= whole.width for v in across)
                assert all(-0.05 <= v <= whole.height for v in up)
                seen += 1
            assert lie.good_face in {"left", "right", "face", "back", "top", "bottom", "slope"}
    assert seen


def test_sides_of_a_carcass_look_inwards_and_the_floor_stands_between_them(made):
    by_mark = {p.mark: p for p in made.design.parts}
    for step in made.making.steps:
        for lie in lies_of(made.design, step):
            part = by_mark[lie.mark]
            if part.role == "carcass-side" and step.kind == "carcass":
                assert lie.good_face == {"left": "right", "right": "left"}[part.hand]
            if part.role == "carcass-floor":
                side = next(p for p in made.design.parts if p.role == "carcass-side")
                assert lie.away[1] == (round(side.thickness, 1),)


def test_spares_are_a_tenth_of_the_screws_rounded_up(made):
    for row in made.making.schedule:
        if row.kind == "screws":
            assert row.spare == -(-row.quantity // 10)


def test_order_seal_after_drilling_anchors_before_drawers(made):
    titles = [s.title for s in made.making.steps]
    place = {
        key: next(i for i, t in enumerate(titles) if key in t)
        for key in (
            "Machine and drill",
            "seal it",
            "Anchor the unit",
            "Hang the drawers",
            "weigh it",
        )
    }
    assert list(place.values()) == sorted(place.values())


def test_the_first_drawer_is_the_trial_piece(made):
    reads = [s for s in made.making.steps if "read between the runners" in s.title]
    assert "trial piece, before any other drawer" in reads[0].text[0]
    assert all("before any other" not in s.text[0] for s in reads[1:])


def test_release_b_says_what_it_waits_for(made):
    for part in made.design.parts:
        assert bool(part.waits_for) == (part.release == "B"), part.mark


def test_without_prices_there_is_no_cost(made):
    assert made.making.cost == ()


def test_steps_are_numbered_and_have_text(made):
    assert [s.number for s in made.making.steps] == list(range(1, len(made.making.steps) + 1))
    assert all(s.text and s.title for s in made.making.steps)


def test_it_comes_out_in_an_order_that_names_what_there_is(made):
    order = " ".join(made.making.removal_order)
    roles = {p.role for p in made.design.placed}
    assert ("lids at the deck" in order) == ("wing-lid" in roles)
    assert ("own anchors" in order) == any(a.existing for a in made.design.anchors)
    assert ("holding the nut" in order) == any(not a.existing for a in made.design.anchors)
    places = [order.index(word) for word in ("take out the drawers", "deck", "Lift the modules")]
    assert places == sorted(places)  # drawers, deck, modules


def test_steps_of_a_job_in_inches_name_inches():
    made = plan(load_job(EXAMPLES / "pickup-inches" / "job.toml"))
    told = [text for s in made.making.steps for text in (*s.text, *s.checks)]
    told += [s.hold_point.otherwise for s in made.making.steps if s.hold_point]
    assert any("0.004 in (0.1 mm)" in text for text in told)
    assert not [text for text in told if re.search(r"(?<![\d.(])[\d.]+ mm\b", text)]


def test_a_box_that_is_cut_narrower_is_told_with_both_widths(made):
    for step in made.making.steps:
        if step.kind != "box":
            continue
        reading = next(s for s in made.making.steps if (s.kind, s.about) == ("drawer", step.about))
        narrower = any("narrower still" in line for line in reading.text)
        assert narrower == ("as cut narrower" in " ".join(step.checks))


def test_what_came_off_for_sealing_goes_on_again_before_the_drawers_hang(made):
    (hung,) = (step for step in made.making.steps if step.kind == "drawers-in")
    assert "on again" in hung.text[0]


WORDED = """format = 1
[job]
title = "laps and nets"
[bay]
kind = "wagon"
length = 1500
width = 1118
clear_height = 760
[[block]]
name = "tail"
face = "tail"
place = {x = [25, 1422], y = [-508, 508], z = [0, 457]}
columns = [
  {width = "share", stack = [
    {fill = "drawer", name = "clay", height = 203},
    {fill = "tray", name = "glaze"},
  ]},
  {width = 356, stack = [
    {fill = "locker", name = "pots", door = "drop", height = 203},
    {fill = "open", name = "cloths", net = true},
  ]},
]
[build]
front = "overlay"
"""


@pytest.fixture(scope="module")
def worded(tmp_path_factory):
    path = tmp_path_factory.mktemp("worded") / "job.toml"
    path.write_text(WORDED, encoding="utf-8")
    return plan(load_job(path))


def test_the_laps_that_are_told_close_the_front_over_its_opening(worded):
    for name in ("clay", "pots"):
        step = next(s for s in worded.making.steps if (s.kind, s.about) == ("front", name))
        assert "card" not in " ".join(step.text)  # an overlay front is not held inside its opening
        (told,) = (line for line in step.checks if line.startswith("laps "))
        laps = {side: float(mm) for mm, side in re.findall(r"([\d.]+) mm (\w+)", told)}
        opening = worded.design.opening(name)
        wide, high = opening.front
        # each is rounded to a tenth of a millimetre
        assert laps["left"] + laps["right"] == pytest.approx(wide - opening.width, abs=0.11)
        assert laps["below"] + laps["above"] == pytest.approx(high - opening.height, abs=0.11)


def test_a_net_is_told_with_its_opening_and_a_tray_by_its_own_parts(worded):
    hung = next(s for s in worded.making.steps if s.kind == "drawers-in")
    assert any("net" in line and "cloths" in line for line in hung.text)
    tray = next(s for s in worded.making.steps if (s.kind, s.about) == ("members", "glaze"))
    assert "cheek" in tray.text[0]
    assert "front rail" in tray.text[0]
