"""What lies beneath each anchor, the bolts to tighten again, and blanks for tests and weighings."""

from __future__ import annotations

from stowright.book.tables import Length, Rows
from stowright.model.bay import NoDrill
from stowright.model.design import AnchorPoint
from stowright.model.plan import Plan

__all__ = ["beneath_rows", "retorque_rows", "weighing_rows"]


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
    """Return the new hole nearest to an area, and how far off it is; floor areas only."""
    if area.surface != "floor":
        return ""
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


def retorque_rows(plan: Plan) -> Rows:
    """Return a row for each hold-down: which, its bolt, where its ends are reached."""
    return [[a.id, a.block, a.bolt, _reach(a)] for a in plan.design.anchors]


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
