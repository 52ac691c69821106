"""Changes of how a unit is built that are tried as advice: carcass, drawers, decks, sheets."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from stowright.model.job import Deck
from stowright.proofs.job_changes import (
    Asked,
    Change,
    with_block,
    with_build,
    with_deck,
    with_fill,
)
from stowright.proofs.tried import stronger, thicker

__all__ = [
    "carcass_ways",
    "carry_in_ways",
    "deck_ways",
    "drawer_ways",
    "front_pull_ways",
    "gap_ways",
    "groove_ways",
    "lift_out_ways",
    "runner_screw_ways",
    "sealed_ways",
    "shelf_sag_ways",
    "spacing_ways",
    "tie_rail_ways",
    "tips_ways",
]


#: How far runner lines on a partition's two faces stand apart where no screw meets another. [mm]
CLEAR_OF_LINE = 12.0
#: How much further in a rail is tried to lie. [mm]
INWARD = (20.0, 40.0, 80.0)


def carry_in_ways(it: Asked) -> Iterator[Change]:
    """Yield a carcass in smaller or lighter pieces."""
    name = it.block
    block = next((row for row in it.design.job.blocks if row.name == name), None)
    if block is None:
        return
    if block.modules == "shared" and len(block.columns) > 1:
        job = with_block(it.design.job, name, modules="separate")
        yield Change(words='modules = "separate"', job=job)
    if block.build.carcass_kind == "box":
        job = with_build(it.design.job, block=name, carcass_kind="frame")
        yield Change(words='carcass_kind = "frame": rails instead of its floor', job=job)
    own = it.catalogue.material(block.build.carcass)
    for row in sorted(it.catalogue.materials, key=lambda each: (each.density, each.name)):
        if row.nominal == own.nominal and row.density < own.density:
            job = with_build(it.design.job, block=name, carcass=row.name)
            yield Change(words=f'carcass = "{row.name}"', job=job)
            return


def carcass_ways(it: Asked) -> Iterator[Change]:
    """Yield a stiffer carcass: a back, a panel on top, another joint, a thicker sheet."""
    name = it.block
    build = next(
        (row.build for row in it.design.job.blocks if row.name == name), it.design.job.build
    )
    for key, value in (("back", "panel"), ("top", "panel"), ("joint", "housing")):
        if getattr(build, key) != value:
            job = with_build(it.design.job, block=name, **{key: value})
            yield Change(words=f'{key} = "{value}"', job=job)
    yield from _thicker(it, name, "carcass", build.carcass)


def _thicker(it: Asked, block: str, key: str, sheet: str) -> Iterator[Change]:
    """Yield the next two thicker sheets of the family for one use of it."""
    own = it.catalogue.material(sheet)
    rows = [
        row
        for row in it.catalogue.materials
        if row.family == own.family and row.nominal > own.nominal
    ]
    for row in sorted(rows, key=lambda each: each.nominal)[:2]:
        job = with_build(it.design.job, block=block, **{key: row.name})
        yield Change(words=f'{key} = "{row.name}" instead of {sheet}', job=job)


def runner_screw_ways(it: Asked) -> Iterator[Change]:
    """Yield what gives a runner's screws a better hold, by the member they go into.

    In uprights: a line above or below a neighbour's on the other face, an upright for each column,
    a thicker sheet, and both; in a drawer: a thicker sheet.
    """
    opening, _, member = it.name.partition("/")
    home = it.home(opening)
    if home is None:
        return
    name, build = home[0].name, home[1].build
    if member in {"side", "bottom"}:
        key = "drawer" if member == "side" else "drawer_bottom"
        yield from _thicker(it, name, key, getattr(build, key))
        return
    sheets = tuple(_thicker(it, name, "carcass", build.carcass))
    block = next(row for row in it.design.job.blocks if row.name == name)
    apart = 'modules = "separate"'
    if member == "upright" and block.modules == "shared" and len(block.columns) > 1:
        up = build.runner_up + CLEAR_OF_LINE
        job = with_fill(it.design.job, opening, build={"runner_up": up})
        said = f"runner_up = {it.mm(up)} for {opening}, clear of the screws on the other face,"
        yield Change(words=said, job=job)
        job = with_block(it.design.job, name, modules="separate")
        yield Change(words=f"{apart} for {name}", job=job)
        yield from sheets
        for each in sheets:
            job = with_block(each.job, name, modules="separate")
            yield Change(words=f"{apart} for {name} and {each.words}", job=job)
        return
    yield from sheets


def drawer_ways(it: Asked) -> Iterator[Change]:
    """Yield a drawer joined or made otherwise."""
    home = it.home(it.name)
    if home is None:
        return
    block, opening = home[0].name, home[1]
    build = opening.build
    for key, value in (
        ("joint", "rebate"),
        ("joint", "housing"),
        ("bottom_fit", "planted"),
    ):
        if getattr(build, key) != value:
            job = with_fill(it.design.job, opening.name, build={key: value})
            yield Change(words=f'{key} = "{value}" for {opening.name}', job=job)
    yield from _thicker(it, block, "drawer", build.drawer)


def groove_ways(it: Asked) -> Iterator[Change]:
    """Yield a higher lip under a grooved bottom, or a drawer made otherwise."""
    home = it.home(it.name)
    if home is not None and home[1].build.bottom_fit == "grooved":
        for times in (1.5, 2.0):
            up = math.ceil(times * home[1].build.groove_up)
            job = with_fill(it.design.job, home[1].name, build={"groove_up": float(up)})
            yield Change(words=f"groove_up = {it.mm(up)}: a higher lip under the bottom", job=job)
    yield from drawer_ways(it)


def deck_ways(it: Asked) -> Iterator[Change]:
    """Yield a deck with more under it, or in a thicker sheet."""
    job = it.design.job
    piece = next((p for p in it.design.placed if p.id == it.name), None)
    deck = next((d for d in job.decks if piece is not None and d.name == piece.block), None)
    over = deck.over if deck is not None else tuple(row.name for row in job.blocks)
    tops = {row.build.top for row in job.blocks if row.name in over}
    rails = max((row.build.rails for row in job.blocks if row.name in over), default=0)

    def told(key: str, value: object) -> str:
        if isinstance(value, str):
            return f'{key} = "{value}"'
        return f"{key} = {it.mm(value) if isinstance(value, float) else value}"

    def under(**keys: object) -> Change:
        other = job
        for name in over:
            other = with_build(other, block=name, **keys)
        said = ", ".join(told(key, value) for key, value in keys.items())
        return Change(words=f"{said} for what is under it", job=other)

    lifts_out = deck is not None and deck.kind == "lift-out"
    if deck is not None and lifts_out:
        yield from _lift_out_deck(it, deck)
    if "rails" in tops:
        yield under(rails=rails + 2)
        yield under(rails=rails + 2, rail_width=150.0)
    if tops != {"panel"}:
        yield under(top="panel")
    if deck is not None and not lifts_out:
        yield from (change for _, change in _deck_sheets(it, deck)[-1:])


def _deck_sheets(it: Asked, deck: Deck) -> list[tuple[float, Change]]:
    """Return a deck in each thicker sheet, with its nominal thickness, thinnest first. [mm]."""
    own = it.catalogue.material(deck.build.deck_sheet)
    return [
        (
            row.nominal,
            Change(
                words=f'deck_sheet = "{row.name}"',
                job=with_deck(it.design.job, deck.name, build={"deck_sheet": row.name}),
            ),
        )
        for row in thicker(it.catalogue, own)
    ]


def _lift_out_deck(it: Asked, deck: Deck) -> Iterator[Change]:
    """Yield a lift-out deck in other sheets, which were not tried on the spot, and fixed.

    The mildest sheet that may do comes first: what bends least falls with the cube of thickness.
    """
    sheets = _deck_sheets(it, deck)
    own = it.catalogue.material(deck.build.deck_sheet).nominal
    least = own * max(1.0, it.finding.utilisation or 1.0) ** (1.0 / 3.0)
    mild = [row for row in sheets if row[0] >= least][:1]
    yield from (change for _, change in (*mild, *(r for r in sheets[-2:] if r not in mild)))
    solid = f'kind = "fixed" for {deck.name}'
    yield Change(words=solid, job=with_deck(it.design.job, deck.name, kind="fixed"))
    for _, thickest in sheets[-1:]:
        fixed = with_deck(thickest.job, deck.name, kind="fixed")
        yield Change(words=f"{solid} and {thickest.words}", job=fixed)


def shelf_sag_ways(it: Asked) -> Iterator[Change]:
    """Yield more room under a shelf, then a stiffer carcass."""
    name = it.block
    build = next((row.build for row in it.design.job.blocks if row.name == name), None)
    if build is not None:
        lacks = (it.finding.demand or 0.0) - (it.finding.capacity or 0.0)
        more = max(0.5, math.ceil(2.0 * lacks) / 2.0)
        for key in ("front_gap", "over_gap"):
            wide = getattr(build, key) + more
            job = with_build(it.design.job, block=name, **{key: wide})
            yield Change(words=f"{key} = {it.mm(wide)}", job=job)
    yield from carcass_ways(it)


def front_pull_ways(it: Asked) -> Iterator[Change]:
    """Yield sheets for the front that hold its screws better: denser, then thicker."""
    home = it.home(it.name)
    if home is None:
        return
    block, sheet = home[0].name, home[1].build.front_sheet
    own = it.catalogue.material(sheet)
    denser = [
        row
        for row in it.catalogue.materials
        if row.nominal == own.nominal and row.density_char > own.density_char
    ]
    for row in sorted(denser, key=lambda each: (each.density_char, each.name))[-2:]:
        job = with_build(it.design.job, block=block, front_sheet=row.name)
        yield Change(words=f'front_sheet = "{row.name}" instead of {sheet}', job=job)
    yield from _thicker(it, block, "front_sheet", sheet)


def tie_rail_ways(it: Asked) -> Iterator[Change]:
    """Yield a stronger sheet under the bolts of a rail, then a rail that lies further in."""
    _, name, rail = it.finding.id.split(":", 2)
    job = it.design.job
    deck = next(row for row in job.decks if row.name == name)
    own = it.catalogue.material(deck.build.deck_sheet)
    for row in (*thicker(it.catalogue, own), *stronger(it.catalogue, own)):
        other = with_deck(job, name, build={"deck_sheet": row.name})
        yield Change(words=f'deck_sheet = "{row.name}"', job=other)
    for more in INWARD:
        inset = next(row.inset for row in deck.rails if row.name == rail) + more
        rails = tuple(replace(r, inset=inset) if r.name == rail else r for r in deck.rails)
        words = f"inset = {it.mm(inset)} of {rail}"
        yield Change(words=words, job=with_deck(job, name, rails=rails))


def gap_ways(it: Asked) -> Iterator[Change]:
    """Yield more room between a deck and what moves under it, or a stiffer deck."""
    more = it.short()
    name = next((block.name for block in it.design.blocks if block.openings), "")
    for block in it.design.job.blocks:
        over = block.build.over_gap + more
        yield Change(
            words=f"over_gap {more:g} mm more in {block.name}",
            job=with_build(it.design.job, block=block.name, over_gap=over),
        )
    if name:
        yield from deck_ways(it)


def lift_out_ways(it: Asked) -> Iterator[Change]:
    """Yield lighter sheets for a piece that lifts out."""
    piece = next((p for p in it.design.placed if p.id == it.name), None)
    deck = next((d for d in it.design.job.decks if piece and d.name == piece.block), None)
    if deck is None:
        return
    own = it.catalogue.material(deck.build.deck_sheet)
    for row in sorted(it.catalogue.materials, key=lambda each: (each.density, each.name)):
        if row.nominal <= own.nominal and row.density * row.thickness < own.density * own.thickness:
            job = with_deck(it.design.job, deck.name, build={"deck_sheet": row.name})
            yield Change(words=f'deck_sheet = "{row.name}"', job=job)


def sealed_ways(it: Asked) -> Iterator[Change]:
    """Yield a finish that seals."""
    job = with_build(it.design.job, finish="clear")
    yield Change(words='finish = "clear": three coats, edges twice', job=job)


def spacing_ways(it: Asked) -> Iterator[Change]:
    """Yield other joints, and wider rails, for screws that stand too close."""
    for value in ("rebate", "housing", "tab-and-slot", "butt"):
        if it.design.job.build.joint != value:
            job = with_build(it.design.job, joint=value)
            yield Change(words=f'joint = "{value}" for the whole unit', job=job)
    wide = it.design.job.build.rail_width + 30.0
    yield Change(
        words=f"rail_width = {it.mm(wide)}", job=with_build(it.design.job, rail_width=wide)
    )


def tips_ways(it: Asked) -> Iterator[Change]:
    """Yield a heavier foot: a floor instead of rails, modules that share their uprights."""
    name = it.block
    build = next((row.build for row in it.design.job.blocks if row.name == name), None)
    if build is not None and build.carcass_kind == "frame":
        job = with_build(it.design.job, block=name, carcass_kind="box")
        yield Change(words='carcass_kind = "box"', job=job)
