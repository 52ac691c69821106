"""Rails with tie points, bolted through a deck along its edges, with a large washer under each nut.

A rail lies on the deck and is cut from bought lengths. Its bolts are set from below while the deck
is still loose: they keep off what the deck lies on and off what drawers sweep.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from stowright.design.bolt_choice import BoltSet, bolt_set, large_washers
from stowright.design.fixing_bolts import Bolted, bolt_hole, nut_solid, put_bolt
from stowright.design.fixing_ledger import Ledger
from stowright.design.fixing_rows import blocked_stretches, settle, wanted_places
from stowright.design.fixing_space import Body, Interval, solid_along
from stowright.design.plates import put_fitting
from stowright.model.catalogue import Hardware
from stowright.model.geometry import Point2, Point3
from stowright.model.job import Deck, DeckRail, Job
from stowright.model.part import Joint

__all__ = ["RAIL", "place_tie_rails"]

#: The bought rail, by its name in the catalogue.
RAIL = "tie-down-rail"
#: Of a rail: wood free before its ends, its bolts from its ends, and the sheet of its base that a
#: bolt's head lies on (common practice; measure yours). [mm]
_BEFORE_END, _END, _BASE = 20.0, 30.0, 3.0
#: Kept free round a nut of what slides beneath, and of wood round a hole. [mm]
_CLEAR, _WOOD = 3.0, 6.0
_THREADS = ("M6", "M8")
_LEAST_RUN = 200.0
#: How much further in a rail without room is tried, to say where there is some. [mm]
_FURTHER = (20.0, 40.0, 60.0, 80.0, 100.0, 120.0)


@dataclass(frozen=True, slots=True)
class _Run:
    """Where a rail lies on one piece of a deck: along an axis, at a place across it."""

    body: Body
    along: int
    across_at: float
    low: float
    high: float

    def spot(self, at: float) -> Point3:
        point = [0.0, 0.0, self.body.high[2]]
        point[self.along], point[1 - self.along] = at, self.across_at
        return (point[0], point[1], point[2])


def place_tie_rails(ledger: Ledger, job: Job) -> None:
    """Bolt every rail that a deck of the job asks for, and say what cannot be."""
    row = next((row for row in ledger.catalogue.hardware if row.name == RAIL), None)
    for deck in job.decks:
        bodies = [
            body
            for body in ledger.space.bodies.values()
            if body.piece.role == "deck" and body.piece.block == deck.name
        ]
        for rail in deck.rails:
            if row is None:
                ledger.warn(f"{rail.name} of {deck.name}: the catalogue has no {RAIL}")
            elif bodies:
                _one_rail(ledger, deck, rail, row, bodies)


def _one_rail(
    ledger: Ledger, deck: Deck, rail: DeckRail, row: Hardware, bodies: Sequence[Body]
) -> None:
    runs = [run for run in (_run(rail, body, bodies) for body in bodies) if run is not None]
    placed = [_bolted(ledger, deck, rail, row, run) for run in runs]
    length = sum(run.high - run.low for run, count in zip(runs, placed, strict=True) if count)
    if not any(placed):
        clear = next((n for n in _FURTHER if _would_go(ledger, rail, n, bodies)), None)
        help_ = f"; inset = {rail.inset + clear:g} mm has room" if clear is not None else ""
        ledger.warn(
            f"{rail.name} of {deck.name}: no room for two bolts along it {rail.inset:g} mm from "
            f"the edge, no rail is made{help_}"
        )
        return
    if deck.kind == "lift-out":
        ledger.warn(f"{rail.name} of {deck.name}: a load tied to it pulls at the holds of the deck")
    bought = sum(ceil((run.high - run.low) / row.size[0] - 1.0e-9) for run in runs)
    ledger.note(
        f"{rail.name} of {deck.name}: {length:.0f} mm of {row.name} cut from {bought}, "
        f"{sum(placed)} bolts with large washers under their nuts, before the deck is fixed down"
    )


def _would_go(ledger: Ledger, rail: DeckRail, further: float, bodies: Sequence[Body]) -> bool:
    """Whether a rail that lies further in has room for its bolts on every piece it lies on."""
    moved = replace(rail, inset=rail.inset + further)
    runs = [run for run in (_run(moved, body, bodies) for body in bodies) if run is not None]
    choices = [_choice(ledger, run.body.piece.thickness) for run in runs]
    return bool(runs) and all(
        choice is not None and len(_places(ledger, moved, run, choice)) >= 2
        for run, choice in zip(runs, choices, strict=True)
    )


def _run(rail: DeckRail, body: Body, bodies: Sequence[Body]) -> _Run | None:
    """Return where a rail lies on a piece; None where that does not reach the deck's edge."""
    along = 0 if rail.side in {"left", "right"} else 1
    across, high_side = 1 - along, rail.side in {"left", "cab"}
    ends = body.high if high_side else body.low
    outer = [other.high[across] if high_side else other.low[across] for other in bodies]
    edge = max(outer) if high_side else min(outer)
    if abs(ends[across] - edge) > 1.0:
        return None
    low, high = body.low[along] + _BEFORE_END, body.high[along] - _BEFORE_END
    at = edge - rail.inset if high_side else edge + rail.inset
    if high - low < _LEAST_RUN or not body.low[across] < at < body.high[across]:
        return None
    return _Run(body, along, round(at, 4), round(low, 4), round(high, 4))


