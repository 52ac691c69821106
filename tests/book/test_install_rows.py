"""What is printed for fitting and handing over: walls, bolts to tighten again, rails, tests."""

from dataclasses import replace

import pytest

from stowright.book.install_rows import (
    beneath_rows,
    cargo_rows,
    final_tests,
    rail_limits,
    retorque_rows,
)
from stowright.model.bay import NoDrill
from stowright.model.design import DeckCargo
from stowright.model.geometry import Box, Span
from stowright.model.job import DeckRail
from stowright.units import format_length


@pytest.fixture
def with_wall(pickup):
    area = NoDrill(what="loom", surface="left", a=(0.0, 400.0), b=(100.0, 200.0))
    job = replace(pickup.job, bay=replace(pickup.job.bay, no_drill=(area,)))
    return replace(pickup, job=job)


def test_a_place_on_a_wall_says_what_it_means(with_wall):
    (row, *_) = beneath_rows(with_wall, format_length)
    assert row[:2] == ["loom", "left"]
    assert "x 0 to 400, z 100 to 200" in row[2]
    assert "no hole into the left wall" in row[3]
    anchor = replace(with_wall.design.anchors[0], surface="left", existing="")
    design = replace(with_wall.design, anchors=(anchor,))
    (row, *_) = beneath_rows(replace(with_wall, design=design), format_length)
    assert anchor.id in row[3]


def test_every_bolt_is_in_the_table_of_bolts_to_tighten_again(pickup):
    rows = retorque_rows(pickup)
    assert [row[0] for row in rows if row[0]] == [a.id for a in pickup.design.anchors]
    told = sum(int(row[2].split(" × ")[0]) for row in rows if not row[0])
    bolts = [f for f in pickup.design.fixings if f.kind == "bolt"]
    assert told == sum("vehicle" not in f.joins for f in bolts)
    assert any(row[3] == "module 1 and module 2" for row in rows)


def test_rails_that_are_made_tell_what_a_point_takes(pickup):
    rail = DeckRail(name="left rail", side="left", rating_n=1500.0, inset=40.0, pitch=200.0)
    deck = replace(pickup.job.decks[0], rails=(rail,))
    with_rail = replace(pickup, job=replace(pickup.job, decks=(deck,)))
    assert rail_limits(with_rail) == [
        f"left rail of {deck.name}: at most 1500 N at one tie point, as its maker states it."
    ]
    warned = replace(
        pickup.design, warnings=(f"left rail of {deck.name}: no room, no rail is made",)
    )
    assert rail_limits(replace(with_rail, design=warned)) == []
    assert rail_limits(pickup) == []


def test_straps_and_nets_are_tested_where_there_are_some(pickup):
    assert not any("nets" in row[0] for row in final_tests(pickup))
    netted = replace(pickup.design, hardware=(("net", 1, "tools: across its face"),))
    rows = final_tests(replace(pickup, design=netted))
    assert any("nets" in row[0] for row in rows)
    assert len(rows) == len(final_tests(pickup)) + 1


def test_what_rides_on_a_deck_is_told_with_its_place_and_its_straps(pickup):
    box = Box(
        x=Span(low=100.0, high=500.0), y=Span(low=-50.0, high=50.0), z=Span(low=0.0, high=9.0)
    )
    row = DeckCargo(
        what="crate",
        copy=1,
        deck="top",
        mass_kg=12.0,
        box=box,
        fits=True,
        hangs_over=0.0,
        strap="cam-strap-25",
        straps=4,
        tied_to=("unit", "left rail"),
    )
    cargo = (row, replace(row, copy=2, straps=0, strap="", tied_to=()))
    rows = cargo_rows(
        replace(pickup, design=replace(pickup.design, deck_cargo=cargo)), format_length
    )
    assert rows == [
        [
            "crate, 1 of 2",
            "top",
            "12 kg",
            "x 300, y 0",
            "4 × cam-strap-25 to rings on the deck, left rail",
        ],
        ["crate, 2 of 2", "top", "12 kg", "x 300, y 0", "not tied: not held"],
    ]
    assert cargo_rows(pickup, format_length) == []
