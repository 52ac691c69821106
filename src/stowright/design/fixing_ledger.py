"""The running account while fixings are placed: what was added, and what it took up.

One ledger goes through all makers in turn, so that each sees what stands there already. Ids are
given in the order of placing and renumbered at the end in the order of building.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace

from stowright.design.fixing_space import Body, Occupied
from stowright.design.pieces import Piece
from stowright.model.catalogue import Catalogue, Screw
from stowright.model.design import AnchorPoint, ThicknessInUse
from stowright.model.geometry import Point3
from stowright.model.part import Feature, Joint, PlacedFixing

__all__ = ["STEPS", "FixingResult", "Ledger", "unit_vector"]

#: Stages in the order of building; ids follow it.
STEPS = (
    "carcass",
    "runners",
    "drawer",
    "front",
    "modules",
    "deck",
    "wings",
    "packers",
    "install",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingResult:
    """What came out.

    Attributes:
        pieces: Packers added under anchors that stood on none (only where asked for).
        features: Holes, pilots and cut-outs, by piece id, in the order made.
        notes: How things were arranged, where the drawing alone does not tell.
        warnings: What could not be done as it should be.
        pivots: A point on the hinge line of each hinged body, by its name.
    """

    pieces: tuple[Piece, ...] = ()
    features: tuple[tuple[str, Feature], ...] = ()
    fixings: tuple[PlacedFixing, ...] = ()
    joints: tuple[Joint, ...] = ()
    anchors: tuple[AnchorPoint, ...] = ()
    notes: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    pivots: tuple[tuple[str, Point3], ...] = ()


def unit_vector(axis: int, sign: float) -> Point3:
    """Return the unit vector along a bay axis."""
    found = [0.0, 0.0, 0.0]
    found[axis] = sign
    return (found[0], found[1], found[2])


@dataclass(frozen=True, slots=True)
class _Entry:
    """A fixing whose ids wait for the end; ``make`` takes ``id``, ``joint`` and ``set``."""

    step: str
    joint: str
    owner: str
    make: Callable[..., PlacedFixing]


@dataclass(slots=True)
class Ledger:
    """The account. Only the makers of fixings in this room write to it."""

    space: Occupied
    catalogue: Catalogue
    thickness_of: Mapping[str, ThicknessInUse]
    anchors: list[AnchorPoint] = field(default_factory=list)
    packers: list[Piece] = field(default_factory=list)
    notes: dict[str, None] = field(default_factory=dict)
    warnings: dict[str, None] = field(default_factory=dict)
    pivots: dict[str, Point3] = field(default_factory=dict)
    screws_seen: dict[tuple[object, ...], Screw | None] = field(default_factory=dict)
    _thin: dict[str, tuple[float, list[str]]] = field(default_factory=dict)
    _entries: list[_Entry] = field(default_factory=list)
    _cuts: list[tuple[str, str, Callable[..., Feature]]] = field(default_factory=list)
    _joints: list[tuple[str, Joint]] = field(default_factory=list)

    @classmethod
    def of(
        cls,
        pieces: Iterable[Piece],
        catalogue: Catalogue,
        thickness_of: Mapping[str, ThicknessInUse],
    ) -> Ledger:
        """Open the account of a set of pieces."""
        return cls(space=Occupied.of(pieces), catalogue=catalogue, thickness_of=thickness_of)

    def body(self, piece_id: str) -> Body | None:
        """Return a piece's body, None for an id that no piece has."""
        return self.space.bodies.get(piece_id)

    def limits(self, body: Body) -> tuple[float, float]:
        """Return least and greatest thickness of a piece's sheet. [mm]."""
        t = body.piece.thickness
        use = self.thickness_of.get(body.piece.material)
        return (t, t) if use is None else (min(use.t_min, t), max(use.t_max, t))

    def warn(self, text: str) -> None:
        """Note something that could not be done as it should be, once."""
        self.warnings.setdefault(text)

    def note(self, text: str) -> None:
        """Note how something was arranged, once."""
        self.notes.setdefault(text)

    def near_edge(self, screw: str, edge: float, purpose: str) -> None:
        """Note a joint whose screws stand nearer to an edge than the rules want."""
        least, where = self._thin.setdefault(screw, (edge, []))
        self._thin[screw] = (min(least, edge), [*where, purpose])

    def cut(self, body: Body, make: Callable[..., Feature], fixing: str = "") -> None:
        """Add a feature to a piece; ``make`` takes the id of the fixing it serves."""
        self._cuts.append((body.id, fixing, make))

    def place(
        self, make: Callable[..., PlacedFixing], *, step: str, joint: str = "", owner: str = ""
    ) -> str:
        """Add a fixing; ``make`` takes ``id``, ``joint`` and ``set``. Return its id for now."""
        self._entries.append(_Entry(step, joint, owner, make))
        return f"f{len(self._entries):04d}"

    def next_joint(self) -> str:
        """Return the id for now of the joint that is added next."""
        return f"j{len(self._joints) + 1:04d}"

    def join(self, step: str, joint: Joint) -> None:
        """Add a joint."""
        self._joints.append((step, joint))

    def result(self) -> FixingResult:
        """Close the account: ids in the order of building, warnings gathered."""
        order = sorted(range(len(self._entries)), key=lambda i: _rank(self._entries[i].step))
        names = {f"f{i + 1:04d}": f"f{n:04d}" for n, i in enumerate(order, start=1)}
        joint_order = sorted(range(len(self._joints)), key=lambda i: _rank(self._joints[i][0]))
        joints = {f"j{i + 1:04d}": f"j{n:04d}" for n, i in enumerate(joint_order, start=1)}
        names[""] = joints[""] = ""
        return FixingResult(
            pieces=tuple(self.packers),
            features=tuple((piece, make(fixing=names[own])) for piece, own, make in self._cuts),
            fixings=tuple(
                entry.make(
                    id=names[f"f{i + 1:04d}"], joint=joints[entry.joint], set=names[entry.owner]
                )
                for i in order
                for entry in (self._entries[i],)
            ),
            joints=tuple(
                replace(self._joints[i][1], id=joints[self._joints[i][1].id]) for i in joint_order
            ),
            anchors=tuple(replace(a, fixing=names[a.fixing]) for a in self.anchors),
            notes=tuple(self.notes),
            warnings=(*self.warnings, *self._thin_edge_lines()),
            pivots=tuple(self.pivots.items()),
        )

    def _thin_edge_lines(self) -> Iterable[str]:
        for screw, (edge, where) in self._thin.items():
            least = 3.0 * self.catalogue.screw(screw).diameter
            others = f" and {len(where) - 1} other joints" if len(where) > 1 else ""
            yield (
                f"{screw} stands {edge:.1f} mm from an edge, under 3 d = {least:.1f} mm, in "
                f"{where[0]}{others}: pre-drilled, and not counted on without glue"
            )


def _rank(step: str) -> int:
    return STEPS.index(step) if step in STEPS else len(STEPS)
