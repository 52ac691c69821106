"""Fields of a form: a label, a place to type, the unit, what is odd or wrong, help."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from stowright.app.edits import typed
from stowright.web.help_texts import help_for
from stowright.web.markup import Markup, h, joined

if TYPE_CHECKING:
    from stowright.web.visitor import Event, Visitor

__all__ = ["choice", "field", "field_id", "raw", "said", "small_button", "tick"]

#: The field of a row at which lines about the whole row stand.
_SPEAKS_FOR_ITS_ROW = frozenset({"width", "length", "reach", "x", "mass"})
#: What was typed with its own unit (``2 mm``), or is no number, has no other unit behind it.
_OWN_UNIT = re.compile(r"[^\W\d_]\s*$|[\"']\s*$")
_NOT_PLAIN = re.compile(r"[^A-Za-z0-9]+")


def field_id(path: str) -> str:
    """Return a path as an id in the page."""
    return "f-" + _NOT_PLAIN.sub("-", path).strip("-")


def raw(value: Any) -> str:
    """Return what stands in a job file as a person would type it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.6f}".rstrip("0").rstrip(".")
    if isinstance(value, list):
        return " ".join(raw(each) for each in value)
    return str(value)


def field(
    visitor: Visitor,
    path: str,
    label: str,
    *,
    number: int | None = None,
    unit: str | None = None,
    act: str = "set",
    assumed: str = "",
    help_name: str = "",
    kind: str = "number",
    value: str | None = None,
    compact: bool = False,
) -> Markup:
    """Return a field of the job.

    Args:
        visitor: Who looks.
        path: Where the value stands in the job file.
        label: Its name in the page.
        number: Number of its arrow in the drawing.
        unit: Shown behind it; None for the job's own unit of length.
        act: What is done with what was typed.
        assumed: What is taken when nothing is typed.
        help_name: Name of its help.
        kind: ``number`` brings up the keypad of a phone, ``text`` the letters.
        value: What stands there; None for what the job file says.
        compact: Only the label and the place to type, for rows of a table.
    """
    units = visitor.units
    draft = visitor.drafts.get(path)
    stands = raw(visitor.at(path)) if value is None else value
    notes = _notes(visitor, path, draft.reason if draft else "")
    name = field_id(path)
    shown = draft.text if draft else stands
    keypad = "decimal" if kind == "number" and units == "mm" else "text"
    place = h(
        "input",
        id=name,
        type="text",
        inputmode=keypad,
        autocomplete="off",
        value=shown,
        placeholder=assumed or None,
        data_act=act,
        data_path=path,
        data_kind=kind,
        data_key=name,
        aria_invalid="true" if draft else None,
        aria_describedby=f"{name}-notes" if notes else None,
        disabled=not visitor.may_change(),
    )
    has_own = kind == "number" and _OWN_UNIT.search(shown) is not None
    shown_unit = "" if has_own else units if unit is None else unit
    arrow = h("span.arrow", str(number), aria_hidden="true") if number is not None else None
    return h(
        "div.field.compact" if compact else "div.field",
        h("label", arrow, label, for_=name),
        h("div.place", place, h("span.unit", shown_unit) if shown_unit else None),
        help_for(help_name) if help_name else None,
        h("ul.notes", notes, id=f"{name}-notes") if notes else None,
        data_key=f"box-{name}",
    )


def choice(
    visitor: Visitor,
    path: str,
    label: str,
    options: Iterable[tuple[str, str]],
    *,
    act: str = "set",
    default: str = "",
    help_name: str = "",
    value: str | None = None,
    number: int | None = None,
) -> Markup:
    """Return a choice between words.

    Args:
        visitor: Who looks.
        path: Where the value stands in the job file.
        label: Its name in the page.
        options: What is written and what is shown.
        act: What is done with the choice.
        default: What is taken when the job says nothing.
        help_name: Name of its help.
        value: What stands there; None for what the job file says.
        number: Number of its arrow in the drawing.
    """
    stands = raw(visitor.at(path)) if value is None else value
    name = field_id(path)
    chosen = stands or default
    rows = list(options)
    if chosen and chosen not in {key for key, _ in rows}:
        rows.append((chosen, chosen))
    draft = visitor.drafts.get(path)
    notes = _notes(visitor, path, draft.reason if draft else "")
    arrow = h("span.arrow", str(number), aria_hidden="true") if number is not None else None
    return h(
        "div.field",
        h("label", arrow, label, for_=name),
        h(
            "select",
            [h("option", shown, value=key, selected=key == chosen) for key, shown in rows],
            id=name,
            data_key=name,
            data_act=act,
            data_path=path,
            data_kind="text",
            aria_describedby=f"{name}-notes" if notes else None,
            disabled=not visitor.may_change(),
        ),
        help_for(help_name) if help_name else None,
        h("ul.notes", notes, id=f"{name}-notes") if notes else None,
        data_key=f"box-{name}",
    )


def said(event: Event) -> object:
    """Return what was typed or chosen as the job file holds it; None takes the key out.

    A name of nothing but digits stays a name.
    """
    if event.data.get("kind") == "text":
        return event.value.strip() or None
    return typed(event.value)


def tick(label: str, *, on: bool, act: str, enabled: bool = True, **data: str) -> Markup:
    """Return a box to tick."""
    words = {f"data_{key}": value for key, value in data.items()}
    name = "t-" + _NOT_PLAIN.sub("-", "-".join([act, *data.values()]))
    return h(
        "label.tick",
        h(
            "input",
            type="checkbox",
            id=name,
            data_key=name,
            checked=on,
            data_act=act,
            disabled=not enabled,
            **words,
        ),
        h("span", label),
        for_=name,
    )


def small_button(
    label: str,
    act: str,
    *,
    enabled: bool = True,
    name: str = "",
    style: str = "",
    confirm: str = "",
    **data: str | int,
) -> Markup:
    """Return a button that does something."""
    words = {f"data_{key}": str(value) for key, value in data.items()}
    return h(
        "button",
        label,
        type="button",
        class_=style,
        data_act=act,
        data_confirm=confirm or None,
        aria_label=name or None,
        disabled=not enabled,
        **words,
    )


def _is_about(where: str, path: str) -> bool:
    """Whether a line about a field, or about a whole row, belongs at this field."""
    row, _, key = path.rpartition(".")
    first = where + "[1]"
    return path in {where, first} or (where == row and key in _SPEAKS_FOR_ITS_ROW)


def _notes(visitor: Visitor, path: str, refused: str) -> Markup:
    """What is wrong or odd at a field: refusals, mistakes of the file, warnings about it."""
    rows: list[tuple[str, str]] = [("wrong", refused)] if refused else []
    study = visitor.bench.study
    rows += [
        ("wrong", f"found {mistake.found}; allowed: {mistake.allowed}")
        for mistake in study.mistakes
        if _is_about(mistake.field, path)
    ]
    for line in study.warnings:
        where, _, said = line.partition(": ")
        if said and _is_about(where, path):
            rows.append(("odd", said))
    signs = {"wrong": "Not saved:", "odd": "Read it again?"}
    return joined([h(f"li.{kind}", h("strong", signs[kind]), " ", said) for kind, said in rows])
