"""Steps after the carcasses: seal, install, anchor, deck, wings, test and weigh."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.making.drafts import StepDraft
from stowright.making.say import say
from stowright.model.design import Design
from stowright.model.making import HoldPoint

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
            "All cutting and drilling comes before sealing.",
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
            "Bring the modules in as the plan says for each, heaviest last.",
            "Screw the floors down to the packers.",
        ),
        new=tuple(packers),
        takes=("packers",),
        tools=("drill driver", "tape"),
        checks=tuple(_ways_in(design)),
        cautions=(_LIFT,),
    )


def _ways_in(design: Design) -> Iterator[str]:
    for block in design.blocks:
        for module in block.modules:
            if module.doorway is not None:
                order = "; ".join(module.doorway.order)
                more = f" ({order})" if order else ""
                yield f"{block.name} {module.name}: {module.doorway.way}{more}"


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
    new_holes = [a for a in design.anchors if not a.existing]
    text = ["Fit the hold-down bolts before the drawers go in: head up, nut and plate below."]
    if new_holes:
        text.append(
            "Drill with a depth stop, deburr, prime the bare edge, seal the hole and the plate."
        )
    return StepDraft(
        key=("install", ""),
        stage="install",
        title="Anchor the unit",
        text=tuple(text),
        takes=("install",),
        tools=("drill with depth stop", "spanners", "primer", "sealant", "torque wrench"),
        checks=tuple(
            f"{a.id}: x {say(design, a.x)}, y {say(design, a.y)} {a.thread}"
            + (f", {a.existing}" if a.existing else "")
            for a in design.anchors
        ),
        cautions=INSTALL_CAUTIONS,
    )


def _drawers_in(design: Design) -> Iterator[StepDraft]:
    moving = [o.name for b in design.blocks for o in b.openings if o.runner is not None]
    if moving:
        yield StepDraft(
            key=("drawers-in", ""),
            stage="install",
            title="Hang the drawers",
            text=(
                "With the vehicle on its own wheels: hang each drawer, run it empty, then loaded.",
                "Then put in the round-hole screws.",
                "Only one loaded drawer out at a time until the unit is anchored.",
            ),
            tools=("drill driver",),
            checks=(f"in order: {', '.join(moving)}",),
        )


def _deck(design: Design) -> Iterator[StepDraft]:
    ids = [p.id for p in design.placed if p.role in {"bearer", "joint-strip"}]
    if ids:
        yield StepDraft(
            key=("bearers", ""),
            stage="deck",
            title="Fit the deck's bearers",
            text=("Read the space each stands in, cut to suit, set it to its place, fix it.",),
            new=tuple(ids),
            takes=(),
            tools=("drill driver", "tape"),
        )
    decks = [p.id for p in design.placed if p.role == "deck"]
    if decks:
        rails = any(joint.kind == "rail" for joint in design.joints)
        bolted = ("Bolt its tie-down rails on from below: large washer, then lock nut.",)
        yield StepDraft(
            key=("deck", ""),
            stage="deck",
            title="Cut the deck to the modules in place and fit it",
            text=(
                "Read width and length over the modules as they stand, cut and drill as drawn.",
                *(bolted if rails else ()),
                "Seal the edges and holes, lay it to its place, fix it.",
            ),
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


def _wings(design: Design) -> Iterator[StepDraft]:
    wing_roles = {"wing", "wing-lid", "wing-cleat", "wing-leg", "infill"}
    for side in ("left", "right"):
        ids = [p.id for p in design.placed if p.role in wing_roles and p.id.endswith(side)]
        if ids:
            yield StepDraft(
                key=("wings", side),
                stage="deck",
                title=f"Template, cut and fit the {side} wing",
                text=(
                    (
                        "Fix the cleat and the legs, lay a template on them, mark the wall with a "
                        "block a little wider than the greatest gap, closing down."
                    ),
                    "Mark it: this face up, this side. The other wing gets its own template.",
                    *_lid_text(design, ids),
                ),
                new=tuple(ids),
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
        tools=("weighbridge", "torque wrench"),
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
    order.append("Lift the modules out, lightest first; close every hole left in the vehicle.")
    return tuple(order)
