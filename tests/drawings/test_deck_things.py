"""Cargo on a deck, its straps and tie-down rails: in the arrangement, the picture and the model."""

import io
import sys
from functools import cache
from pathlib import Path

import pytest
import trimesh

sys.path.insert(0, str(Path(__file__).parents[1] / "design"))
from job_texts import PLAIN, TUB, made

from stowright.drawings.deck_things import deck_things, lashings, tie_points
from stowright.drawings.general_arrangement import general_arrangement
from stowright.drawings.glb import to_glb, unit_nodes
from stowright.drawings.isometric import assembled
from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import Leader, Line, Polyline, Region, Text

LADEN = """
[[carry]]
what = "ice box"
size = [700, 450, 400]
mass = 42
on = "top"
at = [500, 100]
lash = {count = 4, to = ["unit"]}
[[carry]]
what = "pump"
size = [400, 300, 350]
mass = 24
on = "top"
at = [1100, -200]
lash = {count = 4, to = ["left rail", "right rail"]}
[[carry]]
what = "rope bag"
size = [200, 200, 150]
mass = 6
on = "top"
at = [1100, 300]
[[deck]]
name = "top"
over = ["unit"]
rails = [{side = "left", rating = 2000}, {side = "right", rating = 2000}]
"""


@cache
def laden():
    return made(TUB, PLAIN, LADEN)


def test_each_thing_and_rail_stands_on_the_deck():
    design = laden()
    top = max(p.origin[2] + p.thickness for p in design.placed if p.role == "deck")
    things = deck_things(design)
    assert [t.what for t in things if t.kind == "cargo"] == ["ice box", "pump", "rope bag"]
    assert {t.what for t in things if t.kind == "rail"} == {"left rail", "right rail"}
    for thing in things:
        assert thing.box.z.low == pytest.approx(top)
    bolts = [f for f in design.fixings if f.kind == "bolt" and f.joint.startswith("j")]
    ties = tie_points(design, "top")
    assert ties
    assert set(ties) <= {f.at for f in bolts}
    rails = [t.box for t in things if t.kind == "rail"]
    assert all(
        any(b.x.low < x < b.x.high and b.y.low < y < b.y.high for b in rails) for x, y, _ in ties
    )


def test_a_strap_starts_on_its_thing_and_ends_off_it_and_what_is_not_tied_has_none():
    design = laden()
    straps = lashings(design)
    assert len(straps) == sum(row.straps for row in design.deck_cargo) == 8
    rows = [row for row in design.deck_cargo for _ in range(row.straps)]
    for row, ((x, y, z), (u, v, w)) in zip(rows, straps, strict=True):
        box = row.box
        assert x in {box.x.low, box.x.high}
        assert y in {box.y.low, box.y.high}
        assert z == box.z.high
        assert not (box.x.low < u < box.x.high and box.y.low < v < box.y.high)
        assert box.z.low <= w < z
    on_rails = [end for (_, end), row in zip(straps, rows, strict=True) if row.what == "pump"]
    across = {t.box.y.middle for t in deck_things(design) if t.kind == "rail"}
    assert {round(v, 6) for _, v, _ in on_rails} == {round(y, 6) for y in across}


def test_the_arrangement_shows_them_with_name_and_mass_in_plan_and_elevation():
    design = laden()
    scene = general_arrangement(design, projection="first", units="mm")
    assert overlaps(scene) == []
    for name in ("plan", "elevation", "section"):
        items = scene.view(name).items
        drawn = {i.about: i.pen for i in items if isinstance(i, Polyline) and i.about}
        assert drawn["cargo/ice box/1"] == drawn["cargo/rope bag/1"] == "phantom"
        assert drawn["top/left rail/1"] == "outline"
        said = {line for item in items if isinstance(item, Leader) for line in item.lines}
        assert {"ice box, 42 kg", "pump, 24 kg", "rope bag, 6 kg"} <= said
        assert sum(isinstance(item, Line) and item.pen == "light" for item in items) >= 8
    key = {item.text for item in scene.view("key").items if isinstance(item, Text)}
    assert any("cargo" in words for words in key)
    assert "rail with tie points, on the deck" in key


def test_a_unit_without_them_has_no_such_rows_in_its_key():
    design = made(TUB, PLAIN)
    scene = general_arrangement(design, projection="first", units="mm")
    key = " ".join(item.text for item in scene.view("key").items if isinstance(item, Text))
    assert "cargo" not in key
    assert "deck" not in key
    assert deck_things(design) == ()
    assert lashings(design) == ()


def test_the_picture_and_the_model_hold_them_as_plain_boxes():
    design = laden()
    drawn = {item.about for item in assembled(design).items if isinstance(item, Region)}
    assert {"cargo/ice box/1", "top/left rail/1"} <= drawn
    model = trimesh.load(io.BytesIO(to_glb(design)), file_type="glb")
    things = {thing.id: thing for thing in deck_things(design)}
    assert len(model.graph.nodes_geometry) == len(design.placed) + len(things)
    for name, thing in things.items():
        mesh = model.geometry[name]
        length, width, height = thing.box.size
        # single precision in the file
        assert mesh.volume * 1e9 == pytest.approx(length * width * height, rel=1e-5)
        assert mesh.is_watertight
        (x, y, z), box = mesh.bounds.mean(axis=0) * 1e3, thing.box
        assert (-z, -x, y) == pytest.approx(box.centre, abs=0.01)
    assert len(unit_nodes(design, {part.mark: 0 for part in design.parts})) == 1 + len(
        design.placed
    )
