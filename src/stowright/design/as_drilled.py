"""Pieces that are cut keep their holes too; what the design would now have elsewhere is told.

A hole within reach of a hand drill's error of where it is wanted serves as it is. Another one is
drilled beside it, and where the two meet the old one is filled first. A groove or a cut-out can be
widened, never moved: a piece that needs it elsewhere no longer serves.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import hypot

from stowright.design.pieces import Piece
from stowright.model.part import Feature
from stowright.model.refit import FrozenPart, Redrill, Refit

__all__ = ["BY_HAND", "as_drilled"]

#: Holes drilled by hand stand where they are wanted within so much (common practice). [mm]
BY_HAND = 1.0
#: A blind hole this much shallower, or any deeper one, holds its screw as well (common practice).
#: A groove is as deep as asked within this. [mm]
DEEPER = 2.0
#: A hole to put the hand through serves this far from where it is wanted (judgement). [mm]
A_HAND = 10.0
_ROUND = frozenset({"hole", "pilot"})
_HAND = "hand-hole"
_SAME = 1.0e-6


def as_drilled(
    pieces: tuple[Piece, ...], refit: Refit | None
) -> tuple[tuple[Piece, ...], Refit | None]:
    """Return the pieces, those that are cut with the holes they have, and what that asks for."""
    rows = {
        name: row for row in refit.frozen for name in row.pieces if row.features is not None
    } if refit else {}  # fmt: skip
    if refit is None or not rows:
        return pieces, refit
    made, asked = [], []
    for piece in pieces:
        row = rows.get(piece.id)
        if row is None or not _as_large(piece, row):
            made.append(piece)
            continue
        kept, change = _kept(piece, row)
        made.append(kept)
        if change is not None:
            asked.append(change)
    return tuple(made), replace(refit, redrills=tuple(asked))


def _as_large(piece: Piece, row: FrozenPart) -> bool:
    return abs(piece.length - row.length) <= _SAME and abs(piece.width - row.width) <= _SAME


def _kept(piece: Piece, row: FrozenPart) -> tuple[Piece, Redrill | None]:
    """Return a piece with the features that were cut, and what is wanted beyond them."""
    left = list(row.features or ())
    served: dict[Feature, Feature] = {}
    wanted: list[Feature] = []
    for feature in piece.features:
        old = _serving(feature, left)
        if old is None:
            wanted.append(feature)
        else:
            left.remove(old)
            served[old] = replace(old, fixing=feature.fixing)
    features = tuple(served.get(old, replace(old, fixing="")) for old in row.features or ())
    kept = replace(piece, features=features)
    outline = row.outline or piece.contour
    shaped = any(
        abs(a - b) > _SAME
        for one, two in zip(outline, piece.contour, strict=False)
        for a, b in zip(one, two, strict=True)
    )
    if shaped or len(outline) != len(piece.contour):
        kept = replace(kept, outline=outline)
    if not wanted and not shaped:
        return kept, None
    return kept, _asked(piece, row, wanted, left, shaped=shaped)


def _asked(
    piece: Piece, row: FrozenPart, wanted: list[Feature], left: list[Feature], *, shaped: bool
) -> Redrill:
    round_ = [one for one in wanted if one.kind in _ROUND]
    deepen = tuple(one for one in round_ if any(_begun(old, one) for old in left))
    drill = tuple(one for one in round_ if one not in deepen)
    widen, lost = [], ["its outline"] if shaped else []
    for one in wanted:
        if one.kind in _ROUND:
            continue
        if any(_inside(old, one) for old in left if old.kind == one.kind):
            widen.append(one)
        else:
            lost.append(one.purpose or one.kind)
    fill = tuple(old for old in left if any(_meet(old, new) for new in drill))
    return Redrill(
        mark=row.mark,
        piece=piece.id,
        name=piece.name,
        drill=drill,
        fill=fill,
        widen=tuple(widen),
        lost=tuple(dict.fromkeys(lost)),
        deepen=deepen,
    )


def _begun(old: Feature, new: Feature) -> bool:
    """Whether a hole is there and need only be drilled deeper, or right through."""
    if (old.kind, old.face, old.size) != (new.kind, new.face, new.size) or old.through:
        return False
    deeper = new.through or new.depth > old.depth
    return deeper and hypot(old.at[0] - new.at[0], old.at[1] - new.at[1]) <= BY_HAND


def _serving(feature: Feature, old: list[Feature]) -> Feature | None:
    """Return the nearest cut feature that does what one is wanted for."""
    near = sorted(_candidates(feature, old), key=lambda pair: pair[0])
    return near[0][1] if near else None


def _candidates(feature: Feature, old: list[Feature]) -> Iterator[tuple[float, Feature]]:
    for one in old:
        if (one.kind, one.face, len(one.size)) != (feature.kind, feature.face, len(feature.size)):
            continue
        off = hypot(one.at[0] - feature.at[0], one.at[1] - feature.at[1])
        grown = max(abs(a - b) for a, b in zip(one.size, feature.size, strict=True))
        less, more = feature.depth - one.depth, one.depth - feature.depth
        round_ = one.kind in _ROUND
        deep = (one.through and feature.through) or (less <= DEEPER and (round_ or more <= DEEPER))
        near = A_HAND if feature.purpose == _HAND else BY_HAND
        if off <= near and grown <= (_SAME if one.kind in _ROUND else BY_HAND) and deep:
            yield off, one


def _inside(old: Feature, new: Feature) -> bool:
    """Whether a rectangle that is cut lies within the one that is wanted."""
    if old.face != new.face or len(old.size) != 2 or len(new.size) != 2:
        return False
    return (
        all(
            new.at[k] <= old.at[k] + _SAME
            and old.at[k] + old.size[k] <= new.at[k] + new.size[k] + _SAME
            for k in (0, 1)
        )
        and old.depth <= new.depth + _SAME
    )


def _meet(old: Feature, new: Feature) -> bool:
    """Whether a new hole runs into an old one, or so near it that the wood between breaks out."""
    if old.kind not in _ROUND or old.face != new.face:
        return False
    off = hypot(old.at[0] - new.at[0], old.at[1] - new.at[1])
    return off < old.size[0] + new.size[0]
