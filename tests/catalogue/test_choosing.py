"""Finding rows on the shelf."""

from __future__ import annotations

import pytest

from stowright.catalogue import (
    all_stock_sizes,
    fixings_of,
    known_names,
    load_catalogue,
    origin_of,
    screws_of,
    stock_sizes_of,
)
from stowright.errors import UnknownNameError

SHELF = load_catalogue()


def test_known_names_are_every_row_of_every_table():
    names = known_names(SHELF)
    assert names["saws"] == tuple(saw.name for saw in SHELF.saws)
    assert sum(len(table) for table in names.values()) == sum(
        len(getattr(SHELF, table)) for table in names
    )


def test_a_misspelt_name_is_told_its_neighbours():
    with pytest.raises(UnknownNameError) as caught:
        SHELF.material("brich-15")
    assert caught.value.known[0] == "birch-15"


@pytest.mark.parametrize(
    ("look_up", "name"),
    [
        ("runner", "heavy-80"),
        ("screw", "pan-8g-15"),
        ("bolt", "M8x40-8.8"),
        ("nut", "nut-M8-insert-lock"),
        ("washer", "plate-80-M8"),
        ("saw", "cnc-6"),
        ("finish", "clear"),
        ("adhesive", "glue-d4"),
        ("item", "slam-latch"),
    ],
)
def test_each_table_has_its_look_up(look_up, name):
    assert getattr(SHELF, look_up)(name).name == name


def test_screws_come_thinnest_and_shortest_first():
    found = screws_of(SHELF, "pan", least_diameter=3.6, most_diameter=4.3)
    sizes = [(screw.diameter, screw.length) for screw in found]
    assert sizes == sorted(sizes)
    assert {screw.diameter for screw in found} == {4.0, 4.166}
    assert {screw.kind for screw in found} == {"pan"}


def test_no_screw_is_thick_enough():
    assert screws_of(SHELF, "pan", least_diameter=20.0) == ()


def test_the_fixings_of_a_thread():
    found = fixings_of(SHELF, "M6")
    assert {row.thread for row in (*found.bolts, *found.nuts, *found.washers)} == {"M6"}
    assert fixings_of(SHELF, "M7").bolts == ()


def test_stock_sizes_come_smallest_first():
    sizes = stock_sizes_of(all_stock_sizes(), SHELF.material("birch-18"))
    assert [(s.length, s.width) for s in sizes] == [
        (1525.0, 1525.0),
        (2400.0, 1200.0),
        (2440.0, 1220.0),
        (2500.0, 1250.0),
        (3050.0, 1525.0),
    ]


def test_a_field_without_its_own_origin_has_the_rows():
    row = SHELF.material("softwood-12")
    assert origin_of(row, "f_along").standing == "published"
    assert origin_of(row, "thickness") == row.origin
