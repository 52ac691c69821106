"""Association Technical Note E830 (2011), Tables 1 and 2: mean ultimate lateral loads [lb], and in
newtons as printed.

Newtons are rounded to the whole: 1 N. Values marked ~ in the note are read off between rows.
"""

import pytest

from stowright.errors import OutOfRangeError
from stowright.formulas import screw_tests_e830 as tests

INTO_PLYWOOD = [
    ("wood", 12.7, 8, 415, 1846),
    ("wood", 12.7, 12, 590, 2624),
    ("tapping", 12.7, 8, 465, 2068),
    ("tapping", 12.7, 12, 670, 2980),
    ("tapping", 15.9, 8, 500, 2224),
    ("tapping", 15.9, 10, 600, 2669),
    ("tapping", 15.9, 12, 705, 3136),
    ("tapping", 19.0, 8, 590, 2624),
    ("tapping", 19.0, 10, 655, 2914),
    ("tapping", 19.0, 12, 715, 3180),
]
ONTO_STEEL = [
    (6.4, 8, 360),
    (6.4, 10, 380),
    (12.7, 8, 700),
    (12.7, 10, 890),
    (19.0, 8, 700),
    (19.0, 10, 950),
]


@pytest.mark.parametrize(("kind", "penetration", "gauge", "pounds", "newtons"), INTO_PLYWOOD)
def test_table_1(kind, penetration, gauge, pounds, newtons):
    got = tests.steel_to_plywood_ultimate_n(kind=kind, gauge=gauge, penetration_mm=penetration)
    assert got == pytest.approx(pounds * 4.4482216, rel=1e-6)
    assert got == pytest.approx(newtons, abs=1.0)


@pytest.mark.parametrize(("plywood", "gauge", "pounds"), ONTO_STEEL)
def test_table_2(plywood, gauge, pounds):
    got = tests.plywood_to_steel_ultimate_n(gauge=gauge, plywood_mm=plywood)
    assert got == pytest.approx(pounds * 4.4482216, rel=1e-6)


def test_between_rows_the_lower_one_counts():
    lower = tests.steel_to_plywood_ultimate_n(kind="tapping", gauge=12, penetration_mm=15.9)
    assert tests.steel_to_plywood_ultimate_n(kind="tapping", gauge=14, penetration_mm=18.9) == lower
    assert tests.plywood_to_steel_ultimate_n(
        gauge=9, plywood_mm=12.6
    ) == tests.plywood_to_steel_ultimate_n(gauge=8, plywood_mm=6.4)
    # a wood screw was tested at #8 and #12 only: #10 counts as #8
    assert tests.steel_to_plywood_ultimate_n(
        kind="wood", gauge=10, penetration_mm=30.0
    ) == pytest.approx(1846, abs=1.0)


@pytest.mark.parametrize(
    ("kind", "gauge", "penetration"), [("wood", 6, 12.7), ("tapping", 8, 12.6), ("wood", 8, 12.0)]
)
def test_below_the_tests_is_refused(kind, gauge, penetration):
    with pytest.raises(OutOfRangeError):
        tests.steel_to_plywood_ultimate_n(kind=kind, gauge=gauge, penetration_mm=penetration)


def test_thin_plywood_on_steel_is_refused():
    with pytest.raises(OutOfRangeError):
        tests.plywood_to_steel_ultimate_n(gauge=8, plywood_mm=6.3)


def test_working_load_is_a_fifth():
    assert tests.working_lateral_n(ultimate_n=2000.0) == 400.0
    assert tests.working_lateral_n(ultimate_n=2000.0, divisor=4.0) == 500.0
