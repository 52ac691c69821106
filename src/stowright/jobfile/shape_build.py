"""The shape of ``[build]``, whose keys a block, a column or a fill may write in its own table."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator

from stowright.jobfile.shape_types import Count, Force, Gap, Readings, Shape, Share, Size, says

__all__ = [
    "BuildKeys",
    "BuildShape",
    "HandleShape",
    "LiningShape",
    "PackersShape",
    "RunnerFactorsShape",
    "RunnerStatedShape",
]


class PackersShape(Shape):
    """What stands between the load floor and the carcass."""

    how: Literal["on-ribs", "in-valleys", "none"] | None = says(
        "Strips across the ribs, flush in the valleys, or none. Default on-ribs."
    )
    sheet: str | None = says("Material of the packers. Default ply-12.")


class LiningShape(Shape):
    """Thickness of lining on one face."""

    drawer: Gap | None = says("On a drawer's outside, each side. Default 0.")
    carcass: Gap | None = says("Inside the carcass, each side. Default 0.")
    bay: Gap | None = says("On the bay's walls. Default 0.")


class HandleShape(Shape):
    """What stands out from a front."""

    projection: Gap | None = says("How far the handle stands out. Default 0.")


class RunnerFactorsShape(Shape):
    """What a runner's rating is multiplied by."""

    vehicle: Share | None = says("Road use on a rating for buildings, up to 1. Default 0.5.")
    flat: Share | None = says("Runners that lie flat, up to 1. Default 0.25.")
    width: bool | None = says("Whether min(1, length / width) counts. Default true.")
    length: bool | None = says(
        "Whether min(1, basis length / length) counts, where the rating is for another length. "
        "Default true."
    )


class RunnerStatedShape(Shape):
    """What the maker of the runners in hand states; it goes before the catalogue's figures."""

    lateral: Force | None = says("What a pair takes sideways, shut. [N]. Default: the catalogue's.")
    stop: Force | None = says(
        "What the shut stops of a pair take towards the back. [N]. Default: the catalogue's."
    )
    lock: Force | None = says("What one lock holds. [N]. Default: the catalogue's.")


def _alone(key: str, shape: type[Shape]) -> BeforeValidator:
    """Let a number alone stand for a table with one key."""

    def read(value: Any) -> Any:
        return value if isinstance(value, dict | list) else {key: value}

    return BeforeValidator(read, json_schema_input_type=Gap | shape)


class BuildKeys(Shape):
    """Materials and methods; each key may also stand in a block, a column or a fill."""

    method: Literal["hand", "panel", "cnc"] | None = says("How sheets are cut. Default hand.")
    saw: str | None = says("Name of the saw. Default track.")
    carcass: str | None = says("Sheet of the carcass. Default ply-15.")
    drawer: str | None = says("Sheet of drawer sides, inner fronts and backs. Default ply-15.")
    drawer_bottom: str | None = says("Sheet of drawer bottoms. Default ply-12.")
    front_sheet: str | None = says("Sheet of fronts. Default ply-15.")
    deck_sheet: str | None = says("Sheet of decks. Default ply-15.")
    runner: str | None = says('Name of the runner, or "auto". Default auto.')
    joint: Literal["butt", "rebate", "housing", "tab-and-slot"] | None = says(
        "Carcass joint; tab-and-slot only with method = cnc. Default butt."
    )
    joint_depth: Size | None = says("Depth of rebate, housing or blind slot.")
    slots: Literal["through", "blind"] | None = says(
        "Whether the slots of tab-and-slot joints go through. Default through."
    )
    fit_allowance: Gap | None = says(
        "How much wider than the thickest reading a slot is, and longer than its tab. "
        "Default 0.2 mm."
    )
    carcass_kind: Literal["box", "frame"] | None = says(
        "Floor panel, or rails instead of it. Default box."
    )
    top: Literal["rails", "panel", "deck"] | None = says("What closes the top. Default rails.")
    rails: Count | None = says("How many top rails. Default 3.")
    rail_width: Size | None = says("Width of a top rail. Default 90 mm.")
    back: Literal["panel", "frame", "none"] | None = says(
        "What closes the back of the carcass. Default panel."
    )
    between_fills: Literal["shelf", "rail", "none"] | None = says(
        "What parts two fills of one stack. Default shelf."
    )
    bottom_fit: Literal["between", "planted", "grooved"] | None = says(
        "How a drawer bottom sits. Default grooved."
    )
    groove_depth: Size | None = says("Depth of the groove for a bottom. Default 6 mm.")
    groove_up: Gap | None = says("Groove above the lower edge of a side. Default 10 mm.")
    front: Literal["inset", "overlay"] | None = says("How a front sits. Default inset.")
    lap: Gap | None = says("How far an overlay front laps over the carcass.")
    lever: Literal["notch", "narrow", "hand-hole", "none"] | None = says(
        "How a lock's lever is reached past the front. Default notch."
    )
    front_gap: Gap | None = says("Gap around a front. Default 3 mm.")
    under_gap: Gap | None = says("Gap under a drawer box. Default 8 mm.")
    over_gap: Gap | None = says("Gap over a drawer box. Default 10 mm.")
    side_clear: Gap | None = says("From block to wall or arch, each side. Default 5 mm.")
    end_clear: Gap | None = says("From block to headboard. Default 10 mm.")
    back_room: Gap | None = says("Room behind a drawer box. Default 10 mm.")
    module_gap: Gap | None = says("Gap between two modules. Default 1 mm.")
    packers: PackersShape | None = says("What stands between load floor and carcass.")
    lining: Annotated[LiningShape, _alone("drawer", LiningShape)] | None = says(
        "Thickness of linings; a number alone means the drawer's."
    )
    grain: Literal["long", "across", "strongest"] | None = says(
        "Grain of parts whose look leaves it free. Default long."
    )
    runner_up: Gap | None = says("Raises the runner line above the drawer's lower edge. Default 0.")
    handle: Annotated[HandleShape, _alone("projection", HandleShape)] | None = says(
        "Handle on a front; a number alone means its projection."
    )
    finish: str | None = says("Name of the finish. Default clear.")
    runner_factors: RunnerFactorsShape | None = says(
        "What a runner's rating is multiplied by, each factor by its name."
    )
    runner_stated: RunnerStatedShape | None = says(
        "What the maker of the runners in hand states: lateral, stop, lock, in N."
    )


class BuildShape(BuildKeys):
    """Materials and methods for the whole job."""

    measured_thickness: dict[str, Readings] | None = says(
        "Caliper readings of the batch in hand, by material."
    )
