"""Where two pieces touch: the shared rectangle, which face meets which edge, where a screw goes.

A panel that is let into another reaches into its box; the contact then lies at the bottom of the
recess, and the fixing passes what wood is left behind it.
"""

from __future__ import annotations

from dataclasses import dataclass

from stowright.design.fixing_space import Body
from stowright.model.geometry import Span
from stowright.model.part import FeatureFace

__all__ = ["CONTACT_GAP", "Contact", "contact_of", "cover_of"]

#: Pieces up to this far apart still count as touching: what the cut grid may leave. [mm]
CONTACT_GAP = 1.0
#: A shared rectangle narrower than this holds nothing. [mm]
LEAST_WIDTH = 3.0
_TOUCH = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Two pieces that touch, seen along the way a fixing goes: head in the receiver.

    Attributes:
        receiver, entering: What the fixing passes, and what it bites into.
        axis: The bay axis that the fixing runs along.
        sign: +1.0 when it runs up that axis, else -1.0.
        head_at: The receiver's far face on that axis: where the head sits. [mm]
        meet_at: Where the entering piece begins. [mm]
        spans: The shared rectangle, on the other two axes in their order.
        others: Those two axes.
        into_edge: Whether it bites into an edge of the entering piece, not into a face.
    """

    receiver: Body
    entering: Body
    axis: int
    sign: float
    head_at: float
    meet_at: float
    spans: tuple[Span, Span]
    others: tuple[int, int]
    into_edge: bool

    @property
    def passes(self) -> float:
        """What the fixing passes before it bites. [mm]."""
        return abs(self.meet_at - self.head_at)

    @property
    def bite_room(self) -> float:
        """How deep the entering piece is along the fixing. [mm]."""
        k = self.axis
        far = self.entering.high[k] if self.sign > 0.0 else self.entering.low[k]
        return abs(far - self.meet_at)

    @property
    def head_face(self) -> FeatureFace:
        """The receiver's face that the head sits in."""
        return self.receiver.face_towards(self.axis, -self.sign)

    @property
    def bitten_face(self) -> FeatureFace:
        """The entering piece's face or edge that is bitten."""
        return self.entering.face_towards(self.axis, -self.sign)

    def span(self, axis: int) -> Span:
        """Return the shared range on one of the other axes."""
        return self.spans[self.others.index(axis)]


def contact_of(receiver: Body, entering: Body, *, gap: float = CONTACT_GAP) -> Contact | None:
    """Return how two pieces touch, or None when no fixing can run from one into the other.

    The fixing runs through the thickness of the first one. A first piece that touches with its
    edge changes places with the second, so that ``receiver`` of the result is always the one that
    is drilled through; two edges give None.

    Args:
        receiver: The piece that the draft names as the one drilled through.
        entering: The other.
        gap: Widest space between them that still counts as touching. [mm]
    """
    axis = _normal(receiver, entering, gap)
    if axis is None:
        return None
    if receiver.local[axis] != 2:
        if entering.local[axis] != 2:
            return None
        receiver, entering = entering, receiver
    return _seen_along(receiver, entering, axis)


def _normal(a: Body, b: Body, gap: float) -> int | None:
    """Return the axis across the joint: where they touch, else where one reaches into the other."""
    overlaps = [min(a.high[k], b.high[k]) - max(a.low[k], b.low[k]) for k in range(3)]
    touching = [k for k in range(3) if -gap - _TOUCH <= overlaps[k] <= _TOUCH]
    apart = [k for k in range(3) if overlaps[k] < -gap - _TOUCH]
    if apart or len(touching) > 1:
        return None
    if touching:
        axis = touching[0]
    else:
        axis = a.thickness_axis
        if overlaps[axis] > a.piece.thickness - 1.0 or b.local[axis] == 2:
            return None
    if any(overlaps[k] < LEAST_WIDTH for k in range(3) if k != axis):
        return None
    return axis


def _seen_along(receiver: Body, entering: Body, axis: int) -> Contact:
    up = entering.low[axis] + entering.high[axis] > receiver.low[axis] + receiver.high[axis]
    others = ((1, 2), (0, 2), (0, 1))[axis]
    one, two = (
        Span(
            low=max(receiver.low[k], entering.low[k]), high=min(receiver.high[k], entering.high[k])
        )
        for k in others
    )
    return Contact(
        receiver=receiver,
        entering=entering,
        axis=axis,
        sign=1.0 if up else -1.0,
        head_at=receiver.low[axis] if up else receiver.high[axis],
        meet_at=entering.low[axis] if up else entering.high[axis],
        spans=(one, two),
        others=others,
        into_edge=entering.local[axis] != 2,
    )


def cover_of(contact: Contact) -> tuple[float, float, float, float, float, float]:
    """Return a thin solid over the receiver's face where the entering piece covers it."""
    found = [0.0] * 6
    near = contact.receiver.high if contact.sign > 0.0 else contact.receiver.low
    face = near[contact.axis]
    found[2 * contact.axis], found[2 * contact.axis + 1] = face - 0.5, face + 0.5
    for k, span in zip(contact.others, contact.spans, strict=True):
        found[2 * k], found[2 * k + 1] = span.low, span.high
    return (found[0], found[1], found[2], found[3], found[4], found[5])
