"""From an arrangement to the job that asks for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from stowright.explore.arrangement import Answer, Choice, Space, chosen
from stowright.model.bay import Face
from stowright.model.job import Block, Build, Column, Deck, Fill, FillKind, Job, Place, Wings

__all__ = ["arranged"]

#: Shares of the width that a wide column and its neighbours take. [-]
WIDE = 1.7
#: Shares of a stack's height that a shallow and a deep opening take. [-]
SHALLOW, DEEP = 0.6, 1.4
#: Clear width of a space for long things, from face to back (common practice). [mm]
LONG_WIDTH = 260.0
#: Sides of a tray that keeps what stands on it from sliding off (common practice). [mm]
TRAY_SIDES = 60.0
#: Depth that a unit needs besides its runner, the front, its back and their gaps. [mm]
BESIDE_RUNNER = 25.0
#: Between two units back to back, and beside one that opens to a side door. [mm]
BETWEEN, SIDE_COLUMN = 20.0, 500.0
USUAL_CLEAR = 45.0

_ROWS: dict[Answer, tuple[int, int]] = {
    "one": (1, 1),
    "two": (2, 2),
    "three": (3, 3),
    "one beside two": (1, 2),
    "two beside one": (2, 1),
}
_WINGS: dict[Answer, Wings] = {
    "none": Wings(left="none", right="none"),
    "fixed": Wings(left="fixed", right="fixed"),
    "lid": Wings(left="lid", right="lid"),
    "fixed left": Wings(left="fixed", right="lid"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Body:
    """One block that is asked for: where, and how many columns."""

    name: str
    face: Face
    place: Place
    columns: int


def arranged(space: Space, choice: Choice) -> Job:
    """Return the job that asks for an arrangement."""
    said = chosen(space, choice)
    build = _build(space.job.build, said)
    top = float(said["height"])
    namer = _namer()
    blocks = tuple(
        Block(
            name=body.name,
            face=body.face,
            place=body.place,
            modules="shared" if said["modules"] == "shared" else "separate",
            over_arches="yes" if said["arches"] == "over" and body.face == "tail" else "no",
            columns=_columns(said, body, build, namer),
            clear_at_face=USUAL_CLEAR,
            wings=_WINGS[said["wings"]] if body.face == "tail" else _WINGS["none"],
            build=build,
        )
        for body in _bodies(space.job, said, build, top)
    )
    return replace(
        space.job, build=build, blocks=blocks, decks=_decks(space.job, said, blocks, build, top)
    )


def _build(build: Build, said: dict[str, Answer]) -> Build:
    return replace(
        build,
        carcass=str(said["carcass"]),
        drawer=str(said["drawer"]),
        drawer_bottom=str(said["drawer_bottom"]),
        front_sheet=str(said["front_sheet"]),
        deck_sheet=str(said["deck_sheet"]),
    )


def _decks(
    job: Job, said: dict[str, Answer], blocks: tuple[Block, ...], build: Build, top: float
) -> tuple[Deck, ...]:
    if said["deck"] == "none":
        return ()
    kind: Literal["fixed", "lift-out"] = "lift-out" if said["deck"] == "lift-out" else "fixed"
    return (
        Deck(
            name="deck",
            over=tuple(block.name for block in blocks),
            kind=kind,
            below_rail=0.0,
            top=top,
            back="wall" if said["back"] == "wall" else "block",
            overhang=0.0,
            build=build,
            sleeper=max([0.0, *(deck.sleeper for deck in job.decks)]),
        ),
    )


def _bodies(job: Job, said: dict[str, Answer], build: Build, top: float) -> tuple[_Body, ...]:
    columns = int(said["columns"])
    z = (0.0, top) if said["deck"] == "none" else None
    if said["layout"] == "sides":
        half = max(station.width for station in job.bay.widths) / 2.0
        gap = BETWEEN / 2.0
        return (
            _Body(name="left side", face="left", place=_at(y=(gap, half), z=z), columns=columns),
            _Body(
                name="right side", face="right", place=_at(y=(-half, -gap), z=z), columns=columns
            ),
        )
    depth = _depth(said, build)
    if said["layout"] == "tail":
        x = (0.0, depth) if depth else None
        return (_Body(name="drawers", face="tail", place=_at(x=x, z=z), columns=columns),)
    face: Face = "left" if said["layout"] == "tail and left" else "right"
    door = job.bay.opening(face)
    start = door.at if door and door.at is not None else job.bay.length / 2.0
    end = start + door.width if door else job.bay.length
    behind = min(max(start, depth) if depth else start, end)
    return (
        _Body(name="drawers", face="tail", place=_at(x=(0.0, behind), z=z), columns=columns),
        _Body(
            name="side",
            face=face,
            place=_at(x=(behind + BETWEEN, end), z=z),
            columns=max(1, int((end - behind) // SIDE_COLUMN)),
        ),
    )


def _at(
    *,
    x: tuple[float, float] | None = None,
    y: tuple[float, float] | None = None,
    z: tuple[float, float] | None = None,
) -> Place:
    return Place(word="fill", beside="", x=x, y=y, z=z)


def _depth(said: dict[str, Answer], build: Build) -> float:
    """Return how far a unit reaches for its runner's length; 0 for the whole bay. [mm]."""
    runner = float(said["depth"])
    if not runner:
        return 0.0
    sheets = [float(name.rpartition("-")[2]) for name in (build.front_sheet, build.carcass)]
    return USUAL_CLEAR + runner + build.back_room + sum(sheets) + BESIDE_RUNNER


