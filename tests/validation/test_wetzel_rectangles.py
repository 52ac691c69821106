"""A rectangle turned in an opening, against the published condition.

Source: J. E. Wetzel, "Rectangles in Rectangles", Mathematics Magazine 73 (3), June 2000, 204-211
(its opening page was read, with the 9 x 4 and 8 x 6 example; the full condition as restated in
public question-and-answer pages that cite it): a p x q rectangle (p >= q) fits an a x b one
(a >= b) just when p <= a and q <= b, or p > a, q <= b and

    b >= (2 p q a + (p^2 - q^2) sqrt(p^2 + q^2 - a^2)) / (p^2 + q^2).
"""

from math import sqrt

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stowright.design.swings import rolled_fit


def fits(p, q, a, b):
    """The published condition."""
    if p <= a and q <= b:
        return True
    if p <= a or q > b:
        return False
    return b >= (2 * p * q * a + (p * p - q * q) * sqrt(p * p + q * q - a * a)) / (p * p + q * q)


def room(p, q, a, b):
    return rolled_fit(width_mm=p, height_mm=q, opening_width_mm=a, opening_height_mm=b).room


def test_the_9_by_4_rectangle_does_not_fit_the_8_by_6_one():
    # though area, diagonal, perimeter and thickness would all allow it (p. 204)
    assert room(9.0, 4.0, 8.0, 6.0) < 0.0


def test_a_long_thin_one_fits_on_the_slant():
    # 9.5 x 0.3 in 8 x 6 (diagonal 10): (2 x 9.5 x 0.3 x 8 + 90.16 x 5.1322) / 90.34 = 5.627 <= 6
    assert fits(9.5, 0.3, 8.0, 6.0)
    assert room(9.5, 0.3, 8.0, 6.0) > 0.0


@settings(max_examples=200, deadline=None)
@given(
    p=st.floats(1.0, 12.0), q=st.floats(0.1, 12.0), a=st.floats(1.0, 10.0), b=st.floats(1.0, 10.0)
)
def test_the_best_roll_fits_just_when_the_condition_holds(p, q, a, b):
    p, q = max(p, q), min(p, q)
    a, b = max(a, b), min(a, b)
    left = room(p, q, a, b)
    assume(abs(left) > 1e-9)  # touching: rounding decides
    assert (left > 0.0) == fits(p, q, a, b)


@pytest.mark.parametrize("b", [5.0, 5.62, 5.63, 6.0])
def test_the_limit_lies_where_the_condition_puts_it(b):
    assert (room(9.5, 0.3, 8.0, b) >= 0.0) is fits(9.5, 0.3, 8.0, b) is (b > 5.627)
