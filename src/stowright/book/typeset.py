"""Content and drawings set into pages by typst: the one place that knows the typesetter."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from typing import Any

import typst

from stowright.drawings.lettering import font_folder
from stowright.errors import BookError

__all__ = ["typeset"]


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
        folder = Path(name)
        for source in resources.files("stowright.book").joinpath("templates").iterdir():
            if source.name.endswith(".typ"):
                (folder / source.name).write_bytes(source.read_bytes())
        text = json.dumps(content, ensure_ascii=False)
        (folder / "content.json").write_text(text, encoding="utf-8")
        for figure, svg in figures.items():
            (folder / f"{figure}.svg").write_text(svg, encoding="utf-8")
        return _compiled(folder, template, inputs)


def _compiled(folder: Path, template: str, inputs: Mapping[str, str]) -> bytes:
    try:
        made = typst.compile(
            str(folder / f"{template}.typ"),
            root=str(folder),
            font_paths=[str(font_folder())],
            ignore_system_fonts=True,
            sys_inputs=dict(inputs),
            timestamp=0,
        )
    except typst.TypstError as error:
        raise BookError(f"the {template} template does not typeset: {error}") from error
    if not isinstance(made, bytes):
        raise BookError(f"the {template} template came out in more than one piece")
    return made
