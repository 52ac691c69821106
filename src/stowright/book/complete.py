"""Whether the book is complete: sizes, two datums, steps, counts, figures, dimensions.

What needs no drawing is judged with the plan and stands among its findings; what needs the drawings
is judged when the book is made. Either kind fails the book.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping

from stowright.book.part_pages import drawn_with
from stowright.drawings.dimension_check import false_dimensions, foreign_sizes
from stowright.drawings.goods_figure import unfitted
from stowright.drawings.part_check import missing_sizes
from stowright.drawings.placing_check import unplaced
from stowright.drawings.scene import Scene
from stowright.errors import BookError
from stowright.model.finding import Finding
from stowright.model.part import Part
from stowright.model.plan import Plan
from stowright.proofs.judge import About, complete

__all__ = ["book_findings", "drawn_findings", "require_complete"]

#: Names that figures have; a text that looks like one has to be one.
_FIGURE = re.compile(
    r"(ga|view|exploded|rod|step|detail|fitted|runner|template)-\d+|layout-\d+(-cuts-\d+)?"
    r"|(part|placing)-\S+"
)
_SHOWN = 6
#: What the schedule counts by the piece or the pair is used by steps; glue and finish are not.
_COUNTED = frozenset({"piece", "pair"})


def book_findings(plan: Plan) -> tuple[Finding, ...]:
    """Return the findings about the book's completeness (family 16)."""
    return (
        _finding("BOOK-SIZES", "Every part has all its sizes", _sizes(plan)),
        _finding("BOOK-DATUMS", "Every feature is placed from two datums", _datums(plan)),
        _finding("BOOK-PARTS", "Every part is introduced in exactly one step", _parts(plan)),
        _finding("BOOK-FIXINGS", "Every fixing is used in exactly one step", _fixings(plan)),
        _finding("BOOK-SCHEDULE", "The schedule counts what is placed", _schedule(plan)),
    )


def drawn_findings(
    plan: Plan, scenes: Mapping[str, Scene], content: Mapping[str, object]
) -> tuple[Finding, ...]:
    """Return the findings that need the book's drawings and its content.

    Args:
        plan: The plan.
        scenes: The drawings by name.
        content: What the book says; its texts name the figures that they refer to.
    """
    return (
        _finding(
            "BOOK-DRAWN", "Every part's drawing gives each feature two datums", _drawn(plan, scenes)
        ),
        _finding("BOOK-FIGURES", "Every figure is referred to", _figures(plan, scenes, content)),
        _finding("BOOK-STEPS", "Every step has a figure", _steps(plan, scenes, content)),
        _finding(
            "BOOK-PLACES",
            "Every loose piece, stop and hook is placed from two datums",
            _places(plan, scenes),
        ),
        _finding("BOOK-DIMENSIONS", "Every dimension equals the plan", _dimensions(plan, scenes)),
    )


def require_complete(
    plan: Plan, scenes: Mapping[str, Scene], content: Mapping[str, object]
) -> None:
    """Refuse a book that leaves something out.

    Raises:
        BookError: Naming what is missing, the first few of each kind.
    """
    findings = (*book_findings(plan), *drawn_findings(plan, scenes, content))
    wrong = [f for f in findings if f.status != "pass"]
    if wrong:
        words = "; ".join(f"{f.title}: {', '.join(f.needs or f.working)}" for f in wrong)
        raise BookError(f"the book is not complete: {words}")


def _finding(code: str, title: str, missing: tuple[str, ...]) -> Finding:
    about = About(
        id=code,
        title=title,
        about="book",
        family=16,
        source="this program's own completeness test",
        standing="published",
        load_case="the printed book",
    )
    return complete(
        about,
        missing=missing,
        advice=("this is a fault of the program: report it with the job file",),
    )


def _sizes(plan: Plan) -> tuple[str, ...]:
    bare = [
        f"{part.mark} has a size that is not above zero"
        for part in plan.design.parts
        if not _sized(part)
    ]
    made = [
        f"{part.mark}: {feature.purpose or feature.kind} has a size that is not above zero"
        for part in plan.design.parts
        for feature in part.features
        if not (_above_zero(feature.size) and _above_zero((feature.depth,)))
    ]
    return _few([*bare, *made])


def _sized(part: Part) -> bool:
    return _above_zero((part.length, part.width, part.thickness)) and part.quantity >= 1


def _above_zero(sizes: tuple[float, ...]) -> bool:
    return bool(sizes) and all(0.0 < size < float("inf") for size in sizes)


def _datums(plan: Plan) -> tuple[str, ...]:
    return tuple(
        f"{part.mark}: {feature.purpose or feature.kind} lies off the part"
        for part in plan.design.parts
        for feature in part.features
        if not _on_part(part, feature.face, feature.at)
    )


def _on_part(part: Part, face: str, at: tuple[float, float]) -> bool:
    along = part.width if face in {"u0", "u1"} else part.length
    up = part.width if face in {"good", "back"} else part.thickness
    slack = 1.0e-6
    return -slack <= at[0] <= along + slack and -slack <= at[1] <= up + slack


def _parts(plan: Plan) -> tuple[str, ...]:
    counts = Counter(piece for piece, _ in _introduced(plan))
    wrong = [
        f"{p.mark} ({p.id}) is introduced {counts[p.id]} times"
        for p in plan.design.placed
        if counts[p.id] != 1
    ]
    return _few([*wrong, *_miscalled(plan)])


def _introduced(plan: Plan) -> Iterator[tuple[str, int]]:
    """Yield each piece with the number of each step that introduces it."""
    for step in plan.making.steps:
        for part in step.parts:
            if part.first:
                for piece in part.placed:
                    yield piece, step.number


