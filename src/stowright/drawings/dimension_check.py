"""Whether what a drawing states is what it shows and what the plan says.

An outside look at a finished scene: each dimension's figure against the distance between its
points at the view's scale, and a part's figures against the part's own coordinates.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from stowright.drawings.board import is_round, on_face, rectangle_of
from stowright.drawings.scene import Dimension, Running, Scene, View
from stowright.model.part import Part
from stowright.units import Unit, format_length

__all__ = ["false_dimensions", "foreign_sizes"]

#: Rounding of a figure, and of a place on paper. [mm]
_FIGURE, _PAPER = 0.06, 0.02


def false_dimensions(scene: Scene, *, units: Unit) -> list[str]:
    """Return each dimension whose figure is not the distance that is drawn, a line each.

    Args:
        scene: The drawing.
        units: Unit that its figures are printed in.
    """
    return [
        f"{scene.name}, {view.name}: {line}"
        for view in scene.views
        for item in view.items
        for line in _false(item, view, units)
    ]


def _false(item: object, view: View, units: Unit) -> Iterator[str]:
    slack = _FIGURE + _PAPER / view.scale
    if isinstance(item, Dimension):
        k = 0 if item.axis == "x" else 1
        drawn = abs(item.end[k] - item.start[k]) / view.scale
        if not abs(drawn - item.value) <= slack:
            yield f"{item.text} is drawn {drawn:g} long"
        if not item.text.startswith(format_length(item.value, units)):
            yield f"{item.text} stands for {item.value:g}"
    elif isinstance(item, Running):
        k = 0 if item.axis == "x" else 1
        for point, value, text in zip(item.points, item.values, item.texts[1:], strict=True):
            drawn = abs(point[k] - item.datum[k]) / view.scale
            if not abs(drawn - abs(value)) <= slack:
                yield f"{text} is drawn {drawn:g} from the datum"
            if text != format_length(value, units):
                yield f"{text} stands for {value:g}"


def foreign_sizes(part: Part, scene: Scene) -> list[str]:
    """Return each figure of a part's drawing that is no size or place of that part, a line each."""
    along, across, deep = _places(part)
    known = {"x": along | deep, "y": across | deep}
    lengths = {axis: _differences(known[axis]) for axis in known}
    every = _differences(along) | _differences(across) | _differences(deep)
    found = []
    for view in scene.views:
        for item in view.items:
            if isinstance(item, Running):
                # A view on an edge, or a section, may lie along either axis.
                wrong = [v for v in item.values if not _near(v, along | across | deep)]
                found += [f"{part.mark}: {v:g} is no place of the part" for v in wrong]
            elif isinstance(item, Dimension):
                allowed = every if view.name.startswith("section") else lengths[item.axis] | every
                if not _near(item.value, allowed):
                    found.append(f"{part.mark}: {item.value:g} is no size of the part")
    return found


def _places(part: Part) -> tuple[set[float], set[float], set[float]]:
    """Return every place along, across and through a part. [mm]."""
    along = {0.0, part.length, *(u for u, _ in part.outline)}
    across = {0.0, part.width, *(v for _, v in part.outline)}
    deep = {0.0, part.thickness}
    for feature in part.features:
        deep |= {feature.depth, part.thickness - feature.depth}
        if not on_face(feature):
            edge = across if feature.face in {"u0", "u1"} else along
            edge |= {feature.at[0], feature.at[0] + feature.size[0]}
            deep |= {feature.at[1], *feature.size}
        elif is_round(feature):
            along.add(feature.at[0])
            across.add(feature.at[1])
        else:
            r = rectangle_of(feature)
            along |= {r.u0, r.u1}
            across |= {r.v0, r.v1}
    return along, across, deep


def _differences(places: set[float]) -> set[float]:
    return {round(abs(a - b), 4) for a, b in combinations(sorted(places), 2)}


def _near(value: float, wanted: Iterable[float]) -> bool:
    return any(abs(value - other) <= _FIGURE for other in wanted)
