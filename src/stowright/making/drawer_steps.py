"""Steps of the drawers: read, cut, box, runners, front; and doors and blanks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from stowright.making.drafts import StepDraft
from stowright.making.say import SAW, all_of, say, slots_first
from stowright.making.tabs import TAPPED_DRY, TAPPED_GLUED, corners_with_tabs
from stowright.model.design import BoxSize, Design, OpeningDesign, RunnerFit
from stowright.model.geometry import Point3
from stowright.model.making import HoldPoint
from stowright.model.part import PlacedFixing, PlacedPart
from stowright.units import format_length

__all__ = ["drawer_steps"]

#: Axes of a part and of its block lie along each other or square to each other.
_PARALLEL = 0.9


def drawer_steps(design: Design, narrower: Mapping[str, float]) -> Iterator[StepDraft]:
    """Yield the steps of every drawer and tray, then of doors and blanks.

    ``narrower`` is how much narrower than its sum a drawer's box is best cut, by opening. [mm]
    """
    moving = [o for block in design.blocks for o in block.openings if o.runner is not None]
    for n, opening in enumerate(moving):
        less = narrower.get(opening.name, 0.0)
        yield from _one_drawer(design, opening, trial=n == 0, narrower=less)
    for block in design.blocks:
        for opening in block.openings:
            if opening.runner is None:
                yield from _fixed_fill(design, opening)


def _one_drawer(
    design: Design, opening: OpeningDesign, *, trial: bool, narrower: float
) -> Iterator[StepDraft]:
    fit, box = opening.runner, opening.box
    if fit is None or box is None:
        return
    between = box.width + 2.0 * (fit.side_space - fit.runner.thickness)
    yield _read_and_cut(design, opening, between=between, trial=trial, narrower=narrower)
    yield _box(design, opening, box, narrower)
    yield _members(design, opening, fit)
    yield from _front(design, opening)


def _of_opening(design: Design, opening: OpeningDesign) -> list[PlacedPart]:
    return [p for p in design.placed if p.opening == opening.name]


def _boxed(design: Design, opening: OpeningDesign) -> list[PlacedPart]:
    return [p for p in _of_opening(design, opening) if p.role != "drawer-front"]


def _read_and_cut(
    design: Design, opening: OpeningDesign, *, between: float, trial: bool, narrower: float
) -> StepDraft:
    return StepDraft(
        key=("drawer", opening.name),
        stage="drawer",
        title=f"{opening.name}: read between the runners, then cut its box",
        text=(
            "This is the trial piece, before any other drawer is cut."
            if trial
            else "Cut it once the trial piece runs.",
            "Read between the closed runners at face, middle and back; the least reading rules.",
            *_by_the_reading(design, opening, between),
            *_to_be_shimmed(narrower),
            *_cut_to_the_reading(design),
        ),
        tools=("inside rule or two slips of wood", "saw", "drill with depth stop"),
        hold_point=HoldPoint(
            what=f"{opening.name}: between runners [mm]",
            least=round(between - 0.5, 1),
            most=round(between + 1.0, 1),
            otherwise="Enter the three readings; the plan gives the new sizes, or shims by screw "
            "position.",
        ),
        cautions=(SAW,),
    )


def _cut_to_the_reading(design: Design) -> Iterator[str]:
    """Yield how what waited for a reading is cut, by hand or by the router."""
    narrower = "When in doubt cut narrower: a box can be shimmed, never shaved."
    if design.job.build.method == "cnc":
        yield f"{narrower} Enter the readings: the router cuts these parts by the files of that plan."
        yield "What it does not make is drilled as their drawings show, from the same datum edges."
    else:
        yield (
            f"{narrower} Then machine and drill them as their drawings show, from the same datum "
            "edges."
        )


def _across(design: Design, opening: OpeningDesign) -> Point3:
    return next(b for b in design.blocks if b.name == opening.block).axes[0]


def _by_the_reading(design: Design, opening: OpeningDesign, between: float) -> Iterator[str]:
    """Yield what is taken off the reading for each part that waits for it."""
    across = _across(design, opening)
    found: dict[tuple[str, float], list[str]] = {}
    for piece in _boxed(design, opening):
        if design.part(piece.mark).release != "B":
            continue
        for axis, what, size in (
            (piece.axes[0], "length", piece.length),
            (piece.axes[1], "width", piece.width),
        ):
            if abs(sum(a * b for a, b in zip(axis, across, strict=True))) > _PARALLEL:
                marks = found.setdefault((what, size), [])
                if piece.mark not in marks:
                    marks.append(piece.mark)
    for (what, size), marks in found.items():
        yield (
            f"{all_of(marks)}: {what} = least reading less {_exact(between - size)}; the plan has "
            f"{_exact(size)}."
        )


def _exact(mm: float) -> str:
    """Return a length in millimetres, which a job in inches keeps beside its fraction."""
    return f"{format_length(round(mm, 1))} mm"


def _box(design: Design, opening: OpeningDesign, box: BoxSize, narrower: float) -> StepDraft:
    boxed = _boxed(design, opening)
    wide, cut_wide = say(design, box.width), say(design, box.width - narrower)
    cut = f" by the sum, {cut_wide} as cut narrower" if cut_wide != wide else ""
    return StepDraft(
        key=("box", opening.name),
        stage="drawer",
        title=f"{opening.name}: assemble the box",
        text=(
            *_bottom(design, opening, tabs=corners_with_tabs(boxed)),
            *_dividers(boxed),
        ),
        new=tuple(piece.id for piece in boxed),
        takes=("drawer",),
        tools=("drill driver", "clamps", "square", "glue"),
        checks=(
            (
                f"box {wide} wide{cut}, {say(design, box.height + box.under)} high"
                f"{' with its bottom' if box.under else ''}, {say(design, box.length)} long"
            ),
        ),
        hold_point=HoldPoint(
            what=f"{opening.name}: difference of the box's diagonals [mm]",
            least=0.0,
            most=1.0,
            otherwise="Pull it square before the glue grabs.",
        ),
    )


def _bottom(design: Design, opening: OpeningDesign, *, tabs: bool) -> tuple[str, ...]:
    """Return how a box and its bottom go together, ``tabs`` being at its corners or not."""
    if any(piece.role == "tray-base" for piece in _boxed(design, opening)):
        return ("Glue and screw cheeks and rails square, then lay the base on them and screw it.",)
    if opening.build.bottom_fit != "grooved":
        if tabs:
            return (TAPPED_DRY, f"{TAPPED_GLUED}, screw the corners square, fix the bottom.")
        return ("Glue and screw the corners square, then fix the bottom.",)
    mine = {piece.id for piece in _boxed(design, opening)}
    glued = any(j.glued and j.kind == "groove" and mine.issuperset(j.parts) for j in design.joints)
    ends = "shoulders, tabs and slots" if tabs else "the ends"
    return (
        (
            "Try it dry: inner front and inner back to one side, the bottom into its grooves, then "
            f"the other side{', each tab tapped into its slot' if tabs else ''}; check both diagonals."
        ),
        (
            f"Take it apart, glue {ends}{' and the grooves' if glued else ''}, put it together the "
            "same way, clamp it, drive the screws."
        ),
    )


def _dividers(boxed: Iterable[PlacedPart]) -> tuple[str, ...]:
    if any(piece.role == "divider" for piece in boxed):
        return ("Set each divider to its place and screw it through the bottom from below.",)
    return ()


def _members(design: Design, opening: OpeningDesign, fit: RunnerFit) -> StepDraft:
    flat = any(piece.role == "tray-base" for piece in _boxed(design, opening))
    side, end = ("cheek", "front rail") if flat else ("side", "inner front")
    return StepDraft(
        key=("members", opening.name),
        stage="drawer",
        title=f"{opening.name}: fix the drawer members and run it",
        text=(
            (
                f"Centre line {say(design, fit.line_in_drawer)} above the {side}'s lower edge, ends "
                f"flush with the {end}."
            ),
            slots_first(design, opening, "drawer"),
            (
                "Run it loaded ten times with the front screws loose, then tighten from the face; "
                "if it goes stiff as those at the back are tightened, pack behind the runner there."
            ),
        ),
        again=tuple(piece.id for piece in _boxed(design, opening)[:2]),
        takes=("runners",),
        tools=("drill driver", "feeler or card packers"),
        checks=(f"travel {say(design, fit.size.travel)}, full, without rubbing",),
    )


def _front(design: Design, opening: OpeningDesign) -> Iterator[StepDraft]:
    fronts = [p for p in _of_opening(design, opening) if p.role == "drawer-front"]
    if fronts and opening.front:
        wide, high = opening.front
        yield StepDraft(
            key=("front", opening.name),
            stage="drawer",
            title=f"{opening.name}: read the face, cut and fit the front",
            text=(
                "Read the opening at the face, width at top and bottom, height at both sides.",
                (
                    f"Cut {all_of(dict.fromkeys(p.mark for p in fronts))}: "
                    f"{_by_face('width', opening.width, wide)}, "
                    f"{_by_face('height', opening.height, high)}."
                ),
                *_set_front(design, opening),
            ),
            new=tuple(p.id for p in fronts),
            takes=("front",),
            tools=("saw", "drill driver", "card packers"),
            checks=(
                f"front {say(design, wide)} × {say(design, high)}",
                *_around(design, opening, fronts[0]),
            ),
        )


def _set_front(design: Design, opening: OpeningDesign) -> Iterator[str]:
    """Yield how a drawer's front is made, held and fixed."""
    yield "Drill and cut out as drawn."
    if opening.build.front == "overlay":
        yield "Hold it on the shut drawer so that it laps the opening as the check says."
    else:
        yield "Hold it in the opening with card packers all round."
    yield "Screw it from inside."
    if any(fixing.kind == "handle" for fixing in _hardware_of(design, opening)):
        yield "Fix its handle last, from inside where it has bolts."


