"""The shape of the whole job file, and of its tables other than bay, build, block and deck."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator

from stowright.jobfile.shape_bay import BayShape
from stowright.jobfile.shape_blocks import BlockShape, DeckShape
from stowright.jobfile.shape_build import BuildShape
from stowright.jobfile.shape_types import (
    Count,
    FaceToBack,
    Gap,
    HeadCount,
    Mass,
    MassChange,
    Money,
    Readings,
    Shape,
    Size,
    Sizes2,
    Sizes3,
    Sizes4,
    Spot,
    Spots2,
    Texts,
    says,
)

__all__ = [
    "CarryShape",
    "ContactShape",
    "DonePartShape",
    "DoneShape",
    "JobFile",
    "JobShape",
    "LashShape",
    "LimitsShape",
    "OfShape",
    "PersonShape",
    "PlacedMassShape",
    "ReadingShape",
    "SheetShape",
    "SpoiledShape",
    "TowBallShape",
    "VehicleShape",
    "WeighedShape",
]


class JobShape(Shape):
    """Title, unit and rules of the job."""

    needs = ("title",)
    title: str | None = says("What the job is called.")
    client: str | None = says("Who it is for. Default empty.")
    units: Literal["mm", "in"] | None = says(
        "Unit of bare numbers here, and of what is printed. Default mm."
    )
    rules: str | None = says("Set of restraint accelerations. Default light-envelope.")
    road: Literal["sealed", "rough"] | None = says("Sets the vertical shock. Default sealed.")
    tape: Literal["I", "II", "III"] | None = says(
        "Accuracy class of the tape that the work is measured with. Default II."
    )
    service_class: Literal[1, 2, 3] | None = says(
        "How damp the wood lives, EN 1995-1-1: 1 dry, 2 under a roof, 3 in the open. Default by "
        "the bay: 2 with a roof over it, 3 without."
    )
    cut_grid: Gap | None = says(
        'Sizes are snapped to multiples of this; "1/32 in" for a saw marked in inches, 0 where '
        "any size can be cut. Default 0.5 mm."
    )


class WeighedShape(Shape):
    """Axle masses from a weighbridge."""

    needs = ("front_axle", "rear_axle")
    front_axle: Mass | None = says("Mass on the front axle. [kg].")
    rear_axle: Mass | None = says("Mass on the rear axle. [kg].")
    includes: Texts | None = says("What was on board.")
    note: str | None = says("Where the figures come from.")
    loaded: bool | None = says(
        "After the work: true when the unit's contents were on board. Default false."
    )
    people: HeadCount | None = says(
        "After the work: how many of the people were on board. Default none."
    )


class LimitsShape(Shape):
    """Stated limits of the vehicle."""

    front_axle: Mass | None = says("Limit of the front axle. [kg].")
    rear_axle: Mass | None = says("Limit of the rear axle. [kg].")
    total: Mass | None = says("Limit of the whole vehicle. [kg].")


class PersonShape(Shape):
    """A person in a seat."""

    needs = ("mass", "x")
    mass: Mass | None = says("Mass. [kg].")
    x: Spot | None = says("Place of the seat along x.")


class PlacedMassShape(Shape):
    """Something added to the vehicle or taken out of it."""

    needs = ("what", "mass", "x")
    what: str | None = says("What it is.")
    mass: MassChange | None = says("Mass, negative when taken out. [kg].")
    x: Spot | None = says("Place along x.")


class TowBallShape(Shape):
    """Mass on the tow ball."""

    needs = ("mass", "x")
    mass: Mass | None = says("Mass on the ball. [kg].")
    x: Spot | None = says("Place along x; negative: behind the tail.")


class VehicleShape(Shape):
    """The vehicle; without it the mass proofs come back "not proved"."""

    wheelbase: Size | None = says("Distance between the axles.")
    rear_axle_x: Spot | None = says("Place of the rear axle along x.")
    weighed: WeighedShape | None = says("Axle masses before the work.")
    weighed_after: WeighedShape | None = says("Axle masses after the work.")
    limits: LimitsShape | None = says("Stated limits.")
    people: list[PersonShape] | None = says("People on board.")
    people_in_weighed: bool | None = says(
        "True when the weighed figures hold the people. Default false."
    )
    also: list[PlacedMassShape] | None = says("What was added or taken out.")
    tow_ball: TowBallShape | None = says("Mass on the tow ball.")
    centre_height: Size | None = says(
        "Height of the weighed vehicle's centre of gravity above the ground. Default: not known."
    )


class LashShape(Shape):
    """What ties a piece of deck cargo down."""

    needs = ("count", "to")
    strap: str | None = says("Strap of the catalogue. Default cam-strap-25.")
    count: Count | None = says("Number of straps, each from the cargo to one point.")
    to: Texts | None = says(
        "unit: rings bolted through the deck; or names of factory anchors (bay.anchors)."
    )


class CarryShape(Shape):
    """Something that has to go in."""

    needs = ("what", "size", "mass")
    instead = "like"
    like: str | None = says(
        "Name of a generic thing of the catalogue: what, size, mass and the like are taken from it "
        "where they are not given. Measure yours."
    )
    what: str | None = says("What it is.")
    size: Sizes3 | None = says("Length, width, height.")
    mass: Mass | None = says("Mass of one. [kg].")
    quantity: Count | None = says("How many. Default 1.")
    keep_upright: bool | None = says("True when it must stand upright. Default false.")
    goes_in: str | None = says("Name of the opening that it must live in. Default: any.")
    clear_above: Gap | None = says("Lid swing, hand room. Default 0.")
    hazard: Literal["", "gas", "fuel", "battery", "aerosol"] | None = says(
        "gas | fuel | battery | aerosol. Default: none."
    )
    used: Literal["daily", "trip", "seldom"] | None = says("daily | trip | seldom. Default trip.")
    goes_with: Texts | None = says("What it should stand with.")
    never_with: Texts | None = says("What it must not stand with.")
    on: str | None = says("Name of the deck that it rides on, instead of goes_in.")
    at: Spots2 | None = says(
        "On a deck: x, y of the middle of the first one. Default: laid out from the cab end."
    )
    lash: LashShape | None = says("On a deck: what ties each one down. Default: nothing.")


class ContactShape(Shape):
    """Two things that touch, or nearly, and what lies between them."""

    needs = ("between",)
    between: Texts | None = says("The two things: parts, openings, items of the carry list.")
    lies: str | None = says(
        "What lies between them: felt, foam, rubber, glue, bolted, … or none. Default none."
    )
    gap: Gap | None = says("How far they stand apart. Default 0.")


class SheetShape(Shape):
    """A sheet or remnant in hand."""

    needs = ("material", "size")
    id: str | None = says("Name of the sheet, unique. Default S1, S2, ….")
    material: str | None = says("Its material.")
    size: Sizes2 | None = says("Length along the grain, width.")
    thickness: Readings | None = says("Caliper readings.")
    defects: list[Sizes4] | None = says("Spoiled places: x, y, along, across.")
    count: Count | None = says("How many alike. Default 1.")
    price: Money | None = says("Price of one.")
    offcut: bool | None = says("True for a remnant. Default false.")
    only_in_hand: bool | None = says(
        "True when nothing may be bought of this material. Default false."
    )


def _mark(value: Any) -> Any:
    """Let a mark alone stand for a part without a size."""
    return {"mark": value} if isinstance(value, str) else value


class DonePartShape(Shape):
    """A part that is cut or fitted."""

    needs = ("mark",)
    mark: str | None = says("Mark of the part.")
    size: Sizes3 | None = says("Length, width, thickness as cut. Default: as in the plan.")


class DoneShape(Shape):
    """Parts that can no longer change."""

    needs = ("stage", "parts")
    stage: Literal["cut", "fitted"] | None = says("cut | fitted.")
    parts: (
        list[
            Annotated[
                DonePartShape, BeforeValidator(_mark, json_schema_input_type=str | DonePartShape)
            ]
        ]
        | None
    ) = says("The parts.")


class SpoiledShape(Shape):
    """A part that was spoiled."""

    needs = ("mark",)
    mark: str | None = says("Mark of the part.")
    size: Sizes3 | None = says(
        "Length, width, thickness as it was cut: which copy, where they were cut to several sizes."
    )


class OfShape(Shape):
    """What a reading was taken of: an opening or a block."""

    needs = ("what",)
    opening: str | None = says("Name of the opening.")
    block: str | None = says("Name of the block.")
    what: str | None = says(
        "Of an opening: width | height | depth | between-runners | diagonals | runner-thickness | "
        "box-width | box-diagonals; of a block: gap-left | gap-right | width | diagonals."
    )


class ReadingShape(Shape):
    """A reading taken while building."""

    needs = ("of", "values")
    of: OfShape | None = says("What was measured.")
    values: FaceToBack | None = says("Face, middle, back: one to three; two for diagonals.")


class JobFile(Shape):
    """A job file."""

    needs = ("job", "bay")
    format: int | None = says("Format of the file. Default 1.")
    job: JobShape | None = says("Title, unit and rules of the job.")
    bay: BayShape | None = says("The load area as measured.")
    vehicle: VehicleShape | None = says("The vehicle around it.")
    carry: list[CarryShape] | None = says(
        "What has to go in: at most 1000 things, quantities counted."
    )
    contact: list[ContactShape] | None = says("What touches what, and what lies between.")
    block: list[BlockShape] | None = says("What is to be built.")
    deck: list[DeckShape] | None = says("Platforms on top.")
    build: BuildShape | None = says("Materials and methods.")
    sheet: list[SheetShape] | None = says("Stock in hand.")
    done: list[DoneShape] | None = says("What can no longer change.")
    spoiled: list[SpoiledShape] | None = says("What has to be cut again.")
    reading: list[ReadingShape] | None = says("Readings taken while building.")
