"""Screws of the runners: end reactions open and shut, road shock, into upright and drawer side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import ceil

from stowright.design.screw_choice import pan_screw
from stowright.design.thickness import thickness_in_use
from stowright.formulas.actions_en1990 import road_shock
from stowright.formulas.ec5_design import Duration
from stowright.formulas.runners import end_reactions_n
from stowright.model.catalogue import Material, Screw
from stowright.model.design import BlockDesign, OpeningDesign, RunnerFit
from stowright.model.finding import Finding
from stowright.model.part import PlacedFixing, PlacedPart
from stowright.proofs.basis import Load, gravity, worst
from stowright.proofs.index import NO_CARRY, G, Index
from stowright.proofs.judge import About, not_proved
from stowright.proofs.push import depth_of, mass_centre, moving_kg
from stowright.proofs.screw_groups import screws_held
from stowright.proofs.screws import ScrewHold, pulled, sideways_on_steel
from stowright.proofs.tried import Trial, advised, stronger, thicker

__all__ = ["runner_fixing_findings"]

#: Screws within this of the end-most one count as the end's. [mm]
END_GROUP = 60.0
#: Screws in a row stand this many diameters apart: (5 + 2 cos) d at most, as SCREW-SPACING asks.
PITCH = 7.0
#: What a job calls the sheet of a piece that a runner is screwed to.
_KEYS = {
    "drawer-side": "drawer",
    "tray-cheek": "drawer",
    "drawer-bottom": "drawer_bottom",
    "tray-base": "drawer_bottom",
}
#: Half a runner's screw and what is kept free beside it. [mm]
BESIDE = 4.5


@dataclass(frozen=True, slots=True, kw_only=True)
class _End:
    """A force on one end of a runner, and how many screws take it."""

    case: str
    force: float
    screws: int
    formula: str
    duration: Duration


def runner_fixing_findings(
    index: Index, block: BlockDesign, opening: OpeningDesign, fit: RunnerFit
) -> Iterator[Finding]:
    """Yield one finding for the screws into the uprights, one for those into the drawer sides.

    A partition whose screws are staggered holds a runner by fewer than a side does: of the two
    runners the one that is held worse governs.
    """
    members: tuple[tuple[str, str, Sequence[PlacedPart | None]], ...] = (
        ("upright", "its uprights", [index.pieces.get(name) for name in opening.bounds[:2]]),
        ("side", "its drawer sides", index.in_drawer(opening, "drawer-side", "tray-cheek")),
    )
    if fit.runner.mount == "flat":
        members = (
            ("floor", "the panel under it", [index.pieces.get(opening.bounds[2])]),
            ("bottom", "its bottom", index.in_drawer(opening, "drawer-bottom", "tray-base")[:1]),
        )
    for member, word, pieces in members:
        about = About(
            id=f"RUNNER-FIXINGS:{opening.name}/{member}",
            title=f"Runner screws of {opening.name} hold in {word}",
            about=opening.name,
            family=4,
            source="end reactions: statics of two bearing points (handbook of runners, derived)",
            standing="published",
        )
        if not index.design.job.carry:
            yield not_proved(about, needs=(NO_CARRY,))
        else:
            yield _weakest(index, block, opening, fit, about, pieces)


def _weakest(
    index: Index,
    block: BlockDesign,
    opening: OpeningDesign,
    fit: RunnerFit,
    about: About,
    pieces: Sequence[PlacedPart | None],
) -> Finding:
    """Return the finding of the piece whose screws hold worst.

    One without a screw governs over what passes or warns, not over what fails.
    """
    found: list[tuple[str, Finding]] = []
    for piece in pieces or (None,):
        screws = _screws(index, opening, piece)
        if piece is None or not screws:
            held = not_proved(about, needs=(_why_none(index, fit, piece),))
        else:
            held = _fixings(index, block, opening, fit, about, piece, screws)
        found.append((index.part(piece).name if piece is not None else "nothing", held))
    name, governs = max(found, key=lambda row: gravity(row[1]))
    others = tuple(
        f"that is in {name}; in {other}: {one.utilisation:.2f}"
        for other, one in found
        if one.utilisation is not None and one.utilisation != governs.utilisation
    )
    return replace(governs, working=(*governs.working, *others))


def _why_none(index: Index, fit: RunnerFit, piece: PlacedPart | None) -> str:
    """Return what lacks where no screw holds a runner: its line may lie at a side's groove."""
    made = index.part(piece).features if piece is not None and piece.role == "drawer-side" else ()
    line = fit.line_in_drawer
    for groove in (each for each in made if each.kind == "groove"):
        low, high = groove.at[1] - BESIDE, groove.at[1] + groove.size[1] + BESIDE
        if low < line < high:
            return (
                f"the screws that hold the runner: its line, {line:g} mm above the side's lower "
                f"edge, meets the groove for the bottom; build.runner_up: {ceil(high - line)} mm "
                "more"
            )
    return "the screws that hold the runner"


def _screws(index: Index, opening: OpeningDesign, piece: PlacedPart | None) -> list[PlacedFixing]:
    """Return the runner screws in one member, of one runner."""
    if piece is None:
        return []
    for joint in index.joints.get(piece.id, []):
        if joint.kind == "runner" and joint.parts[1].startswith(f"{opening.name}/"):
            return [each for each in index.fixings[joint.id] if each.kind == "screw"]
    return []


