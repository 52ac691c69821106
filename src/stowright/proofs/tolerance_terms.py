"""What a drawer's fit is made of: the terms that vary, by the way it is built.

The way of building decides which terms count. Cut from the plan in one go, the opening's panels,
the box's parts, the sheet's thickness and the squareness of the carcass all vary; inner parts held
back until the space between the runners is read leave that reading and one cut; a run in the
slotted holes takes the carcass's lean out; shims take up what is too wide.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stowright.formulas.fit_window import FitStack
from stowright.formulas.panel_tolerances import WITHIN_SHEET_MM
from stowright.formulas.squareness import (
    DIAGONALS_PER_METRE_MM,
    lean_from_diagonals,
    runout_from_diagonals_mm,
)
from stowright.formulas.tape import max_permissible_error_mm
from stowright.formulas.tolerance_stack import Term
from stowright.model.catalogue import Catalogue, Saw
from stowright.model.design import BlockDesign, Design, OpeningDesign, ThicknessInUse
from stowright.model.job import Job
from stowright.model.refit import AsBuilt

__all__ = ["SHIM_SET", "Fit", "Way", "as_read", "fit_of", "front_stacks", "play_stack", "saw_of"]

#: Thin packers, one of each on either side of a drawer (common practice). [mm]
SHIM_SET = (0.25, 0.5, 1.0)
#: A reading is taken to the half millimetre. [mm either way]
GRADUATION = 0.25
#: Pieces cut at one stop setting differ by no more than this (common practice). [mm either way]
OFF_THE_STOP = 0.1
#: A front is centred with card packers by eye (common practice). [mm either way]
CENTRED = 0.5
#: Depth of a rebate or housing as a router leaves it (common practice). [mm either way]
JOINT_DEPTH = 0.3
#: A lining gives and is laid unevenly (assumed). [mm either way, each side]
LINING = 0.5
#: What a caliper reading is good for. [mm either way]
CALIPER = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How a drawer is built, as far as its fit goes.

    Attributes:
        calipered: The sheets were calipered.
        held: Inner front, inner back and front are cut after a reading.
        run_in: The runners are run in their slotted holes before they are fixed.
        shims: One set of shims lies ready for each side.
        narrower: How much narrower than its sum the box is cut. [mm]
    """

    calipered: bool
    held: bool
    run_in: bool
    shims: bool
    narrower: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """The numbers of one drawer or front that its fit depends on. [mm].

    ``more`` is how much further the opening reads at the face and at the back than at its least.
    """

    width: float
    height: float
    depth: float
    play: float
    low: float
    high: float
    gaps: tuple[float, float, float, float] | None
    least_gap: float
    lining: float
    columns: int
    jointed: bool
    box_sheet: ThicknessInUse
    carcass_sheet: ThicknessInUse
    saw: Saw
    tape_mm: float
    tape: str
    more: tuple[float, float] = (0.0, 0.0)


def saw_of(job: Job, catalogue: Catalogue, name: str) -> Saw:
    """Return the saw of a body; a method named without a saw means the first of that method."""
    saw = catalogue.saw(name)
    assumed = any(row.field == "build.saw" for row in job.assumed)
    if assumed and saw.method != job.build.method:
        return next((s for s in catalogue.saws if s.method == job.build.method), saw)
    return saw


