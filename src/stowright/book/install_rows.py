"""What lies beneath each anchor, the bolts to tighten again, and blanks for tests and weighings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from stowright.book.tables import Length, Rows
from stowright.book.words import TESTS
from stowright.model.bay import NoDrill
from stowright.model.design import AnchorPoint
from stowright.model.part import PlacedPart
from stowright.model.plan import Plan

__all__ = [
    "beneath_rows",
    "cargo_rows",
    "final_tests",
    "rail_limits",
    "retorque_rows",
    "weighing_rows",
]


def beneath_rows(plan: Plan, length: Length) -> Rows:
    """Return each place to keep off: what, which surface, where, and the anchor nearest to it."""
    bay = plan.job.bay
    rows: Rows = []
    for area in bay.no_drill:
        where = _ranges(area.surface, area.a, area.b, length)
        rows.append([area.what, area.surface, where, _nearest(plan, area, length)])
    for belt in bay.belts:
        where = f"x {length(belt.x)}, y {length(belt.y)}"
        rows.append([belt.what, belt.surface, where, "stay 300 mm away; never use or share it"])
    for access in bay.access:
        where = _ranges("floor", access.x, access.y, length)
        rows.append([access.what, "floor", where, "must stay reachable"])
    return rows


def _ranges(surface: str, a: tuple[float, float], b: tuple[float, float], length: Length) -> str:
    names = {"floor": "xy", "roof": "xy", "left": "xz", "right": "xz", "cab": "yz"}[surface]
    return (
        f"{names[0]} {length(a[0])} to {length(a[1])}, {names[1]} {length(b[0])} to {length(b[1])}"
    )


def _nearest(plan: Plan, area: NoDrill, length: Length) -> str:
    """Return the new hole nearest to an area of the floor, and how far off it is."""
    if area.surface != "floor":
        return _beside(plan, area)
    holes = [p for p in plan.design.anchors if not p.existing and p.surface == "floor"]
    if not holes:
        return "no new hole is proposed"
    (x0, x1), (y0, y1) = area.a, area.b

    def off(point: AnchorPoint) -> float:
        dx = max(x0 - point.x, 0.0, point.x - x1)
        dy = max(y0 - point.y, 0.0, point.y - y1)
        return float((dx * dx + dy * dy) ** 0.5)

    near = min(holes, key=lambda p: (off(p), p.id))
    return f"nearest new hole {near.id}, {length(round(off(near), 1))} off"


def _beside(plan: Plan, area: NoDrill) -> str:
    """Return what an area of a wall, of the cab's wall or of the roof means."""
    name = {"cab": "cab wall", "roof": "roof"}.get(area.surface, f"{area.surface} wall")
    holes = [a.id for a in plan.design.anchors if a.surface == area.surface and not a.existing]
    if holes:
        return f"holes in the {name}: {', '.join(holes)}; keep them off it"
    return f"this plan puts no hole into the {name}; no screw of yours goes in there either"


def retorque_rows(plan: Plan) -> Rows:
    """Return a row for each hold-down and group of bolts: which, its bolt, where its ends are."""
    return [
        *([a.id, a.block, a.bolt, _reach(a)] for a in plan.design.anchors),
        *_bolted_together(plan),
    ]


def _bolted_together(plan: Plan) -> Iterator[list[str]]:
    """Yield the bolts that hold parts of the unit together, those of a joint in one row."""
    by_id = {piece.id: piece for piece in plan.design.placed}
    found: Counter[tuple[str, str, str]] = Counter()
    for fixing in plan.design.fixings:
        joined = [by_id[j] for j in fixing.joins if j in by_id]
        if fixing.kind == "bolt" and "vehicle" not in fixing.joins and joined:
            names = dict.fromkeys(_whose(piece) for piece in joined)
            found[joined[0].block, fixing.type, " and ".join(names)] += 1
    for (block, bolt, where), count in found.items():
        yield ["", block, f"{count} × {bolt}", where]


def _whose(piece: PlacedPart) -> str:
    """Return what a piece belongs to, as a person names it."""
    if piece.opening:
        return f"{piece.mark} of {piece.opening}"
    return f"module {piece.module}" if piece.module else piece.mark


def _reach(anchor: AnchorPoint) -> str:
    below = "plate and nut below" if anchor.nut or anchor.plate else "threads into the vehicle"
    return f"head in the unit, {below}"


def weighing_rows(plan: Plan) -> Rows:
    """Return what is reckoned beside blanks for what the weighbridge says."""
    design = plan.design
    found = {f.id.split(":")[0]: f for f in plan.findings}
    rows: Rows = []
    for code, name in (
        ("VEHICLE-FRONT", "front axle"),
        ("VEHICLE-REAR", "rear axle"),
        ("VEHICLE-TOTAL", "together"),
    ):
        finding = found.get(code)
        demand = "" if finding is None or finding.demand is None else f"{finding.demand:.0f} kg"
        limit = "" if finding is None or finding.capacity is None else f"{finding.capacity:.0f} kg"
        rows.append([name, "", "", demand or "not proved", limit or "not given"])
    rows.append(["unit alone, empty", "", "", f"{design.empty_kg:.1f} kg", ""])
    return rows


def cargo_rows(plan: Plan, length: Length) -> Rows:
    """Return what rides on a deck: what, its mass, its middle, how it is tied; copies by number."""
    cargo = plan.design.deck_cargo
    several = Counter(row.what for row in cargo)
    rows: Rows = []
    for row in cargo:
        x, y, _ = row.box.centre
        tied = f"{row.straps} × {row.strap} to {', '.join(_ends_of(row.tied_to))}"
        rows.append(
            [
                f"{row.what}, {row.copy} of {several[row.what]}"
                if several[row.what] > 1
                else row.what,
                row.deck,
                f"{row.mass_kg:g} kg",
                f"x {length(round(x, 1))}, y {length(round(y, 1))}",
                tied if row.straps else "not tied: not held",
            ]
        )
    return rows


def _ends_of(tied_to: Iterable[str]) -> list[str]:
    return ["rings on the deck" if end == "unit" else end for end in tied_to]


def final_tests(plan: Plan) -> Rows:
    """Return the tests after fitting; those of straps and nets where there are some."""
    names = {name for name, _, _ in plan.design.hardware}
    tied = any(item.lash for item in plan.job.carry) or "net" in names
    more = [["Straps and nets", "tight; what they hold does not move when it is pushed by hand"]]
    rows = [list(row) for row in TESTS]
    return [*rows[:-1], *(more if tied else []), rows[-1]]


def rail_limits(plan: Plan) -> list[str]:
    """Return what each tie-down rail that is made may carry, for the handover."""
    lines = []
    for deck in plan.job.decks:
        for rail in deck.rails:
            name = f"{rail.name} of {deck.name}"
            if any(w.startswith(name) and "no rail is made" in w for w in plan.design.warnings):
                continue
            said = (
                "its maker states nothing, tie nothing rated to it"
                if rail.rating_n is None
                else f"at most {rail.rating_n:g} N at one tie point, as its maker states it"
            )
            lines.append(f"{name}: {said}.")
    return lines
