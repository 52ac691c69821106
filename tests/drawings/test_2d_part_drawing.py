"""Part drawings: complete, legible, to scale, and equal to the part."""

import re
from dataclasses import replace

import pytest
import sample_parts_2d as samples
from hypothesis import given, settings
from hypothesis import strategies as st
from plans_2d import EXAMPLES, design_of

from stowright.drawings.board import Board, is_round, on_face
from stowright.drawings.overlap import overlaps
from stowright.drawings.part_check import missing_sizes
from stowright.drawings.part_drawing import other_hand, part_drawing
from stowright.drawings.part_notes import feature_groups, group_words
from stowright.drawings.part_sections import profiles
from stowright.drawings.scene import (
    Arrow,
    Circle,
    Dimension,
    Leader,
    Line,
    Polyline,
    Region,
    Running,
    Text,
)
from stowright.drawings.svg import to_svg
from stowright.errors import OutOfRangeError
from stowright.units import format_length

#: Reductions, full size and enlargements recommended by ISO 5455 (1, 2 and 5 times powers of ten).
ISO_5455 = {k * 10.0**n for k in (1.0, 2.0, 5.0) for n in range(-3, 2)}
ROOM = (176.0, 237.0)


def words(scene):
    texts = [item.text for item in scene.items if isinstance(item, Text)]
    notes = [line for item in scene.items if isinstance(item, Leader) for line in item.lines]
    return " ".join(texts + notes)


@pytest.fixture(params=sorted(samples.ALL), name="part")
def sample(request):
    return samples.ALL[request.param]()


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_drawing_is_legible_complete_and_fits_its_room(part, units):
    scene = part_drawing(part, units=units, room=ROOM)
    assert overlaps(scene) == []
    assert missing_sizes(part, scene) == []
    assert scene.width <= ROOM[0]
    assert scene.height <= ROOM[1]
    assert min(abs(scene.scale - s) for s in ISO_5455) < 1e-12


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_every_part_of_every_example_is_legible_and_complete(name):
    design = design_of(name)
    for part in design.parts:
        scene = part_drawing(part, units=design.job.units)
        assert overlaps(scene) == [], part.mark
        assert missing_sizes(part, scene) == [], part.mark


def test_marks_name_size_material_and_count_are_stated(part):
    said = words(part_drawing(part, units="mm"))
    for value in (part.mark, part.name, part.material, f"{part.quantity} off", part.origin_note):
        assert value in said
    size = (part.length, part.width, part.thickness)
    assert " × ".join(format_length(v) for v in size) in said


def test_dimensions_print_what_they_measure(part):
    scene = part_drawing(part, units="mm")
    for view in scene.views:
        for item in view.items:
            if isinstance(item, Dimension):
                k = 0 if item.axis == "x" else 1
                assert abs(item.end[k] - item.start[k]) / view.scale == pytest.approx(item.value)
                assert item.text == format_length(item.value)
            elif isinstance(item, Running):
                k = 0 if item.axis == "x" else 1
                for point, value in zip(item.points, item.values, strict=True):
                    measured = abs(point[k] - item.datum[k]) / view.scale
                    assert measured == pytest.approx(value, abs=0.051)


def test_holes_lie_where_the_part_has_them(part):
    view = part_drawing(part, units="mm").view("good face")
    drawn = {
        tuple(round(v, 3) for v in (*view.model(i.centre), i.radius / view.scale))
        for i in view.items
        if isinstance(i, Circle) and i.pen in {"outline", "hidden"}
    }
    for feature in part.features:
        if on_face(feature) and is_round(feature):
            assert (*feature.at, round(feature.size[0] / 2, 3)) in drawn


def test_the_outline_is_the_part_s_own(part):
    view = part_drawing(part, units="mm").view("good face")
    ring = next(i for i in view.items if isinstance(i, Polyline) and i.about == part.mark)
    got = [view.model(p) for p in ring.points]
    assert [p for pair in got for p in pair] == pytest.approx(
        [p for pair in part.outline for p in pair], abs=1e-9
    )


def test_the_other_hand_is_drawn_mirrored_with_the_same_sizes():
    left, right = samples.carcass_side(), samples.carcass_side_right()
    first, second = part_drawing(left, units="mm"), part_drawing(right, units="mm")
    ring = next(i for i in second.view("good face").items if isinstance(i, Polyline) and i.about)
    datum = second.view("good face").at
    assert all(p[0] <= datum[0] + 1e-9 for p in ring.points)
    assert "the length running to the left" in words(second)

    def values(scene):
        return sorted(v for i in scene.items if isinstance(i, Running) for v in i.values)

    assert values(first) == values(second)


