"""The steps of the work in build order, from the first caliper reading to the last weighing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from stowright.making.drafts import StepDraft
from stowright.making.drawer_steps import drawer_steps
from stowright.making.finish_and_install import install_steps
from stowright.making.goods import with_goods
from stowright.making.say import DUST, ROUTER, SAW, say, slots_first
from stowright.making.tabs import MALLET, TAPPED_HOME, pushed_together, trial_cut
from stowright.model.design import BlockDesign, Design, ModuleDesign, RunnerFit
from stowright.model.making import HoldPoint
from stowright.model.part import PlacedPart

__all__ = ["step_drafts"]

_GLUED_AND_SCREWED = (
    "Brush glue on the edges that meet, set each part to its place, clamp it.",
    "Check the corner with a square, then drive the screws through their holes into the pilots.",
)


def step_drafts(
    design: Design, narrower: Mapping[str, float] | None = None
) -> tuple[StepDraft, ...]:
    """Return every step, in order.

    ``narrower`` is how much narrower than its sum a drawer's box is best cut, by opening. [mm]
    """
    drafts = (
        *_cut_steps(design),
        *(step for block in design.blocks for step in _block_steps(design, block)),
        *drawer_steps(design, narrower or {}),
        *install_steps(design),
    )
    return with_goods(design, drafts)


def _cut_steps(design: Design) -> Iterator[StepDraft]:
    near = "2 in" if design.job.units == "in" else "50 mm"
    readings = ", ".join(f"{row.material} {row.t:g} mm" for row in design.thicknesses)
    yield StepDraft(
        key=("cut", "caliper"),
        stage="cut",
        title="Caliper the sheets",
        text=(
            f"Read each sheet at eight places about {near} in from the edge; write the mean on it.",
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
            reads="thickness",
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
            reads="bay",
        ),
        figure=False,
    )
    yield _cut_by_router(design) if design.job.build.method == "cnc" else _cut_by_saw(design)
    yield _machined(design)


def _cut_by_saw(design: Design) -> StepDraft:
    return StepDraft(
        key=("cut", "A"),
        stage="cut",
        title="Cut release A",
        text=(
            "Follow the sheet layouts and their cut numbers; trim the datum edges first.",
            "Write the mark, the front edge and the hand on each part before it leaves the saw.",
            "Leave every part of release B uncut: it waits for a reading.",
        ),
        tools=("saw", "guide", "tape", "pencil"),
        checks=(_cut_now(design),),
        cautions=(SAW, DUST),
        figure=False,
    )


def _cut_by_router(design: Design) -> StepDraft:
    return StepDraft(
        key=("cut", "A"),
        stage="cut",
        title="Cut release A",
        text=(
            (
                "Each sheet layout is a file for the router. Fix the sheet flat, good face up, zero "
                "at its lower left corner; z is zero at the upper face."
            ),
            (
                "Holes and pockets first, what is cut inside next, the outlines last, held by bridges "
                "or vacuum."
            ),
            (
                "Leave out every part of release B: it waits for a reading; its place on the sheet "
                "stays."
            ),
            "Write the mark, the front edge and the hand on each part before it leaves the sheet.",
        ),
        tools=("router with its table", "pencil"),
        checks=(_cut_now(design),),
        cautions=(ROUTER, DUST),
        figure=False,
    )


def _machined(design: Design) -> StepDraft:
    routed = design.job.build.method == "cnc"
    return StepDraft(
        key=("machine", ""),
        stage="machine",
        title="Machine and drill release A",
        text=(
            (
                "Make each part by its own drawing, whose figure the cutting list names, from its "
                "datum corner 0. Its good face is the better veneer: it is drawn from there, and "
                "each step says where it looks."
            ),
            (
                "What the router has not made is left: holes in edges, and all that is made from "
                "the back face."
                if routed
                else "Cut grooves, rebates and notches to the measured thickness; try them on an "
                "offcut."
            ),
            (
                "Lay left and right parts side by side as a pair, then mark and drill: two lefts are "
                "the usual mistake."
            ),
            "Bore every pilot with its own bit, to its depth.",
            *_runner_pilots(design),
            *trial_cut(design),
        ),
        tools=(
            "drill with depth stop",
            *(() if routed else ("router or saw for grooves",)),
            "square",
        ),
        cautions=(SAW,),
    )


def _cut_now(design: Design) -> str:
    """Return how many pieces release A is, and how many wait."""
    now = sum(part.quantity for part in design.parts if part.release == "A")
    later = sum(part.quantity for part in design.parts if part.release == "B")
    return f"{now} pieces are cut now, {later} wait"


def _runner_pilots(design: Design) -> Iterator[str]:
    """Yield which pilots of runners wait."""
    if any(o.runner is not None for block in design.blocks for o in block.openings):
        yield (
            "Of a runner's pilots bore those of its slots alone, the rings with a stroke on the "
            "runner sheet: round holes are bored through the runner once it has run."
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
            (
                "Read each opening's width at face, middle and back and write it down; what less or "
                "more than planned means stands in the table of openings."
            ),
        ),
        again=tuple(earlier),
        tools=("tape", "clamps"),
        checks=tuple(_opening_checks(design, block, module)),
        hold_point=HoldPoint(
            what="difference of the two diagonals, at the face and at the back [mm]",
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
                (
                    f"Set the runner's end {say(design, fit.set_back)} back from the face."
                    if fit.set_back > 0.0
                    else "Set the runner's end flush with the face."
                ),
                slots_first(design, opening, "cabinet"),
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
    under = fit.line - fit.runner.section / 2.0
    if not under > 0.0:
        return (
            f"Mark the runner's centre line {say(design, fit.line)} above what is under it, both "
            "sides alike."
        )
    return (
        f"Cut two spacer blocks {say(design, under)} high and set the runner on them: its centre "
        f"line then lies {say(design, fit.line)} above what is under it; both sides alike."
    )
