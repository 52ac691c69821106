"""Tapes, squareness and sheets: worked by hand, against exact geometry, laws."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import panel_tolerances, squareness, tape


def test_uncertainty_of_a_metre_reading():
    # class II with hook on 1 m: 0.7; 1 mm graduation, 0.5 mm hook play: 0.57, U95 1.15
    limit = tape.max_permissible_error_mm(tape_class="II", length_mm=1000.0, from_hook=True)
    assert limit == pytest.approx(0.7, rel=1e-12)
    standard = tape.reading_standard_uncertainty_mm(max_error_mm=limit)
    assert standard == pytest.approx(math.sqrt(0.404145**2 + 0.288675**2 + 0.288675**2), rel=1e-5)
    assert standard == pytest.approx(0.57, abs=0.006)
    assert tape.expanded_uncertainty_mm(standard_mm=standard) == pytest.approx(1.15, abs=0.006)
    assert tape.expanded_uncertainty_mm(standard_mm=1.0, coverage=3.0) == 3.0


def test_uncertainty_of_each_part():
    only = {"max_error_mm": 0.0, "graduation_mm": 0.0, "hook_play_mm": 0.0}
    root = math.sqrt(3.0)
    for name, expected in (
        ("max_error_mm", 1.2 / root),
        ("graduation_mm", 0.6 / root),
        ("hook_play_mm", 1.2 / root),
    ):
        got = tape.reading_standard_uncertainty_mm(**(only | {name: 1.2}))
        assert got == pytest.approx(expected, rel=1e-12)


def test_metres_are_rounded_up():
    limits = [
        tape.max_permissible_error_mm(tape_class="I", length_mm=length)
        for length in (1.0, 1000.0, 1000.0000001, 1000.1, 2000.0)
    ]
    assert limits == pytest.approx([0.2, 0.2, 0.2, 0.3, 0.3], rel=1e-12)


def test_steel_tape_in_the_sun():
    assert tape.temperature_change_mm(length_mm=2000.0, kelvin=10.0) == pytest.approx(0.23)
    assert tape.temperature_change_mm(length_mm=2000.0, kelvin=-10.0) == pytest.approx(-0.23)


def exact_difference(width, height, lean):
    """Diagonals of a parallelogram whose upright sides lean by lean mm for each mm of height."""
    shift = lean * height
    return math.hypot(width + shift, height) - math.hypot(width - shift, height)


@pytest.mark.parametrize(
    ("width", "height", "difference"), [(1200.0, 900.0, 1.44), (800.0, 400.0, 0.7155)]
)
def test_q1_and_q2_diagonals(width, height, difference):
    size = {"width_mm": width, "height_mm": height}
    got = squareness.diagonal_difference_mm(**size, lean=0.001)
    assert got == pytest.approx(difference, rel=1e-4)
    assert got == pytest.approx(exact_difference(width, height, 0.001), rel=1e-6)
    back = squareness.lean_from_diagonals(**size, difference_mm=got)
    assert back == pytest.approx(0.001, rel=1e-12)


def test_q1_two_millimetres():
    got = squareness.lean_from_diagonals(width_mm=1200.0, height_mm=900.0, difference_mm=2.0)
    assert got * 1000.0 == pytest.approx(1.389, abs=0.0005)


def test_runout_of_a_deep_bay():
    # 500 x 1200: each millimetre of difference is 1.3 mm at the back
    got = squareness.runout_from_diagonals_mm(width_mm=500.0, depth_mm=1200.0, difference_mm=1.0)
    assert got == pytest.approx(1.3, rel=1e-12)
    assert squareness.DIAGONALS_PER_METRE_MM == 1.0


def test_bay_skew_by_hand():
    # 2041^2 - 2035^2 = 6 * 4076 = 24 456; over 4 * 1392 = 5568: 4.3922
    bay = {"mean_width_mm": 1392.0, "diagonal_1_mm": 2041.0, "diagonal_2_mm": 2035.0}
    assert squareness.bay_skew_mm(**bay) == pytest.approx(4.392241, rel=1e-6)
    got = squareness.bay_skew_range_mm(**bay, reading_error_mm=2.0)
    # one read 2 long, the other 2 short: 10 * 4076 and 2 * 4076 over 5568
    assert got == pytest.approx((1.464080, 4.392241, 7.320402), rel=1e-6)


@given(width=st.floats(900.0, 1800.0), length=st.floats(900.0, 3000.0), skew=st.floats(-60.0, 60.0))
@settings(max_examples=40, deadline=None)
def test_bay_skew_is_exact_for_a_parallelogram(width, length, skew):
    got = squareness.bay_skew_mm(
        mean_width_mm=width,
        diagonal_1_mm=math.hypot(width + skew, length),
        diagonal_2_mm=math.hypot(width - skew, length),
    )
    assert got == pytest.approx(skew, abs=1e-6)


@given(error=st.floats(0.0, 5.0), first=st.floats(1990.0, 2060.0))
@settings(max_examples=30, deadline=None)
def test_the_range_holds_every_reading_within_the_error(error, first):
    got = squareness.bay_skew_range_mm(
        mean_width_mm=1392.0,
        diagonal_1_mm=first,
        diagonal_2_mm=2035.0,
        reading_error_mm=error,
    )
    for e_1 in (-error, 0.0, error):
        for e_2 in (-error, 0.0, error):
            true = squareness.bay_skew_mm(
                mean_width_mm=1392.0, diagonal_1_mm=first + e_1, diagonal_2_mm=2035.0 + e_2
            )
            assert got.least_mm - 1e-9 <= true <= got.greatest_mm + 1e-9


def test_k1_sheet_mass():
    got = panel_tolerances.sheet_mass_kg(
        length_mm=2440.0, width_mm=1220.0, thickness_mm=17.6, density_kg_m3=680.0
    )
    assert got == pytest.approx(35.6, rel=0.005)
    assert got == pytest.approx(680.0 * 2.440 * 1.220 * 0.0176, rel=1e-12)


def test_out_of_square():
    # 1-2 mm/m over 1.22-2.44 m is 1.2-4.9 mm, which edge trim of 5 to 10 mm takes off
    got = panel_tolerances.out_of_square_mm(length_mm=2440.0)
    assert got == pytest.approx(4.88, rel=1e-12)
    assert panel_tolerances.out_of_square_mm(
        length_mm=1220.0, squareness_mm_per_m=1.0
    ) == pytest.approx(1.22, rel=1e-12)
    assert panel_tolerances.SQUARENESS_MM_PER_M == 2.0
    assert panel_tolerances.WITHIN_SHEET_MM == 0.6
    assert panel_tolerances.THICKNESS_STATIONS == 8


def test_us_diagonals():
    got = panel_tolerances.diagonal_allowance_mm(longest_edge_mm=1000.0)
    assert got == pytest.approx(1.3, rel=1e-12)


def test_thickness_limits_by_hand():
    assert panel_tolerances.sanded_thickness_limits(nominal_mm=15.0) == pytest.approx(
        (14.15, 15.65), rel=1e-12
    )
    assert panel_tolerances.unsanded_thickness_limits(nominal_mm=15.0) == pytest.approx(
        (14.15, 16.25), rel=1e-12
    )


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(tape.max_permissible_error_mm, {"tape_class": "II", "length_mm": 900.0})
    refuses_nonsense(
        tape.reading_standard_uncertainty_mm,
        {"max_error_mm": 0.7, "graduation_mm": 1.0, "hook_play_mm": 0.5},
    )
    refuses_nonsense(tape.expanded_uncertainty_mm, {"standard_mm": 1.0, "coverage": 2.0})
    refuses_nonsense(tape.temperature_change_mm, {"length_mm": 1.0, "kelvin": 2.0})
    frame = {"width_mm": 500.0, "height_mm": 300.0}
    refuses_nonsense(squareness.diagonal_difference_mm, frame | {"lean": 0.001})
    refuses_nonsense(squareness.lean_from_diagonals, frame | {"difference_mm": 1.0})
    refuses_nonsense(
        squareness.runout_from_diagonals_mm,
        {"width_mm": 500.0, "depth_mm": 900.0, "difference_mm": 1.0},
    )
    bay = {"mean_width_mm": 1392.0, "diagonal_1_mm": 2041.0, "diagonal_2_mm": 2035.0}
    refuses_nonsense(squareness.bay_skew_mm, bay)
    refuses_nonsense(squareness.bay_skew_range_mm, bay | {"reading_error_mm": 2.0})
    refuses_nonsense(panel_tolerances.sanded_thickness_limits, {"nominal_mm": 12.0})
    refuses_nonsense(panel_tolerances.unsanded_thickness_limits, {"nominal_mm": 12.0})
    refuses_nonsense(
        panel_tolerances.sheet_mass_kg,
        {"length_mm": 1.0, "width_mm": 1.0, "thickness_mm": 1.0, "density_kg_m3": 1.0},
    )
    refuses_nonsense(
        panel_tolerances.out_of_square_mm, {"length_mm": 1.0, "squareness_mm_per_m": 1.0}
    )
    refuses_nonsense(panel_tolerances.diagonal_allowance_mm, {"longest_edge_mm": 1.0})
    with pytest.raises(OutOfRangeError, match="length_mm"):
        tape.max_permissible_error_mm(tape_class="I", length_mm=0.0)
