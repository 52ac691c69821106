"""The model as a page shows it: pieces where the model file has them, each shape once."""

import json
import struct
from base64 import b64decode
from pathlib import Path

import numpy as np
import pytest

from stowright.app.loading import load_job
from stowright.app.planning import design_job
from stowright.app.scene import Shapes, quick_shape, scene_of
from stowright.drawings.glb import part_mesh, to_glb

PICKUP = (Path(__file__).parents[2] / "examples" / "pickup" / "job.toml").read_text()


def designed(**changes):
    text = PICKUP
    for old, new in changes.values():
        assert old in text
        text = text.replace(old, new)
    return design_job(load_job(text), settle=False)


@pytest.fixture(scope="module")
def design():
    return designed()


def corners_of(shape):
    return np.frombuffer(b64decode(shape["corners"]), dtype="<f4").reshape(-1, 3)


def test_pieces_stand_where_the_model_file_has_them(design):
    glb = to_glb(design)
    (length,) = struct.unpack("<I", glb[12:16])
    nodes = json.loads(glb[20 : 20 + length])["nodes"][1:]
    pieces = scene_of(design).pieces
    assert [piece["part"] for piece in pieces] == [node["name"] for node in nodes]
    for piece, node in zip(pieces, nodes, strict=True):
        assert piece["at"] == node["translation"]
        assert piece["turn"] == node["rotation"]


def test_every_piece_has_a_shape_and_a_wood(design):
    scene = scene_of(design)
    for piece in scene.pieces:
        assert scene.parts[piece["shape"]].material == scene.woods[piece["wood"]]["name"]


def of_width(width):
    old = '{width = "share", stack = [{fill = "drawer", name = "tools"'
    return scene_of(designed(width=(old, old.replace('"share"', str(width), 1))))


def test_another_title_is_the_same_model(design):
    before = scene_of(design)
    same = scene_of(designed(title=("Hut wardens, mid-size pickup", "Another title")))
    assert (same.key, same.parts.keys()) == (before.key, before.parts.keys())


def test_a_change_leaves_the_shapes_that_it_does_not_touch():
    before, after = of_width(470), of_width(475)
    assert after.key != before.key
    assert after.parts.keys() & before.parts.keys()
    assert after.parts.keys() - before.parts.keys()


def test_a_first_look_at_a_part_has_its_true_size(design):
    for part in design.parts:
        quick, _ = corners_of(quick_shape(part)), part
        whole, _ = part_mesh(part)
        # float32 metres: a thousandth of a millimetre is far above its rounding
        assert quick.min(axis=0) == pytest.approx(whole.min(axis=0), abs=1e-6)
        assert quick.max(axis=0) == pytest.approx(whole.max(axis=0), abs=1e-6)


def test_shapes_are_made_once_and_then_ready(design):
    shapes = Shapes()
    scene = scene_of(design)
    assert all(shapes.ready(number) is None for number in scene.parts)
    shapes.want(scene.parts).result(60.0)
    for number, part in scene.parts.items():
        corners, _ = part_mesh(part)
        assert b64decode(shapes.ready(number)["corners"]) == corners.tobytes()
    assert shapes.want(scene.parts).done()
    shapes.close()


CARGO = """[[carry]]
what = "ice box"
size = [600, 400, 380]
mass = 30
on = "deck"
lash = {count = 4, to = ["left rail"]}

[[deck]]
name = "deck"
rails = [{side = "left", rating = 2000}]
"""


def test_cargo_and_rails_of_a_deck_are_shown_as_boxes_that_are_no_pieces(design):
    plain, laden = scene_of(design), scene_of(designed(deck=("[[deck]]\n", CARGO)))
    assert (plain.loads, plain.straps) == ((), ())
    assert laden.key != plain.key
    kinds = {load["id"]: load["kind"] for load in laden.loads}
    assert kinds == {"cargo/ice box/1": "cargo", "deck/left rail/1": "rail"}
    assert not kinds.keys() & {piece["part"] for piece in laden.pieces}
    box = laden.loads[0]
    size = [abs(a - b) for a, b in zip(box["from"], box["to"], strict=True)]
    # the file's axes: right, up, towards the tail; a thing may stand turned
    assert size[1] == pytest.approx(0.38)
    assert sorted(size) == pytest.approx([0.38, 0.4, 0.6])
    assert box["words"] == "ice box, 30 kg"
    assert len(laden.straps) == 4
    assert {point[1] for strap in laden.straps for point in strap[:1]} == {box["to"][1]}
    assert json.dumps([laden.loads, laden.straps])  # goes to the page as it is
