"""Drafts of build steps, and the rule that gives each placed fixing to exactly one of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

from stowright.model.design import Design
from stowright.model.making import HoldPoint, Stage, Step, StepFixing, StepPart
from stowright.model.part import PlacedFixing, PlacedPart
from stowright.units import Unit, in_job_unit

__all__ = ["StepDraft", "finish_steps"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepDraft:
    """A step before it has a number and fixings.

    Attributes:
        key: What it is about: ("carcass", "drawers/1"), ("runners", "meters") …
        new: Ids of the placed parts it introduces. again: ids that come back.
        takes: The fixing steps (``PlacedFixing.step``) that belong here.
        goods: What it fits that has no place of its own: (name in the schedule, how many).
        figure: Whether it has a figure of its own; else it is done from another chapter's.
    """

    key: tuple[str, str]
    stage: Stage
    title: str
    text: tuple[str, ...]
    new: tuple[str, ...] = ()
    again: tuple[str, ...] = ()
    takes: tuple[str, ...] = ()
    goods: tuple[tuple[str, int], ...] = ()
    tools: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()
    hold_point: HoldPoint | None = None
    cautions: tuple[str, ...] = ()
    figure: bool = True


def finish_steps(design: Design, drafts: Iterable[StepDraft]) -> tuple[Step, ...]:
    """Return the numbered steps, each placed fixing in exactly one of them."""
    rows = tuple(drafts)

    def told(texts: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(in_job_unit(text, design.job.units) for text in texts)

    by_id = {piece.id: piece for piece in design.placed}
    homes = _homes(design, rows, by_id)
    steps = []
    for number, draft in enumerate(rows, start=1):
        steps.append(
            Step(
                number=number,
                stage=draft.stage,
                title=draft.title,
                text=told(draft.text),
                parts=(
                    *_parts(draft.new, by_id, first=True),
                    *_parts(draft.again, by_id, first=False),
                ),
                fixings=(*_fixings(homes.get(number - 1, [])), *_goods(draft.goods)),
                tools=draft.tools,
                checks=told(draft.checks),
                hold_point=_hold_told(draft.hold_point, design.job.units),
                cautions=draft.cautions,
                figure=f"step-{number}" if draft.figure else "",
                kind=draft.key[0],
                about=draft.key[1],
            )
        )
    return tuple(steps)


def _hold_told(hold: HoldPoint | None, units: Unit) -> HoldPoint | None:
    return replace(hold, otherwise=in_job_unit(hold.otherwise, units)) if hold else None


def _parts(
    ids: tuple[str, ...], by_id: dict[str, PlacedPart], *, first: bool
) -> tuple[StepPart, ...]:
    by_mark: dict[str, list[str]] = {}
    for piece in ids:
        by_mark.setdefault(by_id[piece].mark, []).append(piece)
    return tuple(
        StepPart(mark=mark, copies=len(members), placed=tuple(members), first=first)
        for mark, members in by_mark.items()
    )


def _fixings(members: list[PlacedFixing]) -> tuple[StepFixing, ...]:
    counts = Counter(f.type for f in members)
    return tuple(
        StepFixing(type=name, count=count, ids=tuple(f.id for f in members if f.type == name))
        for name, count in sorted(counts.items())
    )


def _goods(rows: Iterable[tuple[str, int]]) -> tuple[StepFixing, ...]:
    counts: Counter[str] = Counter()
    for name, count in rows:
        counts[name] += count
    return tuple(StepFixing(type=name, count=n, ids=()) for name, n in sorted(counts.items()))


def _homes(
    design: Design, rows: tuple[StepDraft, ...], by_id: dict[str, PlacedPart]
) -> dict[int, list[PlacedFixing]]:
    """Give each fixing to the last step that has introduced all it joins and takes its kind."""
    introduced = {piece: n for n, row in enumerate(rows) for piece in row.new}
    homes: dict[int, list[PlacedFixing]] = {}
    own: dict[str, int] = {}
    for fixing in design.fixings:
        if fixing.set and fixing.set in own:
            home = own[fixing.set]
        else:
            home = _home(fixing, rows, introduced, by_id)
        own[fixing.id] = home
        homes.setdefault(home, []).append(fixing)
    return homes


def _home(
    fixing: PlacedFixing,
    rows: tuple[StepDraft, ...],
    introduced: dict[str, int],
    by_id: dict[str, PlacedPart],
) -> int:
    ready = max((introduced[j] for j in fixing.joins if j in introduced), default=0)
    about = {word for j in fixing.joins if j in by_id for word in _words(by_id[j])}
    about |= {j.rpartition("/runner-")[0] for j in fixing.joins if "/runner-" in j}
    taking = [n for n, row in enumerate(rows) if fixing.step in row.takes]
    fitting = [n for n in taking if n >= ready and rows[n].key[1] in about]
    late = [n for n in taking if n >= ready]
    return (fitting or late or [ready])[0]


def _words(piece: PlacedPart) -> tuple[str, ...]:
    return (piece.opening, f"{piece.block}/{piece.module}", piece.block, "")
