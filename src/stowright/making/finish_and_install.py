"""Steps after the carcasses: seal, install, anchor, deck, wings, test and weigh."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stowright.making.drafts import StepDraft
from stowright.making.say import SAW, all_of, round_holes, say
from stowright.model.design import Design
from stowright.model.making import HoldPoint
from stowright.model.part import PlacedPart

__all__ = ["INSTALL_CAUTIONS", "install_steps", "removal_order"]

INSTALL_CAUTIONS = (
    (
        "Before drilling look and feel beneath and behind: fuel tank and lines, brake pipes, cables, "
        "wiring. Disconnect as the vehicle's maker says; have licensed work done by who is licensed."
    ),
    "Never use or drill near belt, seat or child-seat anchorages.",
)
_UNDER_AND_BESIDE = frozenset({"packer", "floor-bearer", "side-packing"})
_LIFT = "Two people lift a module; keep backs straight and fingers clear of the sill."


def install_steps(design: Design) -> Iterator[StepDraft]:
    """Yield the steps from sealing to weighing, in order."""
    yield _seal()
    yield from _stand(design)
    yield from _join(design)
    yield _anchor(design)
    yield from _drawers_in(design)
    yield from _deck(design)
    yield from _wings(design)
    yield from _test(design)


def _seal() -> StepDraft:
    return StepDraft(
        key=("finish", ""),
        stage="finish",
        title="Take it apart as far as it goes and seal it",
        text=(
            (
                "Take off runners and fronts; what is glued stays together. All cutting and drilling "
                "of it comes before sealing."
            ),
            "Seal faces, edges and every hole; stand edges in the sealer twice. Let it dry.",
        ),
        tools=("brush or roller", "abrasive"),
        cautions=("Ventilate; solvents burn and harm. Oily rags can catch fire: lay them flat.",),
    )


def _stand(design: Design) -> Iterator[StepDraft]:
    packers = [p.id for p in design.placed if p.role in _UNDER_AND_BESIDE]
    yield StepDraft(
        key=("weigh", "before"),
        stage="install",
        title="Weigh the vehicle before",
        text=("Each axle on a public weighbridge, fuel and people as they will be noted.",),
        tools=("weighbridge",),
    )
    yield StepDraft(
        key=("packers", ""),
        stage="install",
        title="Lay the packers and stand the modules on them",
        text=(
            "Clean the floor, lay the packers where the plan shows, felt or sealant under them.",
            "Bring the modules in, what stands furthest in first, each by its way.",
            "Screw the floors down to the packers.",
        ),
        new=tuple(packers),
        takes=("packers",),
        tools=("drill driver", "tape"),
        checks=tuple(_ways_in(design)),
        cautions=(_LIFT,),
    )


def _ways_in(design: Design) -> Iterator[str]:
    """Yield by which way modules come in, those of a block that come alike in one line."""
    for block in design.blocks:
        alike: dict[str, list[str]] = {}
        for module in block.modules:
            if module.doorway is not None:
                order = "; ".join(module.doorway.order)
                way = f"{module.doorway.way} ({order})" if order else module.doorway.way
                alike.setdefault(way, []).append(module.name)
        for way, names in alike.items():
            word = "module" if len(names) == 1 else "modules"
            yield f"way in of {block.name}, {word} {all_of(names)}: {way}"


def _join(design: Design) -> Iterator[StepDraft]:
    for block in design.blocks:
        if len(block.modules) > 1:
            yield StepDraft(
                key=("modules", block.name),
                stage="install",
                title=f"{block.name}: join the modules",
                text=("Line the faces up with a straightedge, clamp, then bolt them together.",),
                takes=("modules",),
                tools=("spanners", "clamps", "straightedge"),
            )


def _anchor(design: Design) -> StepDraft:
    text = ["Fit every hold-down bolt before the drawers go in."] if design.anchors else []
    if any(a.existing for a in design.anchors):
        text.append(
            "Into the vehicle's own anchors: clean the thread, the bolt from above, no plate below."
        )
    if any(not a.existing for a in design.anchors):
        text += [
            "New holes: drill with a depth stop, deburr, prime the bare edge, seal hole and plate.",
            "Their bolts head up, a hexagon head on its large washer; plate and lock nut below.",
        ]
    if design.anchors:
        text.append(
            "Finger tight first; when the drawers run, tighten from the middle outwards until the "
            "washers begin to bed into the wood, no further."
        )
    text += _without_anchor(design)
    return StepDraft(
        key=("install", ""),
        stage="install",
        title="Anchor the unit",
        text=tuple(text),
        takes=("install",),
        tools=("drill with depth stop", "spanners", "primer", "sealant"),
        checks=tuple(
            f"{a.id}: x {say(design, a.x)}, y {say(design, a.y)}, {a.thread}"
            + (f", {a.existing}" if a.existing else "")
            for a in design.anchors
        ),
        cautions=INSTALL_CAUTIONS,
    )


def _without_anchor(design: Design) -> Iterator[str]:
    """Yield what is to be done about the modules that no hold-down bolt was found for."""
    held = {(anchor.block, anchor.module) for anchor in design.anchors}
    for block in design.blocks:
        for module in block.modules:
            if (block.name, module.name) in held:
                continue
            start = f"{block.name}, module {module.name}: "
            told = [line for line in design.warnings if line.startswith(start)]
            yield f"Not held by this plan: {'; '.join(told) or start + 'no hold-down bolt'}."


def _drawers_in(design: Design) -> Iterator[StepDraft]:
    moving = [o.name for b in design.blocks for o in b.openings if o.runner is not None]
    if moving:
        yield StepDraft(
            key=("drawers-in", ""),
            stage="install",
            title="Hang the drawers",
            text=(
                "Screw the runners' members and the fronts on again, each by its own holes.",
                "With the vehicle on its own wheels: hang each drawer, run it empty, then loaded.",
                _round_holes(design),
                *_tightened(design),
            ),
            tools=("drill driver", "drill with depth stop"),
            checks=(f"in order: {', '.join(moving)}",),
        )


def _tightened(design: Design) -> tuple[str, ...]:
    """Return when the hold-downs are tightened; nothing where there are none."""
    if not design.anchors:
        return ("Only one loaded drawer out at a time: nothing holds the unit down.",)
    return (
        "Only one loaded drawer out at a time until the hold-down bolts are tight.",
        (
            "When all run, take them out once more, tighten the hold-down bolts from the middle "
            "outwards, hang them again."
        ),
    )


def _round_holes(design: Design) -> str:
    counts = [
        f"{count} in {opening.name}"
        for block in design.blocks
        for opening in block.openings
        if (count := round_holes(design, opening))
    ]
    told = f": {', '.join(counts)}" if counts else ""
    return (
        "When it runs, bore the round holes through the runners with the pilot's bit and drive the "
        f"screws that waited{told}."
    )


def _deck(design: Design) -> Iterator[StepDraft]:
    ids = [p.id for p in design.placed if p.role in {"bearer", "joint-strip"}]
    if ids:
        yield StepDraft(
            key=("bearers", ""),
            stage="deck",
            title="Fit the deck's bearers",
            text=(
                "Read the space each stands in, cut to suit, set it to its place.",
                _bearers_held(design, ids),
            ),
            new=tuple(ids),
            takes=("deck",),
            tools=("drill driver", "tape"),
        )
    decks = [p.id for p in design.placed if p.role == "deck"]
    if decks:
        rails = any(joint.kind == "rail" for joint in design.joints)
        bolted = ("Bolt its tie-down rails on from below: large washer, then lock nut.",)
        turned = ("Screw its holds on where they grip what carries it, and try each.",)
        yield StepDraft(
            key=("deck", ""),
            stage="deck",
            title="Cut the deck to the modules in place and fit it",
            text=(
                "Read width and length over the modules as they stand, cut and drill as drawn.",
                *(bolted if rails else ()),
                *(turned if any(f.kind == "hold-down" for f in design.fixings) else ()),
                "Seal the edges and holes, lay it to its place, fix it.",
            ),
            checks=tuple(_deck_sizes(design, decks)),
            new=tuple(decks),
            takes=("deck",),
            tools=("drill driver", "tape"),
            hold_point=HoldPoint(
                what="width over the modules, face, middle and back, against the deck's size [mm]",
                least=-2.0,
                most=2.0,
                otherwise="Cut the deck to what is read.",
            ),
        )


def _bearers_held(design: Design, ids: Iterable[str]) -> str:
    """Return what holds bearers before the deck lies on them."""
    mine, decks = set(ids), {p.id for p in design.placed if p.role == "deck"}
    own = any(
        mine.intersection(f.joins) and not decks.intersection(f.joins) for f in design.fixings
    )
    return (
        "Drive the screws that are counted here; the deck's own hold the rest: clamp it."
        if own
        else "The deck's own screws hold them: clamp them meanwhile."
    )


def _deck_sizes(design: Design, decks: Iterable[str]) -> Iterator[str]:
    marks = dict.fromkeys(p.mark for p in design.placed if p.id in set(decks))
    alike: dict[str, list[str]] = {}
    for mark in marks:
        part = design.part(mark)
        size = f"{say(design, part.length)} × {say(design, part.width)}"
        alike.setdefault(size, []).append(mark)
    for size, names in alike.items():
        yield f"{all_of(names)} {size}{' each' if len(names) > 1 else ''} by the plan"


def _wings(design: Design) -> Iterator[StepDraft]:
    covers, frames = {"wing", "wing-lid"}, {"wing-cleat", "wing-leg", "infill"}
    for side in ("left", "right"):
        mine = [p for p in design.placed if p.id.endswith(side)]
        frame = [p for p in mine if p.role in frames]
        cover = [p.id for p in mine if p.role in covers]
        if frame:
            yield _frame(design, side, frame)
        if cover:
            yield _cover(design, side, cover, [p.id for p in frame])


def _frame(design: Design, side: str, pieces: list[PlacedPart]) -> StepDraft:
    """What carries a wing: its cleat on the carcass, its infill and legs."""
    roles = {p.role for p in pieces}
    ids = {p.id for p in pieces}
    text = []
    if "wing-cleat" in roles:
        text.append(
            "Screw the cleat to the carcass, its upper edge flush with the deck's underside."
        )
    if roles & {"wing-leg", "infill"}:
        bracketed = any(f.kind == "bracket" and ids.intersection(f.joins) for f in design.fixings)
        text += [
            "Read the gap to the wall and the height where each upright stands, cut it to suit.",
            "Stand them to their places; "
            + (
                "screw each to the carcass with its brackets."
                if bracketed
                else "the wing holds them, clamp them meanwhile."
            ),
        ]
    return StepDraft(
        key=("wings", side),
        stage="deck",
        title=f"Set what carries the {side} wing",
        text=tuple(text),
        new=tuple(p.id for p in pieces),
        takes=("wings",),
        tools=("saw", "drill driver", "clamps", "square"),
        cautions=(SAW,),
    )


def _cover(design: Design, side: str, ids: list[str], frame: list[str]) -> StepDraft:
    return StepDraft(
        key=("wings", side),
        stage="deck",
        title=f"Template, cut and fit the {side} wing",
        text=(
            (
                "Lay a template on what carries it, mark the wall with a block a little wider than "
                "the greatest gap, closing down."
            ),
            "Mark it: this face up, this side. The other wing gets its own template.",
            "Cut to the line, drill as drawn, seal the edges, lay it, fix it.",
            *_lid_text(design, ids),
        ),
        new=tuple(ids),
        again=tuple(frame),
        takes=("wings",),
        tools=("template strips", "compass or block", "jigsaw", "drill driver"),
        cautions=("Clamp the work; keep both hands behind the blade.",),
    )


def _lid_text(design: Design, ids: list[str]) -> Iterator[str]:
    if any(f.kind == "hinge" and f.joins[0] in ids for f in design.fixings):
        yield "Lay the long hinge over the gap to the deck, a screw at each end; try it, then the rest."
        yield "Fit the catches where they turn under, and try each."


def _test(design: Design) -> Iterator[StepDraft]:
    yield StepDraft(
        key=("test", ""),
        stage="test",
        title="Shut everything, tilt it, weigh it",
        text=(
            "Shut the tailgate or doors on the closed drawers without force.",
            "On a slope: each drawer stays shut, and stays open where it locks open.",
            "Weigh each axle again, loaded as it will be used, and write both slips down.",
            "Check every bolt after 500 to 1000 km (common practice).",
        ),
        tools=("weighbridge", "spanners"),
        checks=(
            (
                f"the unit was reckoned at {design.empty_kg:.1f} kg empty, "
                f"{design.empty_kg + design.contents_kg:.1f} kg loaded"
            ),
        ),
    )


def removal_order(design: Design) -> tuple[str, ...]:
    """Return how it comes out again, without destroying anything."""
    roles = {p.role for p in design.placed}
    moving = any(o.runner is not None for b in design.blocks for o in b.openings)
    order = ["Empty and take out the drawers and trays." if moving else "Empty it."]
    if "wing-lid" in roles:
        order.append("Undo the long hinges of the lids at the deck, lift the lids off.")
    if roles & {"wing", "wing-lid"}:
        order.append("Unscrew or lift the wings, then their legs.")
    if "deck" in roles:
        turned = any(f.kind == "hold-down" for f in design.fixings)
        how = "Turn the holds and lift the deck off" if turned else "Unscrew or lift the deck"
        order.append(f"{how}; then its bearers, if any.")
    if any(not a.existing for a in design.anchors):
        order.append("Undo the hold-down bolts from above, a second person holding the nut below.")
    if any(a.existing for a in design.anchors):
        order.append("Undo the bolts in the vehicle's own anchors; keep them with the unit.")
    if any(len(b.modules) > 1 for b in design.blocks):
        order.append("Undo the bolts between the modules.")
    if any(f.step == "packers" for f in design.fixings):
        order.append("Undo the screws through the floors into the packers.")
    order.append("Lift the modules out, lightest first; close every hole left in the vehicle.")
    return tuple(order)
