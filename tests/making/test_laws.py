"""Laws of the making over generated jobs: nothing twice, nothing forgotten, nothing too early."""

from __future__ import annotations

from collections import Counter

from hypothesis import HealthCheck, given, settings
from whole_jobs import job_files

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.errors import DesignError
from stowright.jobfile import read_job
from stowright.making.drafts import finish_steps
from stowright.making.say import round_holes
from stowright.making.schedule import hardware_schedule
from stowright.making.steps import step_drafts

SHELF = load_catalogue()


def introduced(steps):
    return [(p, s.number) for s in steps for part in s.parts if part.first for p in part.placed]


def each_part_comes_new_once_and_comes_back_only_after(unit, steps):
    rows = introduced(steps)
    assert Counter(p for p, _ in rows) == Counter(p.id for p in unit.placed)
    since = dict(rows)
    for step in steps:
        for part in step.parts:
            assert all(since[p] <= step.number for p in part.placed)


def each_fixing_is_used_once_and_not_before_what_it_joins(unit, steps):
    used = Counter(i for s in steps for row in s.fixings for i in row.ids)
    assert used == Counter(f.id for f in unit.fixings)
    since = dict(introduced(steps))
    home = {i: s.number for s in steps for row in s.fixings for i in row.ids}
    for fixing in unit.fixings:
        assert all(since.get(j, 0) <= home[fixing.id] for j in fixing.joins)
        if fixing.set:
            assert (
                home[fixing.set] == home[fixing.id]
            )  # a nut with its bolt, a leaf's screws with it


def the_schedule_has_one_row_for_each_kind_of_fixing_with_what_is_placed(unit, _):
    rows = Counter()
    for row in hardware_schedule(unit, SHELF):
        rows[row.name] += 1
        assert row.spare >= 0.0
        assert row.used_for
        if row.packs[1]:
            assert (row.packs[0] - 1) * row.packs[1] < row.quantity + row.spare
            assert row.packs[0] * row.packs[1] >= row.quantity + row.spare
    assert set(rows.values()) == {1}
    listed = {row.name: row.quantity for row in hardware_schedule(unit, SHELF)}
    wanted = Counter(f.type for f in unit.fixings)
    for name, count, _ in unit.hardware:  # fitted by words, its screws and bolts with it
        wanted[name] += count
    for name, count in wanted.items():
        assert listed[name] == count


def each_row_of_the_schedule_is_used_by_steps_with_the_same_count(unit, steps):
    used = Counter()
    for row in (row for step in steps for row in step.fixings):
        used[row.type] += row.count
    rows = hardware_schedule(unit, SHELF)
    assert used == {row.name: row.quantity for row in rows if row.unit in {"piece", "pair"}}


def each_screw_of_a_runner_is_driven_at_first_or_waits(unit, steps):
    text = " ".join(line for step in steps for line in step.text)
    for block in unit.blocks:
        for opening in block.openings:
            runner = f"{opening.name}/runner-"
            mine = sum(any(j.startswith(runner) for j in f.joins) for f in unit.fixings)
            waits = round_holes(unit, opening)
            assert 0 <= waits <= mine
            if waits:
                assert f"{waits} in {opening.name}" in text


def a_net_that_is_asked_for_is_bought_and_hung(unit, steps):
    asked = {f.name for b in unit.job.blocks for c in b.columns for f in c.stack if f.net}
    nets = [(count, where) for name, count, where in unit.hardware if name == "net"]
    assert {where.partition(":")[0] for _, where in nets} == asked
    hung = sum(row.count for s in steps for row in s.fixings if row.type == "net")
    assert hung == sum(count for count, _ in nets)


def every_carcass_has_its_anchors_or_a_word_why_not(unit, _):
    for block in unit.blocks:
        for module in block.modules:
            held = [a for a in unit.anchors if (a.block, a.module) == (block.name, module.name)]
            told = [
                w for w in unit.warnings if w.startswith(f"{block.name}, module {module.name}: ")
            ]
            assert len(held) >= 4 or told
            assert all(a.thread and a.surface and a.bolt for a in held)


LAWS = (
    each_part_comes_new_once_and_comes_back_only_after,
    each_fixing_is_used_once_and_not_before_what_it_joins,
    the_schedule_has_one_row_for_each_kind_of_fixing_with_what_is_placed,
    each_row_of_the_schedule_is_used_by_steps_with_the_same_count,
    each_screw_of_a_runner_is_driven_at_first_or_waits,
    a_net_that_is_asked_for_is_bought_and_hung,
    every_carcass_has_its_anchors_or_a_word_why_not,
)


@settings(
    max_examples=100,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(text=job_files())
def test_laws_of_the_making(text):
    try:
        unit = design(read_job(text), SHELF)
    except DesignError:
        return  # the bay does not take what was drawn
    steps = finish_steps(unit, step_drafts(unit))
    for law in LAWS:
        law(unit, steps)