def fit_of(design: Design, catalogue: Catalogue, block: BlockDesign, opening: OpeningDesign) -> Fit:
    """Return what the fit of an opening's drawer and front depends on."""
    build, fit = opening.build, opening.runner
    gaps = {gap.name: gap for gap in design.gaps if gap.name.startswith(f"{opening.name}: front")}
    sides = [
        gaps.get(f"{opening.name}: front gap, {side}")
        for side in ("left", "right", "below", "above")
    ]
    found = tuple(gap.sum for gap in sides if gap is not None)
    space = fit.runner.side_space if fit else None
    in_module = {o.column for o in block.openings if o.module == opening.module}
    known = {row.material: row for row in design.thicknesses}
    carcass = known.get(build.carcass) or design.thicknesses[0]
    built = design.refit.built(opening.name) if design.refit else None
    play, more = as_read(opening, built)
    return Fit(
        width=opening.width,
        height=opening.height,
        depth=opening.depth,
        play=play,
        low=2.0 * space.least if space else 0.0,
        high=2.0 * space.most if space else 0.0,
        gaps=_gaps_as_read(found, opening, built),
        least_gap=max((gap.least for gap in gaps.values()), default=0.0),
        lining=build.lining.drawer,
        columns=len(in_module),
        jointed=build.joint not in {"butt", "tab-and-slot"},
        box_sheet=known.get(build.drawer) or carcass,
        carcass_sheet=carcass,
        saw=saw_of(design.job, catalogue, build.saw),
        tape_mm=max_permissible_error_mm(tape_class=design.job.tape, length_mm=opening.width),
        tape=design.job.tape,
        more=more,
    )


def _gaps_as_read(
    gaps: tuple[float, ...], opening: OpeningDesign, built: AsBuilt | None
) -> tuple[float, float, float, float] | None:
    """Return the gaps left, right, below and above a front; as its opening reads, if it was read.

    The front stands on the gap below it: what the opening reads higher lies above.
    """
    if len(gaps) != 4:
        return None
    left, right, below, above = gaps
    if built is None:
        return (left, right, below, above)
    wider = 0.0 if built.face is None else (built.face - opening.width) / 2.0
    return (left + wider, right + wider, below, above + built.rise[0])


def as_read(opening: OpeningDesign, built: AsBuilt | None) -> tuple[float, tuple[float, float]]:
    """Return the play of a drawer's two sides, and how much more it is at the face and the back.

    As the design has it; where opening, runner or box were read, as they read.
    """
    fit, box = opening.runner, opening.box
    if fit is None:
        return 0.0, (0.0, 0.0)
    play = 2.0 * fit.side_space
    if built is None or box is None:
        return play, (0.0, 0.0)
    room = built.room or (0.0,) * 3
    boxed = built.box or (box.width,) * 3
    thicker = 2.0 * ((built.runner or fit.runner.thickness) - fit.runner.thickness)
    found = [
        play + (r - min(room)) - (b - box.width) - thicker for r, b in zip(room, boxed, strict=True)
    ]
    least = min(found)
    return round(least, 6), (round(found[0] - least, 6), round(found[2] - least, 6))


def _thickness(sheet: ThicknessInUse, *, calipered: bool) -> tuple[float, float]:
    """Return how far a sheet's thickness may be out, and its mean less the one in use. [mm]."""
    if sheet.source != "catalogue":
        return max((sheet.t_max - sheet.t_min) / 2.0, CALIPER), 0.0
    if calipered:
        return WITHIN_SHEET_MM / 2.0, 0.0
    return (sheet.t_max - sheet.t_min) / 2.0, (sheet.t_max + sheet.t_min) / 2.0 - sheet.t


def play_stack(fit: Fit, way: Way) -> FitStack:
    """Return the play of a drawer's two sides together, with every term that varies."""
    spread, drift = _thickness(fit.box_sheet, calipered=way.calipered)
    shared = [
        Term(name=f"thickness of {fit.box_sheet.material}", half_width_mm=spread, sensitivity=2.0),
        Term(name=f"tape, class {fit.tape}", half_width_mm=fit.tape_mm),
    ]
    if fit.lining:
        shared.append(Term(name="linings", half_width_mm=LINING, sensitivity=2.0))
    if way.held:
        stop = f"inner parts at one stop, {fit.saw.name} saw"
        shared.append(Term(name=stop, half_width_mm=fit.saw.tolerance))
    else:
        shared += _opening_terms(fit, way)
    mean = fit.play - 2.0 * drift + way.narrower
    return FitStack(
        face_mm=mean + fit.more[0],
        back_mm=mean + fit.more[1],
        low_mm=fit.low,
        high_mm=fit.high + (2.0 * sum(SHIM_SET) if way.shims else 0.0),
        shared=tuple(shared),
        at_face=_end_terms(fit, way, "face", "rail", "front"),
        at_back=_end_terms(fit, way, "back", "back", "back"),
        sideways=() if way.run_in else (_lean(fit),),
    )


