"""What is drawn is what is seen: against rays cast at solids, which the line code never uses."""

import manifold3d as m3
import numpy as np
import pytest
import shapely
from samples import pocket, two_drawers
from test_3d_facets import plain_part

from stowright.drawings.facets import part_shape
from stowright.drawings.hidden_lines import see
from stowright.drawings.motions import body_poses, placed_matrix
from stowright.drawings.paint import paint_order
from stowright.drawings.sight import Camera, look_at
from stowright.drawings.solids import part_solid

AWAY_MM = 1.0
VIEWS = [(215.0, 0.0), (225.0, {"meters": 0.6}), (140.0, 1.0), (40.0, 0.3), (310.0, 0.0)]


def standing(design, open_by=0.0, *, least_mm=0.0):
    shapes = {p.mark: part_shape(p, least_mm=least_mm) for p in design.parts}
    poses = body_poses(design, open_by)
    return [(shapes[p.mark], placed_matrix(p, poses)) for p in design.placed]


def solid_of(design, open_by):
    solids = {p.mark: part_solid(p) for p in design.parts}
    poses = body_poses(design, open_by)
    return m3.Manifold.compose(
        [solids[p.mark].transform(placed_matrix(p, poses)) for p in design.placed]
    )


def runs_of(seen, ends, edge):
    """Visible runs of one edge as (from, to) in mm along it."""
    a, b = ends[:, :2]
    along = (b - a) / np.hypot(*(b - a))
    pieces = seen.lines[seen.edge == edge]
    return [tuple(sorted(((p[0] - a) @ along, (p[1] - a) @ along))) for p in pieces]


@pytest.mark.parametrize(("turn", "open_by"), VIEWS)
def test_random_points_of_edges_are_drawn_when_a_ray_reaches_the_eye(turn, open_by):
    design = two_drawers()
    camera = Camera(turn=turn)
    sight = look_at(standing(design, open_by), camera)
    seen = see(sight)
    solid = solid_of(design, open_by)
    eye = camera.rows[2]
    random = np.random.default_rng(20)
    asked = wrong = 0
    spans = np.hypot(*(sight.edges[:, 1] - sight.edges[:, 0])[:, :2].T)
    long_enough = sight.drawn[spans[sight.drawn] > 4.0]
    for edge in random.choice(long_enough, 900):
        ends, length = sight.edges[edge], spans[edge]
        share = random.uniform()
        runs = runs_of(seen, ends, edge)
        if any(abs(share * length - at) < AWAY_MM for run in runs for at in run):
            continue  # too near a change to ask
        drawn = any(low < share * length < high for low, high in runs)
        point = (ends[0] + share * (ends[1] - ends[0])) @ camera.rows
        asked += 1
        # 0.3 mm towards the eye: clear of the edge's own faces and of panels flush with it
        hits = solid.ray_cast(list(point + 0.3 * eye), list(point + 6000.0 * eye))
        wrong += drawn == bool(hits)
    assert asked > 600
    assert wrong == 0


def test_every_edge_of_a_lone_panel_but_three_is_seen():
    shape = part_shape(plain_part(400.0, 300.0, 15.0))
    seen = see(look_at([(shape, np.eye(3, 4))], Camera(turn=215.0)))
    assert len(seen.lines) == 9


def test_hidden_and_seen_pieces_add_up_to_the_edge():
    sight = look_at(standing(two_drawers(), 0.4, least_mm=12.0), Camera(turn=215.0))
    seen = see(sight, least_mm=0.0, with_hidden=True)
    total = 0.0
    for lines in (seen.lines, seen.hidden):
        total += np.hypot(*(lines[:, 1] - lines[:, 0]).T).sum()
    ends = sight.edges[sight.drawn]
    assert total == pytest.approx(np.hypot(*(ends[:, 1] - ends[:, 0])[:, :2].T).sum(), rel=1e-9)


