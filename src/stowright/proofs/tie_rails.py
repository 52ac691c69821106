"""Rails on a deck: what one tie point takes as its maker states it, and the bolts that hold it.

The rail's own strength is stated by its maker and is not looked into. What is proved is the way
from the rail into the deck: one bolt, the nearest, carries all of a tie point, and its washer must
not come through the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from stowright.model.bay import Anchor
from stowright.model.catalogue import Catalogue
from stowright.model.design import DeckCargo, Design
from stowright.model.finding import Finding
from stowright.model.geometry import Box, Point3, Span
from stowright.model.job import Deck, DeckRail
from stowright.proofs.anchor_path import washer_on_panel_n
from stowright.proofs.index import box_of
from stowright.proofs.judge import About, complete, not_proved, ratio

__all__ = ["rail_anchors", "rail_findings"]

#: On what a tie point takes: a variable action (EN 1990, from memory).
_FACTOR = 1.5
_PASS = 0.9
_SOURCE = (
    "head pull-through in panels (European screw assessments) taken for a washer, and panel shear "
    "round it; the rail itself by its maker's rating"
)
#: A strap runs out along the rail as far as across to it, so much at least (judgement). [mm]
_RUNS_OUT = 100.0
#: Bolts give way to what is in their way by this much before it is told (judgement). [mm]
_SETTLED = 50.0


def rail_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield for each rail whether its bolts take what one of its tie points is stated to take."""
    for n, deck in enumerate(design.job.decks, start=1):
        for k, rail in enumerate(deck.rails, start=1):
            yield _rail(design, catalogue, deck, rail, f"deck[{n}].rails[{k}].rating")


def _rail(design: Design, catalogue: Catalogue, deck: Deck, rail: DeckRail, key: str) -> Finding:
    bolts = _bolts(design, deck.name, rail.name)
    about = About(
        id=f"TIE-RAIL:{deck.name}:{rail.name}",
        title=f"{rail.name} of {deck.name} is held by its bolts",
        about=deck.name,
        family=9,
        source=_SOURCE,
        standing="from memory",
        load_case="one tie point pulled straight up",
        working=(f"{len(bolts)} bolts; the nearest one carries all of a tie point",),
    )
    if not bolts:
        lacking = "room for two bolts along it"
        return complete(about, missing=(lacking,), advice=("a greater inset, or another edge",))
    if rail.rating_n is None:
        needs = (f"{key}: what one tie point takes, a working load in N, by its maker",)
        return not_proved(about, needs=needs)
    panel = catalogue.material(deck.build.deck_sheet)
    if panel.basis != "characteristic":
        needs = (f"catalogue material {panel.name}: strengths on a characteristic basis",)
        return not_proved(about, needs=needs)
    wide = _washer(design, catalogue, bolts[0])
    thick = design.thickness(panel.name).t_min
    limit = washer_on_panel_n(panel, washer_mm=wide, thickness_mm=thick)
    apart = tuple(_apart(design, deck, rail))
    if apart and _FACTOR * rail.rating_n <= limit:
        return not_proved(about, needs=apart)
    return ratio(
        replace(
            about,
            working=(
                *about.working,
                "1.5 T <= k_mod/1.3 x the lesser of f_head d_w^2 (rho_k/350)^0.8 and pi d_w t f_v",
                (
                    f"T = {rail.rating_n:g} N as stated, d_w = {wide:g} mm, t = {thick:g} mm: "
                    f"{limit:.0f} N"
                ),
            ),
        ),
        demand=_FACTOR * rail.rating_n,
        capacity=limit,
        unit="N",
        basis="characteristic",
        factor=_FACTOR,
        advice=(
            f"count on no more than rating = {_PASS * limit / _FACTOR // 10 * 10:.0f} a tie point",
            "or a strip of steel under the nuts, from bolt to bolt",
        ),
    )


def rail_anchors(design: Design, row: DeckCargo) -> tuple[list[Anchor], tuple[str, ...]]:
    """Return the points of rails that a thing is tied to, or what is not known of them.

    Two points of each rail: beyond either end of the thing as far as the rail stands off it.
    """
    deck = next(each for each in design.job.decks if each.name == row.deck)
    found: list[Anchor] = []
    needs: list[str] = []
    for rail in deck.rails:
        if rail.name not in row.tied_to:
            continue
        bolts = _bolts(design, deck.name, rail.name)
        if rail.rating_n is None:
            needs.append(f"rating of {rail.name} of {deck.name}: what one tie point takes, in N")
        elif not bolts:
            needs.append(f"{rail.name} of {deck.name}: room for it")
        else:
            found += _points(row, rail, bolts, rail.rating_n)
    return [*found[::2], *found[1::2]], tuple(needs)


def _points(
    row: DeckCargo, rail: DeckRail, bolts: list[Point3], rating_n: float
) -> Iterator[Anchor]:
    along = 0 if rail.side in {"left", "right"} else 1
    own, beside = (row.box.x, row.box.y) if along == 0 else (row.box.y, row.box.x)
    ends = Span(low=min(b[along] for b in bolts), high=max(b[along] for b in bolts))
    across = bolts[0][1 - along]
    off = max(_RUNS_OUT, beside.low - across, across - beside.high)
    for at in (own.low - off, own.high + off):
        place = min(max(at, ends.low), ends.high)
        x, y = (place, across) if along == 0 else (across, place)
        yield Anchor(
            what=f"the {rail.name}",
            surface="floor",
            x=x,
            y=y,
            z=row.box.z.low,
            thread="",
            tension=rating_n,
            shear=rating_n,
        )


def _apart(design: Design, deck: Deck, rail: DeckRail) -> Iterator[str]:
    """Yield a line where bolts found no room as near to each other, or to an end, as is asked."""
    along = 0 if rail.side in {"left", "right"} else 1
    bolts = _bolts(design, deck.name, rail.name)
    pieces = [box_of(p) for p in design.placed if p.role == "deck" and p.block == deck.name]
    for box in pieces:
        side = box.x if along == 0 else box.y
        inside = sorted(b[along] for b in bolts if _over(box, b))
        widest = max((b - a for a, b in pairwise((side.low, *inside, side.high))), default=0.0)
        if inside and widest > rail.pitch + _SETTLED:
            yield (
                f"{widest:.0f} mm of {rail.name} have no bolt, {rail.pitch:.0f} mm are asked for: "
                "what lies or moves under the deck leaves no room; the word of the rail's maker "
                "that it bridges that, or another inset or edge"
            )


def _over(box: Box, at: Point3) -> bool:
    return box.x.low <= at[0] <= box.x.high and box.y.low <= at[1] <= box.y.high


def _bolts(design: Design, deck: str, rail: str) -> list[Point3]:
    """Return where a rail's bolts stand."""
    joints = {j.id for j in design.joints if j.kind == "rail" and j.note == f"{rail} of {deck}"}
    return [f.at for f in design.fixings if f.kind == "bolt" and f.joint in joints]


def _washer(design: Design, catalogue: Catalogue, at: Point3) -> float:
    """Return the diameter of the washer under the nut of a bolt. [mm]."""
    names = {
        f.type
        for f in design.fixings
        if f.kind == "washer" and f.at[:2] == at[:2] and f.at[2] <= at[2]
    }
    return max((catalogue.washer(name).outside for name in names), default=0.0)
