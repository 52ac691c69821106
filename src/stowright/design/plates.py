"""Leaves, flanges and brackets screwed to a panel: hinges, stays, latches, holds.

A plate's own thickness is left out when its screws are chosen, on the safe side: a screw that stays
inside the thinnest sheet without the plate stays inside it with one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial

from stowright.design.fixing_ledger import Ledger, unit_vector
from stowright.design.fixing_space import Body, Solid, solid_along
from stowright.design.screw_choice import EDGE_BITE, EDGE_BITE_LEAST, RESERVE, least_bite
from stowright.model.catalogue import Hardware, Screw
from stowright.model.geometry import Point3
from stowright.model.part import Feature, Joint, PlacedFixing

__all__ = ["PLACED_KINDS", "Plate", "joint_of", "put_fitting", "put_plate", "takes_plate"]

#: Kinds of hardware that have a place, so that they count among the fixings.
PLACED_KINDS = frozenset({"hinge", "stay", "latch", "hold-down", "handle"})
#: Wood between two holes, and from a hole's centre to an edge of a face. [mm]
_CLEAR, _EDGE = 3.0, 7.0
#: From a hole's centre to either face where it enters an edge, in diameters (judgement; more is
#: wanted by the rules, which the joint's note says).
_IN_EDGE = 1.2
#: Screws of small hardware: 6 gauge and 3.5 (common practice). [mm]
_THICKEST = 3.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A leaf or flange on one face or edge of a panel.

    Attributes:
        axis, sign: The bay axis its screws run along, and which way they go into the wood.
        points: Where they enter it, in the bay. [mm]
        purpose: In words, for the drawing.
    """

    body: Body
    axis: int
    sign: float
    points: tuple[Point3, ...]
    purpose: str

    @property
    def into_edge(self) -> bool:
        """Whether the screws enter an edge of the ply."""
        return self.body.local[self.axis] != 2


def takes_plate(ledger: Ledger, plate: Plate) -> Screw | None:
    """Return the screw for a plate whose every hole finds free wood; None where one does not."""
    screw = _screw(ledger, plate)
    if screw is None:
        return None
    free = all(_free(ledger, plate, screw, point) for point in plate.points)
    return screw if free else None


def _screw(ledger: Ledger, plate: Plate) -> Screw | None:
    """Return the longest screw that stays inside a face; into an edge the one nearest to 22."""
    body = plate.body
    key = ("plate", body.piece.material, body.piece.thickness, plate.into_edge, _room(plate))
    if key not in ledger.screws_seen:
        small = [
            s
            for s in ledger.catalogue.screws
            if s.kind in {"countersunk", "pan"} and s.diameter <= _THICKEST
        ]
        t_min, _ = ledger.limits(body)
        longest = (min(_room(plate), 100.0) if plate.into_edge else t_min) - RESERVE
        least = EDGE_BITE_LEAST if plate.into_edge else 0.0
        fitting = [s for s in small if max(least, least_bite(s.diameter)) <= s.length <= longest]
        ledger.screws_seen[key] = min(
            fitting, key=lambda s: _rank(s, into_edge=plate.into_edge), default=None
        )
    return ledger.screws_seen[key]


def _rank(screw: Screw, *, into_edge: bool) -> tuple[float, bool, float, str]:
    miss = abs(screw.length - EDGE_BITE) if into_edge else -screw.length
    return (miss, screw.kind != "countersunk", -screw.diameter, screw.name)


def _room(plate: Plate) -> float:
    k = plate.axis
    return plate.body.high[k] - plate.body.low[k]


def _inside(plate: Plate, screw: Screw, point: Point3) -> Solid:
    start = point[plate.axis]
    end = start + plate.sign * screw.length
    return solid_along(plate.axis, start, end, point, screw.diameter / 2.0)


