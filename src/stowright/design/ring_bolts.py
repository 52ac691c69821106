"""What bolts lashing rings down: counted with the rings, so that it is bought and fitted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from stowright.design.bolt_choice import bolt_set, large_washers
from stowright.design.pieces import Piece
from stowright.model.catalogue import Catalogue

__all__ = ["RING", "with_ring_bolts"]

RING = "lashing-ring"
#: Two bolts a ring, the sheet of its base, and the hole for one (common practice). [mm]
_THREAD, _EACH, _BASE, _HOLE = "M6", 2, 3.0, 6.6

type _Row = tuple[str, int, str]
type _Count = tuple[str, int]


def with_ring_bolts(
    rows: Iterable[_Row], pieces: Iterable[Piece], catalogue: Catalogue
) -> Iterator[_Row]:
    """Yield goods as they are, rings with the bolts, washers and nuts of each after them.

    Args:
        rows: Goods without a place of their own: name, how many, where.
        pieces: Every piece in the bay; a ring stands on a deck's or a tray's sheet.
        catalogue: The shelf.
    """
    under = tuple(pieces)
    for name, count, where in rows:
        about, _, how = where.partition(": ")
        goods = _goods(_thickness(about, under), catalogue) if name == RING else None
        if goods is None:
            yield name, count, where
            continue
        told = (
            f"{about}: {how}; {_EACH} bolts a ring through holes of {_HOLE:g} mm, large washer and "
            "lock nut below, where nothing slides or stands under them"
        )
        yield name, count, told
        yield from ((each, n * count, told) for each, n in goods)


def _thickness(about: str, pieces: Iterable[Piece]) -> float | None:
    """Return the thickness of what a ring stands on: a deck by its name, a tray by its opening."""
    roles = {"deck", "tray-base", "drawer-bottom"}
    found = [p.thickness for p in pieces if p.role in roles and about in {p.block, p.opening}]
    return max(found, default=None)


def _goods(thickness: float | None, catalogue: Catalogue) -> list[_Count] | None:
    """Return what bolts one ring down; None where no stock length comes right."""
    large = large_washers(catalogue, _THREAD)
    if thickness is None or not large:
        return None
    chosen = bolt_set(
        catalogue,
        thread=_THREAD,
        head="hex",
        stack=thickness + _BASE,
        head_washer=None,
        nut_washer=large[0],
    )
    if chosen is None or chosen.nut is None:
        return None
    counts: Counter[str] = Counter({chosen.bolt.name: _EACH})
    for washer in chosen.nut_washers:
        counts[washer.name] += _EACH
    counts[chosen.nut.name] += _EACH
    return list(counts.items())
