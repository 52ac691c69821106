"""Uprights and bearers: pushed sideways by runners they carry, pressed by people on the deck."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from stowright.formulas.actions_en1990 import road_shock
from stowright.formulas.beams import (
    pinned_point_moment_n_mm,
    pinned_point_reactions_n,
    pinned_uniform_moment_n_mm,
)
from stowright.formulas.buckling import euler_load_n
from stowright.formulas.platform_loads import PATCHES
from stowright.model.design import BlockDesign, OpeningDesign, RunnerFit
from stowright.model.finding import Finding
from stowright.model.part import PlacedPart
from stowright.proofs.basis import (
    Capacity,
    Load,
    design_resistance,
    held,
    held_or_told,
    sheet_strength,
    worst,
)
from stowright.proofs.index import NO_CARRY, G, Index
from stowright.proofs.joint_holds import pulled_apart
from stowright.proofs.judge import About, not_proved
from stowright.proofs.push import pushes
from stowright.proofs.sheets import Sheet, sheet_trials
from stowright.proofs.tried import advised

__all__ = ["upright_findings"]

#: Fifth percentile of a modulus over its mean, for buckling (from memory).
E_05 = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pushing:
    """A drawer beside an upright."""

    block: BlockDesign
    opening: OpeningDesign
    fit: RunnerFit


def upright_findings(index: Index) -> Iterator[Finding]:
    """Yield findings about every upright with runners, and about what stands under decks."""
    beside: dict[str, list[_Pushing]] = defaultdict(list)
    for block, opening in index.openings():
        if opening.runner is not None and opening.runner.runner.mount == "side":
            for name in opening.bounds[:2]:
                beside[name].append(_Pushing(block=block, opening=opening, fit=opening.runner))
    for name, rows in beside.items():
        piece = index.pieces.get(name)
        if piece is None:
            continue
        yield from _pushed(index, piece, rows)
    yield from _pressed(index)


def _clear_height(row: _Pushing) -> tuple[float, float]:
    """Return the clear height between floor and top of the module, and its lower end. [mm]."""
    module = next(m for m in row.block.modules if m.name == row.opening.module)
    own = [o for o in row.block.openings if o.module == module.name]
    low = min(opening.clear.z.low for opening in own)
    high = max(opening.clear.z.high for opening in own)
    return high - low, low


def _vertical(piece: PlacedPart) -> int:
    """Return 0 when a piece's length stands upright, 1 when its width does."""
    return 0 if abs(piece.axes[0][2]) > 0.5 else 1


def _pushed(index: Index, piece: PlacedPart, rows: list[_Pushing]) -> Iterator[Finding]:
    part = index.part(piece)
    push = pushes(index.rules, rows[0].block.face)
    names = ", ".join(sorted({row.opening.name for row in rows}))
    about = About(
        id=f"UPRIGHT-PUSHED:{piece.id}",
        title=f"{part.name} stands the sideways push of {names}",
        about=piece.mark,
        family=6,
        source=f"strip between floor and top, beam tables; {index.rules.title}: "
        f"{index.rules.source.text}",
        standing=index.rules.source.shown_as,
        load_case=f"{index.rules.name}: {push.across:g} g across the runners, {push.names[2]}",
    )
    if not index.design.job.carry:
        yield not_proved(about, needs=(NO_CARRY,))
        return
    sheet = Sheet(
        material=index.material(piece),
        thickness=part.thickness,
        grain_1=None if part.grain == "free" else True,
    )
    find = partial(_bent, index, about, piece, rows)
    yield held_or_told(
        about,
        lambda: advised(
            find(sheet),
            *sheet_trials(index, sheet, find),
        ),
    )
    yield from _tied(index, about, piece, rows)


def _side_force(index: Index, row: _Pushing) -> float:
    return pushes(index.rules, row.block.face).across * row.opening.gross_kg * G


