"""Shims by screw, where an opening tapers: or none, where a box narrowed to the least will do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import combinations

from stowright.design.context import FINEST_GRID
from stowright.explore.frozen import INNER, thicker_sides
from stowright.formulas.fit_window import runs_probability
from stowright.model.catalogue import Catalogue
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.refit import AsBuilt, Refit, ShimPack
from stowright.proofs.tolerance import narrower_for_shims
from stowright.proofs.tolerance_terms import SHIM_SET, Fit, Way, fit_of, play_stack
from stowright.units import format_length, snap_down

__all__ = ["Shims", "best_pack", "box_width_of", "shims_of"]

#: Shims are laid only where they make it likelier by this much that the drawer runs.
WORTH = 0.005
_PACKS = tuple(
    sorted(
        (tuple(sorted(pack, reverse=True)) for n in range(4) for pack in combinations(SHIM_SET, n)),
        key=sum,
    )
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shims:
    """What shims are laid where, and why."""

    packs: tuple[ShimPack, ...]
    reasons: tuple[str, ...]
    open: tuple[str, ...]


def best_pack(wanted: float) -> tuple[float, ...]:
    """Return the shims of one set that come nearest to a thickness, the thinner of two as near."""
    return min(_PACKS, key=lambda pack: (round(abs(sum(pack) - wanted), 9), sum(pack)))


def shims_of(
    design: Design, catalogue: Catalogue, refit: Refit, clears: Mapping[str, float]
) -> Shims:
    """Return the shims of every opening that was read, and what no shims make good.

    Args:
        design: As planned, with the job's record of the build.
        catalogue: The shelf.
        refit: What was settled so far.
        clears: Clear width of each opening with the panels that are cut. [mm]
    """
    packs: list[ShimPack] = []
    reasons: list[str] = []
    open_: list[str] = []
    for block in design.blocks:
        for opening in block.openings:
            built = refit.built(opening.name)
            if built is None or opening.runner is None or not (built.room or built.box):
                continue
            planned = box_width_of(design, opening, refit, clears[opening.name])
            found = _opening(design, catalogue, block, opening, built, refit, planned)
            packs += found.packs
            reasons += found.reasons
            open_ += found.open
    return Shims(packs=tuple(packs), reasons=tuple(reasons), open=tuple(open_))


def box_width_of(design: Design, opening: OpeningDesign, refit: Refit, clear: float) -> float:
    """Return how wide the box is planned to be after the refit, over all. [mm].

    With the clear width that cut panels leave, and with sides as thick as they were cut.
    """
    own = refit.of_opening(opening.name)
    box = opening.box
    if box is None:
        return 0.0
    inner = next(
        (s.exact for s in design.sums if s.size_of == f"{opening.name}: inner front and back"),
        None,
    )
    if inner is None:
        return box.width
    grid = design.job.cut_grid or FINEST_GRID
    by = own.box_across.by if own and own.box_across else 0.0
    sides = 2.0 * thicker_sides(design, opening, own)
    exact = inner + clear - opening.width - sides + by
    return box.width + snap_down(exact, grid) - snap_down(inner, grid) + sides


def _opening(
    design: Design,
    catalogue: Catalogue,
    block: BlockDesign,
    opening: OpeningDesign,
    built: AsBuilt,
    refit: Refit,
    planned: float,
) -> Shims:
    fit = fit_of(design, catalogue, block, opening)
    room = built.room or (opening.width,) * 3
    box = built.box or (planned,) * 3
    thicker = _thicker(opening, built)
    lining = opening.build.lining.drawer + opening.build.lining.carcass
    play = [r - b - 2.0 * (lining + thicker) for r, b in zip(room, box, strict=True)]
    open_ = tuple(_beyond(opening, fit, play, built))
    if max(play) - min(play) < 0.05 and max(play) <= fit.high:
        return Shims(packs=(), reasons=(), open=open_)
    read = replace(fit, play=min(play), more=(play[0] - min(play), play[2] - min(play)))
    uncut = not (built.box or _inner_cut(design, opening, refit))
    narrower = narrower_for_shims(read, _way(fit, shims=True)) if uncut else 0.0
    plain, shimmed = _chances(read, narrower)
    name = opening.name
    if shimmed <= plain + WORTH:
        said = (
            f"{name}: the box at the least needs no shims: "
            f"with these readings {100.0 * plain:.0f} in 100 run"
        )
        # of a box that has no room at all it is not told that it needs no shims
        return Shims(packs=(), reasons=() if open_ else (said,), open=open_)
    packs = _packs(opening, fit, [value + narrower for value in play])
    if not packs:
        return Shims(packs=(), reasons=(), open=open_)
    inches = design.job.units == "in"
    less = format_length(narrower, "in", with_unit=True) if inches else f"{narrower:g} mm"
    first = f"inner parts cut {less} narrower than listed, bottom too, and " if narrower else ""
    said = (
        f"{name}: {first}shims at its screws: "
        f"with these readings {100.0 * shimmed:.0f} in 100 run, {100.0 * plain:.0f} without"
    )
    return Shims(packs=packs, reasons=(said,), open=open_)


def _inner_cut(design: Design, opening: OpeningDesign, refit: Refit) -> bool:
    """Tell whether what sets the box's width is cut: it cannot be cut narrower any more."""
    cut = {name for row in refit.frozen for name in row.pieces}
    return any(p.opening == opening.name and p.role in INNER and p.id in cut for p in design.placed)


