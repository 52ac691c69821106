"""The kinds of value that a job file holds, each with its own refusal and its place in the schema.

Every reader turns what the file says into millimetres, kilograms or newtons at once; the job's unit
comes in through the validation context. A refusal carries what is allowed, in words.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Annotated, Any, ClassVar, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from stowright.errors import JobError
from stowright.units import LENGTH_FORMS, MASS_FORMS, Unit, parse_length, parse_mass

__all__ = [
    "DEFINITIONS",
    "LONGEST_MM",
    "Area",
    "Count",
    "FaceToBack",
    "Force",
    "Gap",
    "HeadCount",
    "Mass",
    "MassChange",
    "Money",
    "Number",
    "Range",
    "Readings",
    "Shape",
    "Share",
    "ShareOrSize",
    "Size",
    "Sizes2",
    "Sizes3",
    "Sizes4",
    "Spot",
    "Spots2",
    "Texts",
    "refusal",
    "says",
]

#: No vehicle that this program serves is longer. [mm]
LONGEST_MM = 30_000.0
_HEAVIEST_KG = 100_000.0
_STRONGEST_N = 10_000_000.0
_MOST_READINGS = 100
_FACE_TO_BACK = 3


class Shape(BaseModel):
    """A table of the job file. Every key may be absent here; ``needs`` lists those that may not.

    Where ``instead`` names a key that is given, it stands for all of those.

    Required keys are checked apart from the rest, so that one missing key does not hide other
    mistakes.
    """

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)
    needs: ClassVar[tuple[str, ...]] = ()
    instead: ClassVar[str] = ""


def says(description: str) -> Any:
    """Return an optional field with the text that the published schema gives it."""
    return Field(default=None, description=description)


def refusal(allowed: str) -> PydanticCustomError:
    """Return the error that carries what would be accepted."""
    return PydanticCustomError("stowright", "{allowed}", {"allowed": allowed})


def _units(info: ValidationInfo) -> Unit:
    units: Unit = info.context["units"] if info.context else "mm"
    return units


def _length(value: Any, info: ValidationInfo, low: float, words: str) -> float:
    """Read a length and hold it against its lower limit; ``low`` itself is allowed."""
    try:
        mm = parse_length(value, units=_units(info))
    except JobError:
        in_range = isinstance(value, float)  # NaN and infinity are numbers, only not lengths
        raise refusal(words if in_range else f"{words}: {LENGTH_FORMS}") from None
    if not low <= mm <= LONGEST_MM:
        raise refusal(words)
    return mm


_SIZE = f"a length above zero, at most {LONGEST_MM / 1000:g} m"
_GAP = f"a length of zero or more, at most {LONGEST_MM / 1000:g} m"
_SPOT = f"a length between -{LONGEST_MM / 1000:g} m and {LONGEST_MM / 1000:g} m"
_ABOVE_ZERO = 1e-6


def _size(value: Any, info: ValidationInfo) -> float:
    return _length(value, info, _ABOVE_ZERO, _SIZE)


def _gap(value: Any, info: ValidationInfo) -> float:
    return _length(value, info, 0.0, _GAP)


def _spot(value: Any, info: ValidationInfo) -> float:
    return _length(value, info, -LONGEST_MM, _SPOT)


def _some(count: int, what: str, reader: Callable[[Any, ValidationInfo], float]) -> Any:
    """Return a reader for a list of exactly so many lengths."""

    def read(value: Any, info: ValidationInfo) -> tuple[float, ...]:
        if not isinstance(value, list) or len(value) != count:
            raise refusal(f"a list of {what}")
        return tuple(reader(each, info) for each in value)

    return read


def _range(value: Any, info: ValidationInfo) -> tuple[float, float]:
    words = "two lengths, the lesser first: [0, 120]"
    if not isinstance(value, list) or len(value) != 2:
        raise refusal(words)
    low, high = (_spot(each, info) for each in value)
    if not low < high:
        raise refusal(words)
    return low, high


def _readings(value: Any, info: ValidationInfo) -> tuple[float, ...]:
    several: Sequence[Any] = value if isinstance(value, list) else [value]
    if not 1 <= len(several) <= _MOST_READINGS:
        raise refusal(f"one to {_MOST_READINGS} lengths")
    return tuple(_size(each, info) for each in several)


def _face_to_back(value: Any, info: ValidationInfo) -> tuple[float, ...]:
    several: Sequence[Any] = value if isinstance(value, list) else [value]
    if not 1 <= len(several) <= _FACE_TO_BACK:
        raise refusal("one to three lengths: face, middle, back; two for diagonals")
    return tuple(_size(each, info) for each in several)


def _share(value: Any, info: ValidationInfo) -> float | str:
    if value == "share":
        return "share"
    try:
        return _size(value, info)
    except PydanticCustomError:
        raise refusal('"share" (of what is left), or a length: the clear opening') from None


def _mass_reader(low: float) -> Callable[[Any], float]:
    words = "a mass of zero or more" if low == 0.0 else "a mass, negative when taken out"

    def read(value: Any) -> float:
        try:
            kg = parse_mass(value)
        except JobError:
            raise refusal(f"{words}: {MASS_FORMS}") from None
        if not low <= kg <= _HEAVIEST_KG:
            raise refusal(f"{words}, at most {_HEAVIEST_KG / 1000:g} t")
        return kg

    return read


def _number_reader(low: float, high: float, words: str) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise refusal(words)
        if not low <= value <= high:
            raise refusal(words)
        return float(value)

    return read


def _force(value: Any) -> float | None:
    words = 'a force above zero in newtons, or "unknown"'
    return None if value == "unknown" else _number_reader(_ABOVE_ZERO, _STRONGEST_N, words)(value)


def _count(value: Any) -> int:
    words = "a whole number from 1 to 1000"
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= 1000:
        raise refusal(words)
    return value


def _head_count(value: Any) -> int:
    words = "a whole number from 0 to 1000"
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= 1000:
        raise refusal(words)
    return value


def _area(value: Any) -> float:
    return _number_reader(0.0, 1e6, "an area of zero or more in cm2")(value)


def _texts(value: Any) -> tuple[str, ...]:
    several = [value] if isinstance(value, str) else value
    if not isinstance(several, list) or not all(isinstance(each, str) for each in several):
        raise refusal('a list of texts: ["…", "…"]')
    return tuple(several)


#: Shared definitions of the published schema, by the marker that stands in the field.
DEFINITIONS: dict[str, dict[str, Any]] = {
    "size": {
        "description": "A length above zero: a number in the job's unit, or a text with a unit.",
        "anyOf": [{"type": "number", "exclusiveMinimum": 0}, {"type": "string"}],
        "examples": [1195, "1195 mm", "47 1/16 in", "3' 11 1/16\""],
    },
    "gap": {
        "description": "A length of zero or more: a number in the job's unit, or a text.",
        "anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}],
        "examples": [0, 3, "1/8 in"],
    },
    "spot": {
        "description": "A place or a change along an axis: a length of either sign.",
        "anyOf": [{"type": "number"}, {"type": "string"}],
        "examples": [-600, "-23 5/8 in"],
    },
    "mass": {
        "description": "A mass: a number of kilograms, or a text with a unit.",
        "anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}],
        "examples": [9.5, "21 lb"],
    },
    "mass-change": {
        "description": "A mass: kilograms, negative when taken out, or a text with a unit.",
        "anyOf": [{"type": "number"}, {"type": "string"}],
        "examples": [-38],
    },
    "share": {
        "description": "A share: above zero, at most 1.",
        "type": "number",
        "exclusiveMinimum": 0,
        "maximum": 1,
    },
    "force": {
        "description": 'A force in newtons, or "unknown".',
        "anyOf": [{"type": "number", "exclusiveMinimum": 0}, {"const": "unknown"}],
        "examples": [2000],
    },
    "range": {
        "description": "Two places on an axis, the lesser first.",
        "type": "array",
        "items": {"$ref": "#/$defs/spot"},
        "minItems": 2,
        "maxItems": 2,
    },
    "readings": {
        "description": "One reading, or a list of them.",
        "anyOf": [
            {"$ref": "#/$defs/size"},
            {
                "type": "array",
                "items": {"$ref": "#/$defs/size"},
                "minItems": 1,
                "maxItems": _MOST_READINGS,
            },
        ],
    },
    "face-to-back": {
        "description": "One reading, or a list of up to three: face, middle, back.",
        "anyOf": [
            {"$ref": "#/$defs/size"},
            {
                "type": "array",
                "items": {"$ref": "#/$defs/size"},
                "minItems": 1,
                "maxItems": _FACE_TO_BACK,
            },
        ],
    },
    "share-or-size": {
        "description": '"share" of what is left, or a length: the clear opening.',
        "anyOf": [{"const": "share"}, {"$ref": "#/$defs/size"}],
    },
    "texts": {
        "description": "A list of texts; one alone may stand without brackets.",
        "anyOf": [{"type": "array", "items": {"type": "string"}}, {"type": "string"}],
    },
    "spots-2": {
        "description": "A place from above: x, y.",
        "type": "array",
        "items": {"$ref": "#/$defs/spot"},
        "minItems": 2,
        "maxItems": 2,
    },
    "count": {"type": "integer", "minimum": 1, "maximum": 1000},
    "head-count": {"type": "integer", "minimum": 0, "maximum": 1000},
    "number": {"type": "number", "exclusiveMinimum": 0, "maximum": 1000000},
    "none-or-more": {"type": "number", "minimum": 0},
    **{
        f"sizes-{count}": {
            "type": "array",
            "items": {"$ref": f"#/$defs/{'gap' if count == 4 else 'size'}"},
            "minItems": count,
            "maxItems": count,
        }
        for count in (2, 3, 4)
    },
}


def _marked(name: str) -> WithJsonSchema:
    """Mark a field for its shared definition; ``schema`` puts the reference in."""
    return WithJsonSchema({"x-stowright": name})


#: Lengths in millimetres: above zero; zero or more; either sign.
Size = Annotated[float, BeforeValidator(_size), _marked("size")]
Gap = Annotated[float, BeforeValidator(_gap), _marked("gap")]
Spot = Annotated[float, BeforeValidator(_spot), _marked("spot")]
Mass = Annotated[float, BeforeValidator(_mass_reader(0.0)), _marked("mass")]
MassChange = Annotated[float, BeforeValidator(_mass_reader(-_HEAVIEST_KG)), _marked("mass-change")]
Force = Annotated[float | None, BeforeValidator(_force), _marked("force")]
Count = Annotated[int, BeforeValidator(_count), _marked("count")]
HeadCount = Annotated[int, BeforeValidator(_head_count), _marked("head-count")]
Number = Annotated[
    float,
    BeforeValidator(_number_reader(_ABOVE_ZERO, 1e6, "a number above zero")),
    _marked("number"),
]
Share = Annotated[
    float,
    BeforeValidator(_number_reader(_ABOVE_ZERO, 1.0, "a number above zero, at most 1")),
    _marked("share"),
]
Money = Annotated[
    float,
    BeforeValidator(_number_reader(0.0, 1e9, "a price of zero or more")),
    _marked("none-or-more"),
]
Area = Annotated[float, BeforeValidator(_area), _marked("none-or-more")]
Range = Annotated[tuple[float, float], BeforeValidator(_range), _marked("range")]
FaceToBack = Annotated[tuple[float, ...], BeforeValidator(_face_to_back), _marked("face-to-back")]
Readings = Annotated[tuple[float, ...], BeforeValidator(_readings), _marked("readings")]
Sizes2 = Annotated[
    tuple[float, float],
    BeforeValidator(_some(2, "two lengths above zero", _size)),
    _marked("sizes-2"),
]
Sizes3 = Annotated[
    tuple[float, float, float],
    BeforeValidator(_some(3, "three lengths above zero", _size)),
    _marked("sizes-3"),
]
Sizes4 = Annotated[
    tuple[float, float, float, float],
    BeforeValidator(_some(4, "four lengths: x, y, along, across", _gap)),
    _marked("sizes-4"),
]
Spots2 = Annotated[
    tuple[float, float],
    BeforeValidator(_some(2, "two lengths: x, y", _spot)),
    _marked("spots-2"),
]
ShareOrSize = Annotated[float | Literal["share"], BeforeValidator(_share), _marked("share-or-size")]
Texts = Annotated[tuple[str, ...], BeforeValidator(_texts), _marked("texts")]
