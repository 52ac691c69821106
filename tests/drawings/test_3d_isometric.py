"""Assembled and exploded figures and those of the steps: what is shown, named and legible."""

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest
import shapely
from samples import two_drawers

from stowright.drawings.balloons import balloon_faults
from stowright.drawings.clashes import interpenetrations
from stowright.drawings.explode import exploded_offsets
from stowright.drawings.figures import marks_of
from stowright.drawings.fitting import fitting_moves
from stowright.drawings.isometric import (
    assembled,
    camera_for,
    exploded,
    exploded_set,
    labelled,
)
from stowright.drawings.overlap import overlaps
from stowright.drawings.picture import Actor, picture
from stowright.drawings.scene import Arrow, Balloon, Line, Polyline, Region
from stowright.drawings.sight import Camera
from stowright.drawings.solids import frame_matrix
from stowright.drawings.step_figures import step_figure, step_scenes
from stowright.drawings.svg import to_svg
from stowright.errors import OutOfRangeError, UnknownNameError
from stowright.model.making import Step, StepPart


def ids(*, role="", body="", module=""):
    return [
        p.id
        for p in two_drawers().placed
        if (not role or p.role == role)
        and (not body or p.body == body)
        and (not module or p.module == module)
    ]


def balloons_of(scene):
    return [item for item in scene.items if isinstance(item, Balloon)]


def shown_at(scene, point):
    """The piece painted last over a point of the paper."""
    spot = shapely.Point(point)
    tops = [
        item.about
        for item in scene.items
        if isinstance(item, Region)
        and item.about
        and shapely.Polygon(item.outer, item.holes).covers(spot)
    ]
    return tops[-1] if tops else ""


def within(scene):
    for item in scene.items:
        for mark in marks_of(item):
            points = getattr(mark, "points", None) or getattr(mark, "outer", ())
            for x, y in points:
                assert -1e-6 <= x <= scene.width + 1e-6
                assert -1e-6 <= y <= scene.height + 1e-6


def test_an_isometric_view_shortens_the_three_axes_alike():
    """ISO 5456-3: isometric axonometry draws the three axes at one scale, 120 degrees apart."""
    rows = Camera(turn=225.0).rows
    axes = rows[:2].T * np.array([[-1.0], [-1.0], [1.0]])  # each towards the eye
    assert np.hypot(*axes.T) == pytest.approx([sqrt(2.0 / 3.0)] * 3)
    turns = np.sort(np.degrees(np.arctan2(axes[:, 1], axes[:, 0])))
    assert np.diff(turns) == pytest.approx([120.0, 120.0])


def test_the_eye_stands_where_it_is_asked_to():
    design = two_drawers()
    for view, signs in (
        ("tail-right", (-1, -1)),
        ("tail-left", (-1, 1)),
        ("cab-right", (1, -1)),
        ("cab-left", (1, 1)),
    ):
        eye = camera_for(design, view).rows[2]
        assert np.sign(eye[:2]) == pytest.approx(signs)
        assert eye[2] > 0.0
    with pytest.raises(UnknownNameError):
        camera_for(design, "from-below")


def test_the_assembled_picture_fits_and_shows_what_is_in_front():
    scene = assembled(two_drawers(), width_mm=170.0, height_mm=130.0)
    assert scene.width <= 170.0
    assert scene.height <= 130.0
    within(scene)
    shown = {item.about for item in scene.items if isinstance(item, Polyline)}
    assert {"deck/1", "wing-right", "meters/front", "drawers/2/side-right"} <= shown
    inside = ("box-back", "box-bottom", "rail-2", "/back")
    assert not any(piece.endswith(inside) for piece in shown)


def test_an_open_drawer_shows_its_inside():
    scene = assembled(two_drawers(), open_by={"meters": 0.6})
    shown = {item.about for item in scene.items if isinstance(item, Polyline)}
    assert "meters/box-side-right" in shown
    assert "ropes/box-side-right" not in shown
    with pytest.raises(OutOfRangeError):
        assembled(two_drawers(), open_by=1.2)


def test_the_bay_around_it_is_drawn_light_and_hides_nothing():
    plain, with_bay = assembled(two_drawers()), assembled(two_drawers(), bay=True)
    light = [i for i in with_bay.items if isinstance(i, Polyline) and i.pen == "light"]
    assert light
    assert not [i for i in plain.items if isinstance(i, Polyline) and i.pen == "light"]
    assert all(item.about == "" for item in light)


def test_every_different_part_has_one_balloon_that_points_at_it():
    design = two_drawers()
    scene = exploded(design)
    balloons = balloons_of(scene)
    assert sorted(b.text for b in balloons) == sorted(p.mark for p in design.parts)
    for balloon in balloons:
        piece = shown_at(scene, balloon.target)
        assert design.placed_by_id(piece).mark == balloon.text