def _around(design: Design, opening: OpeningDesign, front: PlacedPart) -> Iterator[str]:
    """Yield what a front leaves round itself: gaps, or how far it laps."""
    if opening.build.front != "overlay":
        yield f"gaps {say(design, opening.build.front_gap)}"
        return
    laps = _laps(design, opening, front)
    over = [f"{say(design, lap)} {side}" for side, lap in laps.items() if lap > 0.0]
    if over:
        yield f"laps {all_of(over)}"
    short = [f"{say(design, -lap)} {side}" for side, lap in laps.items() if lap < 0.0]
    if short:
        yield f"stays {all_of(short)} short of the opening's edge"


def _laps(design: Design, opening: OpeningDesign, front: PlacedPart) -> dict[str, float]:
    """Return how far a front reaches past each edge of its opening; below zero: short of it."""
    across, _, up = next(b for b in design.blocks if b.name == opening.block).axes
    corners = (front.point(0.0, 0.0, 0.0), front.point(front.length, front.width, front.thickness))

    def ends(axis: Point3) -> list[float]:
        offs = ([a - b for a, b in zip(corner, opening.at, strict=True)] for corner in corners)
        return sorted(sum(a * b for a, b in zip(off, axis, strict=True)) for off in offs)

    (left, right), (low, high) = ends(across), ends(up)
    return {
        "left": round(-left, 1),
        "right": round(right - opening.width, 1),
        "below": round(-low, 1),
        "above": round(high - opening.height, 1),
    }


