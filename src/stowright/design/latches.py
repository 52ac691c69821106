"""Latches on fronts and doors, each with its keeper, and the screws of both."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.design.fixing_ledger import Ledger
from stowright.design.fixing_space import Body, Solid
from stowright.design.hinges import panel_at
from stowright.design.plates import Plate, joint_of, put_fitting, put_plate, takes_plate
from stowright.model.catalogue import Hardware, Screw
from stowright.model.design import OpeningDesign
from stowright.model.geometry import Point3

__all__ = ["LatchSeat"]

#: A keeper's screws: half of what they stand apart, and how far behind the front they may stand
#: (judgement). [mm]
_KEEPER_HALF = 15.0
_KEEPER_BACK = (12.0, 18.0, 24.0, 32.0, 40.0)
#: A latch further than this from the panel that its tongue meets does not reach it. [mm]
_TONGUE = 45.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LatchSeat:
    """Where a latch may sit: on a front's outer face.

    Attributes:
        across: The bay axis across the front.
        lifts: Whether the free edge is the lower one.
    """

    ledger: Ledger
    opening: OpeningDesign
    latch: Hardware
    front: Body
    across: int
    lifts: bool

    @property
    def _into(self) -> int:
        return 1 - self.across

    @property
    def _inward(self) -> float:
        k = self._into
        clear = (self.opening.clear.x, self.opening.clear.y)[k]
        return 1.0 if clear.middle > (self.front.low[k] + self.front.high[k]) / 2.0 else -1.0

    def _point(self, across: float, depth: float, up: float) -> Point3:
        front, k, inward = self.front, self._into, self._inward
        face = front.low[k] if inward > 0.0 else front.high[k]
        found = [0.0, 0.0, round(up, 4)]
        found[k] = round(face + inward * depth, 4)
        found[self.across] = round(across, 4)
        return (found[0], found[1], found[2])

    def _middle(self, solid: Solid) -> tuple[float, float]:
        a = 2 * self.across
        return (solid[a] + solid[a + 1]) / 2.0, (solid[4] + solid[5]) / 2.0

    def _flange(self, solid: Solid) -> Plate:
        at, up = self._middle(solid)
        reach = self.latch.size[0] / 2.0 + 17.0
        holes = self.latch.holes or ((-reach, 0.0), (reach, 0.0))
        return Plate(
            body=self.front,
            axis=self._into,
            sign=self._inward,
            points=tuple(self._point(at + a, 0.0, up + c) for a, c in holes),
            purpose=f"flange of the {self.latch.name}",
        )

    def takes(self, solid: Solid) -> bool:
        """Whether a latch whose body fills a solid finds wood for its screws."""
        return takes_plate(self.ledger, self._flange(solid)) is not None

    def _keeper(self, solid: Solid) -> tuple[Plate, Screw] | None:
        """Return the keeper's plate on the panel that the tongue meets, where it finds wood."""
        clear = self.opening.clear.z
        seat = clear.low if self.lifts else clear.high
        hang = panel_at(
            self.ledger, self.opening, seat, (self.across, self._into), lifts=not self.lifts
        )
        at, _ = self._middle(solid)
        reach = solid[4] - seat if self.lifts else seat - solid[5]
        if hang is None or reach > _TONGUE:
            return None
        z = hang.high[2] if self.lifts else hang.low[2]
        for back in _KEEPER_BACK:
            depth = self.front.piece.thickness + back
            plate = Plate(
                body=hang,
                axis=2,
                sign=-1.0 if self.lifts else 1.0,
                points=tuple(self._point(at + s * _KEEPER_HALF, depth, z) for s in (-1.0, 1.0)),
                purpose=f"keeper of the {self.latch.name}",
            )
            screw = takes_plate(self.ledger, plate)
            if screw is not None:
                return plate, screw
        return None

    def put(self, solid: Solid, *, proud: bool) -> None:
        """Screw the latch on, and its keeper opposite."""
        ledger, joint = self.ledger, self.ledger.next_joint()
        plates = [(self._flange(solid), takes_plate(ledger, self._flange(solid)))]
        keeper = self._keeper(solid)
        parts = (self.front.id, keeper[0].body.id if keeper else self.front.id)
        step = "deck" if keeper and keeper[0].body.piece.role == "deck" else "front"
        at, up = self._middle(solid)
        owner = put_fitting(
            ledger,
            self.latch,
            joins=tuple(dict.fromkeys(parts)),
            at=self._point(at, 0.0, up),
            axis=self.across,
            step=step,
            joint=joint,
        )
        chosen = [(plate, screw) for plate, screw in plates if screw is not None]
        chosen += [keeper] if keeper else []
        count = sum(
            put_plate(ledger, plate, screw, step=step, joint=joint, owner=owner)
            for plate, screw in chosen
        )
        screws = [screw for _, screw in chosen]
        ledger.join(
            step,
            joint_of(joint, parts=parts, screws=screws, count=count, kind="latch", note=""),
        )
        self._tell(has_keeper=keeper is not None, proud=proud)

    def _tell(self, *, has_keeper: bool, proud: bool) -> None:
        name = self.opening.name
        if not has_keeper:
            where = "below" if self.lifts else "above"
            self.ledger.warn(
                f"{name}: the {self.latch.name} finds no wood {where} the front for its keeper; "
                "give it a rail or a panel there"
            )
        if proud:
            self.ledger.note(
                f"{name}: the {self.latch.name} lies on the front and stands "
                f"{self.latch.size[2]:g} mm proud of it: keep that free before the face"
            )