def test_balloons_keep_clear_of_each_other_of_the_figure_and_of_the_paper():
    scene = exploded(two_drawers())
    assert balloon_faults(balloons_of(scene)) == []
    assert overlaps(scene) == []
    within(scene)
    drawn = shapely.union_all(
        [shapely.Polygon(i.outer) for i in scene.items if isinstance(i, Region)]
    )
    for balloon in balloons_of(scene):
        assert not shapely.Point(balloon.centre).buffer(balloon.radius).intersects(drawn)


def test_exploded_pieces_do_not_run_into_each_other():
    design = two_drawers()
    moves = exploded_offsets(design)
    apart = replace(
        design,
        placed=tuple(
            replace(p, origin=tuple(o + m for o, m in zip(p.origin, moves[p.id], strict=True)))
            for p in design.placed
        ),
    )
    assert interpenetrations(apart) == []


def test_pieces_go_the_way_they_came():
    design = two_drawers()
    moves = exploded_offsets(design)
    x, y, z = 0, 1, 2
    assert moves["meters/front"][x] < moves["meters/box-front"][x] < -1350.0
    assert moves["meters/box-front"][x] < moves["meters/box-back"][x]
    assert moves["drawers/1/side-left"][y] > moves["drawers/1/floor"][y]
    assert moves["drawers/1/side-right"][y] < moves["drawers/1/floor"][y]
    assert moves["drawers/1/floor"][z] < 0.0 < moves["drawers/1/rail-1"][z]
    assert moves["drawers/1/packer-1"][z] < moves["drawers/1/floor"][z]
    assert moves["drawers/1/back"][x] > 0.0
    assert moves["deck/1"][z] > moves["drawers/1/rail-1"][z]
    assert moves["wing-left"][y] > 0.0 > moves["wing-right"][y]
    # the module that stands to the right as you look at the face moves to the right
    assert moves["drawers/1/floor"][y] > moves["drawers/2/floor"][y]


def test_a_block_can_be_shown_alone():
    scene = exploded(two_drawers(), blocks=("drawers",))
    assert scene.title == "Parts of drawers"
    assert len(exploded_set(two_drawers())) == 1


def test_new_parts_stand_out_and_the_rest_is_light():
    rails = ids(role="carcass-rail", module="1")
    present = [p for p in ids(module="1", body="fixed") if p not in rails]
    scene = step_figure(two_drawers(), new_ids=rails, present_ids=present)
    fills = {i.about: i.fill for i in scene.items if isinstance(i, Region) and i.about}
    assert all(fills[piece].startswith("new") for piece in rails)
    assert all(fill in {"paper", "tint"} for piece, fill in fills.items() if piece not in rails)
    pens = {i.about: i.pen for i in scene.items if isinstance(i, Polyline)}
    assert {pens[piece] for piece in rails} == {"outline"}
    assert {pen for piece, pen in pens.items() if piece not in rails} == {"light"}
    assert [b.text for b in balloons_of(scene)] == ["A5"]
    assert overlaps(scene) == []


def test_an_arrow_for_each_new_piece_points_to_its_place():
    rails = ids(role="carcass-rail", module="1")
    scene = step_figure(two_drawers(), new_ids=rails, present_ids=["drawers/1/side-left"])
    arrows = [item for item in scene.items if isinstance(item, Arrow)]
    assert len(arrows) == len(rails)
    for arrow in arrows:
        # rails come down: straight down on paper
        assert arrow.tip[0] == pytest.approx(arrow.tail[0])
        assert arrow.tip[1] < arrow.tail[1]


def test_arrows_do_not_lie_on_each_other():
    new = [p for p in ids(body="meters") if "front" not in p or "box" in p]
    scene = step_figure(two_drawers(), new_ids=new, present_ids=[])
    shapes = [
        shapely.Polygon(marks_of(item)[0].outer) for item in scene.items if isinstance(item, Arrow)
    ]
    assert len(shapes) == 5
    for k, shape in enumerate(shapes):
        assert not any(shape.intersects(other) for other in shapes[:k])


def test_a_whole_drawer_goes_into_its_carcass_in_one():
    scene = step_figure(
        two_drawers(), new_ids=ids(body="meters"), present_ids=ids(module="1", body="fixed")
    )
    assert len([item for item in scene.items if isinstance(item, Arrow)]) == 1
    moves = fitting_moves(two_drawers(), ids(body="meters"), ids(module="1", body="fixed"))
    assert len(set(moves.values())) == 1


def test_packers_stay_where_they_lie():
    moves = fitting_moves(two_drawers(), ids(role="packer"), [])
    assert set(moves.values()) == {(0.0, 0.0, 0.0)}


