"""What counts against a packing, each wish by itself, on places laid by hand."""

import numpy as np
import pytest

from stowright.explore.packing_kernel import DX, DY, DZ, ROOM, STANDS, X, Y, Z
from stowright.explore.packing_values import Bin, Item
from stowright.explore.packing_wishes import (
    BURIED,
    LOPSIDED,
    NO_PLACE,
    ON_ITS_SIDE,
    SCATTERED,
    lack_of_places,
    wishes_of,
)

ROOMS = (Bin(across=400.0, depth=1000.0, height=200.0, most_kg=50.0),) * 2


def lack(items, *rows, bins=ROOMS):
    """What counts against things at (room, x, y, z), or nowhere, as they were measured."""
    places = np.zeros((len(rows), 8), np.int64)
    for place, item, row in zip(places, items, rows, strict=True):
        place[ROOM] = -1
        if row is not None:
            room, *at = row
            place[ROOM] = room
            place[[X, Y, Z]] = [10 * v for v in at]
            place[[DX, DY, DZ]] = [round(10 * v) for v in item.size]
            place[STANDS] = 1000
    return lack_of_places(wishes_of(bins, items), places)


def test_what_has_no_place_counts_by_its_volume():
    items = (Item(size=(200, 200, 100)), Item(size=(100, 200, 100)))
    assert lack(items, (0, 0, 0, 0), None) == pytest.approx(NO_PLACE / 3.0)


def test_copies_in_two_rooms_count_and_in_one_do_not():
    items = (Item(size=(100, 100, 100), kin=7),) * 4
    together = [(0, 100 * k, 0, 0) for k in range(4)]
    parted = [*together[:3], (1, 0, 0, 0)]
    assert lack(items, *together) == pytest.approx(0.0)
    assert lack(items, *parted) == pytest.approx(SCATTERED / 4.0)
    strangers = (Item(size=(100, 100, 100)),) * 4
    assert lack(strangers, *parted) == pytest.approx(0.0)


def test_what_is_wanted_daily_has_nothing_on_it():
    items = (Item(size=(100, 100, 100), at_hand=True), Item(size=(100, 100, 50)))
    assert lack(items, (0, 0, 0, 0), (0, 0, 0, 100)) == pytest.approx(BURIED / 2.0)
    assert lack(items, (0, 0, 0, 0), (0, 100, 0, 0)) == pytest.approx(0.0)


def test_what_lies_on_its_side_counts():
    lying = (Item(size=(100, 100, 50)),)
    places = np.array([[0, 0, 0, 0, 1000, 500, 1000, 1000]], dtype=np.int64)
    assert lack_of_places(wishes_of(ROOMS, lying), places) == pytest.approx(ON_ITS_SIDE)


def test_a_pair_of_runners_is_loaded_evenly_where_that_counts():
    """All of 10 kg at one wall loads the near side as 18 kg in the middle would (x = 20 of 400)."""
    weak = (Bin(across=400.0, depth=1000.0, height=200.0, most_kg=50.0, runners=(15.0, 3.0)),)
    items = (Item(size=(40, 100, 100), mass_kg=10.0),)
    middle = lack(items, (0, 180, 0, 0), bins=weak)
    side = lack(items, (0, 0, 0, 0), bins=weak)
    assert middle == pytest.approx(0.0)
    assert side == pytest.approx(LOPSIDED * ((10.0 * 1.9 + 3.0) / 15.0 - 1.0))


def test_the_load_off_the_centre_line_counts_by_the_metre():
    off = (
        Bin(across=400.0, depth=1000.0, height=200.0, most_kg=50.0, sideways=(300.0, -1.0, 0.0)),
    )
    items = (Item(size=(100, 100, 100), mass_kg=4.0),)
    near, far = (lack(items, (0, x, 0, 0), bins=off) for x in (250.0, 0.0))
    assert near == pytest.approx(0.0)
    assert far == pytest.approx(0.5 * 0.25)
