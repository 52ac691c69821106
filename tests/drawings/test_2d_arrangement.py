"""General arrangements: views agree with each other and the design; hidden lines are hidden."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from plans_2d import EXAMPLES, design_of

from stowright.drawings.general_arrangement import (
    arrangement_figure,
    general_arrangement,
    title_of,
)
from stowright.drawings.ortho import Sight, Silhouette, silhouette, visible
from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import Dimension, Hatch, Polyline, Region, Running, Symbol, Text
from stowright.drawings.sheet_frame import PAPERS, TitleBlock, framed
from stowright.drawings.svg import to_svg
from stowright.errors import OutOfRangeError, UnknownNameError
from stowright.model.part import PlacedPart

BLOCKS = [(name, block.name) for name in sorted(EXAMPLES) for block in design_of(name).blocks]


@pytest.mark.parametrize(("name", "block"), BLOCKS)
@pytest.mark.parametrize("projection", ["first", "third"])
def test_every_block_has_a_legible_arrangement_that_fits_a3(name, block, projection):
    design = design_of(name)
    scene = general_arrangement(design, projection=projection, units=design.job.units, block=block)
    assert overlaps(scene) == []
    sheet = framed(
        scene,
        paper=PAPERS["A3"],
        block=TitleBlock(
            owner="o", number="GA", title="General arrangement", issued="2026-03-02",
            creator="c", approval="a", document_type="general arrangement",
        ),
    )  # fmt: skip
    assert overlaps(sheet) == []


@pytest.mark.parametrize("view", ["plan", "elevation", "section"])
@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_single_views_fit_an_a4_page(name, view):
    design = design_of(name)
    scene = arrangement_figure(design, view, units=design.job.units)
    assert overlaps(scene) == []
    assert scene.width <= 176.0
    assert scene.height <= 237.0


def test_views_stand_where_the_projection_puts_them():
    # ISO 5456-2 (from memory): first angle puts the view from above below and the view from the
    # right at the left; third angle above and at the right.
    design = design_of("pickup")
    for projection, sign in (("third", 1), ("first", -1)):
        scene = general_arrangement(design, projection=projection, units="mm")
        plan, face, section = (scene.view(v).at for v in ("plan", "elevation", "section"))
        assert plan[0] == face[0]  # widths are shared
        assert section[1] == face[1]  # heights are shared
        assert (plan[1] - face[1]) * sign > 0
        assert (section[0] - face[0]) * sign > 0
        assert scene.projection == projection


def test_dimensions_measure_what_they_say_and_what_the_design_says():
    design = design_of("pickup")
    scene = general_arrangement(design, projection="third", units="mm")
    values = set()
    for view in scene.views:
        for item in view.items:
            if isinstance(item, Dimension):
                k = 0 if item.axis == "x" else 1
                assert abs(item.end[k] - item.start[k]) / view.scale == pytest.approx(item.value)
                values.add(round(item.value, 1))
            elif isinstance(item, Running):
                k = 0 if item.axis == "x" else 1
                for point, value in zip(item.points, item.values, strict=True):
                    at = (point[k] - item.datum[k]) / view.scale
                    assert at == pytest.approx(value, abs=0.051)
                values.update(round(v, 1) for v in item.values)
    block = design.blocks[0]
    travel = design.motions[0].travel
    wanted = [block.box.x.size, block.box.y.size, block.box.z.high, travel, design.job.bay.rail]
    assert {round(v, 1) for v in wanted} <= values
    assert round(design.job.bay.tailgate.length, 1) in values


def test_drawers_are_shown_open_by_their_travel_with_double_dotted_lines():
    design = design_of("pickup")
    scene = general_arrangement(design, projection="third", units="mm")
    view = scene.view("section")
    opened = [i for i in view.items if isinstance(i, Polyline) and i.pen == "phantom" and i.closed]
    low = min(view.model(p)[0] for item in opened for p in item.points)
    block = design.blocks[0]
    front = min(p.origin[0] - p.thickness for p in design.placed if p.role == "drawer-front")
    travel = next(m.travel for m in design.motions if m.kind == "slide")
    assert block.box.x.low == pytest.approx(front)
    assert low == pytest.approx(front - travel)


def test_no_drill_areas_anchors_and_keep_outs_are_shown():
    design = design_of("pickup")
    view = general_arrangement(design, projection="third", units="mm").view("plan")
    areas = [i for i in view.items if isinstance(i, Polyline) and i.pen == "warning"]
    floor = [n for n in design.job.bay.no_drill if n.surface == "floor"]
    assert len(areas) == len(floor)
    assert sum(isinstance(i, Hatch) for i in view.items) >= len(floor)
    # Plan: right on paper is the vehicle's right (-y), up is towards the cab.
    corners = {tuple(round(v, 3) for v in view.model(p)) for a in areas for p in a.points}
    first = floor[0]
    assert (-first.b[0], first.a[0]) in corners
    symbols = [i.kind for i in view.items if isinstance(i, Symbol)]
    assert symbols.count("anchor") == len(design.job.bay.anchors)
    assert symbols.count("anchor-new") == sum(not a.existing for a in design.anchors)


def test_the_key_lists_every_hold_down():
    design = design_of("pickup")
    scene = general_arrangement(design, projection="first", units="mm")
    said = [i.text for i in scene.view("key").items if isinstance(i, Text)]
    assert {a.id for a in design.anchors} <= set(said)
    assert "in from the tail" in said


def test_an_unknown_block_and_a_room_too_small_are_refused():
    design = design_of("pickup")
    with pytest.raises(UnknownNameError):
        general_arrangement(design, projection="first", units="mm", block="nothing")
    with pytest.raises(OutOfRangeError):
        general_arrangement(design, projection="first", units="mm", room=(20.0, 20.0))


def test_the_same_design_gives_the_same_bytes():
    design = design_of("wagon")
    one, two = (
        to_svg(general_arrangement(design, projection="third", units="mm")) for _ in range(2)
    )
    assert one == two


# Hidden lines ------------------------------------------------------------------------------------

PLACED = PlacedPart(
    id="a", mark="A1", copy=1, body="fixed", block="b", module="1", opening="", role="r",
    origin=(0.0, 0.0, 0.0), axes=((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
    length=100.0, width=50.0, thickness=15.0,
)  # fmt: skip


def plate(low, left, right, *, near, name="a"):
    shape = shapely.box(left, low, right, low + 10)
    placed = PlacedPart(**{k: getattr(PLACED, k) for k in PlacedPart.__slots__} | {"id": name})
    return Silhouette(placed=placed, shape=shape, near=near, far=near + 1)


@st.composite
def stacks(draw):
    """Plates one behind the other, none at the same depth."""
    spots = draw(
        st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=1, max_size=9)
    )
    return [
        plate(low, left, left + 15, near=2.0 * k, name=f"p{k}")
        for k, (low, left) in enumerate(spots)
    ]


@settings(max_examples=60, deadline=None)
@given(stacks())
def test_what_is_seen_is_the_nearest_at_every_point(plates):
    seen = visible(tuple(plates))
    for one in seen:
        own = next(p for p in plates if p.placed.id == one.placed.id)
        nearer = shapely.union_all([p.shape for p in plates if p.near < own.near])
        for line in one.lines:
            drawn = shapely.LineString(line)
            assert own.shape.boundary.buffer(1e-6).covers(drawn)
            assert drawn.intersection(nearer.buffer(-1e-6)).length < 1e-3
        regions = shapely.union_all(one.regions) if one.regions else shapely.Polygon()
        assert regions.area == pytest.approx(own.shape.difference(nearer).area, abs=1.0)


@settings(max_examples=40, deadline=None)
@given(stacks())
def test_regions_fill_the_silhouette_of_all_without_overlap(plates):
    regions = [r for one in visible(tuple(plates)) for r in one.regions]
    whole = shapely.union_all([p.shape for p in plates]).area
    assert sum(r.area for r in regions) == pytest.approx(whole, abs=1.0)


def test_a_part_seen_on_its_face_keeps_its_openings():
    design = design_of("pickup")
    front = next(p for p in design.placed if p.role == "drawer-front")
    part = design.part(front.mark)
    sight = Sight(right=(0.0, -1.0, 0.0), up=(0.0, 0.0, 1.0), look=(1.0, 0.0, 0.0))
    face = silhouette(front, part, sight)
    assert face.shape.bounds[2] - face.shape.bounds[0] == pytest.approx(part.length)
    hand_holes = [f for f in part.features if f.kind == "hand-hole"]
    assert len(face.shape.interiors) == len(hand_holes)
    above = Sight(right=(0.0, -1.0, 0.0), up=(1.0, 0.0, 0.0), look=(0.0, 0.0, -1.0))
    edge = silhouette(front, part, above)
    assert edge.shape.area == pytest.approx(part.length * part.thickness)


def test_parts_of_the_elevation_are_filled_where_they_are_seen():
    design = design_of("pickup")
    view = general_arrangement(design, projection="third", units="mm").view("elevation")
    seen = {i.about for i in view.items if isinstance(i, Region) and i.about}
    fronts = {p.mark for p in design.placed if p.role == "drawer-front"}
    assert fronts <= seen


def test_the_plan_says_what_is_taken_off_only_where_there_is_such_a_thing():
    has_deck, plain = design_of("van"), design_of("wagon")
    assert title_of(has_deck, "plan").startswith("Plan, deck")
    assert any(part.role == "deck" for part in has_deck.placed)
    assert not any(part.role == "deck" for part in plain.placed)
    assert title_of(plain, "plan") == "Plan"
