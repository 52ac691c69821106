"""Racking of a carcass: with a back that braces it, by back rails, or by its corners alone.

Each module is looked at by itself: what joins it to its neighbours is a reserve.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from stowright.formulas.racking import (
    back_drift_mm,
    back_fastener_force_n,
    back_shear_stress_n_mm2,
    screw_pair_moment_n_mm,
)
from stowright.model.design import BlockDesign, ModuleDesign
from stowright.model.finding import Finding
from stowright.model.part import Joint, PlacedPart
from stowright.proofs.basis import Capacity, Load, held, held_or_told, sheet_strength, worst
from stowright.proofs.index import NO_CARRY, G, Index
from stowright.proofs.joint_holds import JointSide, sheared, side_of, sideways_of
from stowright.proofs.judge import About, not_proved
from stowright.proofs.push import pushes
from stowright.proofs.screws import pulled
from stowright.proofs.tried import Trial, advised

__all__ = ["carcass_findings"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Racked:
    """A module pushed along its face.

    Attributes:
        push: Force at its top. [N]
        width, height: Of the frame. [mm]
        backs: Back panels in it.
        rails: Back rails in it.
        uprights: Its sides and partitions.
    """

    push: float
    width: float
    height: float
    backs: list[PlacedPart]
    rails: list[PlacedPart]
    uprights: list[PlacedPart]


def carcass_findings(index: Index) -> Iterator[Finding]:
    """Yield one racking finding per module."""
    for block in index.design.blocks:
        for module in block.modules:
            about = _about(index, block, module)
            if not index.design.job.carry:
                yield not_proved(about, needs=(NO_CARRY,))
                continue
            yield held_or_told(about, partial(_finding, index, block, module, about))


def _about(index: Index, block: BlockDesign, module: ModuleDesign) -> About:
    push = pushes(index.rules, block.face)
    return About(
        id=f"RACKING:{block.name}/{module.name}",
        title=f"{block.name}, module {module.name}, does not rack",
        about=block.name,
        family=6,
        source=f"statics of a shear panel and of a frame; {index.rules.title}: "
        f"{index.rules.source.text}",
        standing=index.rules.source.shown_as,
        load_case=f"{index.rules.name}: {push.across:g} g along the face, {push.names[2]}",
    )


def _racked(index: Index, block: BlockDesign, module: ModuleDesign) -> _Racked:
    """Return a module with the push on its top that has the moment of all its masses."""
    own = [p for p in index.design.placed if p.block == block.name and p.module == module.name]
    low, height = module.box.z.low, module.box.z.size
    moment = 0.0
    for opening in block.openings:
        if opening.module == module.name:
            rise = opening.usable.z.middle - low
            moment += opening.contents_kg * rise
            if opening.runner is not None:
                moment += opening.runner.size.mass * rise
    for piece in own:
        moment += index.part(piece).mass_kg * (index.boxes[piece.id].z.middle - low)
    for deck in index.of_role("deck"):
        box = index.boxes[deck.id]
        shared = max(0.0, box.x.overlap(module.box.x)) * max(0.0, box.y.overlap(module.box.y))
        share = shared / (box.x.size * box.y.size)
        moment += index.part(deck).mass_kg * share * height
    push = pushes(index.rules, block.face).across * G * moment / height
    return _Racked(
        push=push,
        width=module.width,
        height=height,
        backs=[p for p in own if p.role == "carcass-back"],
        rails=[p for p in own if p.role == "back-rail"],
        uprights=[p for p in own if p.role in {"carcass-side", "partition"}],
    )


def _finding(index: Index, block: BlockDesign, module: ModuleDesign, about: About) -> Finding:
    racked = _racked(index, block, module)
    told = replace(
        about,
        working=(
            (
                f"push at the top with the moment of all masses: H = a g sum(m z) / h = "
                f"{racked.push:.0f} N"
            ),
            f"frame {racked.width:.0f} x {racked.height:.0f} mm",
        ),
    )
    if racked.backs:
        return _with_back(index, told, racked)
    found = _without_back(index, told, racked)
    back = Trial(
        words='back = "panel", of the carcass sheet, glued and screwed all round,',
        find=partial(_as_if_backed, index, told, racked),
    )
    return advised(found, [back])


def _panel_shear(index: Index, about: About, racked: _Racked, piece: PlacedPart) -> Finding:
    row = index.material(piece)
    stress = back_shear_stress_n_mm2(
        push_n=racked.push, width_mm=racked.width, thickness_mm=piece.thickness
    )
    drift = back_drift_mm(
        push_n=racked.push,
        width_mm=racked.width,
        height_mm=racked.height,
        thickness_mm=piece.thickness,
        shear_modulus_n_mm2=row.g_panel,
    )
    return held(
        replace(
            about,
            load_case=f"{about.load_case}: shear in the back",
            working=(
                *about.working,
                (
                    f"v = H / (b t) = {stress:.3f} N/mm², drift H h / (G b t) = {drift:.3f} mm and "
                    "what the fixings slip"
                ),
            ),
        ),
        loads=(Load(kind="restraint", value=stress),),
        capacity=sheet_strength(
            row,
            strength=row.f_panel_shear,
            duration="instantaneous",
            service_class=index.service_class,
        ),
        rules=index.rules,
    )


def _with_back(index: Index, about: About, racked: _Racked) -> Finding:
    """Return shear in the back, and the shear flow along its rim in glue or screws."""
    back = racked.backs[0]
    found = [_panel_shear(index, about, racked, back)]
    sides = {piece.id for piece in racked.uprights}
    for word, ids, length in (
        ("to the sides", sides, racked.height),
        ("to floor and top", _flats(index, back), racked.width),
    ):
        joints = [j for j in index.joints.get(back.id, []) if ids.intersection(j.parts)]
        if not joints:
            continue
        flow = back_fastener_force_n(push_n=racked.push, width_mm=racked.width, spacing_mm=length)
        half = joints[: max(1, len(joints) // 2)]
        found.append(
            sheared(
                index,
                replace(
                    about,
                    load_case=f"{about.load_case}: back {word}",
                    working=(
                        *about.working,
                        f"F = H / b x {length:.0f} mm = {flow:.0f} N along one edge",
                    ),
                ),
                joints=half,
                loads=(Load(kind="restraint", value=flow),),
                rules=index.rules,
            )
        )
    return worst(found)


def _flats(index: Index, back: PlacedPart) -> set[str]:
    found = set()
    for joint in index.joints.get(back.id, []):
        other = joint.parts[1] if joint.parts[0] == back.id else joint.parts[0]
        if other in index.pieces and index.pieces[other].role in {
            "carcass-floor",
            "carcass-rail",
            "carcass-top",
        }:
            found.add(other)
    return found


def _as_if_backed(index: Index, about: About, racked: _Racked) -> Finding:
    """Return what a back of the carcass sheet would make of it, its rim glued."""
    return _panel_shear(index, about, racked, racked.uprights[0])


def _without_back(index: Index, about: About, racked: _Racked) -> Finding:
    """Return the moment of the frame against what its corners resist: one kind of them only."""
    demand = racked.push * racked.height
    capacity = _corners(index, racked)
    if capacity is None:
        return not_proved(about, needs=("screws in the corners of the frame, or a back",))
    return held(
        replace(
            about,
            load_case=f"{about.load_case}: corners alone, no back",
            working=(*about.working, f"storey moment M = H h = {demand:.0f} N mm"),
        ),
        loads=(Load(kind="restraint", value=demand),),
        capacity=capacity,
        rules=index.rules,
    )


def _corners(index: Index, racked: _Racked) -> Capacity | None:
    """Return the moment that the corners resist: back rails by their screws' couple, else pull."""
    sides = {piece.id for piece in racked.uprights}
    if racked.rails:
        joints = [
            joint
            for rail in racked.rails
            for joint in index.joints.get(rail.id, [])
            if sides.intersection(joint.parts)
        ]
        return _couples(index, joints)
    joints = [
        joint
        for piece in racked.uprights
        for joint in index.joints.get(piece.id, [])
        if _is_flat(index, joint)
    ]
    return _pulls(index, joints)


