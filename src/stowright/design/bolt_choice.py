"""Bolts with their nuts and washers: the stock length that shows one to three threads."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians

from stowright.model.catalogue import Bolt, Catalogue, Nut, Washer

__all__ = [
    "BoltSet",
    "anchor_bolt",
    "bolt_set",
    "head_radius",
    "large_washers",
    "nut_radius",
    "plates",
    "sinks_in",
]

#: Threads that must show past a nut, and that may at most (at least one: shop practice). [pitches]
_SHOWS_LEAST, _SHOWS_MOST = 1.0, 3.0
#: Plain washers that may be put under a nut to bring a stock length right.
_MOST_WASHERS = 3
_GRADES = ("8.8", "A2-70", "10.9", "4.8")
_DUST = 1.0e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltSet:
    """A bolt with what goes on it.

    Attributes:
        head_washer: Under the head, or None.
        nut_washers: From the work outward.
        nut: None where it turns into a thread that is there already.
        shows: Thread past the nut; depth in the thread where there is no nut. [mm]
    """

    bolt: Bolt
    head_washer: Washer | None
    nut_washers: tuple[Washer, ...]
    nut: Nut | None
    shows: float

    @property
    def head_stands(self) -> float:
        """How far head and washer stand proud. [mm]."""
        if self.bolt.head == "countersunk":
            return 0.0
        washer = self.head_washer.thickness if self.head_washer else 0.0
        return self.bolt.head_height + washer

    @property
    def head_reach(self) -> float:
        """Radius that head and washer take up. [mm]."""
        washer = self.head_washer.outside / 2.0 if self.head_washer else 0.0
        return max(head_radius(self.bolt), washer)

    @property
    def nut_stands(self) -> float:
        """How far nut, washers and thread stand proud. [mm]."""
        if self.nut is None:
            return 0.0
        return sum(w.thickness for w in self.nut_washers) + self.nut.height + self.shows

    @property
    def nut_reach(self) -> float:
        """Radius that nut and washers take up. [mm]."""
        if self.nut is None:
            return 0.0
        widest = max((_half(w) for w in self.nut_washers), default=0.0)
        return max(nut_radius(self.nut), widest)


def sinks_in(bolt: Bolt, thickness: float) -> bool:
    """Whether a head lies flush in a panel: it may take half the thickness (judgement).

    A head that lies on the face needs no wood.

    Args:
        bolt: The bolt.
        thickness: Least thickness of the panel. [mm]
    """
    return bolt.head != "countersunk" or bolt.head_height <= thickness / 2.0


def head_radius(bolt: Bolt) -> float:
    """Return the radius of a head, over the corners of a hexagon. [mm]."""
    half = bolt.across_flats / 2.0
    return half / cos(radians(30.0)) if bolt.head == "hex" else half


def nut_radius(nut: Nut) -> float:
    """Return the radius of a nut over its corners. [mm]."""
    return nut.across_flats / 2.0 / cos(radians(30.0))


def _half(washer: Washer) -> float:
    return washer.outside / 2.0


def large_washers(catalogue: Catalogue, thread: str) -> tuple[Washer, ...]:
    """Return the round washers at least 3 d wide (for timber, from memory), widest first."""
    least = 3.0 * max((b.diameter for b in catalogue.bolts if b.thread == thread), default=0.0)
    found = [
        w
        for w in catalogue.washers
        if w.thread == thread and w.shape == "round" and w.outside >= least - _DUST
    ]
    return tuple(sorted(found, key=lambda w: (-w.outside, w.name)))


def plates(catalogue: Catalogue, thread: str) -> tuple[Washer, ...]:
    """Return the spreader plates of a thread, smallest first."""
    found = [w for w in catalogue.washers if w.thread == thread and w.shape == "square"]
    return tuple(sorted(found, key=lambda w: (w.outside, w.name)))


def bolt_set(
    catalogue: Catalogue,
    *,
    thread: str,
    head: str,
    stack: float,
    head_washer: Washer | None,
    nut_washer: Washer | None,
) -> BoltSet | None:
    """Return the bolt, nut and washers for a stack, or None when no stock length comes right.

    length = washers + stack + nut + what shows; a full lock nut first, then a thin one, then more
    washers, a plain nut last.

    Args:
        catalogue: The shop's shelf.
        thread: ``M8``.
        head: ``hex``, ``coach`` or ``countersunk``.
        stack: Thickness gripped, a countersunk head included. [mm]
        head_washer: Washer under the head; not under a coach or countersunk head.
        nut_washer: Washer or plate under the nut.
    """
    under_head = head_washer if head == "hex" else None
    above = stack + (under_head.thickness if under_head else 0.0)
    plain = _plain_washer(catalogue, thread)
    own = (nut_washer,) if nut_washer else ()
    for nut in _nuts(catalogue, thread):
        for bolts in _by_grade(catalogue, thread, head):
            for extra in range(_MOST_WASHERS + 1 if plain else 1):
                washers = (*own, *((plain,) * extra if plain else ()))
                fixed = above + nut.height + sum(w.thickness for w in washers)
                bolt = next((b for b in bolts if _shows_enough(b, b.length - fixed)), None)
                if bolt is not None:
                    return BoltSet(
                        bolt=bolt,
                        head_washer=under_head,
                        nut_washers=washers,
                        nut=nut,
                        shows=round(bolt.length - fixed, 4),
                    )
    return None


def _nuts(catalogue: Catalogue, thread: str) -> list[Nut]:
    """Return nuts, best first: the full lock nut, lower ones, plain nuts last."""
    found = [n for n in catalogue.nuts if n.thread == thread and n.kind in {"insert-lock", "plain"}]
    return sorted(found, key=lambda n: (n.kind == "plain", -n.height, n.name))


def _by_grade(catalogue: Catalogue, thread: str, head: str) -> list[list[Bolt]]:
    """Return bolts by grade, the usual grade first, the shortest of each first."""
    found = [b for b in catalogue.bolts if b.thread == thread and b.head == head]
    grades = sorted({b.grade for b in found}, key=lambda g: (_grade(g), g))
    return [sorted((b for b in found if b.grade == g), key=lambda b: b.length) for g in grades]


def _shows_enough(bolt: Bolt, shows: float) -> bool:
    low, high = _SHOWS_LEAST * bolt.pitch, _SHOWS_MOST * bolt.pitch
    return low - _DUST <= shows <= high + _DUST


def _grade(grade: str) -> int:
    return _GRADES.index(grade) if grade in _GRADES else len(_GRADES)


def _plain_washer(catalogue: Catalogue, thread: str) -> Washer | None:
    found = [w for w in catalogue.washers if w.thread == thread and w.shape == "round"]
    return min(found, key=lambda w: (w.outside, w.name), default=None)


def anchor_bolt(
    catalogue: Catalogue, *, thread: str, head: str, stack: float, head_washer: Washer | None
) -> BoltSet | None:
    """Return the bolt that turns into a thread which is there: one to two diameters deep.

    Args:
        catalogue: The shop's shelf.
        thread: The anchor's.
        head: ``hex`` or ``countersunk``.
        stack: What lies between the head's seat and the thread. [mm]
        head_washer: Washer under a hexagon head.
    """
    under_head = head_washer if head == "hex" else None
    fixed = stack + (under_head.thickness if under_head else 0.0)
    fitting = [
        b
        for b in catalogue.bolts
        if b.thread == thread
        and b.head == head
        and b.diameter - _DUST <= b.length - fixed <= 2.0 * b.diameter + _DUST
    ]
    if not fitting:
        return None
    bolt = min(fitting, key=lambda b: (_grade(b.grade), b.length, b.name))
    return BoltSet(
        bolt=bolt,
        head_washer=under_head,
        nut_washers=(),
        nut=None,
        shows=round(bolt.length - fixed, 4),
    )