def _ends(
    index: Index, block: BlockDesign, opening: OpeningDesign, fit: RunnerFit, depths: list[float]
) -> list[_End]:
    """Return the worst force on an end of one runner, shut on the road and open at rest."""
    weight = opening.gross_kg * G / 2.0
    start = min(depths)
    centre = mass_centre(index, block, opening) - start
    length = fit.size.length
    shock = road_shock(road=index.design.job.road)
    front = min(1.0, max(0.0, (length - centre) / length))
    share = max(front, 1.0 - front)
    overlap = fit.size.overlap or fit.runner.overlap
    out = end_reactions_n(load_n=weight, arm_mm=fit.size.travel - centre, overlap_mm=overlap)
    near = sum(1 for depth in depths if depth - start <= END_GROUP)
    far = sum(1 for depth in depths if max(depths) - depth <= END_GROUP)
    arm = fit.size.travel - centre
    return [
        _End(
            case=f"shut, road {index.design.job.road}: {shock:g} g, instantaneous",
            force=shock * weight * share,
            screws=max(1, len(depths) // 2),
            formula=f"R = {shock:g} W max(c, L - c) / L, W {weight:.0f} N per runner, "
            f"c {centre:.0f}, L {length:g} mm, half the screws",
            duration="instantaneous",
        ),
        _End(
            case="fully open, at rest, front bearing",
            force=max(0.0, out.front_up_n),
            screws=max(1, near),
            formula=f"R = W (1 + e / s), e {arm:.0f} mm ahead of the front bearing, "
            f"s {overlap:g} mm overlap",
            duration="short",
        ),
        _End(
            case="fully open, at rest, rear bearing",
            force=abs(out.rear_down_n),
            screws=max(1, far),
            formula=f"R = W e / s, e {arm:.0f} mm, s {overlap:g} mm",
            duration="short",
        ),
    ]


def _one(
    index: Index,
    fit: RunnerFit,
    screw: Screw,
    sheet: Material,
    *,
    thickness: float,
    duration: Duration,
) -> ScrewHold:
    if fit.runner.mount == "flat":
        return pulled(
            screw,
            sheet=sheet,
            point_mm=min(screw.length - fit.runner.flange, thickness),
            into_edge=False,
            service_class=index.service_class,
            duration=duration,
        )
    return sideways_on_steel(
        screw,
        sheet=sheet,
        sheet_mm=thickness,
        steel_mm=fit.runner.flange,
        service_class=index.service_class,
        duration=duration,
    )


def _fixings(
    index: Index,
    block: BlockDesign,
    opening: OpeningDesign,
    fit: RunnerFit,
    about: About,
    piece: PlacedPart,
    screws: list[PlacedFixing],
) -> Finding:
    screw = index.catalogue.screw(screws[0].type)
    depths = [depth_of(block, each.at) for each in screws]
    ends = _ends(index, block, opening, fit, depths)
    own = moving_kg(opening) / opening.gross_kg if opening.gross_kg > 0.0 else 0.0

    def judged(trial: Screw, sheet: Material, thickness: float, extra: int) -> Finding:
        return worst(
            screws_held(
                replace(about, load_case=end.case, working=(end.formula,)),
                loads=(
                    Load(kind="contents", value=end.force * (1.0 - own)),
                    Load(kind="own mass", value=end.force * own),
                ),
                hold=_one(index, fit, trial, sheet, thickness=thickness, duration=end.duration),
                count=end.screws + extra,
                name=trial.name,
            )
            for end in ends
        )

    sheet = index.material(piece)
    more = [
        Trial(
            words=f"{extra} more {screw.name} at each end, {PITCH * screw.diameter:.0f} mm apart,",
            find=partial(judged, screw, sheet, piece.thickness, extra),
        )
        for extra in range(1, 1 + _room_for(screw, ends))
    ]
    found = judged(screw, sheet, piece.thickness, 0)
    if _shares_holes(fit, piece, screws) and found.status in {"fail", "warn"}:
        return found  # a line of its own, or an upright, comes first: tried on the whole unit
    other = [
        Trial(
            words=f'{_KEYS.get(piece.role, "carcass")} = "{row.name}", which takes {longer.name},',
            find=partial(judged, longer, row, thickness, 0),
        )
        for row, longer, thickness in _sheets(index, opening, fit, piece)
    ]
    return advised(
        found,
        () if _shares_holes(fit, piece, screws) else more,
        other,
        otherwise=("bolts through the upright with large washers instead of screws",),
    )


def _shares_holes(fit: RunnerFit, piece: PlacedPart, screws: list[PlacedFixing]) -> bool:
    """Tell whether holes of a runner went to another one's on the piece's other face."""
    member = "drawer" if piece.body != "fixed" else "cabinet"
    return len(screws) < sum(1 for hole in fit.size.holes if hole.member == member)


def _room_for(screw: Screw, ends: list[_End]) -> int:
    """Return how many more screws an end has room for."""
    return int(END_GROUP // (PITCH * screw.diameter)) + 1 - max(end.screws for end in ends[1:])


def _sheets(
    index: Index, opening: OpeningDesign, fit: RunnerFit, piece: PlacedPart
) -> Iterator[tuple[Material, Screw, float]]:
    """Yield other sheets for a piece, the screw that each takes, and how thick it is."""
    own, job, shelf = index.material(piece), index.design.job, index.catalogue
    lining = opening.build.lining
    passes = fit.runner.flange + (lining.carcass if piece.body == "fixed" else lining.drawer)
    wanted = next((row for row in shelf.screws if row.name == fit.runner.screw), None)
    for row in (*thicker(shelf, own), *stronger(shelf, own)):
        use = thickness_in_use(job, shelf, row.name)
        screw = pan_screw(shelf.screws, wanted=wanted, passes=passes, t_min=use.t_min)
        if screw is not None:
            yield row, screw, use.t