def _columns(
    said: dict[str, Answer], body: _Body, build: Build, namer: Iterator[int]
) -> tuple[Column, ...]:
    first, rest = _ROWS[said["rows"]]
    last = body.columns - 1
    special = str(said["fills"]) if body.face == "tail" or said["layout"] == "sides" else "drawers"
    found = []
    for k in range(body.columns):
        kinds: tuple[FillKind, ...] = _kinds(
            first if k == 0 else rest, special if k == last else "drawers"
        )
        narrow = kinds == ("through",) and body.columns > 1
        found.append(
            Column(
                width=LONG_WIDTH if narrow else None,
                weight=_weight(said["widths"], k, last),
                least=None,
                stack=tuple(
                    _fill(kind, f"{_word(kind)} {next(namer)}", share, build)
                    for kind, share in zip(kinds, _shares(said["heights"], kinds), strict=True)
                ),
                build=build,
            )
        )
    return tuple(found)


def _weight(widths: Answer, column: int, last: int) -> float:
    wide = {"wide left": 0, "wide right": last}.get(str(widths))
    return WIDE if column == wide and last > 0 else 1.0


def _kinds(rows: int, special: str) -> tuple[FillKind, ...]:
    """Return what fills a stack from the floor up."""
    drawer: FillKind = "drawer"
    drawers = (drawer,) * rows
    if special == "through":
        return ("through",)
    if special == "tray":
        return ("tray",)
    if special == "open":
        return (*drawers[:-1], "open")
    if special == "locker":
        return ("locker", *drawers[1:])
    return drawers


def _shares(heights: Answer, kinds: Sequence[FillKind]) -> tuple[float, ...]:
    """Return the weights of a stack's heights, from the floor up."""
    upper = {"shallow on top": SHALLOW, "deep on top": DEEP}.get(str(heights), 1.0)
    return tuple(upper if k and k == len(kinds) - 1 else 1.0 for k in range(len(kinds)))


def _fill(kind: FillKind, name: str, share: float, build: Build) -> Fill:
    return Fill(
        fill=kind,
        name=name,
        height=None,
        weight=share,
        least=None,
        door="drop" if kind == "locker" else "",
        lock="",
        latch="",
        net=kind in {"open", "through"},
        sides=TRAY_SIDES if kind == "tray" else 0.0,
        cable_way=0.0,
        vent=0.0,
        build=build,
    )


def _word(kind: FillKind) -> str:
    return {"through": "long things", "open": "open"}.get(kind, kind)


def _namer() -> Iterator[int]:
    number = 0
    while True:
        number += 1
        yield number
