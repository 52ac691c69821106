"""The three-dimensional drawings on the example jobs: times, and ratios to plain ways of doing it.

Run from the repository: ``python benchmarks/drawings/bench_3d.py``. Times are the least of a few
runs. The plain ways use public libraries: shapely one pair at a time for hidden lines, a solid
intersection of every pair for clashes, trimesh's own exporter for GLB, scipy for sharing out.
"""

import io
import time
from functools import partial
from itertools import combinations
from pathlib import Path

import numpy as np
import shapely
import trimesh
from scipy.optimize import linear_sum_assignment

from stowright import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.drawings import picture
from stowright.drawings.assignment import cheapest_places
from stowright.drawings.clashes import interpenetrations, moving_clashes
from stowright.drawings.explode import exploded_offsets
from stowright.drawings.facets import part_shape
from stowright.drawings.glb import to_glb
from stowright.drawings.hidden_lines import see
from stowright.drawings.isometric import assembled, camera_for, exploded_set
from stowright.drawings.motions import placed_matrix
from stowright.drawings.paint import paint_order
from stowright.drawings.sight import look_at
from stowright.drawings.solids import mesh_of, part_solid
from stowright.drawings.svg import to_svg

EXAMPLES = sorted(Path(__file__).parents[2].glob("examples/*/job.toml"))
RUNS = 5


def least_ms(work, runs=RUNS):
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times) * 1e3


def sight_of(design, shapes, moves):
    camera = camera_for(design)
    pieces = []
    for placed in design.placed:
        matrix = placed_matrix(placed, {})
        matrix[:, 3] += moves.get(placed.id, (0.0, 0.0, 0.0))
        pieces.append((shapes[placed.mark], matrix))
    return look_at(pieces, camera)


def plain_see(sight):
    """Every edge against every front face, one shapely call at a time."""
    front = np.flatnonzero(sight.front)
    polygons = [sight.polygon(int(f)) for f in front]
    tree = shapely.STRtree(polygons)
    for edge in sight.drawn:
        a, b = sight.edges[edge]
        seen = shapely.LineString([a[:2], b[:2]])
        for k in tree.query(seen):
            n, level = sight.normals[front[k]], sight.levels[front[k]]
            heights = [(level - n[0] * p[0] - n[1] * p[1]) / n[2] - p[2] - 0.05 for p in (a, b)]
            if max(heights) <= 0.0:
                continue
            t = heights[0] / (heights[0] - heights[1]) if min(heights) < 0.0 else 0.0
            low, high = (0.0 if heights[0] > 0.0 else t), (1.0 if heights[1] > 0.0 else t or 1.0)
            behind = shapely.LineString([(a + low * (b - a))[:2], (a + high * (b - a))[:2]])
            seen = seen.difference(behind.intersection(polygons[k]))


def plain_clashes(design):
    solids = {part.mark: part_solid(part) for part in design.parts}
    standing = [solids[p.mark].transform(placed_matrix(p, {})) for p in design.placed]
    for one, other in combinations(standing, 2):
        (one ^ other).volume()


def trimesh_glb(design):
    scene = trimesh.Scene()
    meshes = {}
    for part in design.parts:
        raw = mesh_of(part_solid(part))
        meshes[part.mark] = trimesh.Trimesh(raw.vertices, raw.triangles, process=False)
    for placed in design.placed:
        matrix = np.vstack([placed_matrix(placed, {}), [0.0, 0.0, 0.0, 1.0]])
        scene.add_geometry(meshes[placed.mark], node_name=placed.id, transform=matrix)
    return scene.export(file_type="glb")


def report(name, design):
    print(f"\n{name}: {len(design.placed)} pieces of {len(design.parts)} marks")
    moves = exploded_offsets(design)
    for about, offsets in (("together", {}), ("exploded", moves)):
        shapes = {p.mark: part_shape(p, least_mm=12.0) for p in design.parts}
        sight = sight_of(design, shapes, offsets)
        ours = least_ms(partial(see, sight))
        plain = least_ms(partial(plain_see, sight), runs=1)
        seen = see(sight)
        paint = least_ms(partial(paint_order, sight, seen.faces))
        print(
            f"  {about}: {len(sight.rings)} faces, {len(sight.drawn)} edges;"
            f" lines {ours:.0f} ms (one pair at a time {plain:.0f} ms, {plain / ours:.0f} x),"
            f" painting {paint:.0f} ms"
        )
    for about, work in (
        ("assembled figure", partial(assembled, design)),
        ("exploded figures with balloons", partial(exploded_set, design)),
    ):
        picture.forget_shapes()
        first = least_ms(work, runs=1)
        print(f"  {about}: {first:.0f} ms first, {least_ms(work):.0f} ms then")
    scenes = exploded_set(design)
    size = sum(len(to_svg(s)) for s in scenes) / 1e3
    print(f"  as SVG: {size:.0f} kB in {len(scenes)} figures")
    ours, plain = (
        least_ms(partial(interpenetrations, design)),
        least_ms(partial(plain_clashes, design), runs=1),
    )
    print(f"  clashes at rest: {ours:.1f} ms (every pair {plain:.0f} ms, {plain / ours:.0f} x)")
    print(f"  clashes along every motion: {least_ms(partial(moving_clashes, design)):.0f} ms")
    ours, plain = least_ms(partial(to_glb, design)), least_ms(partial(trimesh_glb, design))
    loaded = trimesh.load(io.BytesIO(to_glb(design)), file_type="glb")
    assert len(loaded.graph.nodes_geometry) == len(design.placed)
    print(
        f"  GLB: {ours:.0f} ms, {len(to_glb(design)) / 1e3:.0f} kB"
        f" (trimesh {plain:.0f} ms, {len(trimesh_glb(design)) / 1e3:.0f} kB)"
    )


def main():
    shelf = load_catalogue()
    for path in EXAMPLES:
        design = design_job(load_job(path, catalogue=shelf), catalogue=shelf)
        report(path.parent.name, design)
    cost = np.random.default_rng(1).uniform(0.0, 200.0, (34, 60))
    ours, theirs = (
        least_ms(partial(cheapest_places, cost)),
        least_ms(partial(linear_sum_assignment, cost)),
    )
    print(f"\nsharing out 34 balloons: {ours:.1f} ms (scipy {theirs:.1f} ms)")


if __name__ == "__main__":
    main()