def _bolted(ledger: Ledger, deck: Deck, rail: DeckRail, row: Hardware, run: _Run) -> int:
    """Place a rail and its bolts on one piece; return how many bolts it got."""
    choice = _choice(ledger, run.body.piece.thickness)
    places = _places(ledger, rail, run, choice) if choice is not None else ()
    if choice is None or len(places) < 2:
        return 0
    joint, step, said = ledger.next_joint(), "deck", f"{rail.name} of {deck.name}"
    many = ceil((run.high - run.low) / row.size[0] - 1.0e-9)
    for n in range(many):
        middle = run.low + (n + 0.5) * (run.high - run.low) / many
        put_fitting(
            ledger, row, joins=(run.body.id,), at=run.spot(middle), axis=2, step=step, joint=joint
        )
    for at in places:
        put_bolt(ledger, _bolt_at(run, choice, at, joint=joint, purpose=said))
    made = Joint(
        id=joint,
        kind="rail",
        parts=(run.body.id, run.body.id),
        glued=False,
        fixing=choice.bolt.name,
        count=len(places),
        note=said,
    )
    ledger.join(step, made)
    return len(places)


def _choice(ledger: Ledger, thickness: float) -> BoltSet | None:
    """Return the thinnest bolt that comes right through rail and deck, a large washer beneath."""
    for thread in _THREADS:
        washers = large_washers(ledger.catalogue, thread)
        found = bolt_set(
            ledger.catalogue,
            thread=thread,
            head="hex",
            stack=thickness + _BASE,
            head_washer=None,
            nut_washer=washers[0] if washers else None,
        )
        if found is not None:
            return found
    return None


def _bolt_at(run: _Run, choice: BoltSet, at: float, *, joint: str, purpose: str) -> Bolted:
    x, y, z = run.spot(at)
    return Bolted(
        set=choice,
        through=(run.body,),
        beyond=(),
        axis=2,
        sign=-1.0,
        seat=(round(x, 4), round(y, 4), round(z + _BASE, 4)),
        far=run.body.low[2],
        joint=joint,
        step="deck",
        purpose=purpose,
    )


def _places(ledger: Ledger, rail: DeckRail, run: _Run, choice: BoltSet) -> tuple[float, ...]:
    """Return where bolts stand along a rail: as near as they can to an even pitch."""
    space, body, along = ledger.space, run.body, run.along
    probe = _bolt_at(run, choice, 0.0, joint="", purpose="")
    hole = bolt_hole(choice.bolt) / 2.0
    shank = solid_along(2, body.high[2], body.low[2], probe.seat, hole)
    nut = nut_solid(probe)
    blocked: list[Interval] = blocked_stretches(
        space.hard.get(body.id, []), shank, along, clear=_WOOD
    )
    others = [*space.standing(but=(body.id,)), *space.hard.get("air", [])]
    blocked += blocked_stretches(others, nut, along, clear=1.0)
    blocked += blocked_stretches(space.moving, nut, along, clear=_CLEAR)
    size = run.high - run.low
    local = [(a - run.low, b - run.low) for a, b in blocked]
    wanted = wanted_places(size, end=_END, pitch=rail.pitch)
    settled = settle(wanted, local, low=_END / 2.0, high=size - _END / 2.0, spacing=40.0)
    found = (round(run.low + t, 4) for t in settled)
    reach = max(choice.nut_reach, hole + _WOOD)
    return tuple(at for at in found if _on_wood(body, run.spot(at), reach))


def _on_wood(body: Body, spot: Point3, reach: float) -> bool:
    """Whether a washer beneath lies on the piece all round, whatever its outline."""
    u, v = body.at_on(body.face_towards(2, 1.0), spot)
    ring = ((0.0, 0.0), (reach, 0.0), (-reach, 0.0), (0.0, reach), (0.0, -reach))
    return all(_inside((u + a, v + b), body.piece.contour) for a, b in ring)


def _inside(point: Point2, contour: Sequence[Point2]) -> bool:
    """Whether a point lies within a contour: a line from it crosses that an odd number of times."""
    x, y = point
    within = False
    for (ax, ay), (bx, by) in zip(contour, (*contour[1:], contour[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            within = not within
    return within