def _free(ledger: Ledger, plate: Plate, screw: Screw, point: Point3) -> bool:
    body = plate.body
    for k in range(3):
        if k == plate.axis:
            continue
        thin = plate.into_edge and body.local[k] == 2
        edge = _IN_EDGE * screw.diameter if thin else _EDGE
        if (
            not body.low[k] + edge <= point[k] + 1.0e-6
            or not point[k] <= body.high[k] - edge + 1e-6
        ):
            return False
    if body.piece.outline and not _on_wood(plate, screw, point):
        return False
    return ledger.space.free((body.id,), _inside(plate, screw, point), clear=_CLEAR, soft=False)


def _on_wood(plate: Plate, screw: Screw, point: Point3) -> bool:
    """Whether a hole and the wood round it lie inside the outline of a shaped panel."""
    body = plate.body
    end = list(point)
    if plate.into_edge:
        start = list(point)
        start[plate.axis] += plate.sign
        end[plate.axis] += plate.sign * screw.length
        along = body.local[plate.axis]
        spots = [body.uvw(start), body.uvw(end)]
        shifts = [(0.0, 0.0), *((0.0, s) if along == 0 else (s, 0.0) for s in (-_EDGE, _EDGE))]
    else:
        spots = [body.uvw(point)]
        shifts = [(a, b) for a in (-_EDGE, _EDGE) for b in (-_EDGE, _EDGE)]
    return all(_in_contour(body, u + a, v + b) for u, v, _ in spots for a, b in shifts)


def _in_contour(body: Body, u: float, v: float) -> bool:
    inside = False
    contour = body.piece.contour
    for (u0, v0), (u1, v1) in zip(contour, (*contour[1:], contour[0]), strict=True):
        if (v0 > v) != (v1 > v) and u < u0 + (u1 - u0) * (v - v0) / (v1 - v0):
            inside = not inside
    return inside


def put_fitting(
    ledger: Ledger,
    row: Hardware,
    *,
    joins: Sequence[str],
    at: Point3,
    axis: int,
    step: str,
    joint: str,
) -> str:
    """Place a hinge, stay, latch, hold or handle itself; return its id for now."""
    make = partial(
        PlacedFixing,
        type=row.name,
        kind=row.kind,
        length=0.0,
        joins=tuple(joins),
        at=(round(at[0], 4), round(at[1], 4), round(at[2], 4)),
        direction=unit_vector(axis, 1.0),
        pilot=0.0,
        step=step,
    )
    return ledger.place(make, step=step, joint=joint)


def put_plate(
    ledger: Ledger, plate: Plate, screw: Screw, *, step: str, joint: str, owner: str
) -> int:
    """Drive the screws of a plate; return how many."""
    body, axis = plate.body, plate.axis
    face = body.face_towards(axis, -plate.sign)
    size = screw.pilot_edge if plate.into_edge else screw.pilot_face
    for point in plate.points:
        fixing = ledger.place(
            partial(
                PlacedFixing,
                type=screw.name,
                kind="screw",
                length=screw.length,
                joins=(body.id,),
                at=(round(point[0], 4), round(point[1], 4), round(point[2], 4)),
                direction=unit_vector(axis, plate.sign),
                pilot=size,
                step=step,
            ),
            step=step,
            joint=joint,
            owner=owner,
        )
        pilot = partial(
            Feature,
            kind="pilot",
            face=face,
            at=body.at_on(face, point),
            size=(size,),
            depth=screw.length,
            through=False,
            purpose=f"pilot for {screw.name}, {plate.purpose}",
        )
        ledger.cut(body, pilot, fixing)
        ledger.space.take(body.id, _inside(plate, screw, point))
    return len(plate.points)


def joint_of(
    joint: str, *, parts: tuple[str, str], screws: Iterable[Screw], count: int, kind: str, note: str
) -> Joint:
    """Return the joint that a fitting makes."""
    names = tuple(dict.fromkeys(screw.name for screw in screws))
    return Joint(
        id=joint,
        kind=kind,
        parts=parts,
        glued=False,
        fixing=" and ".join(names),
        count=count,
        note=note,
    )
