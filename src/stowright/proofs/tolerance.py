"""Fit under tolerance: does each drawer run, do its gaps stay open, and what does a remedy buy?

Every chance is worked out exactly from the terms' distributions, and again by a seeded Monte Carlo
of whole builds; both are printed. The status speaks of the plan as its book has it built: inner
parts and fronts cut after a reading, runners run in their slots, one set of shims at hand. Parts
that the job marks as cut without a reading are counted as cut from the plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stowright.formulas.fit_window import (
    FitStack,
    centred_probability,
    runs_probability,
    sample_builds,
    shifted_probabilities,
)
from stowright.formulas.tolerance_stack import Term, ranked_shares, standard_deviation_mm
from stowright.model.catalogue import Catalogue, Saw
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.finding import Finding
from stowright.proofs.judge import DOUBTFUL, LIKELY, About, chance
from stowright.proofs.tolerance_terms import (
    SHIM_SET,
    Fit,
    Way,
    fit_of,
    front_stacks,
    play_stack,
)

__all__ = [
    "BUILDS",
    "cut_early",
    "narrower_by_opening",
    "narrower_for_shims",
    "planned_way",
    "tolerance_findings",
]

BUILDS = 100_000
#: What a box may be cut narrower. [mm]
NARROWER = (0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
_REMEDIES = (
    ("calipering the sheets", "calipered"),
    ("holding inner front and back to the reading between the runners", "held"),
    ("running the runners in their slots before they are fixed", "run_in"),
    ("one set of shims a side, the box cut narrower to suit", "shims"),
)
_SOURCE = (
    "independent terms, exact and by Monte Carlo; EN 315 thickness, Directive 2014/32/EU tape, "
    "a runner maker's side space; cut, squareness and card packers: common practice"
)
_INNER = {"drawer-inner-front", "drawer-inner-back", "drawer-front", "door", "blank"}


def tolerance_findings(
    design: Design, catalogue: Catalogue, *, builds: int = BUILDS
) -> Iterator[Finding]:
    """Yield whether each drawer runs and each front's gaps stay open.

    ``builds`` is how many builds the Monte Carlo makes; 0 leaves it out.
    """
    for block in design.blocks:
        for opening in block.openings:
            fit = fit_of(design, catalogue, block, opening)
            if opening.runner is not None:
                yield _runs(design, catalogue, block, opening, fit, builds)
            if fit.gaps is not None:
                yield _gaps(design, opening, fit, builds)


def cut_early(design: Design, opening: str, roles: set[str] = _INNER) -> tuple[str, ...]:
    """Return marks of an opening's release B parts that are cut although nothing was read."""
    if any(reading.opening == opening for reading in design.job.readings):
        return ()
    own = {p.mark for p in design.placed if p.opening == opening and p.role in roles}
    done = {part.mark for stage in design.job.done for part in stage.parts}
    return tuple(sorted(mark for mark in own & done if design.part(mark).release == "B"))


def narrower_by_opening(design: Design, catalogue: Catalogue) -> dict[str, float]:
    """Return how much narrower than its sum each drawer's box is best cut, to be shimmed. [mm]."""
    found = {}
    for block in design.blocks:
        for opening in block.openings:
            if opening.runner is not None:
                fit = fit_of(design, catalogue, block, opening)
                found[opening.name] = planned_way(design, opening, fit).narrower
    return found


def planned_way(design: Design, opening: OpeningDesign, fit: Fit) -> Way:
    """Return how the book has a drawer built, given what the job says was done."""
    held = not cut_early(design, opening.name)
    way = Way(calipered=fit.box_sheet.source != "catalogue", held=held, run_in=True, shims=True)
    return replace(way, narrower=narrower_for_shims(fit, way)) if held else way


def narrower_for_shims(fit: Fit, way: Way) -> float:
    """Return how much narrower than its sum a box is best cut, to be shimmed; never too wide. [mm].

    The least step that makes it likely enough; where none does, the likeliest.
    """
    stack = play_stack(fit, replace(way, narrower=0.0))
    chances = shifted_probabilities(stack, shifts_mm=NARROWER)
    enough = (n for n, found in enumerate(chances) if found >= LIKELY)
    return NARROWER[next(enough, max(range(len(chances)), key=lambda n: chances[n]))]


