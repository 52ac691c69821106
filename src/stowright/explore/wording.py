"""What an arrangement is called, and what it gives up against the others."""

from __future__ import annotations

from collections.abc import Sequence

from stowright.explore.measures import Criterion, Measures
from stowright.model.job import Fill, Job
from stowright.units import Unit, format_length

__all__ = ["FIRST_LAYOUT", "best_at", "gives_up", "named", "shown"]

#: A unit this deep has long drawers, one this deep at most short ones (common practice). [mm]
LONG, SHORT = 1000.0, 650.0
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
#: Told wherever designs are compared: a plan looks longer for its layout than many designs can.
FIRST_LAYOUT = "Sheets and saw lines are of a first layout; a plan's may differ a little."
#: What more than this share are best at is told of none. [-]
BEST_SHARE = 0.25
#: Told of what it gives up, the worst first.
MOST_GIVEN_UP = 3


def named(jobs: Sequence[Job], depths: Sequence[float]) -> tuple[str, ...]:
    """Return a name in words for each job, no two the same.

    Args:
        jobs: Jobs with blocks.
        depths: Depth of the deepest opening of each. [mm]
    """
    tops = [_top(job) for job in jobs]
    names = [_name(job, depth, tops) for job, depth in zip(jobs, depths, strict=True)]
    for more in (_size_words, _build_words, _share_words, _sheet_words):
        words = [more(job, depth) for job, depth in zip(jobs, depths, strict=True)]
        names = [
            f"{name}, {words[k]}" if _differ(names, words, name) else name
            for k, name in enumerate(names)
        ]
    return tuple(
        f"{name} ({names[: k + 1].count(name)})" if names.count(name) > 1 else name
        for k, name in enumerate(names)
    )


def _differ(names: Sequence[str], words: Sequence[str], name: str) -> bool:
    """Tell whether some words part those that have one name."""
    return len({word for word, each in zip(words, names, strict=True) if each == name}) > 1


def _size_words(job: Job, depth: float) -> str:
    units = job.units
    high = format_length(float(round(_top(job))), units, with_unit=True, parts=16)
    deep = format_length(float(round(depth, -1)), units, with_unit=True, parts=16)
    return f"{high} high and {deep} deep inside"


def _name(job: Job, depth: float, tops: list[float]) -> str:
    words = [_contents(job, depth)]
    if any(block.over_arches == "yes" for block in job.blocks):
        words.append("over the arches")
    faces = {block.face for block in job.blocks}
    if faces == {"left", "right"}:
        words.append("to both sides")
    elif len(faces) == 2:
        words.append("one to the side")
    words.append(_deck(job, tops))
    lids = [getattr(block.wings, side) for block in job.blocks for side in ("left", "right")]
    if "lid" in lids:
        words.append("lids over the arches" if job.bay.arches else "lids at the sides")
    elif "fixed" in lids:
        words.append("fixed wings")
    return ", ".join(words)


def _contents(job: Job, depth: float) -> str:
    fills = [fill for block in job.blocks for column in block.columns for fill in column.stack]
    size = "long " if depth >= LONG else "short " if depth <= SHORT else ""
    drawers = _plural(fills, "drawer", f"{size}drawer")
    others = [
        _plural(fills, kind, word)
        for kind, word in (
            ("tray", "tray"),
            ("locker", "locker"),
            ("open", "open shelf"),
            ("through", "space for long things"),
        )
    ]
    told = [each for each in (drawers, *others) if each]
    return " and ".join((", ".join(told[:-1]), told[-1])) if len(told) > 1 else told[0]


def _plural(fills: list[Fill], kind: str, word: str) -> str:
    count = sum(fill.fill == kind for fill in fills)
    if not count:
        return ""
    number = _COUNTS[count] if count < len(_COUNTS) else str(count)
    if count == 1:
        return f"{number} {word}"
    if word.startswith("space"):
        return f"{number} {word.replace('space', 'spaces', 1)}"
    return f"{number} {word.replace('shelf', 'shelve')}s"


def _deck(job: Job, tops: list[float]) -> str:
    top = _top(job)
    low, high = min(tops), max(tops)
    third = (high - low) / 3.0
    level = "low " if high - low > 40.0 and top <= low + third else ""
    level = "high " if high - low > 40.0 and top >= high - third else level
    if not job.decks:
        return f"{level}body without a deck"
    kind = "lift-out " if job.decks[0].kind == "lift-out" else ""
    return f"{level}{kind}deck"


