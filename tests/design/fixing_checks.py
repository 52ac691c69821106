"""Checks on placed fixings that share no code with what placed them.

Fixings are taken as segments with a radius, features as prisms; nothing here knows of rows,
ledgers or boxes.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
from shapely.geometry import Point, Polygon, box


def by_id(pieces):
    return {piece.id: piece for piece in pieces}


def radius_of(fixing, catalogue):
    if fixing.kind == "screw":
        return catalogue.screw(fixing.type).diameter / 2.0
    return catalogue.bolt(fixing.type).diameter / 2.0


def segment(fixing):
    start = np.array(fixing.at)
    return start, start + np.array(fixing.direction) * fixing.length


def segment_distance(one, other):
    """Least distance of two segments, by clamped closest points."""
    (p1, q1), (p2, q2) = one, other
    d1, d2, r = q1 - p1, q2 - p2, p1 - p2
    a, e, f = d1 @ d1, d2 @ d2, d2 @ r
    b, c = d1 @ d2, d1 @ r
    denominator = a * e - b * b
    s = np.clip((b * f - c * e) / denominator, 0.0, 1.0) if denominator > 1e-9 else 0.0
    t = np.clip((b * s + f) / e, 0.0, 1.0)
    s = np.clip((b * t - c) / a, 0.0, 1.0)
    best = np.linalg.norm(p1 + d1 * s - p2 - d2 * t)
    for p in (p1, q1):
        k = np.clip(((p - p2) @ d2) / e, 0.0, 1.0)
        best = min(best, np.linalg.norm(p - p2 - d2 * k))
    for p in (p2, q2):
        k = np.clip(((p - p1) @ d1) / a, 0.0, 1.0)
        best = min(best, np.linalg.norm(p - p1 - d1 * k))
    return best


def side_by_side(one, other):
    """Parallel, and one ends before the other begins: flush heads face to face do not clash."""
    (p1, q1), (p2, q2) = one, other
    along = (q1 - p1) / np.linalg.norm(q1 - p1)
    if abs(abs(along @ (q2 - p2)) - np.linalg.norm(q2 - p2)) > 1e-6:
        return False
    a, b = sorted((p1 @ along, q1 @ along)), sorted((p2 @ along, q2 @ along))
    return min(a[1], b[1]) - max(a[0], b[0]) <= 1e-6


def clashing_fixings(fixings, catalogue):
    """Pairs of screws and bolts whose shanks meet."""
    shanks = [f for f in fixings if f.kind in {"screw", "bolt"}]
    if len(shanks) < 2:
        return []
    segments = [segment(f) for f in shanks]
    radii = [radius_of(f, catalogue) for f in shanks]
    heads = np.array([start for start, _ in segments])
    lengths = np.array([f.length for f in shanks])
    far = np.abs(heads[:, None] - heads[None, :]).max(axis=2)
    close = np.argwhere(np.triu(far < lengths[:, None] + lengths[None, :] + 20.0, k=1))
    found = []
    for i, j in close:
        if side_by_side(segments[i], segments[j]):
            continue
        if segment_distance(segments[i], segments[j]) < radii[i] + radii[j]:
            found.append((shanks[i].id, shanks[j].id))
    return found


def prism(piece, feature):
    """A feature as (shape in the piece's plane, lowest w, highest w)."""
    t, (a, b) = piece.thickness, feature.at
    if feature.face in {"good", "back"}:
        if len(feature.size) == 1:
            shape = Point(a, b).buffer(feature.size[0] / 2.0, quad_segs=16)
        else:
            shape = box(a, b, a + feature.size[0], b + feature.size[1])
        depth = t if feature.through else feature.depth
        return (shape, t - depth, t) if feature.face == "good" else (shape, 0.0, depth)
    half, depth = feature.size[0] / 2.0, feature.depth
    if feature.face == "u0":
        shape = box(0.0, a - half, depth, a + half)
    elif feature.face == "u1":
        shape = box(piece.length - depth, a - half, piece.length, a + half)
    elif feature.face == "v0":
        shape = box(a - half, 0.0, a + half, depth)
    else:
        shape = box(a - half, piece.width - depth, a + half, piece.width)
    return shape, b - half, b + half


def overlapping_features(piece, features):
    """Pairs of features of a piece that take away the same wood."""
    prisms = [prism(piece, f) for f in features]
    found = []
    for i, j in combinations(range(len(prisms)), 2):
        (s1, l1, h1), (s2, l2, h2) = prisms[i], prisms[j]
        if min(h1, h2) - max(l1, l2) > 1e-3 and s1.intersection(s2).area > 1e-3:
            found.append((features[i], features[j]))
    return found


def outside_features(piece, features):
    """Features that are not wholly in the piece."""
    features = [f for f in features if f.kind != "notch"]  # the outline shows those already
    plate = Polygon(piece.contour).buffer(1e-3)
    found = []
    for feature in features:
        shape, low, high = prism(piece, feature)
        inside = low >= -1e-3 and high <= piece.thickness + 1e-3
        if not inside or shape.difference(plate).area > 1e-2:
            found.append(feature)
    return found


def proud_points(fixings, pieces, thickness_of):
    """Screws whose point is nearer than 0.5 to the far face of the last piece on its thinnest
    sheet, with all that is passed at its thinnest too.
    """
    known, found = by_id(pieces), []
    for fixing in fixings:
        if fixing.kind != "screw":
            continue
        last = known[fixing.joins[-1]]
        start = np.array(fixing.at)
        along = np.array(fixing.direction)
        w = np.array(last.axes[2])
        if abs(along @ w) < 0.5:
            continue  # into an edge: judged by room_before_points
        thin = sum(
            known[name].thickness - thickness_of[known[name].material].t_min
            for name in fixing.joins
            if name in known
        )
        faces = [np.array(last.origin) @ w, (np.array(last.origin) + w * last.thickness) @ w]
        tip = (start + along * fixing.length) @ w
        far = max(faces) if along @ w > 0.0 else min(faces)
        if abs(far - tip) - thin < 0.5 - 1e-6 or (far - tip) * (along @ w) < 0.0:
            found.append(fixing)
    return found


def room_before_points(fixings, pieces):
    """For every screw into an edge: wood left before its point."""
    known, found = by_id(pieces), []
    for fixing in fixings:
        if fixing.kind != "screw":
            continue
        last = known[fixing.joins[-1]]
        along = np.array(fixing.direction)
        if abs(along @ np.array(last.axes[2])) > 0.5:
            continue
        low = np.array([last.box.x.low, last.box.y.low, last.box.z.low])
        high = np.array([last.box.x.high, last.box.y.high, last.box.z.high])
        tip = np.array(fixing.at) + along * fixing.length
        k = int(np.abs(along).argmax())
        found.append((fixing, high[k] - tip[k] if along[k] > 0.0 else tip[k] - low[k]))
    return found


def strangers(fixings, pieces):
    """Screws and bolts that run through a piece which they do not name."""
    low = np.array([[p.box.x.low, p.box.y.low, p.box.z.low] for p in pieces]) + 1e-3
    high = np.array([[p.box.x.high, p.box.y.high, p.box.z.high] for p in pieces]) - 1e-3
    found = []
    for fixing in fixings:
        if fixing.kind not in {"screw", "bolt"}:
            continue
        start, end = segment(fixing)
        at = start + np.outer(np.linspace(0.0, 1.0, 60), end - start)
        inside = np.all((at[:, None] > low) & (at[:, None] < high), axis=2)
        for n in np.flatnonzero(inside.any(axis=0)):
            piece = pieces[n]
            if piece.id in fixing.joins:
                continue
            plate = Polygon(piece.contour)
            spots = at[inside[:, n]]
            if any(plate.contains(Point(piece.to_local(tuple(p))[:2])) for p in spots):
                found.append((fixing.id, piece.id))
    return found


#: Openings: what a hand, a latch, a cable or air goes through.
OPENINGS = {"hand-hole", "cut-out", "vent", "notch"}


def near_openings(piece, features, least):
    """Holes of fixings whose rim is nearer than ``least`` to the rim of an opening.

    Blind holes are left out: the cup of a concealed hinge has its own screws beside it.
    """
    big = [
        prism(piece, f)
        for f in features
        if f.kind in OPENINGS
        or (f.kind == "hole" and f.through and len(f.size) == 1 and f.size[0] > 20.0)
    ]
    found = []
    for feature in features:
        if not feature.fixing or feature.kind not in {"hole", "pilot"} or feature.size[0] > 20.0:
            continue
        shape, low, high = prism(piece, feature)
        for other, l2, h2 in big:
            if min(high, h2) - max(low, l2) > 1e-3 and shape.distance(other) < least - 1e-3:
                found.append((feature, round(shape.distance(other), 2)))
    return found
