"""Cargo on a deck: it has room there, and straps hold it every way under the job's rule set.

Straps go to rings or rails bolted to the deck, and then the unit's own bolts carry it on (it
counts in their proofs), or to factory anchors of stated strength that the unit does not cover.
Where nothing ties it down it is not proved, and the finding says what would.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.restraint import RuleSet, rule_set
from stowright.model.bay import Anchor
from stowright.model.catalogue import Catalogue, Hardware, Standing
from stowright.model.design import DeckCargo, Design
from stowright.model.finding import Finding
from stowright.proofs.judge import About, clearance, complete, not_proved, ratio, weakest
from stowright.proofs.lashings import LEAST, Strap, held_n, pushes_on, ring_straps, to_anchors
from stowright.proofs.tie_rails import rail_anchors

__all__ = ["cargo_by_name", "deck_cargo_findings"]

_RING = "lashing-ring"
_USUAL = ("cam-strap-25", "ratchet-strap-25")
_PASS = 0.9
#: Most straps that are proposed on one thing.
_MOST = 8
#: Cargo may reach past the deck by this share of its own size (common practice).
_HANGS = 1.0 / 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tie:
    """A set of straps on one thing, in words, with the standing of what they hold."""

    words: str
    straps: tuple[Strap, ...]
    standing: Standing
    key: str


def cargo_by_name(design: Design) -> dict[tuple[str, str], list[DeckCargo]]:
    """Return what rides on decks by what it is and the deck, copies together."""
    found: dict[tuple[str, str], list[DeckCargo]] = {}
    for row in design.deck_cargo:
        found.setdefault((row.what, row.deck), []).append(row)
    return found


def deck_cargo_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield findings about room, height and straps of everything that rides on a deck."""
    rules = rule_set(design.job.rules)
    for rows in cargo_by_name(design).values():
        yield _has_room(design, rows)
        yield from _under_roof(design, rows)
        yield _held(design, rows, rules, catalogue)


def _has_room(design: Design, rows: list[DeckCargo]) -> Finding:
    first = rows[0]
    missing = []
    for row in rows:
        size = min(row.box.x.size, row.box.y.size)
        if not row.fits:
            missing.append(f"no free place for {row.what} {row.copy} on {row.deck}")
        elif row.hangs_over > _HANGS * size:
            missing.append(
                f"{row.what} {row.copy} reaches {row.hangs_over:.0f} mm past {row.deck}, more than "
                f"a third of its {size:.0f} mm"
            )
        elif row.box.x.low < _lean(design, row):
            missing.append(f"{row.what} {row.copy} stands in the way of the shut tail")
    places = tuple(
        f"{row.what} {row.copy}: x {row.box.x.low:.0f} to {row.box.x.high:.0f}, y "
        f"{row.box.y.low:.0f} to {row.box.y.high:.0f}, past the deck {row.hangs_over:.0f} mm"
        for row in rows
    )
    return complete(
        About(
            id=f"ON-DECK:{first.what}:{first.deck}",
            title=f"{first.what} has room on {first.deck}",
            about=first.deck,
            family=1,
            source="geometry; a third of it past the edge at most (common practice)",
            standing="common practice",
            load_case="stowed",
            working=places,
        ),
        missing=tuple(missing),
        advice=(
            "another place: at = [x, y] of its middle, or turned (size = [width, length, height])",
            "or fewer things on this deck",
        ),
    )


def _lean(design: Design, row: DeckCargo) -> float:
    """Return how far the shut tail stands in at the cargo's heights, where readings tell."""
    low, high = row.box.z.low, row.box.z.high
    return max(
        (lean.x for lean in design.job.bay.tail_lean if low - 100.0 <= lean.height <= high),
        default=float("-inf"),
    )


def _under_roof(design: Design, rows: list[DeckCargo]) -> Iterator[Finding]:
    bay, first = design.job.bay, rows[0]
    if bay.clear_height is None and bay.kind in {"tub", "tray"}:
        return
    above = max((i.clear_above for i in design.job.carry if i.what == first.what), default=0.0)
    needed = first.box.z.high + above
    about = About(
        id=f"ON-DECK-HEIGHT:{first.what}:{first.deck}",
        title=f"{first.what} on {first.deck} stays under the roof",
        about=first.deck,
        family=1,
        source="geometry",
        standing="published",
        load_case="stowed",
        working=(
            (
                f"{first.box.z.low:.0f} (top of {first.deck}) + {first.box.z.size:.0f} (its height)"
                f" + {above:.0f} (clear_above) = {needed:.0f} mm"
            ),
        ),
    )
    if bay.clear_height is None:
        yield not_proved(about, needs=("bay.clear_height: floor to roof, a length",))
        return
    yield clearance(
        about,
        needed=needed,
        available=bay.clear_height,
        reading_error=bay.reading_error,
        advice=(
            f"a deck {needed - bay.clear_height:.0f} mm lower, or laid flat",
            "or carry it elsewhere",
        ),
    )