def _top(job: Job) -> float:
    rail = job.bay.rail or 0.0
    tops = [deck.top if deck.top is not None else rail - deck.below_rail for deck in job.decks]
    tops += [block.place.z[1] for block in job.blocks if block.place.z is not None]
    return max(tops, default=rail)


def _build_words(job: Job, _: float) -> str:
    shapes = {(len(block.columns), block.modules) for block in job.blocks}
    columns = max(count for count, _ in shapes)
    rows = "-".join(str(len(column.stack)) for block in job.blocks for column in block.columns)
    shared = ", one carcass" if columns > 1 and ("shared" in {m for _, m in shapes}) else ""
    column_word = "column" if columns == 1 else "columns"
    return f"{_COUNTS[columns]} {column_word}, rows {rows}{shared}"


def _share_words(job: Job, _: float) -> str:
    """Return how columns share the width and openings the height, and how far the deck reaches."""
    words = []
    for block in job.blocks:
        weights = [column.weight for column in block.columns]
        wide = [k for k, weight in enumerate(weights) if weight > min(weights)]
        words += ["left column wider" if wide[0] == 0 else "right column wider"] if wide else []
    stacks = [[fill.weight for fill in c.stack] for block in job.blocks for c in block.columns]
    on_top = {stack[-1] > stack[0] for stack in stacks if stack[-1] != stack[0]}
    words += ["deep on top" if deep else "shallow on top" for deep in sorted(on_top)]
    words += ["deck to the wall" for deck in job.decks if deck.back == "wall"]
    return ", ".join(dict.fromkeys(words)) or "even shares"


def _sheet_words(job: Job, _: float) -> str:
    build = job.build
    sheets = (build.carcass, build.drawer, build.drawer_bottom, build.front_sheet)
    decks = tuple(deck.build.deck_sheet for deck in job.decks)
    return f"sheets {'/'.join(name.rpartition('-')[2] for name in (*sheets, *decks))}"


def shown(criterion: Criterion, value: float | None, units: Unit = "mm") -> str:
    """Return a value as printed: whole, but for shares; lengths in the job's unit."""
    if value is None:
        return "–"
    if criterion.unit == "mm" and units == "in":
        return format_length(float(round(value)), "in", with_unit=True, parts=16)
    if criterion.unit == "%":
        return f"{100.0 * value:.0f} %"
    unit = f" {criterion.unit}" if criterion.unit and criterion.unit != "cost" else ""
    return f"{value:.0f}{unit}"


def best_at(
    mine: Measures, rows: Sequence[Measures], criteria: Sequence[Criterion]
) -> tuple[str, ...]:
    """Return what a design is best at among some: ``the lightest``.

    What many of them are best at sets none apart, and is not told.
    """
    many = max(1, int(BEST_SHARE * len(rows)))
    return tuple(
        each.best
        for each in criteria
        if _behind(mine, rows, each) < each.step
        and _range(rows, each) >= each.step
        and sum(_behind(row, rows, each) < each.step for row in rows) <= many
    )


def gives_up(
    mine: Measures,
    rows: Sequence[Measures],
    criteria: Sequence[Criterion],
    units: Unit = "mm",
) -> tuple[str, ...]:
    """Return what a design gives up against the best of some, the worst first."""
    found = []
    for each in criteria:
        behind, width = _behind(mine, rows, each), _range(rows, each)
        if behind >= each.step and width > 0.0:
            found.append((behind / width, _told(each, _amount(each, behind, units))))
    found.sort(key=lambda pair: -pair[0])
    return tuple(text for _, text in found[:MOST_GIVEN_UP])


def _told(criterion: Criterion, amount: str) -> str:
    """Return an amount with what it is given up in: ``1 more sheet``."""
    words = f"{amount} {criterion.gives_up}"
    return words.removesuffix("s") if amount == "1" and words.startswith("1 more ") else words


def _amount(criterion: Criterion, value: float, units: Unit) -> str:
    if criterion.unit == "%":
        return f"{100.0 * value:.0f} points"
    return shown(criterion, value, units)


def _behind(mine: Measures, rows: Sequence[Measures], criterion: Criterion) -> float:
    values = [float(getattr(row, criterion.name)) for row in rows]
    own = float(getattr(mine, criterion.name))
    return max(values) - own if criterion.better == "more" else own - min(values)


def _range(rows: Sequence[Measures], criterion: Criterion) -> float:
    values = [float(getattr(row, criterion.name)) for row in rows]
    return max(values) - min(values)