def _bent(
    index: Index, about: About, piece: PlacedPart, rows: list[_Pushing], sheet: Sheet
) -> Finding:
    """Return the bending of an upright: every drawer on one side of it, the worse side."""
    way = _vertical(piece)
    strength = sheet_strength(
        sheet.material,
        strength=sheet.strengths[way],
        duration="instantaneous",
        service_class=index.service_class,
    )
    section = sheet.thickness**2 / 6.0
    found = []
    for side in (0, 1):
        stack = [row for row in rows if row.opening.bounds[side] == piece.id]
        if not stack:
            continue
        moment = standing_off = 0.0
        said = []
        for row in stack:
            height, low = _clear_height(row)
            at = min(max(row.opening.clear.z.low + row.fit.line - low, 1.0), height - 1.0)
            line = _side_force(index, row) / row.fit.size.length
            each = pinned_point_moment_n_mm(load_n=line, span_mm=height, at_mm=at)
            moment += each
            shock = road_shock(road=index.design.job.road)
            arm = (sheet.thickness + row.fit.runner.thickness) / 2.0
            standing_off += shock * row.opening.gross_kg * G / 2.0 * arm / row.fit.size.length
            said.append(
                f"{row.opening.name}: q = {line:.3f} N/mm at {at:.0f} of {height:.0f} mm, "
                f"m = q a b / h = {each:.1f} N"
            )
        told = replace(about, working=(*about.working, *said, "sigma = 6 m / t²"))
        found.append(
            held(
                told,
                loads=(Load(kind="restraint", value=moment / section, what="side push"),),
                capacity=strength,
                rules=index.rules,
            )
        )
        found.append(
            held(
                replace(
                    told,
                    load_case=f"road {index.design.job.road}: shock on runners that stand off it",
                ),
                loads=(Load(kind="contents", value=standing_off / section),),
                capacity=strength,
            )
        )
        if not _top_goes_through(index, piece):
            found.append(_between_rails(index, told, piece, stack, sheet))
    return worst(found)


def _top_goes_through(index: Index, piece: PlacedPart) -> bool:
    """Say whether a panel or a deck holds the top of an upright along its whole length."""
    if any(index.joint_between(piece.id, top.id) for top in index.of_role("carcass-top")):
        return True
    box = index.boxes[piece.id]
    return any(
        index.boxes[deck.id].x.overlap(box.x) > 0.0
        and index.boxes[deck.id].y.overlap(box.y) > 0.0
        and -20.0 < index.boxes[deck.id].z.low - box.z.high < 20.0
        for deck in index.of_role("deck")
    )


def _rails(index: Index, piece: PlacedPart) -> list[PlacedPart]:
    """Return the top rails that are joined to an upright."""
    found = []
    for joint in index.joints.get(piece.id, []):
        other = joint.parts[1] if joint.parts[0] == piece.id else joint.parts[0]
        if other in index.pieces and index.pieces[other].role in {"carcass-rail", "carcass-top"}:
            found.append(index.pieces[other])
    return found


def _between_rails(
    index: Index, about: About, piece: PlacedPart, stack: list[_Pushing], sheet: Sheet
) -> Finding:
    """Return the bending of an upright's top edge between rails, as a strip half its height."""
    height, low = _clear_height(stack[0])
    line = 0.0
    for row in stack:
        at = min(max(row.opening.clear.z.low + row.fit.line - low, 1.0), height - 1.0)
        push = _side_force(index, row) / row.fit.size.length
        line += pinned_point_reactions_n(load_n=push, span_mm=height, at_mm=at)[1]
    rails = max(2, len(_rails(index, piece)))
    length = piece.length if _vertical(piece) == 1 else piece.width
    pitch = length / (rails - 1)
    strip = height / 2.0
    moment = pinned_uniform_moment_n_mm(line_load_n_mm=line, span_mm=pitch) / strip
    way = 1 - _vertical(piece)
    return held(
        replace(
            about,
            load_case=f"{about.load_case}: top edge between rails",
            working=(
                *about.working,
                (
                    f"top edge between {rails} rails: q {line:.3f} N/mm over {pitch:.0f} mm on "
                    f"a strip of {strip:.0f} mm"
                ),
            ),
        ),
        loads=(Load(kind="restraint", value=6.0 * moment / sheet.thickness**2, what="side push"),),
        capacity=sheet_strength(
            sheet.material,
            strength=sheet.strengths[way],
            duration="instantaneous",
            service_class=index.service_class,
        ),
        rules=index.rules,
    )


