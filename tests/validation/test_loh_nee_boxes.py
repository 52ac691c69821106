"""Boxes that are known to go into one container whole: H. T. Loh and A. Y. C. Nee, 1992.

A packing algorithm for hexahedral boxes, Proc. Industrial Automation 92, Singapore, 115-126. The
sizes are those of ``thpack8`` of the OR-Library (J. E. Beasley), read from a public copy; the
container of the first from another one. Thirteen of the fifteen cases go in whole, so that the
share filled is the best there is (E. E. Bischoff and M. S. W. Ratcliff, Issues in the development
of approaches to container loading, Omega 23, 1995; from memory, as are the shares). All boxes stay
upright and turn about the vertical. Our own rules come on top: nothing over nothing. In the test
are seven; all thirteen were packed whole by the same call (docs/theory/packing.md).
"""

import itertools

import pytest

from stowright.explore.packing_search import Bin, Item, pack

#: Container; boxes with how many of each; share of the container that they fill.
CASES = {
    1: (
        (3000, 2000, 1000),
        (
            "400 375 300 24, 400 400 150 10, 300 150 200 11, 900 200 275 14, 800 150 275 6, "
            "1500 150 200 20, 900 200 200 15"
        ),
        62.5,
    ),
    4: (
        (3000, 2000, 1100),
        (
            "400 375 200 16, 400 250 250 23, 300 300 200 17, 500 500 225 9, 800 400 275 8, "
            "600 200 275 17, 900 200 275 10"
        ),
        55.0,
    ),
    5: (
        (3000, 2000, 900),
        (
            "400 375 200 35, 300 250 225 15, 500 500 100 25, 800 250 250 10, 1500 200 200 20, "
            "900 200 200 15"
        ),
        77.2,
    ),
    8: (
        (3200, 2000, 1200),
        (
            "400 375 300 35, 300 250 275 37, 500 350 225 23, 600 225 200 8, 900 200 200 10, "
            "700 250 250 17"
        ),
        59.4,
    ),
    11: (
        (3000, 2400, 1000),
        (
            "300 300 300 27, 400 400 200 25, 1000 350 225 9, 500 500 275 19, 700 250 225 13, "
            "800 300 250 7"
        ),
        62.2,
    ),
    12: (
        (3200, 2400, 1000),
        (
            "900 275 200 10, 400 350 275 33, 1200 300 250 10, 500 375 275 27, 800 400 200 15, "
            "600 300 225 25"
        ),
        78.5,
    ),
    14: (
        (3500, 2200, 1100),
        (
            "300 300 300 31, 900 375 350 12, 400 400 150 25, 1500 250 200 17, 500 475 300 13, "
            "200 200 300 22"
        ),
        62.8,
    ),
}


def boxes(rows):
    found = []
    for row in rows.split(", "):
        *size, count = map(int, row.split())
        found += [Item(size=tuple(map(float, size)), mass_kg=1.0, upright=True)] * count
    return tuple(found)


@pytest.mark.parametrize("number", CASES)
def test_all_boxes_that_are_known_to_go_in_do(number):
    (long, wide, high), rows, share = CASES[number]
    items = boxes(rows)
    volume = sum(a * b * c for a, b, c in (item.size for item in items))
    # the published share has one decimal
    assert 100.0 * volume / (long * wide * high) == pytest.approx(share, abs=0.051)
    room = Bin(across=float(wide), depth=float(long), height=float(high), most_kg=1.0e6)
    found = pack((room,), items, budget=1, longer=2000)
    assert not found.left_out
    inside = (room.across, room.depth, room.height)
    for place in found.placed:
        assert all(
            low >= 0.0 and low + size <= side
            for low, size, side in zip(place.at, place.size, inside, strict=True)
        )
        assert place.size[2] == items[place.item].size[2]
        assert place.stands >= 0.6
    for one, two in itertools.combinations(found.placed, 2):
        assert any(
            min(a + da, b + db) <= max(a, b)
            for a, da, b, db in zip(one.at, one.size, two.at, two.size, strict=True)
        )
