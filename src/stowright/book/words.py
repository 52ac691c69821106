"""The book's standing words: how runners are adjusted, how it is finished, tested and handed over.

Rules of the trade without a published source are marked as common practice.
"""

from __future__ import annotations

__all__ = ["ADJUST", "FINISH", "HANDOVER", "INSTALL", "TESTS", "TROUBLES"]

ADJUST = (
    "Do it with the vehicle on its own wheels, tyres at their pressure: a floor on stands twists.",
    (
        "Slot screws at mid height first, both sides from one spacer block, so that left and "
        "right lie at the same height; the runner's face ends at the same set-back."
    ),
    (
        "Read between the runners at face, middle and back. The three readings agree within 0.5 "
        "mm (common practice); where they do not, pack behind the runner that stands away from "
        "the upright, not in front of it."
    ),
    (
        "Run the drawer empty, then loaded. It runs by its own weight on a slope of a few degrees "
        "and stops nowhere."
    ),
    (
        "Back-off test: loosen the cabinet member's slot screws half a turn, run the drawer ten "
        "times, shut it, and tighten the screws from the face backwards. Where it goes stiff as a "
        "screw is tightened, that screw pulls the runners apart: pack behind them there, half of "
        "what the place reads more than the least reading, in thin card or veneer."
    ),
    (
        "Set the front by its own holes: even gaps, top edges in line. Then the round-hole "
        "screws, two at the face, run again, the rest."
    ),
    (
        "Lock, lever and latch: works by hand with the drawer loaded, holds shut and (where it "
        "locks out) holds open with the tail downhill."
    ),
)

TROUBLES = (
    [
        "goes stiff as the back screws are tightened",
        "they pull the runners apart",
        "pack behind the runners at the back slots",
    ],
    [
        "goes stiff at the back, screws loose",
        "opening narrow at the back: it was not the least reading",
        "read again; cut front, back and bottom to the least reading",
    ],
    [
        "rubs all the way",
        "box too wide",
        "take the box apart and cut front, back and bottom again",
    ],
    [
        "rattles sideways",
        "space above the runner's window",
        "pack behind both runners alike",
    ],
    [
        "face dips when open",
        "runners not at one height",
        "lift one face end within its slots",
    ],
    [
        "springs open when shut",
        "nothing left behind the box",
        "read the room behind it; move the front out",
    ],
)

FINISH = (
    (
        "All cutting, drilling and routing comes before the finish; a hole made later is sealed "
        "by hand."
    ),
    "Break every edge with abrasive. Fill nothing that still has to be read.",
    (
        "Seal faces, edges and every hole, bolt holes too; stand edges in the sealer twice. The "
        "edges to seal are marked on each part's drawing with a chain line and named on its "
        "label."
    ),
    "Keep finish out of runner slots, threads and glue joints that are still open.",
    (
        "Let it dry as the tin says before anything is shut in; ventilate. Oily rags can catch "
        "fire: lay them flat outside."
    ),
)

INSTALL = (
    "Park level, brake on, wheels chocked. Clean and dry the floor.",
    (
        "Look and feel beneath every new hole before it is drilled, mark it from below where you "
        "can, use a depth stop; deburr, prime the bare metal, seal."
    ),
    (
        "Packers first, then modules, then the bolts between them, then the hold-downs, then "
        "drawers, deck and wings."
    ),
    "Leave every bolt finger tight until the drawers run, then tighten from the middle outwards.",
    "Felt or closed-cell tape wherever timber meets metal without a bolt.",
)

TESTS = (
    [
        "Tailgate and doors",
        "shut on the closed drawers without force",
    ],
    [
        "Each drawer, loaded",
        "runs its whole travel, locks shut, locks open where it should",
    ],
    [
        "Tail downhill, 20 % slope",
        "nothing opens by itself; an open drawer stays open where it locks",
    ],
    [
        "Nose downhill",
        "the same",
    ],
    [
        "Each lid and lift-out piece",
        "held by its catch; lifts out by hand",
    ],
    [
        "Shake test",
        "push and pull the unit at its top edge: no movement at the floor",
    ],
    [
        "Rough track at walking pace",
        "listen: no rattle; then look at every catch and bolt",
    ],
)

HANDOVER = (
    (
        "Tighten every hold-down and every bolt between modules again after 500 to 1000 km "
        "(common practice), then at each service; write it into the table."
    ),
    "Keep runners clean and dry. Replace insert lock nuts that were taken off.",
    "One loaded drawer out at a time unless the unit is anchored.",
    "Nobody rides in the load space. Nothing loose lies on the deck while driving.",
    "Weigh the vehicle again after any change of load or equipment.",
)