def _tied(index: Index, about: About, piece: PlacedPart, rows: list[_Pushing]) -> Iterator[Finding]:
    """Yield the finding about the rails that keep an upright from leaning out."""
    rails = {rail.id for rail in _rails(index, piece)}
    joints = [j for j in index.joints.get(piece.id, []) if rails.intersection(j.parts)]
    if not joints:
        return
    forces = []
    for side in (0, 1):
        total = 0.0
        for row in rows:
            if row.opening.bounds[side] == piece.id:
                height, low = _clear_height(row)
                at = min(max(row.opening.clear.z.low + row.fit.line - low, 1.0), height - 1.0)
                total += pinned_point_reactions_n(
                    load_n=_side_force(index, row), span_mm=height, at_mm=at
                )[1]
        forces.append(total)
    told = replace(
        about,
        id=f"RAIL-TIES:{piece.id}",
        title=f"Top rails hold {index.part(piece).name} when its drawers push it",
        working=(f"reaction at the top R = F a / h = {max(forces):.0f} N on {len(joints)} joints",),
    )

    def find() -> Finding:
        return worst(
            pulled_apart(
                index,
                told,
                joints=joints,
                loads=(Load(kind="restraint", value=max(forces), what="side push"),),
                rules=index.rules,
            )
        )

    yield held_or_told(told, find)


def _pressed(index: Index) -> Iterator[Finding]:
    """Yield, for each sheet and height, the finding about uprights pressed by a foot."""
    seen = set()
    decks = [index.boxes[deck.id] for deck in index.of_role("deck")]
    for piece in index.of_role("carcass-side", "partition", "bearer", "wing-leg"):
        box = index.boxes[piece.id]
        under = any(
            deck.x.overlap(box.x) > 0.0
            and deck.y.overlap(box.y) > 0.0
            and -20.0 < deck.z.low - box.z.high < 20.0
            for deck in decks
        )
        key = (index.part(piece).material, round(box.z.size), piece.thickness, _vertical(piece))
        if under and key not in seen:
            seen.add(key)
            yield _press(index, piece)


def _press(index: Index, piece: PlacedPart) -> Finding:
    """Return crushing and buckling of one upright under a foot on the deck above it."""
    part, row = index.part(piece), index.material(piece)
    load, patch = PATCHES[1].load_n, PATCHES[1].side_mm
    height = index.boxes[piece.id].z.size
    about = About(
        id=f"UPRIGHT-PRESSED:{piece.id}",
        title=f"{part.name} stands under a foot on the deck",
        about=piece.mark,
        family=6,
        source="compression in the sheet's plane; Euler's strut under a foot that spreads",
        standing="from memory",
        load_case=f"parked: {PATCHES[1].what}, {load:g} N on {patch:g} mm of it",
        working=(f"{height:.0f} mm high, t {part.thickness:g} mm, a foot {patch:g} mm wide",),
    )
    crush = sheet_strength(
        row, strength=row.f_compression, duration="short", service_class=index.service_class
    )
    way = _vertical(piece)
    modulus = (row.e_along, row.e_across)[way] * E_05
    strip = min(patch + height / 2.0, max(piece.length, piece.width))
    critical = euler_load_n(
        modulus_n_mm2=modulus,
        second_moment_mm4=strip * part.thickness**3 / 12.0,
        length_mm=height,
    )
    buckling = design_resistance(
        Capacity(
            value=critical,
            unit="N",
            basis="characteristic",
            source=f"modulus of {row.name}: {row.origin.source}; 0.8 of the mean from memory",
            standing=row.origin.standing,
            working=(
                (
                    f"N_cr = pi² E_05 I / h² = {critical:.0f} N, E_05 = {E_05:g} E = {modulus:.0f}"
                    f", strip c + h / 2 = {strip:.0f} mm (the foot spreads one in four, judgement)"
                ),
            ),
        ),
        duration="short",
        service_class=index.service_class,
        what="sheet",
    )
    area = patch * part.thickness
    return worst(
        (
            held(about, loads=(Load(kind="people", value=load / area),), capacity=crush),
            held(
                replace(about, load_case=f"{about.load_case}: buckling"),
                loads=(Load(kind="people", value=load),),
                capacity=buckling,
            ),
        )
    )
