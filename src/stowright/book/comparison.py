"""The comparison sheet of an exploration: pages and a web page from the same content."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from typing import Any, Literal

from stowright.book.stamp import stamp_of
from stowright.book.typeset import typeset
from stowright.drawings.isometric import assembled
from stowright.drawings.svg import to_svg
from stowright.explore.exploring import Candidate, Exploration
from stowright.explore.judging import Judged
from stowright.explore.measures import Criterion
from stowright.explore.wording import FIRST_LAYOUT, shown
from stowright.model.design import Design
from stowright.model.job import Job
from stowright.units import Unit

__all__ = ["comparison_html", "comparison_pdf", "failing", "pictures", "told"]

#: Of a picture on paper. [mm]
WIDTH, HEIGHT = 84.0, 58.0
#: How far drawers stand open in a picture.
OPEN = 0.35
#: Of what fails so much is told of one design.
_MOST_WRONG = 6
#: Of what failed most often so much is told.
_MOST_REFUSED = 5
_STYLE = """
body{font:16px/1.45 system-ui,sans-serif;color:#1c2422;background:#fff;
margin:2rem auto;max-width:70rem;padding:0 1rem}
h1{font-size:1.6rem}h2{font-size:1.15rem;margin:.2rem 0}
table{border-collapse:collapse;width:100%}
th,td{padding:.3rem .5rem;border-bottom:1px solid #b9c4c1;text-align:right;white-space:nowrap}
th:first-child{text-align:left;white-space:normal;min-width:16rem}
thead th{background:#e8efed;white-space:normal;vertical-align:bottom}
td.best{font-weight:700}.wide{overflow-x:auto}
ul.cards{list-style:none;padding:0;display:grid;gap:1rem;
grid-template-columns:repeat(auto-fill,minmax(21rem,1fr))}
ul.cards>li{border:1px solid #b9c4c1;border-radius:.4rem;padding:.8rem}
svg{max-width:100%;height:auto}
"""


def pictures(designs: Mapping[str, Design], *, ink: Literal["colour", "black"]) -> dict[str, str]:
    """Return a picture of each design in its bay, as SVG, by the same keys."""
    return {
        key: to_svg(
            assembled(design, open_by=OPEN, bay=True, width_mm=WIDTH, height_mm=HEIGHT, name=key),
            ink=ink,
        )
        for key, design in designs.items()
    }


def comparison_pdf(
    found: Exploration,
    job: Job,
    figures: Mapping[str, str],
    *,
    paper: Literal["a4", "letter"] = "a4",
    ink: Literal["colour", "black"] = "colour",
) -> bytes:
    """Return the comparison sheet as PDF. The same content gives the same bytes.

    Args:
        found: What was explored.
        job: The job that it was explored for.
        figures: A picture of each kept design, SVG by its key (``1``, ``2`` …).
        paper: The page.
        ink: Colour or plain black.

    Raises:
        BookError: If the sheet does not typeset.
    """
    content = {**_content(found, job), "ink": ink}
    return typeset("comparison", content, figures, inputs={"paper": paper})


def comparison_html(found: Exploration, job: Job, figures: Mapping[str, str]) -> str:
    """Return the comparison sheet as one web page that needs nothing from elsewhere."""
    content = _content(found, job)
    heads = "".join(f"<th scope='col'>{escape(head)}</th>" for head in content["head"])
    rows = "".join(_row_html(row) for row in content["rows"])
    cards = "".join(_card_html(card, figures[card["key"]]) for card in content["cards"])
    told = "".join(f"<p>{escape(line)}</p>" for line in content["told"])
    title = escape(content["title"])
    return (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        f'<meta name="viewport" content="width=device-width,initial-scale=1">'
        f"<title>{title}: designs compared</title><style>{_STYLE}</style></head>\n"
        f"<body><h1>{title}: designs compared</h1>\n{told}\n"
        f"<div class='wide'><table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"
        f"</div>\n<ul class='cards'>{cards}</ul>\n<p>{escape(content['stamp'])}</p></body></html>\n"
    )


def _row_html(row: Mapping[str, Any]) -> str:
    cells = "".join(
        f"<td{' class=best' if best else ''}>{escape(text)}</td>" for text, best in row["cells"]
    )
    return f"<tr><th scope='row'>{escape(row['title'])}</th>{cells}</tr>"


def _card_html(card: Mapping[str, Any], picture: str) -> str:
    svg = picture[picture.index("<svg") :]
    lines = "".join(f"<p>{escape(line)}</p>" for line in card["lines"])
    return (
        f"<li><h2>{card['key']}. {escape(card['name'])}</h2>{svg}{lines}"
        f"<p><a href='{card['file']}'>{card['file']}</a></p></li>"
    )


def _content(found: Exploration, job: Job) -> dict[str, Any]:
    return {
        "title": job.title,
        "stamp": stamp_of(job).text,
        "units": job.units,
        "head": ["", *(_head(each) for each in found.criteria)],
        "rows": _rows(found, job.units),
        "cards": [
            {
                "key": str(k),
                "name": candidate.name,
                "lines": _lines(candidate),
                "file": f"candidates/{k}.toml",
            }
            for k, candidate in enumerate(found.kept, start=1)
        ],
        "told": told(found),
    }


def _head(criterion: Criterion) -> str:
    more = "more is better" if criterion.better == "more" else "less is better"
    return f"{criterion.title} ({more})"


def _rows(found: Exploration, units: Unit) -> list[dict[str, Any]]:
    """Return a row for each design, the best in each thing marked; the job as it stands last."""
    rows = [
        {
            "title": f"{k}. {candidate.name}",
            "cells": [_cell(each, candidate, found.kept, units) for each in found.criteria],
        }
        for k, candidate in enumerate(found.kept, start=1)
    ]
    if found.asked is None:
        return rows
    numbers = found.asked.measures
    cells = [(shown(c, getattr(numbers, c.name), units), False) for c in found.criteria]
    return [*rows, {"title": "as it stands", "cells": cells}]


def _cell(
    criterion: Criterion, mine: Candidate, kept: Sequence[Candidate], units: Unit
) -> tuple[str, bool]:
    values = [float(getattr(c.measures, criterion.name)) for c in kept]
    value = float(getattr(mine.measures, criterion.name))
    best = (max if criterion.better == "more" else min)(values)
    is_best = min(values) < max(values) and abs(value - best) < criterion.step
    return shown(criterion, value, units), is_best


def _lines(candidate: Candidate) -> list[str]:
    lines = []
    if candidate.best_at:
        lines.append(f"Best at: {', '.join(candidate.best_at)}.")
    if candidate.gives_up:
        lines.append(f"Gives up: {', '.join(candidate.gives_up)}.")
    if candidate.judged.wrong:
        lines.append(f"Does not serve yet; what fails: {failing(candidate.judged)}.")
    warn, lack = candidate.judged.warnings, candidate.judged.not_proved
    proofs = "proof warns" if warn == 1 else "proofs warn"
    lines.append(
        f"{warn} {proofs}, {lack} {'lacks' if lack == 1 else 'lack'} an input; see its own plan."
    )
    return lines


def failing(judged: Judged) -> str:
    """Return the first few proofs that a design fails, in words with their ids."""
    wrong = [each.told for each in judged.wrong if not each.no_place]
    rest = len(wrong) - _MOST_WRONG
    more = (f"{rest} more",) if rest > 0 else ()
    return "; ".join((*wrong[:_MOST_WRONG], *more))


def told(found: Exploration) -> list[str]:
    """Return what was looked at and what came of it, a line each."""
    lines = [
        f"{found.quick} arrangements were judged by their bodies and {found.whole} by every proof."
    ]
    if found.front:
        serve = "serves" if found.serving == 1 else "serve"
        lines[0] += (
            f" {found.serving} of these {serve}; {_are(len(found.front))} beaten by no other"
            f"{_how_shown(found)}."
        )
    elif found.kept:
        lines.append("Nothing that was proved serves yet: these fall short least.")
    else:
        lines.append("Nothing was proved yet.")
    if found.asked is not None and found.asked.judged.wrong:
        wrong = failing(found.asked.judged)
        lines.append(f"The job as it stands does not serve yet; what fails: {wrong}.")
    if found.refused:
        most = "; ".join(each.told for each in found.refused[:_MOST_REFUSED])
        lines.append(f"What failed most often of {found.whole} proved: {most}.")
    if found.stopped:
        lines.append("The search was stopped before its end: this is the best so far.")
    lines.append(
        f"A pass means within the stated limit, never safe. {FIRST_LAYOUT} Plan each job file for "
        "the whole."
    )
    return lines


def _how_shown(found: Exploration) -> str:
    """Return how many of those that no other beats are shown, and which."""
    if len(found.kept) == len(found.front):
        return " and shown"
    return (
        f", and {_are(len(found.kept))} shown: the best in one thing each, and those that "
        "together beat most"
    )


def _are(count: int) -> str:
    return f"{count} is" if count == 1 else f"{count} are"
