"""Directive 2014/32/EU, Annex X (tapes): limits of error by class, from a trade note's table.
Exact to 1e-12.
"""

import pytest

from stowright.formulas import tape


@pytest.mark.parametrize(
    ("tape_class", "length", "limit"),
    [
        ("I", 3000.0, 0.4),
        ("II", 3000.0, 0.9),
        ("III", 3000.0, 1.8),
        ("II", 5000.0, 1.3),
        ("III", 5000.0, 2.6),
        ("I", 10_000.0, 1.1),
        ("II", 10_000.0, 2.3),
        ("III", 10_000.0, 4.6),
        ("II", 1450.0, 0.7),
    ],
)
def test_t1_to_t3_limits(tape_class, length, limit):
    got = tape.max_permissible_error_mm(tape_class=tape_class, length_mm=length)
    assert got == pytest.approx(limit, rel=1e-12)


@pytest.mark.parametrize(("tape_class", "end"), [("I", 0.1), ("II", 0.2), ("III", 0.3)])
def test_the_hook_adds_its_own(tape_class, end):
    numbers = {"tape_class": tape_class, "length_mm": 1999.0}
    from_hook = tape.max_permissible_error_mm(**numbers, from_hook=True)
    assert from_hook - tape.max_permissible_error_mm(**numbers) == pytest.approx(end, rel=1e-12)
