"""Names that must answer to something: blocks, openings, materials, runners, rules."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stowright.jobfile.flaws import Flaws, found_text
from stowright.jobfile.keys import nearest_name, walk
from stowright.jobfile.known import KnownNames
from stowright.jobfile.naming import Names, blocks_of, deck_names
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_bay import BayShape
from stowright.jobfile.shape_blocks import BlockShape, DeckShape, FillShape
from stowright.jobfile.shape_build import BuildKeys, PackersShape
from stowright.jobfile.shape_job import JobFile, LashShape, ReadingShape, SheetShape
from stowright.jobfile.shape_types import Shape

__all__ = ["check_likes", "check_names"]

_MOST_LISTED = 12
_LONGEST_NAME = 60
_OPENING_READINGS = (
    "width",
    "height",
    "depth",
    "between-runners",
    "diagonals",
    "runner-thickness",
    "box-width",
    "box-diagonals",
)
_SHEET_KEYS = ("carcass", "drawer", "drawer_bottom", "front_sheet", "deck_sheet")
_BLOCK_READINGS = ("gap-left", "gap-right", "width", "diagonals")


def check_names(job: JobFile, names: Names, known: KnownNames, flaws: Flaws) -> None:
    """Note every name that is given twice or that nothing answers to."""
    _check_own_names(job, flaws)
    _check_places(job, names, flaws)
    for place, deck in enumerate(job.deck or ()):
        path: Path = ("deck", place, "over")
        for each in deck.over or ():
            _answer(each, names.blocks, "the name of a block", path, flaws)
        if deck.over is not None and not 0 < len(deck.over) == len(set(deck.over)):
            flaws.add(path, found_text(deck.over), "each block once, at least one")
    for place, item in enumerate(job.carry or ()):
        if item.goes_in:
            path = ("carry", place, "goes_in")
            _answer(item.goes_in, names.all_openings, "the name of an opening", path, flaws)
        if item.on:
            _answer(item.on, deck_names(job), "the name of a deck", ("carry", place, "on"), flaws)
        if item.lash is not None and job.bay is not None:
            rails = _rail_names(job, item.on or "")
            _check_lash(job.bay, item.lash, ("carry", place, "lash"), rails, flaws)
    for place, reading in enumerate(job.reading or ()):
        _check_reading(reading, ("reading", place), names, flaws)
    if job.job and job.job.rules is not None and known.rules:
        _answer(job.job.rules, known.rules, "a set of accelerations", ("job", "rules"), flaws)
    _check_build_names(job, known, flaws)


def check_likes(job: JobFile, things: tuple[str, ...], flaws: Flaws) -> None:
    """Note every thing to carry that is said to be like one that the catalogue does not have."""
    for place, item in enumerate(job.carry or ()):
        if item.like is not None:
            path: Path = ("carry", place, "like")
            _answer(item.like, things, "a thing of the catalogue", path, flaws)


def _answer(name: str, known: Iterable[str], what: str, path: Path, flaws: Flaws) -> None:
    """Note a name that is not among the known ones."""
    names = tuple(known)
    if name not in names:
        listed = ", ".join(names[:_MOST_LISTED]) + (", …" if len(names) > _MOST_LISTED else "")
        allowed = f"{what}: {listed}" if names else f"{what}, and there is none"
        flaws.add(path, found_text(name), allowed, nearest_name(name, names))


def _rail_names(job: JobFile, on: str) -> tuple[str, ...]:
    """Return the names of the rails on a deck, by side where they have none of their own."""
    return tuple(
        rail.name or f"{rail.side} rail"
        for name, deck in zip(deck_names(job), job.deck or (), strict=False)
        if name == on
        for rail in deck.rails or ()
    )


def _check_lash(
    bay: BayShape, lash: LashShape, path: Path, rails: tuple[str, ...], flaws: Flaws
) -> None:
    """What a strap goes to: the unit, rails on its deck, or anchors of the bay with a name."""
    anchors = dict.fromkeys(anchor.what for anchor in bay.anchors or () if anchor.what)
    known = ("unit", *dict.fromkeys(rails), *anchors)
    what = "unit, the name of a rail on that deck or of an anchor"
    for name in lash.to or ():
        _answer(name, known, what, (*path, "to"), flaws)
    if lash.to is not None and not lash.to:
        flaws.add((*path, "to"), "no point", "unit, or names of rails or anchors: at least one")


def _check_own_names(job: JobFile, flaws: Flaws) -> None:
    """Names of blocks, openings, decks and sheets: not empty, each once among its like."""
    seen: dict[tuple[str, str], str] = {}
    for path, table in walk(job):
        key = "id" if path[0:1] == ("sheet",) else "name"
        name = getattr(table, key, None)
        if name is None:
            continue
        kind = {BlockShape: "block", FillShape: "opening", DeckShape: "deck"}.get(
            type(table), "sheet"
        )
        where = (*path, key)
        if not name.strip() or len(name) > _LONGEST_NAME or not name.isprintable():
            flaws.add(where, found_text(name), f"a name of 1 to {_LONGEST_NAME} plain characters")
        elif (kind, name) in seen:
            flaws.add(where, f"{found_text(name)} a second time", f"one name for one {kind}")
        seen[kind, name] = name


def _check_places(job: JobFile, names: Names, flaws: Flaws) -> None:
    """Blocks stand beside known blocks, and not in a circle."""
    stands_by: dict[str, str] = {}
    paths: dict[str, Path] = {}
    for place, block in enumerate(blocks_of(job)):
        name = names.blocks[place]
        path: Path = ("block", place, "beside")
        beside = block.beside
        if block.place and block.place.beside is not None:
            if beside is not None:
                flaws.add(path, "beside twice", "beside once: in the block or in its place")
            beside, path = block.place.beside, ("block", place, "place", "beside")
        for axis in ("x", "y", "z"):
            if block.place and None not in (getattr(block, axis), getattr(block.place, axis)):
                flaws.add(("block", place, axis), f"{axis} twice", "one range on an axis")
        if not beside:
            continue
        others = tuple(each for each in names.blocks if each != name)
        _answer(beside, others, "the name of another block", path, flaws)
        stands_by[name], paths[name] = beside, path
    told: set[str] = set()
    for name, path in paths.items():
        circle = _circle(name, stands_by)
        if len(circle) > 1 and not told & set(circle):
            told |= set(circle)
            flaws.add(path, f"a circle: {' beside '.join((*circle, name))}", "an order of blocks")


def _circle(name: str, stands_by: dict[str, str]) -> tuple[str, ...]:
    """Return the blocks on the way from a block back to itself; empty when there is no way."""
    way = [name]
    while (following := stands_by.get(way[-1])) is not None and following not in way:
        way.append(following)
    return tuple(way) if following == name else ()


def _check_reading(reading: ReadingShape, path: Path, names: Names, flaws: Flaws) -> None:
    of = reading.of
    if of is None:
        return
    here: Path = (*path, "of")
    if (of.opening is None) == (of.block is None):
        if not any(flaws.is_left_out((*here, key)) for key in ("opening", "block")):
            flaws.add(here, "opening and block" if of.opening else "neither", "opening or block")
        return
    allowed: tuple[str, ...] = _OPENING_READINGS
    known, kind, key = names.all_openings, "an opening", "opening"
    if of.opening is None:
        allowed, known, kind, key = _BLOCK_READINGS, names.blocks, "a block", "block"
    _answer(of.opening or of.block or "", known, f"the name of {kind}", (*here, key), flaws)
    if of.what is None:
        return
    _answer(of.what, allowed, f"a reading of {kind}", (*here, "what"), flaws)
    count = len(reading.values) if reading.values is not None else 0
    if count and of.what.endswith("diagonals") and count != 2:
        flaws.add((*path, "values"), f"{count} values", "two diagonals")


def _check_build_names(job: JobFile, known: KnownNames, flaws: Flaws) -> None:
    """Materials, runners, saws, finishes and latches, wherever they are named."""
    for path, table in walk(job):
        for key, names, what in _named_keys(table, known):
            name = getattr(table, key)
            if names and name is not None and (name or key != "latch"):
                _answer(name, names, what, (*path, key), flaws)
    readings = job.build.measured_thickness if job.build else None
    for name in readings or ():
        if known.materials:
            where = ("build", "measured_thickness", name)
            _answer(name, known.materials, "a material", where, flaws)


def _named_keys(table: Shape, known: KnownNames) -> Iterator[tuple[str, tuple[str, ...], str]]:
    """Return the keys of a table that hold names, with the names that answer."""
    if isinstance(table, BuildKeys):
        yield from ((key, known.materials, "a material") for key in _SHEET_KEYS)
        yield "runner", (*known.runners, "auto") if known.runners else (), "a runner"
        yield "saw", known.saws, "a saw"
    if isinstance(table, BuildKeys | DeckShape):
        yield "finish", known.finishes, "a finish"
    if isinstance(table, FillShape):
        yield "latch", known.latches, "a latch"
    if isinstance(table, LashShape):
        yield "strap", known.straps, "a strap"
    if isinstance(table, DeckShape):
        yield "deck_sheet", known.materials, "a material"
    if isinstance(table, PackersShape):
        yield "sheet", known.materials, "a material"
    if isinstance(table, SheetShape):
        yield "material", known.materials, "a material"
