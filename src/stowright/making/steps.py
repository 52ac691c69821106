"""The steps of the work in build order, from the first caliper reading to the last weighing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from stowright.making.drafts import StepDraft
from stowright.making.finish_and_install import install_steps
from stowright.making.say import say
from stowright.making.tabs import (
    MALLET,
    TAPPED_HOME,
    corners_with_tabs,
    pushed_together,
    trial_cut,
)
from stowright.model.design import BlockDesign, Design, ModuleDesign, OpeningDesign, RunnerFit
from stowright.model.making import HoldPoint
from stowright.model.part import PlacedFixing, PlacedPart

__all__ = ["step_drafts"]

SAW = (
    "Eye and hearing protection and a dust mask rated for wood; let the blade stop before "
    "reaching in."
)
_GLUED_AND_SCREWED = (
    "Glue, clamp, check the corner with a square, then drive the screws into their pilots.",
)
DUST = "Wood dust harms lungs: extract at the tool and wear a mask; follow the local limits."


def step_drafts(
    design: Design, narrower: Mapping[str, float] | None = None
) -> tuple[StepDraft, ...]:
    """Return every step, in order.

    ``narrower`` is how much narrower than its sum a drawer's box is best cut, by opening. [mm]
    """
    return (
        *_cut_steps(design),
        *(step for block in design.blocks for step in _block_steps(design, block)),
        *_drawer_steps(design, narrower or {}),
        *install_steps(design),
    )


def _cut_steps(design: Design) -> Iterator[StepDraft]:
    readings = ", ".join(f"{row.material} {row.t:g} mm" for row in design.thicknesses)
    yield StepDraft(
        key=("cut", "caliper"),
        stage="cut",
        title="Caliper the sheets",
        text=(
            "Read each sheet at eight places about 50 mm in from the edge; write the mean on it.",
            "Keep one batch of each material for the whole job.",
        ),
        tools=("caliper", "pencil"),
        checks=(f"The plan was made with: {readings}.",),
        hold_point=HoldPoint(
            what="mean thickness of each material against the plan",
            least=None,
            most=None,
            otherwise="If a mean differs by more than 0.1 mm, enter the readings and print the "
            "plan again before any cut.",
        ),
    )
    yield StepDraft(
        key=("cut", "measure"),
        stage="cut",
        title="Read the bay again",
        text=("Read every measurement on the measure-first page once more, from the same datum.",),
        tools=("steel tape", "straightedge"),
        hold_point=HoldPoint(
            what="each reading against the measure-first page",
            least=-design.job.bay.reading_error,
            most=design.job.bay.reading_error,
            otherwise="Enter what you read and print the plan again.",
        ),
        figure=False,
    )
    yield StepDraft(
        key=("cut", "A"),
        stage="cut",
        title="Cut release A",
        text=(
            "Follow the sheet layouts and their cut numbers; trim the datum edges first.",
            "Write the mark, the front edge and the hand on each part before it leaves the saw.",
            "Leave every part of release B uncut: it waits for a reading.",
        ),
        tools=("saw", "guide", "tape", "pencil"),
        cautions=(SAW, DUST),
        figure=False,
    )
    yield StepDraft(
        key=("machine", ""),
        stage="machine",
        title="Machine and drill release A",
        text=(
            "Cut grooves, rebates and notches to the measured thickness; try them on an offcut.",
            (
                "Lay left and right parts side by side as a pair, then mark and drill: two lefts are "
                "the usual mistake."
            ),
            "Bore pilots for every screw that enters an edge.",
            *trial_cut(design),
        ),
        tools=("drill with depth stop", "router or saw for grooves", "square"),
        cautions=(SAW,),
    )


def _block_steps(design: Design, block: BlockDesign) -> Iterator[StepDraft]:
    for module in block.modules:
        yield from _carcass_steps(design, block, module)
        yield from _runner_steps(design, block, module)


def _of_module(design: Design, module: ModuleDesign) -> list[PlacedPart]:
    return [
        p
        for p in design.placed
        if p.block == module.block and p.module == module.name and not p.opening
    ]


def _carcass_steps(design: Design, block: BlockDesign, module: ModuleDesign) -> Iterator[StepDraft]:
    home = f"{block.name}/{module.name}"
    pieces = _of_module(design, module)
    word = f"{block.name}, module {module.name}"
    tabbed = any(any(piece.shoulders) for piece in pieces)
    earlier: list[str] = []
    for title, new in pushed_together(pieces) if tabbed else _stood_up(pieces):
        if not new:
            continue
        yield StepDraft(
            key=("carcass", home),
            stage="carcass",
            title=f"{word}: {title}",
            text=TAPPED_HOME if tabbed else _GLUED_AND_SCREWED,
            new=tuple(new),
            again=tuple(earlier[-2:]),
            takes=("carcass",),
            tools=("drill driver", "clamps", "square", "glue", *(MALLET if tabbed else ())),
        )
        earlier += new
    diagonal = (module.width**2 + module.height**2) ** 0.5 / 1000.0
    yield StepDraft(
        key=("check", home),
        stage="carcass",
        title=f"{word}: square it and read its openings",
        text=(
            (
                "Before the glue grabs, measure both diagonals at the face and at the back and pull "
                "it square."
            ),
            "Read each opening's width at face, middle and back and write it down.",
        ),
        again=tuple(earlier[:1]),
        tools=("tape", "clamps"),
        checks=tuple(_opening_checks(design, block, module)),
        hold_point=HoldPoint(
            what="difference of the diagonals at the face [mm]",
            least=0.0,
            most=round(max(1.0, diagonal), 1),
            otherwise="Pull it square with a clamp across the long diagonal; brace it until dry.",
        ),
    )


def _stood_up(pieces: list[PlacedPart]) -> Iterator[tuple[str, list[str]]]:
    """Yield the steps of a carcass that is screwed together, each with its new pieces."""
    groups: tuple[tuple[str, set[str], str], ...] = (
        ("lay the floor to the left side", {"carcass-floor", "floor-rail"}, "side-left"),
        ("stand the partitions", {"partition"}, ""),
        ("fit the back", {"carcass-back", "back-rail"}, ""),
        ("fit shelves and rails between openings", {"shelf", "stack-rail"}, ""),
        ("close it with the right side", set(), "side-right"),
        ("fit the top", {"carcass-rail", "carcass-top"}, ""),
    )
    for title, roles, suffix in groups:
        mine = [p for p in pieces if p.role in roles or (suffix and p.id.endswith(suffix))]
        yield title, [p.id for p in mine]


def _opening_checks(design: Design, block: BlockDesign, module: ModuleDesign) -> Iterator[str]:
    for opening in block.openings:
        if opening.name in module.openings:
            yield (
                f"{opening.name}: opening reads {say(design, opening.width)} wide and "
                f"{say(design, opening.height)} high, {say(design, opening.depth)} deep"
            )


def _runner_steps(design: Design, block: BlockDesign, module: ModuleDesign) -> Iterator[StepDraft]:
    for opening in block.openings:
        if opening.name not in module.openings or opening.runner is None:
            continue
        fit = opening.runner
        yield StepDraft(
            key=("runners", opening.name),
            stage="runners",
            title=f"{opening.name}: fix the cabinet members of its runners",
            text=(
                _where_runners_lie(design, fit),
                f"Set the runner's end {say(design, fit.set_back)} back from the face.",
                "Slotted holes first, at mid height; the round holes wait for the run test.",
            ),
            again=tuple(b for b in opening.bounds[:2] if b),
            takes=("runners",),
            tools=("spacer blocks", "drill driver", "square"),
            checks=(
                f"{fit.runner.name}, {say(design, fit.size.length)} long; line {say(design, fit.line)}",
            ),
        )


def _where_runners_lie(design: Design, fit: RunnerFit) -> str:
    if fit.runner.mount == "flat":
        return (
            "Lay both members flat on what is under the box, parallel, their outer edges as far "
            "apart as the box is wide."
        )
    return (
        f"Cut two spacer blocks so that the runner's centre line lies {say(design, fit.line)} "
        "above what is under it; both sides from the same block."
    )


def _drawer_steps(design: Design, narrower: Mapping[str, float]) -> Iterator[StepDraft]:
    moving = [o for block in design.blocks for o in block.openings if o.runner is not None]
    for n, opening in enumerate(moving):
        less = narrower.get(opening.name, 0.0)
        yield from _one_drawer(design, opening, trial=n == 0, narrower=less)
    for block in design.blocks:
        for opening in block.openings:
            if opening.runner is None:
                yield from _fixed_fill(design, opening)


def _of_opening(design: Design, opening: OpeningDesign) -> list[PlacedPart]:
    return [p for p in design.placed if p.opening == opening.name]


def _one_drawer(
    design: Design, opening: OpeningDesign, *, trial: bool, narrower: float
) -> Iterator[StepDraft]:
    fit, box = opening.runner, opening.box
    if fit is None or box is None:
        return
    pieces = _of_opening(design, opening)
    front = [p.id for p in pieces if p.role == "drawer-front"]
    boxed = [p for p in pieces if p.role != "drawer-front"]
    body = [p.id for p in boxed]
    between = box.width + 2.0 * (fit.side_space - fit.runner.thickness)
    first = "trial piece, before any other drawer is cut" if trial else "as the trial piece"
    yield StepDraft(
        key=("drawer", opening.name),
        stage="drawer",
        title=f"{opening.name}: read between the runners, then cut its box",
        text=(
            f"This is the {first}.",
            "Read between the closed runners at face, middle and back; the least reading rules.",
            (
                "Cut inner front, inner back and bottom to suit; when in doubt narrower: a box can be "
                "shimmed, never shaved."
            ),
            "Then groove and drill them as their drawings show, from the same datum edges.",
            *_to_be_shimmed(design, narrower),
        ),
        tools=("inside rule or two slips of wood", "saw"),
        hold_point=HoldPoint(
            what=f"{opening.name}: between runners [mm]",
            least=round(between - 0.5, 1),
            most=round(between + 1.0, 1),
            otherwise="Enter the three readings; the plan gives the new inner front, back and "
            "bottom, or shims by screw position.",
        ),
        cautions=(SAW,),
    )
    yield StepDraft(
        key=("box", opening.name),
        stage="drawer",
        title=f"{opening.name}: assemble the box",
        text=(
            *corners_with_tabs(boxed),
            "Slide the bottom into its grooves dry, check both diagonals, then glue and screw."
            if opening.build.bottom_fit == "grooved"
            else "Glue and screw the corners square, then fix the bottom.",
        ),
        new=tuple(body),
        takes=("drawer",),
        tools=("drill driver", "clamps", "square", "glue"),
        checks=(
            f"box {say(design, box.width)} wide, {say(design, box.height)} high, {say(design, box.length)} long",
        ),
        hold_point=HoldPoint(
            what=f"{opening.name}: difference of the box's diagonals [mm]",
            least=0.0,
            most=1.0,
            otherwise="Pull it square before the glue grabs.",
        ),
    )
    yield StepDraft(
        key=("members", opening.name),
        stage="drawer",
        title=f"{opening.name}: fix the drawer members and run it",
        text=(
            (
                f"Centre line {say(design, fit.line_in_drawer)} above the side's lower edge, ends flush with "
                "the inner front."
            ),
            (
                "Run it loaded ten times with the front screws loose, then tighten from the face; if "
                "it tightens at the back, pack there."
            ),
        ),
        again=tuple(body[:2]),
        takes=("runners",),
        tools=("drill driver", "feeler or card packers"),
        checks=(f"travel {say(design, fit.size.travel)}, full, without rubbing",),
    )
    if front and opening.front:
        wide, high = opening.front
        yield StepDraft(
            key=("front", opening.name),
            stage="drawer",
            title=f"{opening.name}: read the face, cut and fit the front",
            text=(
                "Read the opening at the face, width at top and bottom, height at both sides.",
                "Cut the front to suit, drill and cut out as drawn, hold it with card packers all round.",
                "Screw it from inside.",
            ),
            new=tuple(front),
            takes=("front",),
            tools=("drill driver", "card packers"),
            checks=(
                f"front {say(design, wide)} × {say(design, high)}; gaps {say(design, opening.build.front_gap)}",
            ),
        )


def _to_be_shimmed(design: Design, narrower: float) -> Iterator[str]:
    if narrower > 0.0:
        yield (
            f"Cut them {say(design, narrower)} narrower than the reading asks for, bottom included, and "
            "take up what is left with shims behind the runners: one of 0.25 mm, 0.5 mm and 1 mm a side."
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
                "Read the opening at the face, cut to suit, drill as drawn, fit with even gaps.",
            ),
            new=tuple(pieces),
            takes=("front",),
            tools=("drill driver", "card packers", *(("square",) if door else ())),
            checks=tuple(_door_checks(design, opening)) if door else (),
        )


def _door_text(design: Design, opening: OpeningDesign) -> tuple[str, ...]:
    kinds = {f.kind for f in _hardware_of(design, opening)}
    found = [
        "Read the opening at the face, cut to suit and drill as drawn; lay it in, card all round."
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


def _door_checks(design: Design, opening: OpeningDesign) -> Iterator[str]:
    if opening.front:
        wide, high = opening.front
        yield f"door {say(design, wide)} × {say(design, high)}"
    names = [f.type for f in _hardware_of(design, opening)]
    for name in dict.fromkeys(names):
        yield f"{names.count(name)} × {name}"


def _hardware_of(design: Design, opening: OpeningDesign) -> list[PlacedFixing]:
    mine = {p.id for p in _of_opening(design, opening)}
    return [
        f
        for f in design.fixings
        if f.kind in {"hinge", "latch", "stay", "handle"} and mine.intersection(f.joins)
    ]
