"""No screw comes through on the worst sheet, and every one holds in something."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.model.geometry import Point3
from stowright.model.part import PlacedFixing, PlacedPart
from stowright.proofs.judge import About, clearance, complete

__all__ = ["fixing_findings"]

#: Wood left in front of a screw's point. [mm]
LEFT = 0.5
#: Fixings that only touch by rounding do not meet. [mm]
SKIN = 0.05


def fixing_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield one finding per screw type, the copy with least wood before its point; and clashes."""
    yield _clashes(design, catalogue)
    yield from _lengths(design, catalogue)


def _clashes(design: Design, catalogue: Catalogue) -> Finding:
    """Whether two screws or bolts would meet in the wood: their cylinders as boxes."""
    thick = {row.name: row.diameter for row in catalogue.screws}
    thick |= {row.name: row.diameter for row in catalogue.bolts}
    solids = [
        f for f in design.fixings if f.kind in {"screw", "bolt"} and f.length and f.type in thick
    ]
    met = _meeting(solids, thick)
    return complete(
        About(
            id="FIXINGS-CLASH:all",
            title="No screw or bolt runs into another",
            about="fixings",
            family=14,
            source="geometry of the placed fixings",
            standing="published",
            load_case="in place",
            working=(
                f"{len(solids)} screws and bolts, each with its shank, held against the rest",
            ),
        ),
        missing=tuple(
            f"{one.id} ({', '.join(one.joins)}) and {other.id} ({', '.join(other.joins)}) meet"
            for one, other in met
        ),
        advice=("move one of them by 10 mm, or share one bolt",),
    )


def _meeting(
    solids: list[PlacedFixing], thick: dict[str, float]
) -> list[tuple[PlacedFixing, PlacedFixing]]:
    """Return the pairs whose shanks overlap; parts of one set do not count."""
    if len(solids) < 2:
        return []
    at = np.array([f.at for f in solids])
    along = np.array([f.direction for f in solids])
    far = at + along * np.array([[f.length] for f in solids])
    half = np.array([[thick[f.type] / 2.0] for f in solids]) * (1.0 - np.abs(along))
    low, high = np.minimum(at, far) + SKIN - half, np.maximum(at, far) - SKIN + half
    meet = np.ones((len(solids), len(solids)), dtype=np.bool_)
    for axis in range(3):
        meet &= np.less.outer(low[:, axis], high[:, axis])
    found = np.argwhere(np.triu(meet & meet.T, k=1))
    pairs = [(solids[i], solids[j]) for i, j in found.tolist()]
    return [(a, b) for a, b in pairs if not (a.set and a.set in {b.id, b.set}) and b.set != a.id]


def _lengths(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield one finding per screw type: the copy with least wood before its point."""
    wood = _Wood(design)
    worst: dict[str, tuple[float, PlacedFixing]] = {}
    for fixing in design.fixings:
        if fixing.kind != "screw":
            continue
        left = wood.passed(fixing) - fixing.length
        if fixing.type not in worst or left < worst[fixing.type][0]:
            worst[fixing.type] = (left, fixing)
    for name in sorted(worst):
        left, fixing = worst[name]
        yield clearance(
            About(
                id=f"SCREW-LENGTH:{name}",
                title=f"{name} does not come through on the thinnest sheet",
                about=name,
                family=14,
                source="common practice: length up to what it passes + least thickness - 0.5",
                standing="common practice",
                load_case=f"{fixing.id}: {', '.join(fixing.joins)}",
                working=(
                    *wood.lines(fixing),
                    f"length {fixing.length:g} mm; left {left:.2f} mm, at least {LEFT:g}",
                ),
            ),
            needed=LEFT,
            available=left,
            reading_error=0.0,
            advice=_shorter(catalogue, fixing, left + fixing.length),
        )


def _shorter(catalogue: Catalogue, fixing: PlacedFixing, passed: float) -> tuple[str, ...]:
    """Return the longest screw like it that keeps the wood before its point."""
    like = next((row for row in catalogue.screws if row.name == fixing.type), None)
    fitting = [
        row
        for row in catalogue.screws
        if like is not None
        and (row.kind, row.diameter) == (like.kind, like.diameter)
        and passed - row.length >= LEFT
    ]
    if fitting:
        best = max(fitting, key=lambda row: row.length)
        return (f"{best.name} passes, {passed - best.length:.2f} mm left",)
    return (
        (
            f"no screw on the shelf passes: it may be {passed - LEFT:.1f} mm long at most, or the "
            "sheet behind it thicker by what lacks"
        ),
    )


class _Wood:
    """How much a fixing passes through: looked up once for each piece and direction."""

    def __init__(self, design: Design) -> None:
        self.pieces = {piece.id: piece for piece in design.placed}
        material = {part.mark: part.material for part in design.parts}
        least = {row.material: row.t_min for row in design.thicknesses}
        self.least = {mark: least[name] for mark, name in material.items()}
        self.runners = {
            opening.name: (opening.runner.runner.flange, opening.build.lining)
            for block in design.blocks
            for opening in block.openings
            if opening.runner is not None
        }
        self.known: dict[tuple[str, Point3], tuple[float, bool]] = {}

    def before(self, fixing: PlacedFixing, joined: str) -> tuple[float, float]:
        """Return a runner's flange behind a screw head, and the lining under it. [mm].

        A runner's id begins with its opening; the lining is the drawer's where the screw goes into
        the drawer, else the carcass's.
        """
        opening = joined.rsplit("/", maxsplit=1)[0]
        if opening not in self.runners:
            return min((flange for flange, _ in self.runners.values()), default=0.0), 0.0
        flange, lining = self.runners[opening]
        moving = any(
            self.pieces[name].body == opening for name in fixing.joins if name in self.pieces
        )
        return flange, lining.drawer if moving else lining.carcass

    def deep(self, joined: str, direction: Point3) -> tuple[float, bool]:
        """Return how deep a piece is along a direction, and whether that is its thickness."""
        key = (joined, direction)
        if key not in self.known:
            self.known[key] = self._depth(self.pieces[joined], direction)
        return self.known[key]

    def _depth(self, piece: PlacedPart, direction: Point3) -> tuple[float, bool]:
        along = [
            abs(axis[0] * direction[0] + axis[1] * direction[1] + axis[2] * direction[2])
            for axis in piece.axes
        ]
        k = along.index(max(along))
        if k == 2:
            return min(piece.thickness, self.least[piece.mark]), True
        return (piece.length, piece.width)[k], False

    def passed(self, fixing: PlacedFixing) -> float:
        """Return the sum of what a fixing may pass. [mm]."""
        return sum(
            self.deep(joined, fixing.direction)[0]
            if joined in self.pieces
            else sum(self.before(fixing, joined))
            for joined in fixing.joins
        )

    def lines(self, fixing: PlacedFixing) -> Iterator[str]:
        """Yield that sum, a line each."""
        for joined in fixing.joins:
            if joined not in self.pieces:
                flange, lining = self.before(fixing, joined)
                yield f"runner flange {flange:g} mm" + (f", lining {lining:g} mm" * bool(lining))
                continue
            deep, face = self.deep(joined, fixing.direction)
            word = f"least thickness {deep:g} mm" if face else f"into the edge, {deep:g} mm deep"
            yield f"{joined}: {word}"
