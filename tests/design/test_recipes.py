"""Recipes of the guide: a table under the deck, and drawers to the side over the arches."""

from job_texts import check, job, made

from stowright.drawings.clashes import interpenetrations

CANOPY = """
[bay]
kind = "tub"
length = 1494
width = 1392
rail = 486
clear_height = 1000
arches = [ {side = "left", start = 402, end = 1105, height = 228, reach = 141},
           {side = "right", start = 404, end = 1105, height = 229, reach = 139} ]
[[bay.opening]]
face = "tail"
width = 1328
[[bay.opening]]
face = "left"
at = 100
width = 1200
height = 480
sill_rise = 490
"""
TABLE = """
[[block]]
name = "low"
columns = [
  {stack = [ {fill = "drawer"}, {fill = "tray", sides = 0, height = 130, name = "table"} ]},
  {stack = [ {fill = "drawer"} ]},
]
[[deck]]
over = ["low"]
below_rail = 20
"""
SIDE = """
[[block]]
name = "side"
face = "left"
x = [150, 1200]
z = [495, 900]
over_arches = "yes"
columns = [ {stack = [ {fill = "drawer", name = "hatch"} ]} ]
"""


def test_a_flat_tray_as_the_uppermost_fill_is_a_table_under_the_deck():
    unit = made(CANOPY, TABLE)
    check(unit)
    table = unit.opening("table")
    deck = next(p for p in unit.placed if p.role == "deck")
    top = table.at[2] + table.height
    # a top rail and what the cut grid leaves lie between the table's opening and the deck
    assert 0.0 <= deck.origin[2] - top <= 20.0
    slide = next(m for m in unit.motions if m.body == "table")
    assert slide.kind == "slide"
    assert slide.travel >= 1000.0


def test_drawers_open_to_a_canopy_door_above_the_rail():
    unit = made(CANOPY, SIDE)
    check(unit)
    hatch = next(m for m in unit.motions if m.body == "hatch")
    assert hatch.axis == (0.0, 1.0, 0.0)
    assert unit.blocks[0].box.z.low >= job(CANOPY, SIDE).bay.rail
    assert interpenetrations(unit) == []
