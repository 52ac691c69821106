"""Lengths as people write them, printed and snapped."""

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from stowright.errors import JobError, OutOfRangeError
from stowright.units import (
    format_length,
    format_mass,
    in_job_unit,
    inch_parts,
    parse_length,
    parse_length_exact,
    parse_mass,
    snap_down,
    snap_nearest,
    snap_up,
    tidy,
)

SAME_LENGTH = [
    "47 1/16 in", '47-1/16"', "47 - 1/16 in", "3' 11 1/16\"", "3'11-1/16\"", "3 ft 11 1/16 in",
    "3 feet 11 1/16 inches", "3′ 11 1⁄16″", "47.0625 in", "1195.3875 mm", "119.53875 cm",
    "1.1953875 m", "47\u00a01/16 inch", "  47 1/16 IN ", "753/16 in", "3'11 1/16''",
]  # fmt: skip


@pytest.mark.parametrize("text", SAME_LENGTH)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_one_length_in_many_spellings(text, units):
    # 47 1/16 in at 25.4 mm an inch (international yard and pound agreement, 1959):
    # 47 * 25.4 = 1193.8 and 25.4 / 16 = 1.5875
    assert parse_length(text, units=units) == 1195.3875
    assert parse_length_exact(text, units=units) == Fraction(11953875, 10000)


@pytest.mark.parametrize(
    ("value", "units", "mm"),
    [
        (1195, "mm", 1195.0),
        (1195.5, "mm", 1195.5),
        ("1195", "mm", 1195.0),
        (47, "in", 1193.8),
        (0.5, "in", 12.7),
        ("47 1/16", "in", 1195.3875),
        ("47 1/16", "mm", 47.0625),
        ("1/32 in", "mm", 0.79375),
        ("5⅛ in", "mm", 130.175),
        ('⅞"', "mm", 22.225),
        ("-15 mm", "in", -15.0),
        ("−3/4 in", "mm", -19.05),
        ("-3' 6\"", "mm", -1066.8),
        ("+2 cm", "mm", 20.0),
        ("6'", "mm", 1828.8),
        ("6 ft", "in", 1828.8),
        ("3' 11", "mm", 1193.8),
        (".5 m", "mm", 500.0),
        ("2. in", "mm", 50.8),
        (0, "in", 0.0),
    ],
)
def test_numbers_take_the_jobs_unit_and_texts_their_own(value, units, mm):
    assert parse_length(value, units=units) == mm


@pytest.mark.parametrize(
    "value",
    [
        "", " ", "in", "mm", "twelve", "12 furlongs", "1,195", "1 195 mm", "1/0 in", "3' 1/0\"",
        "3''' 2", "--3", "1e3", "nan", "inf", "47 1/16 1/16 in", "0x10", "1" * 80, "3 in 2 ft",
        "١٢", float("nan"), float("inf"), float("-inf"), True, None, [1], {"a": 1},
    ],
)  # fmt: skip
def test_what_is_no_length_is_refused_with_what_is_allowed(value):
    with pytest.raises(JobError) as caught:
        parse_length(value, units="mm")
    (mistake,) = caught.value.mistakes
    assert mistake.field == "length"
    assert "47 1/16 in" in mistake.allowed
    assert mistake.found
    assert len(mistake.found) < 80


def test_an_absurd_whole_number_becomes_infinite_and_not_an_overflow():
    assert parse_length(10**400, units="mm") == math.inf
    assert parse_length(-(10**400), units="in") == -math.inf


@pytest.mark.parametrize(
    ("value", "kg"),
    [
        (9.5, 9.5),
        ("9.5 kg", 9.5),
        ("9.5", 9.5),
        ("250 g", 0.25),
        ("1.2 t", 1200.0),
        # the pound is 0.45359237 kg exactly (international yard and pound agreement, 1959)
        ("100 lb", 45.359237),
        ("21 lbs", 9.52543977),
        (-38, -38.0),
        ("-38 kg", -38.0),
    ],
)
def test_masses_are_kilograms_whatever_they_were_written_in(value, kg):
    assert parse_mass(value) == kg


@pytest.mark.parametrize("value", ["9.5 stone", "", "heavy", float("nan"), False, "1/0 kg"])
def test_what_is_no_mass_is_refused(value):
    with pytest.raises(JobError):
        parse_mass(value)


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (514.5, "514.5"),
        (1088.0, "1088"),
        (1088.04, "1088"),
        (14.65, "14.7"),
        (14.649999999999999, "14.7"),  # float dust of 14.65
        (0.04, "0"),
        (-0.04, "0"),
        (-15.0, "-15"),
        (-0.25, "-0.3"),
        (99.95, "100"),
    ],
)
def test_millimetres_are_printed_to_a_tenth_without_a_trailing_zero(mm, text):
    assert format_length(mm) == text


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (514.35, "20 1/4"),
        (12.7, "1/2"),
        (25.4, "1"),
        (0.0, "0"),
        (0.79375, "1/32"),
        (-88.9, "-3 1/2"),
        (25.3, "1"),  # 0.996 in is nearer to 1 than to 31/32
        (1195.3875, "47 1/16"),
        (0.1, "0"),
    ],
)
def test_inches_are_printed_as_whole_and_fraction(mm, text):
    assert format_length(mm, "in") == text


