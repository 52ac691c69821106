"""Whether a part's drawing says everything needed to make it: a look at the finished scene.

Used by tests and by the completeness check of the book.
"""

from __future__ import annotations

from collections.abc import Iterable

from stowright.drawings.board import is_round, is_through, on_face, rectangle_of, shapes_outline
from stowright.drawings.part_dimensions import is_shaped
from stowright.drawings.part_tabs import tab_corner, tab_places
from stowright.drawings.scene import Dimension, Running, Scene, Text
from stowright.model.part import Feature, Part, is_tab_slot

__all__ = ["missing_sizes"]

_NEAR = 0.06


class _Said:
    """The values that a scene states, by kind."""

    def __init__(self, scene: Scene) -> None:
        self.lengths: dict[str, list[float]] = {"x": [], "y": []}
        self.places: dict[str, list[float]] = {"x": [], "y": []}
        self.sections: list[float] = []
        self.words = " ".join(item.text for item in scene.items if isinstance(item, Text))
        for view in scene.views:
            for item in view.items:
                if isinstance(item, Dimension) and view.name.startswith("section"):
                    self.sections.append(item.value)
                elif isinstance(item, Dimension):
                    self.lengths[item.axis].append(item.value)
                elif isinstance(item, Running):
                    self.places[item.axis] += item.values


def missing_sizes(part: Part, scene: Scene) -> list[str]:
    """Return what a part drawing leaves out, a line each; nothing when it is complete.

    Looked for: both overall sizes, the two datum distances of every feature and corner of the
    outline, width and depth of every groove, the place of every hole in an edge.
    """
    said = _Said(scene)
    missing = [
        f"{part.mark}: no overall size {value:g}"
        for axis, value in (("x", part.length), ("y", part.width))
        if not _has(said.lengths[axis], value)
    ]
    for feature in part.features:
        where = f"{part.mark}: {feature.kind} at {feature.at}"
        missing += [f"{where}: {what}" for what in _feature_gaps(part, feature, said)]
    for u, v in part.outline:
        if tab_corner(part, (u, v)):
            continue
        if not _placed(said.places["x"], u, part.length):
            missing.append(f"{part.mark}: corner of the outline at u = {u:g} is not located")
        if not _placed(said.places["y"], v, part.width) and not is_shaped(part):
            missing.append(f"{part.mark}: corner of the outline at v = {v:g} is not located")
    for u, v, _ in tab_places(part):
        places = (said.places["x"], u, part.length), (said.places["y"], v, part.width)
        if not all(_placed(*place) for place in places):
            missing.append(f"{part.mark}: the tab at {u:g}, {v:g} is not located")
    return missing


def _feature_gaps(part: Part, feature: Feature, said: _Said) -> Iterable[str]:
    if not on_face(feature):
        axis, size = ("x", part.length) if feature.face in {"v0", "v1"} else ("y", part.width)
        if not _placed(said.places[axis], feature.at[0], size):
            yield f"not located along its edge ({feature.at[0]:g})"
        return
    us, vs = _wanted(part, feature)
    for u in us:
        if not _placed(said.places["x"], u, part.length):
            yield f"u = {u:g} is not given"
    for v in vs:
        if not _placed(said.places["y"], v, part.width):
            yield f"v = {v:g} is not given"
    if _is_groove(part, feature):
        for name, value in (("width", min(feature.size)), ("depth", feature.depth)):
            if not _has(said.sections, value):
                yield f"no section states its {name} {value:g}"


def _wanted(part: Part, feature: Feature) -> tuple[tuple[float, ...], tuple[float, ...]]:
    if is_round(feature):
        u, v = feature.at
        return (u,), (v,)
    r = rectangle_of(feature)
    if is_tab_slot(feature):
        return (r.u0,), (r.v0,)
    if not _is_groove(part, feature):
        return (r.u0, r.u1), (r.v0, r.v1)
    if feature.size[0] >= feature.size[1]:
        return (r.u0, r.u1), (r.v0,)
    return (r.u0,), (r.v0, r.v1)


def _is_groove(part: Part, feature: Feature) -> bool:
    noted = is_round(feature) or is_tab_slot(feature) or is_through(feature, part)
    return not (noted or shapes_outline(feature, part))


def _placed(values: Iterable[float], wanted: float, size: float) -> bool:
    """Return whether a place is given, or is the datum or the far edge, which the size gives."""
    return wanted <= _NEAR or wanted >= size - _NEAR or _has(values, wanted)


def _has(values: Iterable[float], wanted: float) -> bool:
    return any(abs(value - wanted) <= _NEAR for value in values)