def _thicker(opening: OpeningDesign, built: AsBuilt) -> float:
    if built.runner is None or opening.runner is None:
        return 0.0
    return built.runner - opening.runner.runner.thickness


def _way(fit: Fit, *, shims: bool) -> Way:
    calipered = fit.box_sheet.source != "catalogue"
    return Way(calipered=calipered, held=True, run_in=True, shims=shims)


def _chances(read: Fit, narrower: float) -> tuple[float, float]:
    """Return the chance that it runs as it reads: at the least, and narrower with shims."""
    plain = play_stack(read, _way(read, shims=False))
    shimmed = play_stack(read, replace(_way(read, shims=True), narrower=narrower))
    return runs_probability(plain), runs_probability(shimmed)


def _packs(opening: OpeningDesign, fit: Fit, play: list[float]) -> tuple[ShimPack, ...]:
    """Return what lies behind each runner at its screws, to bring both sides to their aim."""
    runner = opening.runner
    if runner is None:
        return ()
    aim = (fit.low + fit.high) / 2.0
    found = []
    places = sorted({h.at for h in runner.size.holes if h.member == "cabinet"})
    for at in places:
        share = min(1.0, max(0.0, (runner.set_back + at) / opening.depth))
        wanted = (_along(play, share) - aim) / 2.0
        pack = best_pack(wanted)
        if wanted > 0.0 and pack:
            found += [
                ShimPack(
                    opening=opening.name, side=side, at=at, shims=pack, wanted=round(wanted, 3)
                )
                for side in ("left", "right")
            ]
    return tuple(found)


def _along(values: list[float], share: float) -> float:
    """Return a value between face (0), middle (1/2) and back (1)."""
    if share <= 0.5:
        return values[0] + (values[1] - values[0]) * 2.0 * share
    return values[1] + (values[2] - values[1]) * (2.0 * share - 1.0)


def _beyond(opening: OpeningDesign, fit: Fit, play: list[float], built: AsBuilt) -> list[str]:
    found = []
    if built.box is not None and min(play) < fit.low - 1.0e-9:
        found.append(
            f"{opening.name}: the box as it reads leaves {min(play):.1f} mm for both runners' play "
            f"beside the {fit.low:.1f} that they need"
        )
    most = fit.high + 2.0 * sum(SHIM_SET)
    if built.box is not None and max(play) > most + 1.0e-9:
        found.append(
            f"{opening.name}: {max(play) - most:.1f} mm more than one set of shims a side takes up"
        )
    return found