def test_a_pair_is_shown_as_a_pair():
    scene = part_drawing(samples.carcass_side(), units="mm", pair=samples.carcass_side_right())
    other = scene.view("other hand")
    assert other.mirrored
    assert "A2" in words(scene)
    assert not any(isinstance(i, Dimension | Running) for i in other.items)
    assert overlaps(scene) == []


def test_the_other_hand_is_found_by_shape():
    left, right = samples.carcass_side(), samples.carcass_side_right()
    assert other_hand(left, [samples.rail(), left, right]) == right
    assert other_hand(right, [left]) == left
    drilled = replace(right, features=right.features[:-1])
    assert other_hand(left, [drilled, samples.rail()]) is None
    assert other_hand(samples.rail(), [left, right]) is None


def test_release_b_says_what_it_waits_for():
    said = words(part_drawing(samples.notched_front(), units="mm"))
    assert "RELEASE B: cut after reading the opening of meters at the face." in said
    assert "RELEASE" not in words(part_drawing(samples.rail(), units="mm"))


def test_holes_of_one_kind_share_a_note():
    said = words(part_drawing(samples.carcass_side(), units="mm"))
    assert "6 × Ø4.5 through" in said
    assert "4 × Ø4 through" in said
    assert said.count("screws into the floor") == 1


def test_inch_jobs_name_drills_in_millimetres_too():
    assert "(4.5 mm)" in words(part_drawing(samples.carcass_side(), units="in"))


def test_no_note_of_an_inch_job_has_a_bare_millimetre_countersink():
    drawn = 0
    for part in design_of("pickup-inches").parts:
        for group in feature_groups(part.features):
            note = " ".join(group_words(group, part, "in"))
            sunk = re.findall(r"countersunk (\S+)", note)
            assert all(word.startswith("Ø") for word in sunk), note
            drawn += len(sunk)
    assert drawn > 0


def test_a_shaped_part_says_what_the_figures_along_its_edge_are():
    parts = design_of("pickup").parts
    wings = {part.mark for part in parts if part.name.startswith("wing, ")}
    said = {part.mark: words(part_drawing(part, units="mm")) for part in parts}
    assert wings
    assert {mark for mark, text in said.items() if "along the shaped edge" in text} == wings


def test_grain_and_sealed_edges_and_front_edge_are_marked(part):
    scene = part_drawing(part, units="mm")
    arrows = [i for i in scene.items if isinstance(i, Arrow) and i.pen == "grain"]
    assert len(arrows) == (1 if part.grain == "long" else 0)
    chains = [i for i in scene.items if isinstance(i, Polyline) and i.pen == "treated"]
    assert len(chains) == len(part.edges)
    assert ("front edge" in words(scene)) == bool(part.front_edge)


def test_edge_holes_are_shown_on_the_edge_and_dashed_inside():
    scene = part_drawing(samples.rail(), units="mm")
    said = words(scene)
    assert "View on the datum end" in said
    assert "View on the far end" in said
    assert "2 × Ø2.5 × 32 deep" in said
    assert "7.3 from the back face" in said
    inside = [i for i in scene.items if isinstance(i, Line) and i.pen == "hidden"]
    assert len(inside) == 4


def test_sections_are_hatched_and_state_width_and_depth():
    scene = part_drawing(samples.rebated_side(), units="mm")
    for letter, depth in (("A", 7.0), ("B", 5.0)):
        view = scene.view(f"section {letter}")
        values = sorted(i.value for i in view.items if isinstance(i, Dimension))
        assert values == pytest.approx([depth, 14.6, 14.6])
        assert view.scale == 1.0


def test_like_profiles_share_one_section():
    part = samples.rebated_side()
    rebate = part.features[0]
    twin = replace(rebate, at=(0.0, 0.0))
    both = replace(part, features=(rebate, twin))
    assert len(profiles(Board(part=both, scale=0.1))) == 1
    other = replace(both, features=(rebate, replace(twin, depth=5.0)))
    assert len(profiles(Board(part=other, scale=0.1))) == 2


