"""A job for another vehicle: the same choices in the next one's bay, or mirrored left for right."""

from __future__ import annotations

from collections.abc import Callable, Mapping, MutableMapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stowright.app.carried_over import carry_over
from stowright.app.edits import tables_of
from stowright.app.unit_change import in_unit
from stowright.errors import JobError, Mistake

if TYPE_CHECKING:
    from stowright.model.job import Job

__all__ = ["Copied", "for_vehicle", "mirrored"]

#: What was done and read on the vehicle before says nothing of the next one.
_RECORD = ("done", "spoiled", "reading")
_SIDES = {"left": "right", "right": "left"}
#: Keys whose value names a side.
_NAMES_A_SIDE = frozenset({"side", "face", "surface", "place", "word"})
#: Lists that run from left to right, or name the two diagonals.
_TURNED = frozenset({"columns", "diagonals"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Copied:
    """A job for the next vehicle.

    Attributes:
        text: Its file.
        said: What of the choices could not stay as it was, a line each.
    """

    text: str
    said: tuple[str, ...]


def for_vehicle(text: str, other: str) -> Copied:
    """Return a job in the bay of another: bay and vehicle of that one, every choice of this one.

    Comments of this job stay; what was cut and read on its vehicle is left out. What does not go
    into the other bay as it stands (a height below a rail that is not there) is put so that it
    means the same, or left out, and told.

    Args:
        text: The job whose choices are kept.
        other: The job whose bay and vehicle are taken; its unit may be another.

    Raises:
        JobError: If either is no valid job.
    """
    import tomlkit

    from stowright.jobfile import read_job

    own, theirs = read_job(text), read_job(other)
    if own.units != theirs.units:
        other = in_unit(other, own.units)
    document, source = tomlkit.parse(text), tomlkit.parse(other)
    said = carry_over(document, own, theirs)
    document["bay"] = source["bay"]
    document.pop("vehicle", None)
    if "vehicle" in source:
        document["vehicle"] = source["vehicle"]
    for key in _RECORD:
        document.pop(key, None)
    return Copied(text=_sound(tomlkit.dumps(document), "--for"), said=said)


def mirrored(text: str) -> str:
    """Return a job mirrored left for right: the same vehicle steered from the other side.

    Bay, blocks, columns, wings, rails of decks and what rides on a deck change sides; what was cut
    and read is left out. What was named by its place (``drawer 1``, ``left rail``) is called by its
    new one.

    Raises:
        JobError: If it is no valid job.
    """
    import tomlkit

    from stowright.jobfile import read_job

    before = read_job(text)
    document = tomlkit.parse(text)
    for key in _RECORD:
        document.pop(key, None)
    for key in ("bay", "block", "deck"):
        if key in document:
            _turn(document[key])
    for item in document.get("carry", ()):
        if "at" in item:
            x, y = (_plain(each) for each in item["at"])
            item["at"] = [x, _negative(y)]
    called = _called_now(before, read_job(_unreferred(document)))
    _call(document, called)
    return _sound(tomlkit.dumps(document), "--mirror")


def _unreferred(document: Mapping[str, Any]) -> str:
    """Return the file without what calls an opening or a rail by its name."""
    import tomlkit

    bare = {key: value for key, value in document.items() if key not in {"carry", "contact"}}
    return tomlkit.dumps(bare)


def _called_now(before: Job, after: Job) -> dict[str, str]:
    """Return what openings and rails without a name of their own are called once mirrored."""
    found: dict[str, str] = {}
    for one, two in zip(before.blocks, after.blocks, strict=True):
        for old, new in zip(one.columns, reversed(two.columns), strict=True):
            found |= {a.name: b.name for a, b in zip(old.stack, new.stack, strict=True)}
    for left, right in zip(before.decks, after.decks, strict=True):
        found |= {a.name: b.name for a, b in zip(left.rails, right.rails, strict=True)}
    return found


def _call(document: MutableMapping[str, Any], called: Mapping[str, str]) -> None:
    """Call openings and rails by their new names where something refers to them."""
    for item in document.get("carry", ()):
        if called.get(str(item.get("goes_in", "")), "") != item.get("goes_in", ""):
            item["goes_in"] = called.get(str(item["goes_in"]), str(item["goes_in"]))
        points = item.get("lash", {}).get("to", ())
        _call_in(points, called)
    for pair in document.get("contact", ()):
        _call_in(pair.get("between", ()), called)


def _call_in(names: Any, called: Mapping[str, str]) -> None:
    for place, name in enumerate(list(names)):
        if called.get(str(name), name) != name:
            names[place] = called[str(name)]


def _sound(text: str, option: str) -> str:
    """Return a job that reads back.

    Raises:
        JobError: If it does not: the layout of the file could not take the change.
    """
    from stowright.jobfile import read_job

    try:
        read_job(text)
        tables_of(text)
    except JobError as error:
        first = error.mistakes[0]
        mistake = Mistake(field=option, found=str(first), allowed="two jobs that go together")
        raise JobError((mistake,)) from error
    return text


def _turn(value: Any) -> None:
    """Change sides in a table or list, in place."""
    if isinstance(value, MutableMapping):
        for key in list(value):
            _turn_key(value, key)
        _swap(value)
        for key, inner in value.items():
            if key != "y":
                _turn(inner)
    elif isinstance(value, list):
        for inner in value:
            _turn(inner)


def _turn_key(table: MutableMapping[str, Any], key: str) -> None:
    value = table[key]
    if key in _NAMES_A_SIDE and isinstance(value, str) and value in _SIDES:
        table[key] = _SIDES[str(value)]
    elif key == "y":
        table[key] = _across(value)
    elif key in _TURNED and isinstance(value, list):
        turned = [_plain(inner) for inner in reversed(value)]
        table[key] = turned


def _across(value: Any) -> Any:
    """Return a place across the bay on the other side; a range keeps its order."""
    if isinstance(value, list):
        return [_negative(_plain(inner)) for inner in reversed(value)]
    return _negative(_plain(value))


def _negative(value: Any) -> Any:
    if isinstance(value, str):
        said = value.strip()
        return said[1:].lstrip() if said.startswith(("-", "−")) else f"-{said}"
    return -value if value else value


def _swap(table: MutableMapping[str, Any]) -> None:
    """Exchange the values of ``left`` and ``right`` in a table that has either."""
    if not {"left", "right"} & set(table):
        return
    left, right = table.get("left"), table.get("right")
    for key, value in (("left", right), ("right", left)):
        if value is None:
            table.pop(key, None)
        else:
            table[key] = _plain(value)


def _plain(value: Any) -> Any:
    """Return a value of a document as plain data."""
    unwrap: Callable[[], Any] | None = getattr(value, "unwrap", None)
    if unwrap is not None:
        return unwrap()
    if isinstance(value, Mapping):
        return dict(value)
    return value