def test_a_mark_that_nothing_shows_is_drawn_dashed_and_named():
    design = two_drawers()
    camera = camera_for(design)
    actors = [
        Actor(id=p.id, part=design.part(p.mark), matrix=frame_matrix(p)) for p in design.placed
    ]
    hidden = ["drawers/1/rail-2"]

    def draw(paper):
        return picture(actors, camera, paper)

    scene = labelled([draw], {"A5": hidden}, size=(120.0, 90.0), name="x", title="x")
    dashed = [i for i in scene.items if isinstance(i, Polyline) and i.pen == "hidden"]
    assert dashed
    (balloon,) = balloons_of(scene)
    drawn = shapely.MultiPoint([p for item in dashed for p in item.points]).convex_hull
    assert drawn.buffer(0.05).covers(shapely.Point(balloon.target))


def test_the_drawing_that_shows_the_most_is_taken():
    design = two_drawers()
    camera = camera_for(design)

    def drawing(pieces):
        actors = [
            Actor(id=p.id, part=design.part(p.mark), matrix=frame_matrix(p))
            for p in design.placed
            if p.id in pieces
        ]
        return lambda paper: picture(actors, camera, paper)

    marks = {"A5": ["drawers/1/rail-2"], "A1": ["drawers/1/side-left"]}
    everything = drawing([p.id for p in design.placed])
    few = drawing(["drawers/1/rail-2", "drawers/1/side-left"])
    for draws in ([everything, few], [few, everything]):
        scene = labelled(draws, marks, size=(120.0, 90.0), name="x", title="x")
        assert {i.about for i in scene.items if isinstance(i, Region) and i.about} == {
            "drawers/1/rail-2",
            "drawers/1/side-left",
        }


def test_an_unknown_piece_is_refused():
    with pytest.raises(UnknownNameError):
        step_figure(two_drawers(), new_ids=["nothing"], present_ids=[])


def step(number, new, *, figure=True):
    design = two_drawers()
    marks = {}
    for piece in new:
        marks.setdefault(design.placed_by_id(piece).mark, []).append(piece)
    parts = tuple(
        StepPart(mark=mark, copies=len(row), placed=tuple(row), first=True)
        for mark, row in marks.items()
    )
    return Step(
        number=number,
        stage="carcass",
        title=f"step {number}",
        text=(),
        parts=parts,
        fixings=(),
        tools=(),
        checks=(),
        hold_point=None,
        cautions=(),
        figure=f"step-{number}" if figure else "",
    )


def test_each_step_that_names_a_figure_has_one():
    module, drawer = ids(module="1", body="fixed"), ids(body="meters")
    carcass = [p for p in module if "packer" not in p]
    packers = [p for p in module if "packer" in p]
    front = ["meters/front"]
    box = [p for p in drawer if p not in front]
    steps = [
        step(1, carcass[:2]),
        step(2, carcass[2:]),
        step(3, box),
        step(4, front),
        step(5, packers),
        step(6, [], figure=False),
        step(7, ids(role="deck")),
    ]
    scenes = {s.name: s for s in step_scenes(two_drawers(), steps)}
    assert list(scenes) == ["step-1", "step-2", "step-3", "step-4", "step-5", "step-7"]
    shown = {
        name: {i.about for i in s.items if isinstance(i, Region) and i.about}
        for name, s in scenes.items()
    }
    assert shown["step-3"] <= set(box)
    assert shown["step-4"] <= set(drawer)
    assert shown["step-5"] == set(packers)
    assert "meters/front" in shown["step-7"]
    for scene in scenes.values():
        assert overlaps(scene) == []
        within(scene)


def test_figures_go_through_the_back_end_and_are_the_same_each_time():
    one, other = (to_svg(exploded(two_drawers())) for _ in range(2))
    assert one == other
    assert one.count("<text") == len(two_drawers().parts)
    assert not [i for i in exploded(two_drawers(), balloons=False).items if isinstance(i, Balloon)]
    assert not [i for i in assembled(two_drawers()).items if isinstance(i, Line)]


def test_a_crowded_block_is_shown_module_by_module_and_everything_is_shown_once(monkeypatch):
    design = two_drawers()
    monkeypatch.setattr("stowright.drawings.isometric._MOST_MARKS", 3)
    monkeypatch.setattr("stowright.drawings.isometric._MOST_OF_A_BLOCK", 4)
    scenes = exploded_set(design)
    shown = [
        {item.about for item in scene.items if isinstance(item, Region) and item.about}
        for scene in scenes
    ]
    assert len(scenes) > 1
    assert len({scene.title for scene in scenes}) == len(scenes)
    balloons = {i.text for scene in scenes for i in scene.items if isinstance(i, Balloon)}
    assert balloons == {part.mark for part in design.parts}
    for k, ids in enumerate(shown):
        assert all(ids.isdisjoint(other) for other in shown[k + 1 :])