def test_a_groove_from_the_back_is_dashed_and_its_section_says_so():
    part = samples.drawer_side()
    groove = replace(part.features[0], face="back")
    scene = part_drawing(replace(part, features=(groove,)), units="mm")
    rings = [i for i in scene.items if isinstance(i, Polyline) and i.pen == "hidden"]
    assert len(rings) == 1
    assert "cut from the back" in words(scene)


@pytest.mark.parametrize("drop", range(3))
def test_the_check_notices_a_dimension_that_is_left_out(drop):
    part = samples.carcass_side()
    scene = part_drawing(part, units="mm")
    kinds = [i for i in scene.items if isinstance(i, Running)]
    gone = kinds[drop % len(kinds)]
    broken = replace(
        scene,
        views=tuple(
            replace(v, items=tuple(i for i in v.items if i is not gone)) for v in scene.views
        ),
    )
    assert missing_sizes(part, broken) != []


def test_the_check_notices_a_wrong_size_and_a_missing_depth():
    part = samples.drawer_side()
    scene = part_drawing(part, units="mm")
    assert missing_sizes(replace(part, width=377.0), scene) != []
    deeper = replace(part.features[0], depth=7.0)
    assert missing_sizes(replace(part, features=(deeper, *part.features[1:])), scene) == [
        "B1: groove at (0.0, 10.0): no section states its depth 7"
    ]
    moved = replace(part.features[1], at=(100.0, 50.0))
    assert missing_sizes(replace(part, features=(*part.features[:1], moved)), scene) != []


def test_a_part_is_refused_where_it_cannot_be_drawn_legibly():
    with pytest.raises(OutOfRangeError):
        part_drawing(samples.carcass_side(), units="mm", room=(60.0, 40.0))
    with pytest.raises(OutOfRangeError):
        part_drawing(samples.carcass_side(), units="mm", room=(100.0, 200.0), smallest=0.1)


def test_the_same_part_gives_the_same_drawing(part):
    assert to_svg(part_drawing(part, units="mm")) == to_svg(part_drawing(part, units="mm"))


@st.composite
def drilled(draw):
    """A panel with up to nine holes and a groove, of any practical size."""
    length = draw(st.integers(120, 1900)) + 0.5
    width = draw(st.integers(60, 900)) + 0.0
    spots = st.tuples(
        st.floats(0.05, 0.95), st.floats(0.05, 0.95), st.sampled_from((3.0, 4.5, 9.0))
    )
    holes = [
        samples.hole(round(a * length, 1), round(b * width, 1), d, f"hole of {d:g}")
        for a, b, d in draw(st.lists(spots, max_size=9))
    ]
    groove = []
    if draw(st.booleans()):
        at = round(draw(st.floats(8.0, width / 2.0)), 1)
        groove = [
            samples.cut("groove", (0.0, at), (length, 12.0), "groove", depth=6.0, through=False)
        ]
    return samples._part(
        length=length,
        width=width,
        features=(*holes, *groove),
        edges=draw(st.sampled_from(((), ("u0",), ("v0", "v1"), ("u0", "u1", "v0", "v1")))),
        front_edge=draw(st.sampled_from(("", "u0", "v0"))),
        mirrored=draw(st.booleans()),
    )


@settings(max_examples=25, deadline=None)
@given(drilled(), st.sampled_from(("mm", "in")))
def test_any_drilled_panel_is_legible_and_complete(panel, units):
    scene = part_drawing(panel, units=units)
    assert overlaps(scene) == []
    assert missing_sizes(panel, scene) == []


def test_no_note_lies_under_a_filled_shape(part):
    scene = part_drawing(part, units="mm")
    assert not any(isinstance(i, Region) and i.fill not in {"ink", "none"} for i in scene.items)


def test_a_part_that_has_room_alone_is_drawn_without_its_other_hand_where_both_have_none():
    left, right = samples.carcass_side(), samples.carcass_side_right()

    def fits(height, **beside):
        try:
            return part_drawing(left, units="mm", room=(176.0, height), **beside)
        except OutOfRangeError:
            return None

    heights = [height for height in range(60, 240, 6) if fits(height) is not None]
    scenes = [fits(height, pair=right) for height in heights]
    assert None not in scenes
    shown = [any(view.name == "other hand" for view in scene.views) for scene in scenes]
    assert shown[-1]
    assert not shown[0]