def _is_flat(index: Index, joint: Joint) -> bool:
    roles = {index.pieces[name].role for name in joint.parts if name in index.pieces}
    return bool(roles & {"carcass-floor", "carcass-rail", "carcass-top"})


def _spread(index: Index, joint: Joint) -> float:
    """Return how far apart the outermost screws of a joint stand. [mm]."""
    heights = [each.at[2] for each in index.fixings.get(joint.id, []) if each.kind == "screw"]
    return max(heights) - min(heights) if heights else 0.0


def _couples(index: Index, joints: list[Joint]) -> Capacity | None:
    """Return the couples of rail screws pushed sideways, upper against lower."""

    def one(joint: Joint, side: JointSide) -> tuple[Capacity, float, float]:
        counted = sideways_of(index, side).counted
        return counted, counted.value, max(_spread(index, joint), 1.0)

    return _moment(index, joints, one, "couples of the back rails' screws")


def _pulls(index: Index, joints: list[Joint]) -> Capacity | None:
    """Return the pulls of corner screws at half the thickness that they bear against."""

    def one(_: Joint, side: JointSide) -> tuple[Capacity, float, float]:
        counted = _pull(index, side)
        return counted, counted.value * side.count, side.point.thickness / 2.0

    return _moment(index, joints, one, "corner screws pulled at half the thickness")


def _moment(
    index: Index,
    joints: list[Joint],
    one: Callable[[Joint, JointSide], tuple[Capacity, float, float]],
    words: str,
) -> Capacity | None:
    """Return the sum of what joints hold times their levers; None where none has screws.

    Args:
        index: The design.
        joints: The joints.
        one: Gives a joint's capacity, its force [N] and its lever [mm].
        words: What the sum is of.
    """
    total: float = 0.0
    first: Capacity | None = None
    for joint in joints:
        side = side_of(index, joint)
        if side is None:
            continue
        counted, force_n, lever_mm = one(joint, side)
        total += screw_pair_moment_n_mm(resistance_n=force_n, lever_mm=lever_mm)
        first = first or counted
    return _as_moment(first, total, words)


def _pull(index: Index, side: JointSide) -> Capacity:
    return pulled(
        side.screw,
        sheet=index.material(side.point),
        point_mm=side.point_mm,
        into_edge=side.into_edge,
        service_class=index.service_class,
    ).counted


def _as_moment(first: Capacity | None, total: float, words: str) -> Capacity | None:
    if first is None:
        return None
    return replace(
        first,
        value=total,
        unit="N mm",
        working=(*first.working, f"M_R = sum(F z) = {total:.0f} N mm: {words}"),
    )
