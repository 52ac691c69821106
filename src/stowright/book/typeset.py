"""Content and drawings set into pages by typst: the one place that knows the typesetter."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from typing import Any, Literal

import typst

from stowright.drawings.lettering import font_folder
from stowright.errors import BookError

__all__ = ["typeset", "typeset_sheets"]


def typeset(
    template: str,
    content: Mapping[str, Any],
    figures: Mapping[str, str],
    *,
    inputs: Mapping[str, str],
) -> bytes:
    """Return pages as PDF. The same content gives the same bytes.

    Args:
        template: Name of the template without its ending.
        content: What the template prints, as plain data.
        figures: SVG by name.
        inputs: What the template is told besides (paper, ink).

    Raises:
        BookError: If the pages do not typeset.
    """
    with tempfile.TemporaryDirectory(prefix="stowright-") as name:
        made = _compiled(_laid_out(Path(name), content, figures), template, inputs, "pdf")
    if not isinstance(made, bytes):
        raise BookError(f"the {template} template came out in more than one piece")
    return made


def typeset_sheets(
    template: str,
    content: Mapping[str, Any],
    figures: Mapping[str, str],
    *,
    inputs: Mapping[str, str],
) -> tuple[str, ...]:
    """Return the same pages one by one as SVG, for a screen or a browser's printer.

    Raises:
        BookError: If the pages do not typeset.
    """
    with tempfile.TemporaryDirectory(prefix="stowright-") as name:
        made = _compiled(_laid_out(Path(name), content, figures), template, inputs, "svg")
    sheets = made if isinstance(made, list) else [made]
    return tuple(sheet.decode() for sheet in sheets if isinstance(sheet, bytes))


def _laid_out(folder: Path, content: Mapping[str, Any], figures: Mapping[str, str]) -> Path:
    """Write what the typesetter reads into a folder."""
    for source in resources.files("stowright.book").joinpath("templates").iterdir():
        if source.name.endswith(".typ"):
            (folder / source.name).write_bytes(source.read_bytes())
    text = json.dumps(content, ensure_ascii=False)
    (folder / "content.json").write_text(text, encoding="utf-8")
    for figure, svg in figures.items():
        (folder / f"{figure}.svg").write_text(svg, encoding="utf-8")
    return folder


def _compiled(
    folder: Path, template: str, inputs: Mapping[str, str], kind: Literal["pdf", "svg"]
) -> Any:
    try:
        return typst.compile(
            str(folder / f"{template}.typ"),
            root=str(folder),
            font_paths=[str(font_folder())],
            ignore_system_fonts=True,
            sys_inputs=dict(inputs),
            timestamp=0,
            format=kind,
        )
    except typst.TypstError as error:
        raise BookError(f"the {template} template does not typeset: {error}") from error