def _cut_by_face(design: Design, opening: OpeningDesign) -> str:
    """Return how a door or a panel is cut to what is read."""
    marks = dict.fromkeys(p.mark for p in _of_opening(design, opening))
    if opening.front is None:
        return ", cut it to suit"
    wide, high = opening.front
    return (
        f", cut {all_of(marks)}: {_by_face('width', opening.width, wide)}, "
        f"{_by_face('height', opening.height, high)}"
    )


def _by_face(what: str, read: float, cut: float) -> str:
    """Return how a front's size follows from what is read: less its gaps, or more by its laps."""
    differs = round(read - cut, 1)
    if differs == 0.0:
        return f"{what} as the least reading"
    how = "less" if differs > 0.0 else "plus"
    return f"least {what} {how} {_exact(abs(differs))}"


def _to_be_shimmed(narrower: float) -> Iterator[str]:
    if narrower > 0.0:
        yield (
            f"Cut each of these {_exact(narrower)} narrower still, so that no error of reading or "
            "cutting jams the box; fill what is left with shims behind the runners, one of 0.25 mm, "
            "0.5 mm and 1 mm at hand for each side."
        )


def _fixed_fill(design: Design, opening: OpeningDesign) -> Iterator[StepDraft]:
    pieces = [p.id for p in _of_opening(design, opening)]
    if pieces:
        door = opening.fill == "locker"
        yield StepDraft(
            key=("front", opening.name),
            stage="drawer",
            title=f"{opening.name}: " + ("hang the door" if door else "fit the blank's panel"),
            text=_door_text(design, opening)
            if door
            else (
                (
                    f"Read the opening at the face{_cut_by_face(design, opening)}, drill as drawn; "
                    "set it into the opening, flush with the face, and screw it."
                ),
            ),
            new=tuple(pieces),
            takes=("front",),
            tools=("drill driver", "card packers", *(("square",) if door else ())),
            checks=tuple(_door_checks(design, opening) if door else _panel_checks(design, opening)),
        )


def _door_text(design: Design, opening: OpeningDesign) -> tuple[str, ...]:
    kinds = {f.kind for f in _hardware_of(design, opening)}
    found = [
        (
            f"Read the opening at the face{_cut_by_face(design, opening)}, drill as drawn; "
            f"{_held_shut(opening)}."
        )
    ]
    if "hinge" in kinds:
        found.append(
            "Screw the hinges to the door first, then, shut and packed, to what it hangs on."
        )
    if "latch" in kinds:
        found.append("Fit the latch, shut the door, mark where it meets, fit its keeper there.")
    if "stay" in kinds:
        found.append("Fit the stay last: it is stretched when the door stands square to the face.")
    return tuple(found)


def _held_shut(opening: OpeningDesign) -> str:
    """Return how a door is held while its hinges are fixed."""
    if opening.build.front == "overlay":
        return "hold it shut so that it laps the opening as the check says"
    return "lay it in, card all round"


def _panel_checks(design: Design, opening: OpeningDesign) -> Iterator[str]:
    if opening.front:
        wide, high = opening.front
        yield f"panel {say(design, wide)} × {say(design, high)}"


def _door_checks(design: Design, opening: OpeningDesign) -> Iterator[str]:
    if opening.front:
        wide, high = opening.front
        yield f"door {say(design, wide)} × {say(design, high)}"
        yield from _around(design, opening, _of_opening(design, opening)[0])
    if any(f.kind == "latch" for f in _hardware_of(design, opening)):
        yield "it latches by itself or by hand, and opens without force"


def _hardware_of(design: Design, opening: OpeningDesign) -> list[PlacedFixing]:
    mine = {p.id for p in _of_opening(design, opening)}
    return [
        f
        for f in design.fixings
        if f.kind in {"hinge", "latch", "stay", "handle"} and mine.intersection(f.joins)
    ]