def _runs(
    design: Design,
    catalogue: Catalogue,
    block: BlockDesign,
    opening: OpeningDesign,
    fit: Fit,
    builds: int,
) -> Finding:
    way = planned_way(design, opening, fit)
    stack = play_stack(fit, way)
    likely = runs_probability(stack)
    early = cut_early(design, opening.name)
    assumed = () if way.calipered else (f"thickness of {fit.box_sheet.material} by EN 315",)
    about = About(
        id=f"RUNS:{opening.name}",
        title=f"{opening.name} runs: play between the runners at face and back",
        about=opening.name,
        family=3,
        source=_SOURCE,
        standing="common practice",
        load_case=f"one build; {block.name}, {fit.saw.name} saw, tape class {fit.tape}",
        working=(
            "play = opening - box - linings",
            "it runs when 2 x least <= play <= 2 x most at face and back",
            (
                f"mean play {fit.play:.2f} mm, window {fit.low:.2f} to {fit.high:.2f} mm, shims "
                f"take up {2.0 * sum(SHIM_SET):.2f} mm more"
            ),
            *_ways(fit),
            _said_way(fit, way, likely, early),
            *_spread_lines(stack, likely, builds),
            *_ranking((*stack.shared, *stack.at_face, *stack.sideways)),
        ),
        assumed=assumed,
    )
    advice = tuple(_advice(design, catalogue, opening, fit, way))
    if not advice and likely < LIKELY:
        advice = (_sheets_alike(fit),)
    return chance(about, probability=likely, advice=advice)


def _ways(fit: Fit) -> Iterator[str]:
    """Say what each remedy buys: by itself, and when all the others are there already."""
    measured = fit.box_sheet.source != "catalogue"
    none = Way(calipered=measured, held=False, run_in=False, shims=False)
    every = Way(calipered=True, held=True, run_in=True, shims=True)
    least, most = _likeliest(fit, none), _likeliest(fit, every)
    yield f"cut from the plan at once, no remedy: {least:.3f}; with every remedy: {most:.3f}"
    for words, key in _REMEDIES:
        if key == "calipered" and measured:
            continue
        alone = _likeliest(fit, replace(none, **{key: True})) - least
        last = most - _likeliest(fit, replace(every, **{key: False}))
        yield f"{words} buys {alone:+.3f} alone, {last:+.3f} when the others are there"


def _likeliest(fit: Fit, way: Way) -> float:
    """Return the chance of a way of building; where shims are at hand the box is cut to suit."""
    shifts = NARROWER if way.shims else (0.0,)
    return max(shifted_probabilities(play_stack(fit, way), shifts_mm=shifts))


def _said_way(fit: Fit, way: Way, likely: float, early: tuple[str, ...]) -> str:
    sheet = "calipered" if way.calipered else "not calipered"
    if early:
        parts = f"{', '.join(early)} cut without a reading"
    else:
        parts = f"inner parts held back and cut {way.narrower:g} mm narrower"
    return f"this plan: {fit.box_sheet.material} {sheet}, {parts}, run in, shims: {likely:.3f}"


def _spread_lines(stack: FitStack, likely: float, builds: int) -> Iterator[str]:
    terms = (*stack.shared, *stack.at_face)
    sd = standard_deviation_mm(terms=terms)
    yield f"standard deviation of the play at the face sqrt(sum (c h)² / 3) = {sd:.2f} mm"
    if builds:
        sample = sample_builds(stack, builds=builds)
        low, high = sample.face_spread.low_mm, sample.face_spread.high_mm
        yield f"90 of 100 builds have {low:.2f} to {high:.2f} mm of play at the face"
        yield (
            f"Monte Carlo of {builds} builds: {sample.inside:.4f} +- {sample.inside_error:.4f} "
            f"(exact {likely:.4f})"
        )


def _ranking(terms: tuple[Term, ...]) -> Iterator[str]:
    for share in ranked_shares(terms=terms):
        if share.share > 0.0:
            yield (
                f"{100.0 * share.share:.0f} % of the variance: {share.name}, "
                f"{share.standard_mm:.2f} mm"
            )


def _advice(
    design: Design, catalogue: Catalogue, opening: OpeningDesign, fit: Fit, way: Way
) -> Iterator[str]:
    """Yield remedies that were tried, each with the chance it gives."""
    early = cut_early(design, opening.name)
    trials = []
    if not way.calipered:
        trials.append((f"caliper {fit.box_sheet.material}", fit, replace(way, calipered=True)))
    if early:
        words = f"read between the runners, then cut {', '.join(early)} again to the reading"
        trials.append((words, fit, replace(way, held=True)))
    trials += [
        (f"cut with {saw.name} ({saw.tolerance:g} mm)", replace(fit, saw=saw), way)
        for saw in _better(catalogue, fit.saw)
    ]
    for words, other, new in trials:
        best = replace(new, narrower=narrower_for_shims(other, new)) if new.held else new
        found = runs_probability(play_stack(other, best))
        if found >= DOUBTFUL:
            cut = f", cut {best.narrower:g} mm narrower" * new.held
            yield f"{words}{cut}: {_chance_said(found)}"


