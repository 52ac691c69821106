"""A packing turned round room by room: better where it can be, and no rule is broken by it."""

import numpy as np

from stowright.explore.packing_kernel import DX, DY, DZ, ROOM, STANDS, X, Y
from stowright.explore.packing_polish import polished
from stowright.explore.packing_search import Bin, Item
from stowright.explore.packing_values import cargo_of

LIKE = Bin(across=400.0, depth=1000.0, height=200.0, most_kg=50.0)


def places_of(*rows):
    """Places on the floor: room, across, deep, extent across and deep. [mm]"""
    places = np.zeros((len(rows), 8), np.int64)
    for place, (room, x, y, dx, dy) in zip(places, rows, strict=True):
        place[[ROOM, X, Y, DX, DY, DZ, STANDS]] = (
            room,
            10 * x,
            10 * y,
            10 * dx,
            10 * dy,
            1000,
            1000,
        )
    return places


def test_what_lies_behind_comes_to_the_face_when_it_is_pulled_there():
    cargo = cargo_of((LIKE,), (Item(size=(300, 200, 100)), Item(size=(300, 300, 100))))
    before = places_of((0, 0, 0, 300, 200), (0, 0, 200, 300, 300))
    after = polished(cargo, before, lambda places: float(places[1, Y]))
    assert after[1, Y] == 0
    assert after[0, Y] == 3000  # behind it, no gap at the face


def test_a_packing_that_suits_stays_as_it_is():
    cargo = cargo_of((LIKE,), (Item(size=(300, 200, 100)),))
    before = places_of((0, 0, 0, 300, 200))
    assert (polished(cargo, before, lambda _: 1.0) == before).all()


def test_like_rooms_change_their_loads_unless_a_thing_must_stay():
    items = (Item(size=(300, 200, 100), mass_kg=9.0), Item(size=(300, 200, 100)))
    before = places_of((0, 0, 0, 300, 200), (1, 0, 0, 300, 200))

    def wish(places):
        return float(places[0, ROOM] == 0)

    free = polished(cargo_of((LIKE, LIKE), items), before, wish)
    assert free[:, ROOM].tolist() == [1, 0]
    bound = (Item(size=(300, 200, 100), mass_kg=9.0, only_in=(0,)), items[1])
    kept = polished(cargo_of((LIKE, LIKE), bound), before, wish)
    assert kept[:, ROOM].tolist() == [0, 1]


def test_a_weak_room_does_not_get_a_load_that_is_too_heavy_for_it():
    weak = Bin(across=400.0, depth=1000.0, height=200.0, most_kg=5.0)
    items = (Item(size=(300, 200, 100), mass_kg=9.0), Item(size=(300, 200, 100)))
    before = places_of((0, 0, 0, 300, 200), (1, 0, 0, 300, 200))
    kept = polished(cargo_of((LIKE, weak), items), before, lambda p: float(p[0, ROOM] == 0))
    assert kept[:, ROOM].tolist() == [0, 1]


def test_rows_lie_in_the_order_of_what_pulls_them_to_the_face():
    """Smith's order: most pull for the least depth first, whatever the order was before."""
    pulls = (0.0, 0.6, 0.5)
    items = tuple(Item(size=(300, 300, 100), pulls=(0.0, pull, 0.0)) for pull in pulls)
    cargo = cargo_of((LIKE,), items)
    before = places_of((0, 0, 0, 300, 300), (0, 0, 300, 300, 300), (0, 0, 620, 300, 150))

    def lack(places):
        middles = (places[:, Y] + places[:, DY] / 2.0) / 10_000.0
        return float((middles * np.array(pulls)).sum())

    after = polished(cargo, before, lack)
    assert after[:, Y].tolist() == [4500, 1500, 0]  # no gap left, the short one first


def test_a_row_goes_into_another_room_only_where_it_fits():
    low = Bin(across=400.0, depth=250.0, height=90.0, most_kg=50.0)
    items = (Item(size=(300, 200, 100)), Item(size=(300, 200, 80)))
    before = places_of((0, 0, 0, 300, 200), (0, 0, 200, 300, 200))
    before[1, DZ] = 800

    def wish(places):
        return float((places[:, ROOM] == 0).sum())

    after = polished(cargo_of((LIKE, low), items), before, wish)
    assert after[:, ROOM].tolist() == [0, 1]  # the first is too high for it
    assert after[1, Y] == 0
