"""What every joint with tabs must keep, whatever the job: checked on bodies in the bay.

A tab and the slot that takes it are compared as boxes in the bay, worked out here from the part
frames alone; nothing of the code that set them out is used.
"""

import pytest
from job_texts import check
from shapely import Polygon, box

from stowright.drawings.solids import part_solid
from stowright.model.part_area import face_area_mm2, volume_mm3

SLOT = "slot for a tab of the "


def bay_box(piece, low, high):
    """The box in the bay between two points of a part's frame."""
    one, two = piece.point(*low), piece.point(*high)
    return [(min(a, b), max(a, b)) for a, b in zip(one, two, strict=True)]


def tab_boxes(unit):
    """Each tab of each placed piece: the piece, the tab, its box in the bay."""
    for piece in unit.placed:
        part = unit.part(piece.mark)
        for tab in part.tabs:
            t = part.thickness
            low, high = {
                "u0": ((0, tab.start, 0), (tab.reach, tab.end, t)),
                "u1": ((part.length - tab.reach, tab.start, 0), (part.length, tab.end, t)),
                "v0": ((tab.start, 0, 0), (tab.end, tab.reach, t)),
                "v1": ((tab.start, part.width - tab.reach, 0), (tab.end, part.width, t)),
            }[tab.edge]
            yield piece, tab, bay_box(piece, low, high)


def slots(unit):
    """Each slot of each placed piece: the piece, the feature, its box in the bay."""
    for piece in unit.placed:
        part = unit.part(piece.mark)
        for feature in part.features:
            if feature.purpose.startswith(SLOT):
                (u, v), (du, dv) = feature.at, feature.size
                t = part.thickness
                w = (t - feature.depth, t) if feature.face == "good" else (0, feature.depth)
                if feature.through:
                    w = (0, t)
                yield piece, feature, bay_box(piece, (u, v, w[0]), (u + du, v + dv, w[1]))


def inside(inner, outer, loose):
    """Whether a box lies in another; on the axis ``loose`` it may begin before it.

    The cut grid may leave up to a millimetre between a shoulder and the face it stands at.
    """
    for k, ((a, b), (c, d)) in enumerate(zip(inner, outer, strict=True)):
        slack = 1.0 if k == loose else 1e-3
        if a < c - slack or b > d + slack:
            return False
    return True


def mates(unit):
    """(tab piece, tab, slot piece, slot, room on each axis) of every tab; one slot each."""
    found = []
    every = list(slots(unit))
    used = set()
    for piece, tab, room in tab_boxes(unit):
        homes = [
            (k, other, feature, place)
            for k, (other, feature, place) in enumerate(every)
            if other.id != piece.id and inside(room, place, axis_of(other, 2))
        ]
        assert len(homes) == 1, (piece.id, tab, len(homes))
        k, other, feature, place = homes[0]
        assert k not in used, (other.id, feature)
        used.add(k)
        gaps = [(a - b, d - c) for (a, c), (b, d) in zip(room, place, strict=True)]
        found.append((piece, tab, other, feature, gaps))
    assert len(used) == len(every), "a slot without its tab"
    return found


def axis_of(piece, k):
    """The bay axis that a part's u, v or w lies along."""
    return max(range(3), key=lambda n: abs(piece.axes[k][n]))


def check_tabs(unit, allowance):
    """Every law of tabs and slots on one design; returns how many tabs there are."""
    check(unit)
    rows = mates(unit)
    joints = [j for j in unit.joints if j.kind == "tab-and-slot"]
    for piece, tab, other, feature, gaps in rows:
        sheet = unit.thickness(unit.part(piece.mark).material)
        across = axis_of(piece, 2)
        through = axis_of(other, 2)
        along = next(k for k in range(3) if k not in (across, through))
        play = sheet.t_max - sheet.t + allowance
        assert gaps[along] == pytest.approx((allowance / 2, allowance / 2), abs=1e-3)
        inner = unit.part(other.mark)
        for gap, edge in zip(gaps[across], ("low", "high"), strict=True):
            # flush with an edge of the receiver the slot is open there
            assert gap == pytest.approx(play / 2, abs=1e-3) or gap < play / 2 + 3.0, edge
        assert max(gaps[across]) == pytest.approx(play / 2, abs=1e-3) or not feature.through
        behind = unit.thickness(inner.material)
        if feature.through:
            assert tab.reach <= behind.t_min - 0.2 + 1e-6
            assert tab.reach >= behind.t_min - 0.2 - 0.8  # a cut grid of 1/32 in shortens it
        else:
            assert tab.reach <= feature.depth - 0.5 + 1e-6
            assert feature.depth <= behind.t_min - 3.0 + 1e-6
    for joint in joints:
        count = sum(1 for piece, _, other, _, _ in rows if (other.id, piece.id) == joint.parts)
        assert count >= 2, joint.parts
    for part in unit.parts:
        check_slots_of(part)
    return len(rows)


def shape_of(feature):
    u, v = feature.at
    if len(feature.size) == 1:
        r = feature.size[0] / 2
        return box(u - r, v - r, u + r, v + r)
    return box(u, v, u + feature.size[0], v + feature.size[1])


def check_slots_of(part):
    """No slot meets another feature; reliefs clear their corners; volumes and areas agree."""
    mine = [f for f in part.features if f.purpose.startswith(SLOT)]
    others = [f for f in part.features if f not in mine and f.face in {"good", "back"}]
    for k, slot in enumerate(mine):
        here = shape_of(slot)
        for other in [*mine[:k], *others]:
            blind = not slot.through and not other.through and slot.face != other.face
            # cut from both faces at one place where a third of the sheet is left between
            if blind and part.thickness - slot.depth - other.depth >= part.thickness / 3 - 0.1:
                continue
            apart = here.distance(shape_of(other))
            assert apart > 1.5, (part.mark, slot, other)
        for hole in part.features:
            if hole.face not in {"good", "back"} and len(hole.size) == 1:
                assert here.distance(edge_hole(part, hole)) > 0.5, (part.mark, slot, hole)
    for row in part.reliefs:
        reach = ((row.corner[0] - row.centre[0]) ** 2 + (row.corner[1] - row.centre[1]) ** 2) ** 0.5
        assert reach == pytest.approx(row.diameter / 2, abs=1e-4)
    if part.tabs or mine:
        outline = Polygon(part.outline)
        assert outline.is_valid
        assert outline.exterior.is_ccw
        us, vs = zip(*part.outline, strict=True)
        assert (min(us), max(us), min(vs), max(vs)) == pytest.approx(
            (0, part.length, 0, part.width)
        )
        assert part_solid(part).volume() == pytest.approx(volume_mm3(part), rel=1e-4)
        assert face_area_mm2(part) < outline.area + 1e-6


def edge_hole(part, hole):
    along, r = hole.at[0], hole.size[0] / 2
    a, b = hole.starts, hole.starts + hole.depth
    return {
        "u0": box(a, along - r, b, along + r),
        "u1": box(part.length - b, along - r, part.length - a, along + r),
        "v0": box(along - r, a, along + r, b),
        "v1": box(along - r, part.width - b, along + r, part.width - a),
    }[hole.face]
