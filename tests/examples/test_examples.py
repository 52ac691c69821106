"""Each example gives the plan that it must give, and the plan keeps what it promises."""

import json
from functools import cache

import pytest
from expected import EXAMPLES, NAMES, planned, summary
from jsonschema import Draft202012Validator

from stowright import plan_schema, plan_to_dict

plan_of = cache(planned)

pytestmark = pytest.mark.parametrize("name", NAMES)


def test_the_parts_sheets_and_counts_are_as_expected(name):
    expected = json.loads((EXAMPLES / name / "expected.json").read_text(encoding="utf-8"))
    assert summary(plan_of(name)) == expected


def test_the_plan_is_valid_against_its_published_schema(name):
    data = json.loads(json.dumps(plan_to_dict(plan_of(name)), allow_nan=False))
    mistakes = [
        f"{'/'.join(map(str, error.absolute_path))}: {error.message[:200]}"
        for error in Draft202012Validator(plan_schema()).iter_errors(data)
    ]
    assert mistakes == []


def test_every_sum_adds_up_to_its_result(name):
    for row in plan_of(name).design.sums:
        # floats of a few thousand millimetres are exact to far below a micrometre
        assert sum(line.value for line in row.lines) == pytest.approx(row.result, abs=1e-6), row


def test_every_part_is_cut_as_often_as_it_is_placed(name):
    made = plan_of(name)
    cut = {}
    for layout in made.cutting.layouts:
        for piece in layout.pieces:
            cut[piece.mark] = cut.get(piece.mark, 0) + layout.copies
    placed = {}
    for piece in made.design.placed:
        placed[piece.mark] = placed.get(piece.mark, 0) + 1
    assert cut == placed == {part.mark: part.quantity for part in made.design.parts}


def test_everything_the_example_carries_finds_its_opening(name):
    made = plan_of(name)
    stowed = {}
    for block in made.design.blocks:
        for opening in block.openings:
            for what, count in opening.carried:
                stowed[what] = stowed.get(what, 0) + count
    assert stowed == {item.what: item.quantity for item in made.job.carry}
