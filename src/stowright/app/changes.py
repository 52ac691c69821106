"""Changes since a plan: old and new size of each part side by side, and why."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from stowright.app.plain import plain, rounded
from stowright.model.refit import FrozenPart, PartChange
from stowright.units import Unit, in_job_unit

if TYPE_CHECKING:
    from stowright.app.refitting import Refitted
    from stowright.model.design import Design
    from stowright.model.refit import Refit, SoFar

__all__ = ["changes_data", "changes_since", "refit_data"]

type Size = tuple[float, float, float]

_FIXED = ("kind", "face", "at", "size", "depth", "through", "radius")


def changes_since(
    old: tuple[Mapping[str, Any], ...], design: Design, refit: Refit | None
) -> tuple[PartChange, ...]:
    """Return each part that differs from the plan before, in the order of marks as they stand."""
    before = {str(part["mark"]): part for part in old}
    now: dict[str, Mapping[str, Any]] = {str(p["mark"]): p for p in plain(design.parts)}
    cut = {row.mark for row in refit.frozen} if refit else set()
    batches = {
        str(part["material"]): told
        for mark, part in now.items()
        if mark not in cut and (told := _batch(before.get(mark), part, design.job.units))
    }
    found = []
    for mark in dict.fromkeys((*before, *now)):
        was, stands = before.get(mark), now.get(mark)
        what = _what(was, stands)
        if what:
            part = stands or was or {}
            found.append(
                PartChange(
                    mark=mark,
                    name=str(part.get("name", "")),
                    old=_size(was),
                    new=_size(stands),
                    old_quantity=int(was["quantity"]) if was else 0,
                    new_quantity=int(stands["quantity"]) if stands else 0,
                    what=what,
                    why=_why(mark, was, stands, design, refit, batches),
                )
            )
    return tuple(found)


def _batch(was: Mapping[str, Any] | None, now: Mapping[str, Any], units: Unit) -> str:
    """Return the reason of another thickness of what is not cut yet, or nothing: the batch."""
    if was is None or was["thickness"] == now["thickness"]:
        return ""
    old, new = (round(float(part["thickness"]), 2) for part in (was, now))
    then = f", not {old:g} mm as before" if was["material"] == now["material"] else ""
    return in_job_unit(f"{now['material']} measures {new:g} mm{then}", units)


def _size(part: Mapping[str, Any] | None) -> Size | None:
    if part is None:
        return None
    return (float(part["length"]), float(part["width"]), float(part["thickness"]))


def _what(was: Mapping[str, Any] | None, now: Mapping[str, Any] | None) -> tuple[str, ...]:
    if was is None:
        return ("new",)
    if now is None:
        return ("gone",)
    found = []
    if _size(was) != _size(now):
        found.append("size")
    if was["quantity"] != now["quantity"]:
        found.append("quantity")
    if was["outline"] != now["outline"] and _shaped(was, now):
        found.append("shape")
    if _features(was) != _features(now):
        found.append("holes")
    return tuple(found)


def _shaped(was: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    """Whether a part that is no plain rectangle has another shape, or became one."""
    return any(len(part["outline"]) != 4 for part in (was, now)) or _size(was) == _size(now)


def _features(part: Mapping[str, Any]) -> list[str]:
    return sorted(str([feature.get(key) for key in _FIXED]) for feature in part["features"])


def _why(
    mark: str,
    was: Mapping[str, Any] | None,
    now: Mapping[str, Any] | None,
    design: Design,
    refit: Refit | None,
    batches: Mapping[str, str],
) -> tuple[str, ...]:
    """Return the reasons of one change: the batch that it is cut from, and what speaks of it.

    What has neither follows from what it meets: parts of another batch, or any others.
    """
    told = _told(mark, now or was or {}, design, refit)
    if refit and any(mark == row.mark for row in refit.frozen):
        return told or ("as it was cut",)
    own = _batch(was, now, design.job.units) if now else ""
    if own:
        return (own, *told)
    if told or refit is None:
        return told
    return tuple(f"follows from what it meets: {batch}" for batch in batches.values()) or (
        "follows from what it meets",
    )


def _told(
    mark: str, part: Mapping[str, Any], design: Design, refit: Refit | None
) -> tuple[str, ...]:
    """Return the reasons that speak of a part: of its opening, its block's wing, or itself."""
    if refit is None:
        return ()
    own = [p for p in design.placed if p.mark == mark]
    names = {p.opening for p in own} - {""}
    heads = tuple(f"{name}: {word}" for name in names for word in _words(str(part.get("role"))))
    side = part.get("hand")
    if str(part.get("role")) in {"wing", "wing-lid", "infill", "wing-leg"} and side:
        heads = (*heads, *(f"{p.block} wing, {side}:" for p in own))
    if part.get("role") == "deck":
        heads = (*heads, *(f"{p.block}: deck" for p in own))
    return tuple(r for r in refit.reasons if r.startswith((*heads, f"{mark} ")))


def _words(role: str) -> tuple[str, ...]:
    """Return how reasons that concern a role begin, behind the opening's name."""
    if role in {"drawer-front", "door"}:
        return ("front",)
    if role in {"drawer-side", "tray-cheek"}:
        return ("box sides",)
    return ("inner front and back", "inner parts", "box sides")


def _frozen(row: FrozenPart) -> dict[str, Any]:
    """Return a part that is cut; its holes stand with the part itself."""
    data: dict[str, Any] = plain(row)
    return {key: data[key] for key in data if key not in {"features", "outline"}}


def refit_data(
    changes: tuple[PartChange, ...], refit: Refit | None, so_far: SoFar | None = None
) -> dict[str, Any]:
    """Return what was cut and read and what follows as plain data, for ``plan.json``."""
    return {
        "changes": plain(changes),
        "reasons": list(refit.reasons) if refit else [],
        "shims": plain(refit.shims) if refit else [],
        "no_longer": plain(refit.no_longer) if refit else [],
        "frozen": [_frozen(row) for row in refit.frozen] if refit else [],
        "redrills": plain(refit.redrills) if refit else [],
        "as_built": plain(refit.as_built) if refit else [],
        "open": list(refit.open) if refit else [],
        "so_far": None if so_far is None else _so_far(so_far),
    }


def _so_far(so_far: SoFar) -> dict[str, Any]:
    data: dict[str, Any] = plain(so_far)
    counts = {key: dict(getattr(so_far, key)) for key in ("entries", "pieces", "covers")}
    return {**data, **counts}


def _without_so_far(data: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in data.items() if key != "so_far"}


def changes_data(made: Refitted) -> dict[str, Any]:
    """Return what changed as plain data, for ``changes.json`` and ``--json``."""
    return {
        **_without_so_far(refit_data(made.changes, made.refit)),
        "chances": [
            {
                "opening": name,
                "builds": found.builds,
                "as_first_cut": rounded(found.first.runs),
                "recut": rounded(found.recut.runs),
                "recut_and_shimmed": rounded(found.shimmed.runs),
                "narrower": rounded(found.narrower),
            }
            for name, found in made.chances
        ],
    }
