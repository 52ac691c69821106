"""Advice that is a change to the job: what a tap on it would write."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stowright.app.arranging import block_path, fill_path, set_in_block
from stowright.app.edits import Edits, edited, tables_of, typed
from stowright.errors import StowrightError, UnknownNameError

if TYPE_CHECKING:
    from stowright.model.catalogue import Catalogue
    from stowright.model.design import Design
    from stowright.model.finding import Finding
    from stowright.model.job import Build, Job

__all__ = ["Remedy", "remedies", "tried_remedies"]

#: By this word advice says that it was tried.
_PASSES = " passes"
_SETTING = re.compile(r'\b([a-z][a-z_]+) = "?([A-Za-z0-9][A-Za-z0-9./-]*(?: mm)?)"?')
_MORE = re.compile(r"\b(clear_at_face|under_gap|over_gap|side_clear|end_clear) (\d+(?:\.\d+)?) mm")
_IN_BLOCK = frozenset({"clear_at_face", "over_arches", "modules"})
#: Keys that mean another thing in a deck's own table than in [build].
_ALSO_OF_DECKS = frozenset({"back", "top"})
_THICKER = (("bottom", "drawer_bottom"), ("deck", "deck_sheet"), ("front", "front_sheet"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """A change that would mend a finding.

    Attributes:
        label: What it does, in words.
        edits: What is written.
    """

    label: str
    edits: Edits


def remedies(text: str, job: Job, catalogue: Catalogue, finding: Finding) -> tuple[Remedy, ...]:
    """Return the changes that a finding's advice comes to; advice in mere words gives none."""
    found: dict[str, Remedy] = {}
    for advice in finding.advice:
        for remedy in _of(advice, text, job, catalogue, finding):
            found.setdefault(remedy.label, remedy)
    return tuple(found.values())


def tried_remedies(
    text: str, design: Design, catalogue: Catalogue, finding: Finding
) -> tuple[Remedy, ...]:
    """Return the changes that were tried on the whole unit and pass, as they are written.

    A change is given only when the file, so changed, says the very job that was tried. What takes
    things out of the load is left to people.
    """
    from stowright.proofs.changes import changes_for

    told = [line.partition(_PASSES)[0] for line in finding.advice if _PASSES in line]
    if not told:
        return ()
    found = []
    for change in changes_for(design, catalogue, finding):
        if change.words in told and not change.lighter:
            edits = _written(text, design.job, change.job, catalogue)
            if edits:
                found.append(Remedy(label=change.words.rstrip(","), edits=edits))
    return tuple(found)


def _written(text: str, job: Job, other: Job, catalogue: Catalogue) -> Edits:
    """Return the edits that make one job of the other; none when the file cannot say it so."""
    from stowright.app.loading import load_job
    from stowright.jobfile import dump_job

    wanted = dump_job(other)
    edits = dict(_differences(tables_of(dump_job(job)), tables_of(wanted), ""))
    try:
        made = load_job(edited(text, edits).encode(), catalogue=catalogue)
    except StowrightError:
        return {}
    return edits if dump_job(made) == wanted else {}


def _differences(old: Any, new: Any, path: str) -> Iterator[tuple[str, object]]:
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        for key in dict.fromkeys((*old, *new)):
            inner = f"{path}.{key}" if path else str(key)
            yield from _differences(old.get(key), new.get(key), inner)
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for place, (one, two) in enumerate(zip(old, new, strict=True), start=1):
            yield from _differences(one, two, f"{path}[{place}]")
    elif old != new:
        yield path, new


def _of(
    advice: str, text: str, job: Job, catalogue: Catalogue, finding: Finding
) -> Iterator[Remedy]:
    where, build = _place(job, finding.about)
    of_deck = finding.about in {deck.name for deck in job.decks}
    for key, value in _SETTING.findall(advice):
        if of_deck and key in _ALSO_OF_DECKS:
            continue
        if hasattr(build, key) or key in _IN_BLOCK:
            yield _set(text, job, where, key, typed(value))
    for key, more in _MORE.findall(advice):
        if " more" in advice:
            block = where if key not in _IN_BLOCK else where.partition(".")[0]
            stands = _stands(job, block, key, build)
            yield _set(text, job, block, key, f"{stands + float(more):g} mm")
    for word, key in _THICKER:
        if f"thicker {word}" in advice:
            thicker = _thicker(str(getattr(build, key)), catalogue)
            if thicker:
                yield _set(text, job, "build" if key == "deck_sheet" else where, key, thicker)


def _set(text: str, job: Job, where: str, key: str, value: object) -> Remedy:
    path = f"{where}.{key}"
    edits = {path: value} if where == "build" else set_in_block(text, job, path, value)
    at = "" if where == "build" else f" ({where})"
    return Remedy(label=f"{key} = {value}{at}", edits=edits)


def _place(job: Job, about: str) -> tuple[str, Build]:
    """Return where a change belongs: the fill, the block, else the whole job."""
    for block in job.blocks:
        for column in block.columns:
            for fill in column.stack:
                if fill.name == about:
                    return fill_path(job, about), fill.build
    name = about.partition("/")[0]
    try:
        path = block_path(job, name)
    except UnknownNameError:
        return "build", job.build
    return path, next(block.build for block in job.blocks if block.name == name)


def _stands(job: Job, where: str, key: str, build: Build) -> float:
    if key == "clear_at_face" and where.startswith("block["):
        return job.blocks[int(where[6:].partition("]")[0]) - 1].clear_at_face
    return float(getattr(build, key, 0.0))


def _thicker(name: str, catalogue: Catalogue) -> str:
    """Return the next thicker sheet of the same family; empty when there is none."""
    family = name.rpartition("-")[0]
    own = catalogue.material(name).thickness
    rows = [row for row in catalogue.materials if row.name.rpartition("-")[0] == family]
    thicker = sorted((row.thickness, row.name) for row in rows if row.thickness > own)
    return thicker[0][1] if thicker else ""
