"""Fit under tolerance: the two routes agree, better ways of building never lower a chance."""

import re
from dataclasses import replace
from itertools import product

import pytest
from use_jobs import CATALOGUE, SOUND, changed, designed, findings

from stowright.formulas.fit_window import runs_probability, sample_builds
from stowright.proofs.tolerance import narrower_for_shims, planned_way, tolerance_findings
from stowright.proofs.tolerance_terms import Way, fit_of, front_stacks, play_stack

THICKNESS = SOUND[SOUND.index("[build.measured_thickness]") :]
UNREAD = SOUND.replace(THICKNESS, "")


def fit(text=SOUND, name="tools"):
    unit = designed(text)
    block = unit.blocks[0]
    return fit_of(unit, CATALOGUE, block, unit.opening(name))


WAYS = [
    Way(calipered=a, held=b, run_in=c, shims=d, narrower=1.0 if d else 0.0)
    for a, b, c, d in product((False, True), repeat=4)
]


@pytest.mark.parametrize("way", WAYS, ids=str)
def test_exact_and_monte_carlo_agree_for_every_way_of_building(way):
    # 100 000 builds: five standard errors, and 0.001 for the cells of the grid
    stack = play_stack(fit(UNREAD), way)
    exact = runs_probability(stack)
    error = (max(exact * (1.0 - exact), 1e-5) / 1e5) ** 0.5
    assert sample_builds(stack).inside == pytest.approx(exact, abs=5.0 * error + 1e-3)


def test_the_working_prints_both_and_they_agree():
    found = findings(UNREAD, 100_000)["RUNS:tools"]
    text = " ".join(found.working)
    simulated, error, exact = (
        float(each)
        for each in re.search(
            r"Monte Carlo of 100000 builds: ([\d.]+) \+- ([\d.]+) \(exact ([\d.]+)\)", text
        ).groups()
    )
    assert simulated == pytest.approx(exact, abs=5.0 * error + 1e-3)
    assert found.capacity == pytest.approx(exact, abs=1e-4)


def test_the_same_builds_every_time():
    unit = designed(UNREAD)
    first = tuple(tolerance_findings(unit, CATALOGUE))
    assert tuple(tolerance_findings(unit, CATALOGUE)) == first


def test_the_mean_play_is_that_of_the_design():
    unit = designed(SOUND)
    space = unit.opening("tools").runner.side_space
    assert fit().play == pytest.approx(2.0 * space)
    assert play_stack(fit(), WAYS[-1]).face_mm == pytest.approx(2.0 * space + 1.0)


def test_a_better_saw_never_lowers_the_chance():
    saws = sorted(CATALOGUE.saws, key=lambda saw: -saw.tolerance)
    for held in (False, True):
        way = Way(calipered=True, held=held, run_in=True, shims=True, narrower=1.0)
        found = [runs_probability(play_stack(replace(fit(), saw=saw), way)) for saw in saws]
        assert found == sorted(found)


def test_a_better_tape_never_lowers_the_chance():
    way = Way(calipered=True, held=True, run_in=True, shims=True, narrower=1.0)
    found = [
        runs_probability(play_stack(fit(changed(('tape = "II"', f'tape = "{kind}"'))), way))
        for kind in ("III", "II", "I")
    ]
    assert found == sorted(found)
    assert found[0] < found[2]


@pytest.mark.parametrize("key", ["calipered", "run_in", "shims"])
def test_a_remedy_never_lowers_the_chance(key):
    for way in WAYS:
        if not getattr(way, key) and way.narrower == 0.0:
            better = replace(way, **{key: True})
            before = runs_probability(play_stack(fit(UNREAD), way))
            assert runs_probability(play_stack(fit(UNREAD), better)) >= before - 1e-6


def test_calipering_is_worth_more_than_nothing_and_is_advised_where_it_lacks():
    rough = UNREAD.replace('finish = "clear"', 'finish = "clear"\nsaw = "jigsaw"')
    found = findings(rough)["RUNS:tools"]
    assert found.status in {"warn", "fail"}
    assert any(line.startswith("caliper birch-12") for line in found.advice)
    assert any("cut with" in line for line in found.advice)
    for line in found.advice:
        assert float(re.search(r": (?:passes at )?(0\.\d+|1\.00)", line)[1]) >= 0.8


def test_the_box_is_cut_no_narrower_than_it_takes():
    unit = designed(SOUND)
    way = planned_way(unit, unit.opening("tools"), fit())
    narrower = narrower_for_shims(fit(), replace(way, narrower=0.0))
    assert way.narrower == narrower
    assert runs_probability(play_stack(fit(), way)) >= 0.95
    less = replace(way, narrower=narrower - 0.5)
    assert runs_probability(play_stack(fit(), less)) < 0.95


def test_the_terms_are_ranked_and_make_the_whole():
    text = findings(UNREAD)["RUNS:tools"].working
    shares = [int(m[1]) for line in text if (m := re.match(r"(\d+) % of the variance", line))]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) == pytest.approx(100, abs=len(shares) / 2.0)


def test_what_each_remedy_buys_is_printed():
    text = " ".join(findings(UNREAD)["RUNS:tools"].working)
    for word in ("calipering the sheets buys", "holding inner front", "one set of shims"):
        assert word in text


def test_a_front_gap_of_one_is_in_doubt_and_the_advice_widens_it():
    text = changed(('finish = "clear"', 'finish = "clear"\nfront_gap = 1'))
    found = findings(text)["FRONT-GAPS:tools"]
    assert found.status == "fail"
    wider = re.search(r"front_gap ([\d.]+) mm wider: passes at ([\d.]+)", " ".join(found.advice))
    mended = changed(('finish = "clear"', f'finish = "clear"\nfront_gap = {1 + float(wider[1])}'))
    assert findings(mended)["FRONT-GAPS:tools"].status == "pass"


def test_gaps_are_those_of_the_design():
    unit = designed(SOUND)
    across, up = front_stacks(fit(), WAYS[-1])
    gaps = {gap.name: gap.sum for gap in unit.gaps}
    both = gaps["tools: front gap, left"] + gaps["tools: front gap, right"]
    assert across.face_mm == pytest.approx(both)
    high = gaps["tools: front gap, below"] + gaps["tools: front gap, above"]
    assert up.face_mm == pytest.approx(high)


def test_a_flat_tray_and_an_open_space_have_no_front_gaps():
    text = changed(('{fill = "drawer", name = "stores"}', '{fill = "open", name = "stores"}'))
    found = findings(text)
    assert "RUNS:stores" not in found
    assert "FRONT-GAPS:stores" not in found


def test_sheets_so_unlike_that_no_remedy_is_enough_are_told_by_name_and_by_reading():
    wild = UNREAD + "[build.measured_thickness]\nply-15 = [13.1, 16.2]\nbirch-15 = [13.1, 16.2]\n"
    wild += "birch-12 = [10.5, 13.2]\nply-12 = [10.5, 13.2]\n"
    found = findings(wild)["RUNS:tools"]
    assert found.status == "fail"
    assert "no remedy tried is enough" in found.advice[0]
