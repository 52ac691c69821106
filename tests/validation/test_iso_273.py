"""ISO 273 clearance holes, fine, medium, coarse; two public tables agree. Exact."""

import pytest

from stowright.errors import OutOfRangeError
from stowright.formulas import iso_fasteners

TABLE = {
    5: (5.3, 5.5, 5.8),
    6: (6.4, 6.6, 7.0),
    8: (8.4, 9.0, 10.0),
    10: (10.5, 11.0, 12.0),
    12: (13.0, 13.5, 14.5),
}


@pytest.mark.parametrize("size", TABLE)
def test_table(size):
    got = tuple(
        iso_fasteners.clearance_hole_mm(size=size, fit=fit) for fit in ("fine", "medium", "coarse")
    )
    assert got == TABLE[size]


@pytest.mark.parametrize(("size", "hole"), [(6, 6.6), (8, 9.0), (10, 11.0)])
def test_case_5_medium_is_the_default(size, hole):
    assert iso_fasteners.clearance_hole_mm(size=size) == hole


def test_other_sizes_are_refused():
    with pytest.raises(OutOfRangeError, match="size"):
        iso_fasteners.clearance_hole_mm(size=7)