def _held(design: Design, rows: list[DeckCargo], rules: RuleSet, catalogue: Catalogue) -> Finding:
    row = max(rows, key=lambda each: each.mass_kg)
    about = About(
        id=f"LOOSE:{row.what}:{row.deck}",
        title=f"{row.what} on {row.deck} has a positive hold",
        about=row.deck,
        family=9,
        source=f"{rules.title}; direct lashings without friction (statics)",
        standing=weakest("common practice", rules.source.shown_as),
        load_case=rules.name,
        working=(
            "a m g <= sum of F_i max(0, -u_i p): strap i pulls along u_i, the push is along p",
            f"m = {row.mass_kg:g} kg each, {len(rows)} of them; no friction, no pressing down",
        ),
    )
    if not row.straps:
        lacking = (
            f'carry.lash of {row.what}: {{strap, count, to}}, to = ["unit"] or names of bay.anchors'
        )
        return not_proved(about, needs=(lacking,), advice=_asked(design, row, rules, catalogue))
    ties: list[tuple[DeckCargo, _Tie]] = []
    needs: list[str] = []
    for each in rows:
        tie, unknown = _tie_of(design, each, catalogue)
        ties += [(each, tie)] if tie else []
        needs += unknown
    if needs or not ties:
        tried = _asked(design, row, rules, catalogue)
        return not_proved(about, needs=tuple(dict.fromkeys(needs)), advice=tried)
    return _judged(about, design, ties, rules, catalogue)


def _judged(
    about: About,
    design: Design,
    ties: list[tuple[DeckCargo, _Tie]],
    rules: RuleSet,
    catalogue: Catalogue,
) -> Finding:
    row, tie = max(ties, key=lambda pair: _use(pair[1].straps, pair[0].mass_kg, rules)[0])
    _, demand, capacity, way = _use(tie.straps, row.mass_kg, rules)
    told = replace(
        about,
        standing=weakest(about.standing, tie.standing),
        load_case=f"{rules.name}: {way}",
        working=(*about.working, tie.words, *_lines(tie.straps, row.mass_kg, rules), _on(row)),
    )
    advice = _asked(design, row, rules, catalogue)
    if len(tie.straps) < LEAST and "unit" in row.tied_to:
        lacking = f"{len(tie.straps)} straps leave a corner free: {LEAST} at least"
        return complete(told, missing=(lacking,), advice=advice)
    return ratio(
        told,
        demand=demand,
        capacity=capacity,
        unit="N",
        basis="allowable",
        factor=1.0,
        advice=advice,
    )


def _on(row: DeckCargo) -> str:
    if row.on_unit:
        return "the unit carries it on: it counts with the loaded unit in RESTRAINT and TIP-USE"
    return "the vehicle holds it: it does not count in the unit's own restraint"


def _use(
    straps: Sequence[Strap], mass_kg: float, rules: RuleSet
) -> tuple[float, float, float, str]:
    """Return the worst use over the four pushes, its demand and capacity, and its name."""
    rows = []
    for name, fraction, x, y in pushes_on(rules):
        demand, capacity = fraction * mass_kg * GRAVITY_M_S2, held_n(straps, x=x, y=y)
        use = demand / capacity if capacity > 0.0 else float("inf")
        rows.append((use, demand, capacity, f"{fraction:g} g {name}"))
    return max(rows)


def _lines(straps: Sequence[Strap], mass_kg: float, rules: RuleSet) -> Iterator[str]:
    for name, fraction, x, y in pushes_on(rules):
        yield (
            f"{fraction:g} g {name}: {fraction * mass_kg * GRAVITY_M_S2:.0f} N, held by "
            f"{held_n(straps, x=x, y=y):.0f} N"
        )


def _tie_of(
    design: Design, row: DeckCargo, catalogue: Catalogue
) -> tuple[_Tie | None, tuple[str, ...]]:
    """Return the straps of a thing as the job names them, or what is not known about them."""
    strap = _item(catalogue, row.strap)
    if strap is None or not strap.capacity_n or strap.basis != "allowable":
        return None, (f"catalogue hardware {row.strap}: capacity_n, a working load in N",)
    if "unit" in row.tied_to:
        return _to_unit(row.straps, strap, catalogue)
    if row.on_rails:
        points, unknown = rail_anchors(design, row)
        return (None, unknown) if unknown else (_to_points(row, points, row.straps, strap), ())
    named = [a for a in design.job.bay.anchors if a.what in row.tied_to]
    open_ones = [a for a in named if not covered(design, a)]
    if not open_ones:
        lacking = f"carry.lash.to: an anchor that the unit does not cover (named: {len(named)})"
        return None, (lacking,)
    needs = tuple(
        f"bay.anchors: tension and shear of {a.what} at ({a.x:g}, {a.y:g}), each in N"
        for a in open_ones
        if not (a.tension and a.shear)
    )
    if needs:
        return None, needs
    tie = _to_points(row, open_ones, row.straps, strap)
    return replace(tie, words=tie.words + _left_out(named, open_ones)), ()


