"""Judging one arrangement: quickly by its bodies, or wholly with everything proved and cut."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from stowright.catalogue import stock_sizes_of
from stowright.design.bodies import bodies
from stowright.errors import StowrightError
from stowright.explore.arranged import arranged
from stowright.explore.arrangement import Choice, Space
from stowright.explore.measures import Measures
from stowright.explore.settle import settled
from stowright.model.catalogue import Catalogue, StockSize
from stowright.model.design import Design, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.job import Job
from stowright.model.layout import CuttingPlan
from stowright.proofs import prove
from stowright.proofs.axle_cases import axle_cases, placed_number
from stowright.proofs.people import ARM
from stowright.proofs.quick import feasible

__all__ = ["Judge", "Judged", "Task", "Wrong", "judge_job", "judge_many"]

#: By the bodies; by every proof, packed at a glance; packed as patiently as a plan is.
type Stage = Literal["quick", "whole", "shown"]
type Task = tuple[Stage, Choice]
type Cut = Callable[[Design, Catalogue], CuttingPlan]

#: Openings that hold things.
HOLDING = frozenset({"drawer", "tray", "open", "locker", "through"})
#: How far from serving a design is that cannot be made at all, or leaves everything out.
NO_DESIGN = 1.0e6


@dataclass(frozen=True, slots=True, kw_only=True)
class Judge:
    """What arrangements are judged with; it goes to other processes as it is.

    Attributes:
        space: What may be chosen.
        catalogue: The shelf.
        cut: Lays a design out on sheets.
        cut_all: Whether what does not serve is laid out too; else its sheets are those by area,
            until it is shown.
    """

    space: Space
    catalogue: Catalogue
    cut: Cut
    cut_all: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """Why a design does not serve.

    Attributes:
        what: The id of a proof that fails, or words that say all.
        looked_at: What that proof looks at, in words; empty where there is none.
    """

    what: str
    looked_at: str = ""

    @property
    def no_place(self) -> bool:
        """Whether it says of a thing without a place that nothing holds it, which is told else."""
        return self.what.endswith(":no opening")

    @property
    def told(self) -> str:
        """In words, with the id of the proof."""
        return f"{self.looked_at} ({self.what})" if self.looked_at else self.what


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What came out for one arrangement.

    Attributes:
        choice: The arrangement; empty for a job that was not made from one.
        stage: How closely it was looked at.
        measures: Its numbers; None when no design could be made.
        short: How far it is from serving: 0 when everything has room and nothing fails.
        wrong: Why it does not serve: proofs that fail, what was left out.
        warnings: How many proofs only warn.
        not_proved: How many proofs lack an input.
    """

    choice: Choice
    stage: Stage
    measures: Measures | None
    short: float
    wrong: tuple[Wrong, ...] = field(default=())
    warnings: int = 0
    not_proved: int = 0

    @property
    def serves(self) -> bool:
        """Whether everything has room and nothing fails."""
        return self.measures is not None and self.short == 0.0


def judge_many(judge: Judge, tasks: Iterable[Task]) -> list[Judged]:
    """Return what comes out for some arrangements, in their order."""
    return [judge_job(judge, arranged(judge.space, c), stage=stage, choice=c) for stage, c in tasks]


def judge_job(judge: Judge, job: Job, *, stage: Stage, choice: Choice = ()) -> Judged:
    """Return what comes out for one job."""
    try:
        if stage == "quick":
            return _quickly(judge, job, choice)
        return _wholly(judge, job, choice, stage=stage)
    except StowrightError as error:
        wrong = str(error)
    except (ArithmeticError, LookupError, ValueError) as error:  # one odd unit ends no search
        wrong = f"the program could not make it ({type(error).__name__}: {error})"
    told = (Wrong(what=wrong),)
    return Judged(choice=choice, stage=stage, measures=None, short=NO_DESIGN, wrong=told)


def _quickly(judge: Judge, job: Job, choice: Choice) -> Judged:
    design = bodies(job, judge.catalogue)
    verdict = feasible(design, judge.catalogue)
    out = _left_out(job, design)
    short = sum(reason.utilisation - 1.0 for reason in verdict.reasons) + sum(out.values())
    wrong = (*(Wrong(what=reason.code) for reason in verdict.reasons), *_told(out))
    measures = _measures(judge, design, sheets=_by_area(judge, design), cuts=_pieces(design))
    return Judged(choice=choice, stage="quick", measures=measures, short=short, wrong=wrong)


def _wholly(judge: Judge, job: Job, choice: Choice, *, stage: Stage) -> Judged:
    design = settled(job, judge.catalogue, patient=stage == "shown")
    findings = prove(design, judge.catalogue, advise=False)
    out = _packed_out(design)
    failing = [found for found in findings if found.status == "fail"]
    short = sum(max(0.01, (f.utilisation or 2.0) - 1.0) for f in failing) + sum(out.values())
    sheets, cuts = _by_area(judge, design), _pieces(design)
    if judge.cut_all or stage == "shown" or not short:  # else it is not worth a layout
        plan = judge.cut(design, judge.catalogue)
        sheets, cuts = float(plan.sheets), float(plan.saw_lines)
    measures = _measures(judge, design, sheets=sheets, cuts=cuts, worst_use=_worst_use(findings))
    return Judged(
        choice=choice,
        stage=stage,
        measures=measures,
        short=short,
        wrong=_wrong(failing, out),
        warnings=sum(found.status == "warn" for found in findings),
        not_proved=sum(found.status == "not proved" for found in findings),
    )