def _end_terms(fit: Fit, way: Way, end: str, panel: str, inner: str) -> tuple[Term, ...]:
    """Return what varies at one end alone: a reading and a cut, or the panels as they are cut."""
    if way.held:
        return (
            Term(name=f"reading at the {end}", half_width_mm=GRADUATION),
            Term(name=f"off the stop, {inner}", half_width_mm=OFF_THE_STOP),
        )
    cut = fit.saw.tolerance
    return (
        Term(name=f"floor and {panel}, {fit.saw.name} saw", half_width_mm=cut),
        Term(name=f"inner {inner}, {fit.saw.name} saw", half_width_mm=cut),
    )


def _opening_terms(fit: Fit, way: Way) -> list[Term]:
    """Return what else makes the opening when nothing is read."""
    found = []
    if fit.columns > 1:
        spread, _ = _thickness(fit.carcass_sheet, calipered=way.calipered)
        share = (fit.columns - 1) / fit.columns
        name = f"partitions of {fit.carcass_sheet.material}"
        found.append(Term(name=name, half_width_mm=spread, sensitivity=share))
    if fit.jointed:
        found.append(Term(name="depth of joints", half_width_mm=JOINT_DEPTH, sensitivity=2.0))
    return found


def _lean(fit: Fit) -> Term:
    """Return how far the back of a carcass stands sideways of its face."""
    metres = math.hypot(fit.width, fit.depth) / 1000.0
    sideways = runout_from_diagonals_mm(
        width_mm=fit.width, depth_mm=fit.depth, difference_mm=DIAGONALS_PER_METRE_MM * metres
    )
    return Term(name="squareness of the carcass", half_width_mm=sideways)


def front_stacks(fit: Fit, way: Way) -> tuple[FitStack, FitStack] | None:
    """Return the gaps left and right of a front, and below and above it; None without gaps."""
    if fit.gaps is None:
        return None
    left, right, below, above = fit.gaps
    across = _gap_stack(fit, way, left + right, along=fit.height, drop=(left - right) / 2.0)
    up = _gap_stack(fit, way, below + above, along=fit.width, drop=(below - above) / 2.0)
    return across, up


def _gap_stack(fit: Fit, way: Way, both: float, *, along: float, drop: float) -> FitStack:
    """Return two opposite gaps: together, with what shifts the front between them."""
    cut = fit.saw.tolerance
    terms = [
        Term(name=f"tape, class {fit.tape}", half_width_mm=fit.tape_mm),
        Term(name=f"front, {fit.saw.name} saw", half_width_mm=cut),
    ]
    if way.held:
        terms.append(Term(name="reading of the opening", half_width_mm=GRADUATION))
    else:
        terms.append(Term(name=f"opening, {fit.saw.name} saw", half_width_mm=cut))
        terms += _opening_terms(fit, way)
    metres = math.hypot(fit.width, fit.height) / 1000.0
    lean = lean_from_diagonals(
        width_mm=fit.width,
        height_mm=fit.height,
        difference_mm=DIAGONALS_PER_METRE_MM * metres,
    )
    sideways = (
        Term(name="front centred by eye", half_width_mm=CENTRED),
        Term(name="squareness of the face", half_width_mm=lean * along / 2.0),
    )
    return FitStack(
        face_mm=both,
        back_mm=both - 2.0 * abs(drop),
        low_mm=2.0 * fit.least_gap,
        high_mm=math.inf,
        at_back=tuple(terms),
        sideways=sideways,
    )