def _left_out(named: Sequence[Anchor], open_ones: Sequence[Anchor]) -> str:
    """Return which of the anchors that were named take no strap, and why."""
    shut = [f"{a.what} at ({a.x:.0f}, {a.y:.0f})" for a in named if a not in open_ones]
    return f"; no strap to {', '.join(shut)}: the unit covers or uses it" if shut else ""


def _to_unit(
    count: int, strap: Hardware, catalogue: Catalogue
) -> tuple[_Tie | None, tuple[str, ...]]:
    ring = _item(catalogue, _RING)
    if ring is None or not ring.capacity_n:
        return None, (f"catalogue hardware {_RING}: capacity_n, a working load in N",)
    holds = min(strap.capacity_n or 0.0, ring.capacity_n)
    tie = _Tie(
        words=(
            f"{count} x {strap.name} ({strap.capacity_n:g} N) from its corners to {_RING} "
            f"({ring.capacity_n:g} N) bolted through the deck, each half way between the sides and "
            "half way down (45 degrees, assumed)"
        ),
        straps=ring_straps(count, holds_n=holds),
        standing=weakest(strap.origin.standing, ring.origin.standing, "assumed"),
        key=f'lash = {{strap = "{strap.name}", count = {count}, to = ["unit"]}}',
    )
    return tie, ()


def _to_points(row: DeckCargo, anchors: list[Anchor], count: int, strap: Hardware) -> _Tie:
    straps = to_anchors(row.box, anchors, count, strap_n=strap.capacity_n or 0.0)
    names = ", ".join(dict.fromkeys(anchor.what for anchor in anchors))
    points = ", ".join(dict.fromkeys(f"{each.to} {each.holds_n:.0f} N" for each in straps))
    quoted = ", ".join(f'"{name}"' for name in dict.fromkeys(a.what for a in anchors))
    return _Tie(
        words=f"{count} x {strap.name} ({strap.capacity_n:g} N) to {names}: {points} a strap",
        straps=straps,
        standing=weakest(strap.origin.standing, "assumed"),
        key=f'lash = {{strap = "{strap.name}", count = {count}, to = [{quoted}]}}',
    )


def covered(design: Design, anchor: Anchor) -> bool:
    """Tell whether an anchor is used by the unit, or lies where a block or a deck stands over it.

    Only one in the floor can be covered: those in walls and roof stay in reach.
    """
    if anchor.surface != "floor":
        return False
    decks = [p.point(0.0, 0.0, 0.0) for p in design.placed if p.role == "deck"]
    far = [p.point(p.length, p.width, 0.0) for p in design.placed if p.role == "deck"]
    over_deck = any(
        min(a[0], b[0]) < anchor.x < max(a[0], b[0])
        and min(a[1], b[1]) < anchor.y < max(a[1], b[1])
        for a, b in zip(decks, far, strict=True)
    )
    under_block = any(
        block.box.x.low < anchor.x < block.box.x.high
        and block.box.y.low < anchor.y < block.box.y.high
        for block in design.blocks
    )
    return over_deck or under_block


def _item(catalogue: Catalogue, name: str) -> Hardware | None:
    return next((row for row in catalogue.hardware if row.name == name), None)


def _asked(design: Design, row: DeckCargo, rules: RuleSet, catalogue: Catalogue) -> tuple[str, ...]:
    """Return ways to tie a thing down that were tried: to rings of the unit, to free anchors."""
    found = [*_first(_unit_ties(catalogue), row, rules)]
    free = [a for a in design.job.bay.anchors if a.tension and a.shear and not covered(design, a)]
    if len(free) > 1:
        ties = (
            _to_points(row, free, count, strap)
            for strap in _straps(catalogue)
            for count in range(2, _MOST + 1)
        )
        found += _first(ties, row, rules)
    none = (
        f"no {_MOST} straps to points that are known hold {row.mass_kg:g} kg: carry it inside, or "
        "block it with battens glued and screwed to the deck"
    )
    return tuple(found) or (none,)


def _unit_ties(catalogue: Catalogue) -> Iterator[_Tie]:
    for strap in _straps(catalogue):
        for count in range(LEAST, _MOST + 1, 2):
            tie, _ = _to_unit(count, strap, catalogue)
            if tie is not None:
                yield tie


def _straps(catalogue: Catalogue) -> tuple[Hardware, ...]:
    rows = (_item(catalogue, name) for name in _USUAL)
    return tuple(row for row in rows if row is not None and row.capacity_n)


def _first(ties: Iterator[_Tie], row: DeckCargo, rules: RuleSet) -> Iterator[str]:
    for tie in ties:
        use = _use(tie.straps, row.mass_kg, rules)[0]
        if use <= _PASS:
            yield f"{tie.key} under {row.what}: passes at {use:.2f} under {rules.name}"
            return
