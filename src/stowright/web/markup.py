"""Page text by construction: every text and every attribute is escaped, nothing else can be said.

There is no way to put a string into a page as markup, save the constant texts of this room.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

__all__ = ["Children", "Markup", "h", "joined", "svg_of"]

_EMPTY = frozenset({"br", "hr", "img", "input", "path", "line", "circle", "rect", "polyline"})


class Markup(str):
    """Text that is markup already."""

    __slots__ = ()


type Children = Markup | str | float | Iterable[Children] | None
type Value = str | float | bool | None


def h(tag: str, *children: Children, **attributes: Value) -> Markup:
    """Return an element.

    Args:
        tag: ``div``, or with classes ``div.row.wide``.
        children: Texts (escaped), elements, lists of both; None is left out.
        attributes: A trailing underscore is dropped, others become hyphens: ``aria_label``. False
            and None leave an attribute out, True writes its name alone.
    """
    name, *classes = tag.split(".")
    given = " ".join([*classes, *str(attributes.pop("class_", "") or "").split()])
    words = f' class="{escape(given)}"' if given else ""
    for key, value in attributes.items():
        if value is None or value is False:
            continue
        shown = key.rstrip("_").replace("_", "-") if key != "viewBox" else key
        words += f" {shown}" if value is True else f' {shown}="{escape(str(value))}"'
    if name in _EMPTY:
        return Markup(f"<{name}{words}>" if not _is_drawn(name) else f"<{name}{words}/>")
    return Markup(f"<{name}{words}>{joined(children)}</{name}>")


def joined(children: Children) -> Markup:
    """Return children one after another."""
    if children is None:
        return Markup("")
    if isinstance(children, Markup):
        return children
    if isinstance(children, str):
        return Markup(escape(children))
    if isinstance(children, int | float):
        return Markup(f"{children:g}")
    return Markup("".join(joined(child) for child in children))


def svg_of(drawing: str) -> Markup:
    """Return a drawing that ``drawings/`` wrote, for standing in a page.

    The writer of drawings escapes its texts itself; its opening line is taken off.
    """
    return Markup(drawing[max(drawing.find("<svg"), 0) :])


def _is_drawn(name: str) -> bool:
    return name in {"path", "line", "circle", "rect", "polyline"}