def _miscalled(plan: Plan) -> Iterator[str]:
    """Yield what a step says of its parts that the plan does not bear out."""
    marks = {piece.id: piece.mark for piece in plan.design.placed}
    since = dict(reversed(list(_introduced(plan))))
    for step in plan.making.steps:
        for part in step.parts:
            if part.copies != len(part.placed):
                told = f"{part.copies} × {part.mark}"
                yield f"step {step.number} counts {told}, has {len(part.placed)}"
            for piece in part.placed:
                if marks.get(piece) != part.mark:
                    yield f"step {step.number} calls {piece} {part.mark}"
                elif since.get(piece, step.number) > step.number:
                    yield f"step {step.number} has {part.mark} ({piece}) before it is introduced"


def _fixings(plan: Plan) -> tuple[str, ...]:
    counts = Counter(
        fixing for step in plan.making.steps for row in step.fixings for fixing in row.ids
    )
    wrong = [
        f"{f.type} ({f.id}) is used {counts[f.id]} times"
        for f in plan.design.fixings
        if counts[f.id] != 1
    ]
    return _few([*wrong, *_miscounted(plan)])


def _miscounted(plan: Plan) -> Iterator[str]:
    """Yield what a step says of its fixings that the plan does not bear out."""
    placed = {fixing.id: fixing for fixing in plan.design.fixings}
    since = dict(reversed(list(_introduced(plan))))
    for step in plan.making.steps:
        for row in step.fixings:
            if row.ids and row.count != len(row.ids):
                yield f"step {step.number} counts {row.count} × {row.type}, has {len(row.ids)}"
            for name in row.ids:
                fixing = placed.get(name)
                if fixing is None or fixing.type != row.type:
                    yield f"step {step.number} calls {name} {row.type}"
                elif any(since.get(j, 0) > step.number for j in fixing.joins):
                    yield f"step {step.number} needs what is not there yet for {row.type} ({name})"


def _schedule(plan: Plan) -> tuple[str, ...]:
    placed = Counter(f.type for f in plan.design.fixings)
    for name, count, _ in plan.design.hardware:  # what is fitted by words, with its screws
        placed[name] += count
    listed = {row.name: row.quantity for row in plan.making.schedule}
    wrong = [
        f"{name}: {count} placed, {listed.get(name, 0.0):g} in the schedule"
        for name, count in sorted(placed.items())
        if listed.get(name) != float(count)
    ]
    used: Counter[str] = Counter()
    for step in plan.making.steps:
        for each in step.fixings:
            used[each.type] += each.count
    counted = {row.name: row.quantity for row in plan.making.schedule if row.unit in _COUNTED}
    wrong += [
        f"{name}: {counted.get(name, 0.0):g} in the schedule, {used[name]} in the steps"
        for name in sorted({*counted, *used})
        if counted.get(name, 0.0) != float(used[name])
    ]
    return _few(wrong)


def _drawn(plan: Plan, scenes: Mapping[str, Scene]) -> tuple[str, ...]:
    missing: list[str] = []
    shown = drawn_with(plan.design.parts)
    for part in plan.design.parts:
        scene = scenes.get(f"part-{shown[part.mark]}")
        missing += [f"{part.mark}: no drawing"] if scene is None else missing_sizes(part, scene)
    return _few(missing)


def _dimensions(plan: Plan, scenes: Mapping[str, Scene]) -> tuple[str, ...]:
    units = plan.job.units
    wrong = [line for scene in scenes.values() for line in false_dimensions(scene, units=units)]
    shown = drawn_with(plan.design.parts)
    for part in plan.design.parts:
        scene = scenes.get(f"part-{shown[part.mark]}")
        wrong += foreign_sizes(part, scene) if scene is not None else []
    return _few(wrong)


def _figures(
    plan: Plan, scenes: Mapping[str, Scene], content: Mapping[str, object]
) -> tuple[str, ...]:
    said = set(_texts({key: value for key, value in content.items() if key != "figures"}))
    wrong = [f"{name}: nothing refers to it" for name in scenes if name not in said]
    wrong += [f"{name}: no such figure" for name in sorted(said) if _dangling(name, scenes)]
    shown = {step.figure for step in plan.making.steps if step.figure}
    wrong += [f"{name}: its step has no figure" for name in sorted(shown) if name not in scenes]
    return _few(wrong)


def _steps(
    plan: Plan, scenes: Mapping[str, Scene], content: Mapping[str, object]
) -> tuple[str, ...]:
    """Return the steps that no figure shows, neither their own nor another chapter's."""
    rows = content.get("steps")
    shown = {
        row["number"]: {row["figure"], *row["see"]} & set(scenes)
        for row in (rows if isinstance(rows, list) else [])
    }
    return _few(
        [f"{s.number} {s.title}: no figure" for s in plan.making.steps if not shown.get(s.number)]
    )


def _places(plan: Plan, scenes: Mapping[str, Scene]) -> tuple[str, ...]:
    """Return what stands loose, or is fitted by a step, and has no place on a drawing."""

    def named(start: str) -> list[Scene]:
        return [scene for name, scene in scenes.items() if name.startswith(start)]

    return _few(
        [*unplaced(plan.design, named("placing-")), *unfitted(plan.design, named("fitted-"))]
    )


def _dangling(text: str, scenes: Mapping[str, Scene]) -> bool:
    return _FIGURE.fullmatch(text) is not None and text not in scenes


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _texts(inner)


def _few(lines: list[str]) -> tuple[str, ...]:
    """Return the first lines and how many more there are."""
    if len(lines) <= _SHOWN:
        return tuple(lines)
    return (*lines[:_SHOWN], f"and {len(lines) - _SHOWN} more")