def test_unit_decimal_and_rounding_are_shown_only_when_asked():
    assert format_length(514.5, "in") == "20 1/4"
    assert format_length(514.5, "in", with_unit=True) == "20 1/4 in"
    assert format_length(514.5, "in", with_unit=True, decimal=True) == "20 1/4 in (20.256)"
    # 20 1/4 in = 514.35, so 0.15 is left
    assert format_length(514.5, "in", with_unit=True, rounding=True) == "20 1/4 in + 0.15 mm"
    assert format_length(514.2, "in", with_unit=True, rounding=True) == "20 1/4 in − 0.15 mm"
    assert format_length(514.35, "in", rounding=True) == "20 1/4"
    assert format_length(514.5, with_unit=True, decimal=True, rounding=True) == "514.5 mm"
    assert format_length(12.34, rounding=True) == "12.3 + 0.04 mm"
    assert format_length(0.396875, "in", parts=64) == "1/64"


def test_masses_are_printed_in_kilograms():
    assert format_mass(9.5) == "9.5 kg"
    assert format_mass(23.0) == "23 kg"
    assert format_mass(22.96, with_unit=False) == "23"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_neither_printed_nor_snapped(value):
    for use in (format_length, format_mass, inch_parts):
        with pytest.raises(OutOfRangeError):
            use(value)
    for snap in (snap_down, snap_up, snap_nearest):
        with pytest.raises(OutOfRangeError):
            snap(value, 0.5)


@pytest.mark.parametrize("grid", [-0.5, math.nan, math.inf])
def test_a_grid_that_is_none_is_refused(grid):
    with pytest.raises(OutOfRangeError):
        snap_down(100.0, grid)


@pytest.mark.parametrize(
    ("snap", "mm", "grid", "result"),
    [
        (snap_down, 514.8, 0.5, 514.5),
        (snap_up, 514.8, 0.5, 515.0),
        (snap_nearest, 514.8, 0.5, 515.0),
        (snap_nearest, 514.7, 0.5, 514.5),
        (snap_nearest, 514.75, 0.5, 515.0),
        (snap_down, -0.2, 0.5, -0.5),
        (snap_up, -0.2, 0.5, 0.0),
        (snap_nearest, -0.25, 0.5, -0.5),
        # 514.8 / 0.79375 = 648.57, so 648 and 649 parts of 1/32 in
        (snap_down, 514.8, 0.79375, 514.35),
        (snap_up, 514.8, 0.79375, 515.14375),
        (snap_down, 0.1 + 0.2, 0.0, 0.3),
        (snap_down, 514.4999999996, 0.5, 514.5),
        (snap_up, 514.5000000004, 0.5, 514.5),
        (snap_down, 7.3, 0.1, 7.3),
    ],
)
def test_sizes_are_snapped_to_what_a_saw_can_be_set_to(snap, mm, grid, result):
    assert snap(mm, grid) == result


SIZES = st.floats(-5000.0, 5000.0, allow_nan=False)
GRIDS = st.sampled_from([0.5, 0.79375, 1.0, 0.1, 1.5875, 0.396875, 0.25])


@given(mm=SIZES, grid=GRIDS)
def test_a_snapped_size_is_an_exact_multiple_and_snapping_again_changes_nothing(mm, grid):
    for snap in (snap_down, snap_up, snap_nearest):
        snapped = snap(mm, grid)
        # decimal arithmetic, apart from the program's integers, tells the nearest float
        parts = (Decimal(repr(snapped)) / Decimal(repr(grid))).to_integral_value()
        assert snapped == float(parts * Decimal(repr(grid)))
        assert snap(snapped, grid) == snapped


@given(mm=SIZES, grid=GRIDS)
def test_down_is_not_above_and_up_is_not_below_and_less_than_a_part_off(mm, grid):
    low, high, near = snap_down(mm, grid), snap_up(mm, grid), snap_nearest(mm, grid)
    dust = 2e-6  # a size within a millionth of a multiple is that multiple
    assert mm - grid - dust <= low <= mm + dust
    assert mm - dust <= high <= mm + grid + dust
    assert near in (low, high)
    assert abs(near - mm) <= grid / 2 + dust


@given(parts=st.integers(-40_000, 40_000))
def test_every_part_of_an_inch_is_read_back_from_its_print(parts):
    mm = float(Fraction(parts, 32) * Fraction(254, 10))
    assert parse_length(format_length(mm, "in", with_unit=True), units="mm") == pytest.approx(
        mm, abs=1e-9
    )


@given(tenths=st.integers(-100_000, 100_000))
def test_every_tenth_is_read_back_from_its_print(tenths):
    assert parse_length(format_length(tenths / 10), units="mm") == tenths / 10


def test_sentences_are_told_in_the_job_s_unit():
    assert in_job_unit("6.4 mm are left", "mm") == "6.4 mm are left"
    assert in_job_unit("6.4 mm are left", "in") == "1/4 in (6.4 mm) are left"
    assert in_job_unit("a 50.8 x 25.4 mm case", "in") == "a 2 × 1 in (50.8 x 25.4 mm) case"
    assert in_job_unit("0.1 mm too thick", "in") == "0.004 in (0.1 mm) too thick"


def test_what_is_told_in_inches_already_or_is_no_length_stays():
    for text in ("2 in (50.8 mm) wide", "0.5 N/mm2", "8 mm2", "12 screws", "M8 bolts"):
        assert in_job_unit(text, "in") == text


@given(
    mm=st.one_of(
        st.floats(allow_nan=False),
        st.floats(-3000, 3000),
        st.integers(-(10**12), 10**12).map(lambda count: count / 1e6),  # sizes as they are cut
        st.integers(-(10**10), 10**10).map(lambda count: (count + 0.5) / 1e6),  # between two
        st.integers(-(10**6), 10**6).map(lambda count: count / 64),
    )
)
@example(-0.0)
@example(-1e-7)
@example(5e-7)
@example(float("inf"))
def test_a_tidied_length_is_the_rounded_one_to_the_last_bit(mm):
    assert repr(tidy(mm)) == repr(round(mm, 6))