def _wrong(failing: Sequence[Finding], out: dict[str, int]) -> tuple[Wrong, ...]:
    """Return the proofs that fail; what has no place by itself only where no proof tells it."""
    told = any(found.id.startswith("STOWED:") for found in failing)
    proofs = (Wrong(what=found.id, looked_at=found.title) for found in failing)
    return (*proofs, *(() if told else _told(out)))


def _worst_use(findings: Iterable[Finding]) -> float:
    """Return the greatest demand over capacity of what passes or fails."""
    return max(
        (
            found.utilisation
            for found in findings
            if found.kind == "ratio"
            and found.status in {"pass", "fail"}
            and found.utilisation is not None
        ),
        default=0.0,
    )


def _left_out(job: Job, design: Design) -> dict[str, int]:
    """Return how many of each thing are counted nowhere."""
    held = placed_number(design)
    short = {item.what: item.quantity - held.get(item.what, 0) for item in job.carry}
    return {what: count for what, count in short.items() if count > 0}


def _packed_out(design: Design) -> dict[str, int]:
    return {left.what: left.copies for left in design.packed.left_out} if design.packed else {}


def _told(out: dict[str, int]) -> tuple[Wrong, ...]:
    return tuple(Wrong(what=f"no place for {count} x {what}") for what, count in out.items())


def _measures(
    judge: Judge, design: Design, *, sheets: float, cuts: float, worst_use: float | None = None
) -> Measures:
    openings = [o for block in design.blocks for o in block.openings]
    inside = sum(_within_reach(o) for o in openings if o.fill in HOLDING)
    decks = [p for p in design.placed if p.role == "deck"]
    asleep = any(deck.sleeper > 0.0 for deck in design.job.decks)
    return Measures(
        litres=inside + sum(w.void_litres for w in design.wings if w.kind == "lid"),
        mass_kg=design.empty_kg,
        sheets=sheets,
        cost=_cost(judge, design),
        axle_margin_kg=_axle_margin(design),
        height_mm=_height(design),
        sleeping_mm=max((max(p.length, p.width) for p in decks), default=0.0) if asleep else None,
        worst_use=worst_use,
        cuts=cuts,
    )


def _within_reach(opening: OpeningDesign) -> float:
    """Return the room that can be used: all of what slides out, else as far as an arm reaches.

    What is open from face to back is reached from both ends.
    """
    if opening.runner is not None or not opening.depth > ARM:
        return opening.usable.litres
    ends = 2.0 if opening.fill == "through" else 1.0
    return opening.usable.litres * min(1.0, ends * ARM / opening.depth)


def _height(design: Design) -> float:
    tops = [block.box.z.high for block in design.blocks]
    tops += [p.origin[2] + p.thickness for p in design.placed if p.role == "deck"]
    tops += [deck.top for deck in design.job.decks if deck.top is not None]
    return max(tops, default=0.0)


def _axle_margin(design: Design) -> float | None:
    vehicle = design.job.vehicle
    cases = axle_cases(design)
    if vehicle is None or not cases:
        return None
    rows = (
        (vehicle.limits.front_axle, max(case.front for case in cases)),
        (vehicle.limits.rear_axle, max(case.rear for case in cases)),
        (vehicle.limits.total, max(case.total for case in cases)),
    )
    return min((limit - most for limit, most in rows if limit is not None), default=None)


def _areas(design: Design) -> dict[str, float]:
    """Return the area of the parts by material. [mm2]."""
    areas: dict[str, float] = {}
    for part in design.parts:
        area = part.length * part.width * part.quantity
        areas[part.material] = areas.get(part.material, 0.0) + area
    return areas


def _by_area(judge: Judge, design: Design) -> float:
    """Return the sheets by area: those of each material, at the size that is usually bought."""
    return sum(
        area / max((size.length * size.width for size in _sizes(judge, name)), default=2.9768e6)
        for name, area in _areas(design).items()
    )


def _cost(judge: Judge, design: Design) -> float | None:
    """Return what sheets (by area, least price) and runners cost; None where a price lacks."""
    total = 0.0
    for name, area in _areas(design).items():
        prices = [
            size.price / (size.length * size.width)
            for size in _sizes(judge, name)
            if size.price is not None
        ]
        if not prices:
            return None
        total += area * min(prices)
    for block in design.blocks:
        for opening in block.openings:
            if opening.runner is None:
                continue
            if opening.runner.size.price is None:
                return None
            total += opening.runner.size.price
    return total


def _sizes(judge: Judge, material: str) -> tuple[StockSize, ...]:
    shelf = judge.catalogue
    return tuple(stock_sizes_of(shelf.stock_sizes, shelf.material(material)))


def _pieces(design: Design) -> float:
    return float(sum(part.quantity for part in design.parts))