def _sheets_alike(fit: Fit) -> str:
    sheet = fit.box_sheet
    return (
        f"no remedy tried is enough: sheets of {sheet.material} nearer one another than "
        f"{sheet.t_min:g} to {sheet.t_max:g} mm for this drawer and its uprights, read again"
    )


def _chance_said(likely: float) -> str:
    """Return a chance in words: whether it passes."""
    return f"passes at {likely:.2f}" if likely >= LIKELY - 1.0e-9 else f"{likely:.2f}, a warning"


def _better(catalogue: Catalogue, saw: Saw) -> Iterator[Saw]:
    """Yield one saw of each lower tolerance."""
    seen = {saw.tolerance}
    for other in sorted(catalogue.saws, key=lambda row: (-row.tolerance, row.name)):
        if other.tolerance < saw.tolerance and other.tolerance not in seen:
            seen.add(other.tolerance)
            yield other


def _gaps(design: Design, opening: OpeningDesign, fit: Fit, builds: int) -> Finding:
    held = not cut_early(design, opening.name, {"drawer-front", "door", "blank"})
    way = Way(calipered=False, held=held, run_in=True, shims=True)
    likely, lines = _gap_chance(fit, way, builds)
    at_once, _ = _gap_chance(fit, replace(way, held=False), 0)
    back, _ = _gap_chance(fit, replace(way, held=True), 0)
    about = About(
        id=f"FRONT-GAPS:{opening.name}",
        title=f"The gaps round the front of {opening.name} stay open",
        about=opening.name,
        family=3,
        source=_SOURCE,
        standing="common practice",
        load_case=f"one build; least gap {fit.least_gap:g} mm on every side",
        working=(
            "gap = (opening - front) / 2 +- what it is off centre; every side keeps the least gap",
            *lines,
            f"front cut from the plan: {at_once:.3f}; held back to the reading: {back:.3f}",
        ),
    )
    return chance(about, probability=likely, advice=tuple(_gap_advice(fit, way, likely)))


def _gap_chance(fit: Fit, way: Way, builds: int) -> tuple[float, tuple[str, ...]]:
    """Return the chance that all four gaps stay open, and how it comes about."""
    stacks = front_stacks(fit, way)
    if stacks is None:
        return 1.0, ()
    lines: list[str] = []
    likely = 1.0
    for words, stack in zip(("left and right", "below and above"), stacks, strict=True):
        found = centred_probability(stack)
        likely *= found
        own = (*stack.at_back, *(replace(t, sensitivity=2.0) for t in stack.sideways))
        spread = standard_deviation_mm(terms=own) / 2.0
        lines.append(
            f"{words}: mean {stack.face_mm / 2.0:.2f} mm, standard deviation {spread:.2f} mm; "
            f"chance {found:.4f}"
        )
        if builds:
            sample = sample_builds(stack, builds=builds)
            low, high = sample.back_spread.low_mm / 2.0, sample.back_spread.high_mm / 2.0
            lines.append(
                f"{words}, Monte Carlo of {builds} builds: {sample.back:.4f}; centred, 90 of 100 "
                f"have {low:.2f} to {high:.2f} mm"
            )
        lines += [f"{words}, {line}" for line in _ranking(own)]
    return likely, tuple(lines)


def _gap_advice(fit: Fit, way: Way, likely: float) -> Iterator[str]:
    if not way.held:
        found, _ = _gap_chance(fit, replace(way, held=True), 0)
        yield f"hold the front back to a reading of the opening: {_chance_said(found)}"
    if fit.gaps is None or likely >= LIKELY:
        return
    for more in (0.5, 1.0, 1.5, 2.0, 2.5, 3.0):
        left, right, below, above = (gap + more for gap in fit.gaps)
        found, _ = _gap_chance(replace(fit, gaps=(left, right, below, above)), way, 0)
        if found >= LIKELY:
            yield f"front_gap {more:g} mm wider: {_chance_said(found)}"
            return
