"""Contents thrown against a drawer's front, back and side: the panel bends, its joints hold."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from stowright.model.design import BlockDesign, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.part import PlacedPart
from stowright.proofs.basis import Load, held_or_told
from stowright.proofs.edges import joined_edges
from stowright.proofs.index import NO_CARRY, G, Index
from stowright.proofs.joint_holds import sheared
from stowright.proofs.judge import About, not_proved, weakest
from stowright.proofs.push import pushes
from stowright.proofs.sheets import PLATE, Sheet, bending_held, sheet_trials
from stowright.proofs.supported import Field, held_well
from stowright.proofs.tried import Trial, advised

__all__ = ["braking_findings"]


def braking_findings(index: Index) -> Iterator[Finding]:
    """Yield findings about the panels and joints that hold contents in a drawer."""
    for block, opening in index.openings():
        if opening.runner is None:
            continue
        for word, roles in (
            ("front", ("drawer-inner-front",)),
            ("back", ("drawer-inner-back",)),
            ("side", ("drawer-side",)),
        ):
            pieces = index.in_drawer(opening, *roles)
            if not pieces and word == "front":
                pieces = index.in_drawer(opening, "drawer-front")
            if pieces:
                yield from _panel(index, block, opening, word, pieces[0])


def _panel(
    index: Index, block: BlockDesign, opening: OpeningDesign, word: str, piece: PlacedPart
) -> Iterator[Finding]:
    rules, push = index.rules, pushes(index.rules, block.face)
    share, name = {
        "front": (push.opening, push.names[0]),
        "back": (push.shutting, push.names[1]),
        "side": (push.across, push.names[2]),
    }[word]
    force = share * opening.contents_kg * G
    bend = About(
        id=f"{word.upper()}-PANEL:{opening.name}",
        title=f"The {word} of {opening.name} holds its contents: bending",
        about=piece.mark,
        family=10,
        source=f"{PLATE}; {rules.title}: {rules.source.text}",
        standing=weakest("from memory", rules.source.shown_as),
        load_case=f"{rules.name}: {share:g} g on contents, {name}",
        working=(
            (
                f"F = a m g = {share:g} x {opening.contents_kg:.1f} kg x {G:g} = {force:.0f} N, "
                f"spread over the panel"
            ),
        ),
    )
    joint = About(
        id=f"{word.upper()}-JOINT:{opening.name}",
        title=f"The {word} of {opening.name} holds to its sides",
        about=piece.mark,
        family=7,
        source=f"{rules.title}: {rules.source.text}",
        standing=rules.source.shown_as,
        load_case=bend.load_case,
        working=bend.working,
    )
    if not index.design.job.carry:
        yield not_proved(bend, needs=(NO_CARRY,))
        if word != "side":
            yield not_proved(joint, needs=(NO_CARRY,))
        return
    yield held_or_told(bend, partial(_bent, index, block, bend, piece, force))
    if word == "side":
        return
    yield held_or_told(joint, partial(_joined, index, opening, joint, piece, force))


def _bent(
    index: Index, block: BlockDesign, about: About, piece: PlacedPart, force: float
) -> Finding:
    part = index.part(piece)
    field = Field(
        sheet=Sheet(
            material=index.material(piece),
            thickness=part.thickness,
            grain_1=None if part.grain == "free" else True,
        ),
        side_1=piece.length,
        side_2=piece.width,
        edges=joined_edges(index, piece, depth_axis=block.axes[1]),
    )
    if not held_well(field.edges):
        return not_proved(about, needs=("two opposite edges of the panel held by joints",))
    pressure = force / (piece.length * piece.width)

    def find(sheet: Sheet, share: float = 1.0) -> Finding:
        here = Field(sheet=sheet, side_1=field.side_1, side_2=field.side_2, edges=field.edges)
        return bending_held(
            about,
            sheet=sheet,
            parts=(("restraint", here.uniform(pressure_n_mm2=share * pressure)),),
            duration="instantaneous",
            service_class=index.service_class,
            rules=index.rules,
        )

    return advised(
        find(field.sheet),
        *sheet_trials(index, field.sheet, find),
        last=[
            Trial(
                words=f"{100.0 * (1.0 - share):.0f} % of the contents taken out",
                find=partial(find, field.sheet, share),
            )
            for share in (0.75, 0.5, 0.25)
        ],
    )


def _joined(
    index: Index, opening: OpeningDesign, about: About, piece: PlacedPart, force: float
) -> Finding:
    sides = {each.id for each in index.in_drawer(opening, "drawer-side")}
    joints = [joint for joint in index.joints.get(piece.id, []) if sides.intersection(joint.parts)]
    return sheared(
        index,
        about,
        joints=joints,
        loads=(Load(kind="restraint", value=force, what="contents"),),
        rules=index.rules,
    )