def bars_in_a_ring():
    """Three sloping bars in a triangle, each over the next: no order of painting exists."""
    bar = part_shape(plain_part(420.0, 30.0, 10.0))
    placed = []
    for k in range(3):
        a = 2.0 * np.pi * k / 3.0
        u = np.array([np.cos(a), np.sin(a), -0.15])
        u /= np.linalg.norm(u)
        v = np.cross([0.0, 0.0, 1.0], u)
        v /= np.linalg.norm(v)
        middle = 90.0 * np.array([np.sin(a), -np.cos(a), 0.0])
        placed.append((bar, np.column_stack([u, v, np.cross(u, v), middle - 210.0 * u])))
    return placed


def rail_in_a_housing():
    """A rail that stands in an open housing and out of it: each is nearer in some place."""
    housing = pocket("rebate", (150.0, 200.0), (90.0, 100.0), depth=50.0)
    side = part_shape(plain_part(400.0, 300.0, 60.0, housing))
    upright = np.array([[1.0, 0.0, 0.0, 0.0], [0.0, 0.0, -1.0, 0.0], [0.0, 1.0, 0.0, 0.0]])
    rail = part_shape(plain_part(120.0, 90.0, 80.0))
    along = np.array([[0.0, 1.0, 0.0, 150.0], [-1.0, 0.0, 0.0, -10.0], [0.0, 0.0, 1.0, 200.0]])
    return [(side, upright), (rail, along)]


def painted_top(patches, spot):
    """The face painted last over a spot."""
    point = shapely.Point(spot)
    return [p.face for p in patches if p.shape.covers(point)][-1:]


PAINTED = {
    "unit": (lambda: standing(two_drawers(), {"ropes": 0.5}), 0.6),
    "ring": (bars_in_a_ring, 1.5),
    "housing": (rail_in_a_housing, 0.6),
}


@pytest.mark.parametrize("case", PAINTED)
def test_paint_leaves_the_nearest_face_on_top(case):
    pieces, rise = PAINTED[case]
    sight = look_at(pieces(), Camera(turn=235.0, rise=rise))
    seen = see(sight)
    patches = paint_order(sight, seen.faces)
    shapes = [(f, sight.polygon(int(f))) for f in np.flatnonzero(sight.front)]
    random = np.random.default_rng(7)
    bounds = shapely.total_bounds([s for _, s in shapes])
    checked = 0
    while checked < 400:
        spot = random.uniform(bounds[:2], bounds[2:])
        point = shapely.Point(spot)
        over = [(f, s) for f, s in shapes if s.contains(point)]
        if not over:
            continue
        checked += 1
        if min(s.boundary.distance(point) for _, s in over) < 0.5:
            continue
        heights = {
            f: (sight.levels[f] - sight.normals[f, :2] @ spot) / sight.normals[f, 2]
            for f, _ in over
        }
        top = painted_top(patches, spot)
        assert top
        assert heights[top[0]] == pytest.approx(max(heights.values()), abs=0.05)


def test_a_ring_of_faces_is_opened_by_cutting_one_back():
    sight = look_at(bars_in_a_ring(), Camera(turn=215.0, rise=1.5))
    faces = np.flatnonzero(sight.front)
    patches = paint_order(sight, faces)
    painted = sum(p.shape.area for p in patches)
    whole = sum(sight.polygon(int(f)).area for f in faces)
    # one of the three crossings, each about 30 by 30 seen at 60 degrees, is painted once only
    assert whole - 1300.0 < painted < whole - 800.0


def test_the_same_sight_gives_the_same_lines():
    pieces = standing(two_drawers(), 0.25, least_mm=12.0)
    one, other = (see(look_at(pieces, Camera(turn=215.0))) for _ in range(2))
    assert (one.lines == other.lines).all()


def test_nothing_to_see():
    seen = see(look_at([], Camera(turn=215.0)))
    assert len(seen.lines) == 0
    assert paint_order(look_at([], Camera(turn=215.0)), seen.faces) == []
