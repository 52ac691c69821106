"""Handles bolted on from inside, through a front and the inner front behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stowright.design.bolt_choice import BoltSet, anchor_bolt, large_washers
from stowright.design.fixing_bolts import Bolted, put_bolt
from stowright.design.fixing_ledger import Ledger
from stowright.design.fixing_space import Body
from stowright.design.plates import put_fitting
from stowright.model.catalogue import Hardware
from stowright.model.design import OpeningDesign
from stowright.model.geometry import Point2, Point3
from stowright.model.part import Joint

__all__ = ["bolt_handle"]

#: Thread of a handle's own tapped posts (common practice).
_THREAD = "M5"


def bolt_handle(
    ledger: Ledger,
    opening: OpeningDesign,
    handle: Hardware,
    bodies: Sequence[Body],
    across: int,
    spots: Sequence[Point2],
) -> None:
    """Bolt a handle on at places (across, up) in the bay, heads inside.

    Args:
        ledger: The account.
        opening: The opening that the front closes.
        handle: The handle.
        bodies: The front, and the inner front where there is one.
        across: The bay axis across the front.
        spots: Where its bolts stand.
    """
    into, front = 1 - across, bodies[0]
    clear = (opening.clear.x, opening.clear.y)[into]
    outward = -1.0 if clear.middle > (front.low[into] + front.high[into]) / 2.0 else 1.0
    outer = front.low[into] if outward < 0.0 else front.high[into]
    last = bodies[-1]
    inner = last.high[into] if outward < 0.0 else last.low[into]
    chosen = next(_bolts(ledger, abs(outer - inner)), None)
    if chosen is None:
        ledger.warn(
            f"{opening.name}: no {_THREAD} bolt in the catalogue reaches the {handle.name} through "
            f"{abs(outer - inner):.1f} mm"
        )
        return
    joint = ledger.next_joint()
    middle = (sum(a for a, _ in spots) / len(spots), sum(z for _, z in spots) / len(spots))
    put_fitting(
        ledger,
        handle,
        joins=tuple(body.id for body in bodies),
        at=_point(across, middle, outer),
        axis=across,
        step="front",
        joint=joint,
    )
    for spot in spots:
        put_bolt(
            ledger,
            Bolted(
                set=chosen,
                through=tuple(bodies[::-1]),
                beyond=(),
                axis=into,
                sign=outward,
                seat=_point(across, spot, inner),
                far=outer,
                joint=joint,
                step="front",
                purpose=f"bolt of the {handle.name}",
            ),
        )
    ledger.join(
        "front",
        Joint(
            id=joint,
            kind="handle",
            parts=(front.id, last.id),
            glued=False,
            fixing=chosen.bolt.name,
            count=len(spots),
        ),
    )


def _bolts(ledger: Ledger, stack: float) -> Iterator[BoltSet]:
    """Yield bolts that turn one to two diameters into the handle: flush heads first."""
    washer = next(iter(large_washers(ledger.catalogue, _THREAD)), None)
    for head in ("countersunk", "hex"):
        found = anchor_bolt(
            ledger.catalogue,
            thread=_THREAD,
            head=head,
            stack=stack,
            head_washer=washer if head == "hex" else None,
        )
        if found is not None:
            yield found


def _point(across: int, spot: Point2, at: float) -> Point3:
    found = [round(at, 4), round(at, 4), round(spot[1], 4)]
    found[across] = round(spot[0], 4)
    return (found[0], found[1], found[2])
