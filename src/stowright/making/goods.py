"""What is bought without a place of its own, given to the step that fits it.

Runners, stops behind a box, straps, rings: each row of the schedule that comes by the piece or the
pair is then used by steps with the same count, as screws and bolts are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from stowright.making.drafts import StepDraft
from stowright.making.say import all_of
from stowright.model.design import Design, RunnerFit
from stowright.model.runner import Runner, RunnerSize

__all__ = ["runner_name", "sized_runner", "with_goods"]

#: The kinds of step that fit what belongs to an opening, the first that there is.
_OF_OPENING = ("members", "front", "box")


def runner_name(fit: RunnerFit) -> str:
    """Return a runner as the schedule lists it."""
    return sized_runner(fit.runner, fit.size)


def sized_runner(runner: Runner, size: RunnerSize) -> str:
    """Return a runner of the shelf in one of its lengths as the schedule lists it."""
    return f"{runner.name}, {size.length:g} long"


def with_goods(design: Design, drafts: Iterable[StepDraft]) -> tuple[StepDraft, ...]:
    """Return the drafts with what each fits of the goods, told and counted.

    What goes together to one place, such as a ring and its bolts, is told in one sentence.
    """
    rows = list(drafts)
    for block in design.blocks:
        for opening in block.openings:
            if opening.runner is not None:
                at = _keyed(rows, ("runners",), opening.name)
                rows[at] = _fitting(rows[at], [(runner_name(opening.runner), 1)], "")
    names = {piece.id: design.part(piece.mark).name for piece in design.placed}
    decks = {piece.block for piece in design.placed if piece.role == "deck"}
    openings = {opening.name for block in design.blocks for opening in block.openings}
    together: dict[str, list[tuple[str, int]]] = {}
    for name, count, where in design.hardware:
        together.setdefault(where, []).append((name, count))
    for where, goods in together.items():
        about, _, how = where.partition(": ")
        at = (
            _keyed(rows, ("deck",), "")
            if about in decks
            else _home(rows, about, where, names=names, openings=openings)
        )
        elsewhere = about in openings and rows[at].key[1] != about
        rows[at] = _fitting(rows[at], goods, f"{about}, {how}" if elsewhere else how or where)
    return tuple(rows)


def _fitting(draft: StepDraft, goods: Sequence[tuple[str, int]], how: str) -> StepDraft:
    counts: Counter[str] = Counter()
    for name, count in goods:
        counts[name] += count
    each = [f"{count} × {name}" for name, count in counts.items()]
    first, *more = how.split("; ")
    told = (
        (f"Fit {all_of(each)}: {first}.", *(f"{m[0].upper()}{m[1:]}." for m in more)) if how else ()
    )
    return replace(draft, text=(*draft.text, *told), goods=(*draft.goods, *goods))


def _keyed(rows: Sequence[StepDraft], kinds: Iterable[str], about: str) -> int:
    """Return the first step of a kind about a thing; the last step of all when there is none."""
    for kind in kinds:
        for n, row in enumerate(rows):
            if row.key == (kind, about):
                return n
    return len(rows) - 1


def _home(
    rows: Sequence[StepDraft],
    about: str,
    where: str,
    *,
    names: dict[str, str],
    openings: Collection[str],
) -> int:
    at = _keyed(rows, _OF_OPENING, about)
    if at < len(rows) - 1:
        return at
    for n, row in enumerate(rows):
        if any(about in {piece, names[piece]} for piece in row.new):
            return n
    if "deck" in where:
        return _keyed(rows, ("deck", "install"), "")
    return _keyed(rows, ("drawers-in", "install") if about in openings else ("install",), "")
