"""The model as a page shows it: pieces in their places, and the shapes of parts by number.

A page keeps the shapes that it has, so that a change of one size sends only the shapes that
changed. A new shape is shown as its outline first, true in size; the same with every hole and
groove follows as soon as it is cut (``app.second_hand``). Axes and colours are the model file's.
"""

from __future__ import annotations

import hashlib
import itertools
import json
import threading
from base64 import b64encode
from collections.abc import Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from stowright.app.second_hand import SecondHand
    from stowright.model.design import Design
    from stowright.model.part import Part

__all__ = ["Scene", "Shape", "Shapes", "quick_shape", "scene_of"]

#: A shape as it is sent: corners and triangles, each as bytes in base 64.
type Shape = dict[str, Any]
type Mesh = tuple[NDArray[np.float32], NDArray[np.uint32]]

_NUMBERS = itertools.count(1)
#: More shapes than this are not kept ready.
_KEPT = 2000
_SMALL = 2**16


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A model to be shown.

    Attributes:
        key: Name of the model; another one has another name.
        pieces: Each piece: which part, its shape's number, its wood's place, where it stands.
        motions: How bodies move.
        woods: Names and colours of the sheets.
        parts: The part of each shape by the shape's number.
        loads: Cargo and rails on the decks, boxes that are no part of the unit.
        straps: What lashes the cargo, lines.
    """

    key: str
    pieces: tuple[dict[str, Any], ...]
    motions: tuple[dict[str, Any], ...]
    woods: tuple[dict[str, Any], ...]
    parts: Mapping[int, Part]
    loads: tuple[dict[str, Any], ...] = ()
    straps: tuple[list[list[float]], ...] = ()


def scene_of(design: Design) -> Scene:
    """Return the scene of a design."""
    from stowright.app.model_view import deck_loads, strap_lines
    from stowright.drawings.glb import unit_nodes, wood_looks

    numbers = {part.mark: _number(part) for part in design.parts}
    materials = sorted({part.material for part in design.parts})
    unit, *nodes = unit_nodes(design, numbers)
    pieces = tuple(_piece(node, materials) for node in nodes)
    motions = tuple(unit["extras"]["motions"])
    loads, straps = tuple(deck_loads(design)), tuple(strap_lines(design))
    told = json.dumps([pieces, motions, materials, loads, straps]).encode()
    return Scene(
        key=hashlib.blake2b(told, digest_size=16).hexdigest(),
        pieces=pieces,
        motions=motions,
        woods=tuple(wood_looks(name) for name in materials),
        parts={numbers[part.mark]: part for part in design.parts},
        loads=loads,
        straps=straps,
    )


def quick_shape(part: Part) -> Shape:
    """Return a part's outline drawn out to its thickness, for a first look."""
    from stowright.drawings.glb import quick_mesh

    return _packed(quick_mesh(part))


class Shapes:
    """Shapes that are ready to be sent, and a way to have more of them made."""

    def __init__(self) -> None:
        self.hand: SecondHand | None = None
        self._lock = threading.Lock()
        self._ready: dict[int, Shape] = {}
        self._here: ThreadPoolExecutor | None = None

    def ready(self, number: int) -> Shape | None:
        """Return a whole shape, when it is there."""
        return self._ready.get(number)

    def want(self, parts: Mapping[int, Part]) -> Future[None]:
        """Have shapes made; the outcome is there when all of them are."""
        done: Future[None] = Future()
        missing = {n: part for n, part in parts.items() if n not in self._ready}
        if not missing:
            done.set_result(None)
            return done
        begun = self.hand.shape(tuple(missing.values())) if self.hand is not None else None
        if begun is None:
            begun = self._beside().submit(_meshes, tuple(missing.values()))

        def kept(made: Future[list[Mesh]]) -> None:
            if made.cancelled() or made.exception() is not None:
                done.cancel()
                return
            self._keep(dict(zip(missing, made.result(), strict=True)))
            done.set_result(None)

        begun.add_done_callback(kept)
        return done

    def close(self) -> None:
        """Make no more."""
        if self._here is not None:
            self._here.shutdown(wait=False, cancel_futures=True)

    def _beside(self) -> ThreadPoolExecutor:
        if self._here is None:
            self._here = ThreadPoolExecutor(1, thread_name_prefix="stowright-shapes")
        return self._here

    def _keep(self, made: Mapping[int, Mesh]) -> None:
        with self._lock:
            kept = dict(list(self._ready.items())[-_KEPT:])
            self._ready = {**kept, **{n: _packed(mesh) for n, mesh in made.items()}}


def _meshes(parts: tuple[Part, ...]) -> list[Mesh]:
    from stowright.drawings.glb import part_mesh

    return [part_mesh(part) for part in parts]


def _number(part: Part) -> int:
    """Return the number of a part's shape: parts that are alike in shape share it."""
    return _numbered(
        part.length,
        part.width,
        part.thickness,
        part.outline,
        part.features,
        part.mirrored,
    )


@lru_cache(maxsize=2 * _KEPT)
def _numbered(*_: object) -> int:
    return next(_NUMBERS)


def _piece(node: Mapping[str, Any], materials: list[str]) -> dict[str, Any]:
    told = node["extras"]
    return {
        "part": told["part"],
        "body": told["body"],
        "shape": node["mesh"],
        "wood": materials.index(told["material"]),
        "at": node["translation"],
        "turn": node["rotation"],
        "away": told["explode_m"],
    }


def _packed(mesh: Mesh) -> Shape:
    corners, triangles = mesh
    small = len(corners) < _SMALL
    told = triangles.astype("<u2") if small else triangles
    return {
        "corners": b64encode(corners.tobytes()).decode(),
        "triangles": b64encode(told.tobytes()).decode(),
        "small": small,
    }
