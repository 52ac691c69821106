"""Prices of a shop's own file: each row's sum, what is left out, and the sum of all, by hand."""

from __future__ import annotations

from math import ceil
from types import SimpleNamespace

import pytest

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.jobfile import read_job
from stowright.making import make

JOB = """
format = 1
[job]
title = "invented"
[bay]
kind = "tray"
length = 900
width = 900
rail = 500
floor = {material = "steel", thickness = 1.2, rib_depth = 0}
[[block]]
name = "b"
columns = [ {stack = [ {fill = "locker", name = "one", door = "drop"} ]} ]
[build]
packers = {how = "none", sheet = "ply-12"}
"""
HINGES, HINGE = 3, "narrow-hinge-60"  # a door of 600 and more has three


def shelf(**prices):
    """The shipped shelf under a shop's own file that gives the rows named a price."""
    rows = [
        f'[[{table}]]\nname = "{name}"\nprice = {price}\n'
        for table, named in prices.items()
        for name, price in named.items()
    ]
    return load_catalogue("\n".join(rows))


def bought(price, used):
    return SimpleNamespace(origin="buy", used=used, price=price)


def sums(catalogue, *stock):
    unit = design(read_job(JOB), catalogue)
    cutting = SimpleNamespace(stock=stock, sheets=sum(use.used for use in stock))
    return unit, make(unit, catalogue, cutting)


def test_hinges_are_paid_by_the_piece_without_spares():
    _, made = sums(shelf(hardware={HINGE: 4.5}), bought(None, 1))
    row = next(r for r in made.schedule if r.name == HINGE)
    assert (row.kind, row.quantity, row.spare) == ("hinges", HINGES, 0.0)
    assert row.price == pytest.approx(13.5)  # 3 x 4.50
    assert row.used_for == ("one: 3",)
    assert dict(made.cost) == {"hardware with a price": 13.5, "together": 13.5}


def test_screws_are_paid_by_the_pack_spares_included():
    plain, _ = sums(load_catalogue())
    name = max((f for f in plain.fixings if f.kind == "screw"), key=lambda f: f.type).type
    count = sum(f.type == name for f in plain.fixings)
    catalogue = shelf(screws={name: 8.0})
    _, made = sums(catalogue, bought(None, 1))
    row = next(r for r in made.schedule if r.name == name)
    pack = catalogue.screw(name).pack
    assert row.spare == ceil(count / 10)
    assert row.packs == (ceil((count + row.spare) / pack), pack)
    assert row.price == pytest.approx(8.0 * row.packs[0])


def test_bolts_nuts_and_plates_pay_for_one_spare_each():
    unit, _ = sums(load_catalogue())
    name = next(f.type for f in unit.fixings if f.kind == "bolt")
    count = sum(f.type == name for f in unit.fixings)
    _, made = sums(shelf(bolts={name: 0.6}), bought(None, 1))
    row = next(r for r in made.schedule if r.name == name)
    assert row.price == pytest.approx(0.6 * (count + 1), abs=0.005)


def test_finish_and_glue_are_paid_by_the_litre_and_the_kilogram():
    _, made = sums(shelf(finishes={"clear": 30.0}, adhesives={"glue-d3": 12.0}), bought(None, 1))
    finish = next(r for r in made.schedule if r.kind == "finish")
    glue = next(r for r in made.schedule if r.kind == "glue")
    assert finish.price == pytest.approx(30.0 * (finish.quantity + finish.spare), abs=0.005)
    assert glue.price == pytest.approx(12.0 * (glue.quantity + glue.spare), abs=0.005)


def test_sheets_count_only_when_every_bought_one_has_a_price():
    _, made = sums(load_catalogue(), bought(61.0, 2), bought(38.5, 1))
    assert dict(made.cost) == {"sheets": 160.5, "together": 160.5}  # 2 x 61 + 38.50
    _, made = sums(load_catalogue(), bought(61.0, 2), bought(None, 1))
    assert made.cost == ()


def test_litres_and_kilograms_by_hand():
    """Areas by hand from the parts; coverage 11 m2 a litre and coat, 180 g a m2 of joint."""
    unit, made = sums(load_catalogue())
    plates = [(p.length, p.width, p.thickness, p.quantity, len(p.outline) == 4) for p in unit.parts]
    assert all(plain for *_, plain in plates)
    area = sum(n * (2.0 * a * b + 2.0 * (a + b) * t) for a, b, t, n, _ in plates) / 1.0e6
    finish = next(r for r in made.schedule if r.kind == "finish")
    assert finish.quantity == pytest.approx(3.0 * area / 11.0, abs=0.05)  # openings are taken off
    box = unit.blocks[0].modules[0]
    t = unit.thickness("ply-15").t
    inner = box.width - 2.0 * t
    # floor to two sides, back to floor and to sides, three rails of 90 to two sides
    edges = 2.0 * box.depth + inner + 2.0 * (box.height - 2.0 * t) + 3.0 * 2.0 * 90.0
    glue = next(r for r in made.schedule if r.kind == "glue")
    assert glue.quantity == pytest.approx(0.18 * edges * t / 1.0e6, rel=0.25)
