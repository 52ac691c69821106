"""Drilling templates of short runners, printed: holes and the bar in the PDF's own coordinates."""

import io
from dataclasses import replace
from functools import cache
from math import hypot
from pathlib import Path
from types import SimpleNamespace

import pytest
from pypdf import PdfReader

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.book.full_size import make_full_size
from stowright.drawings.overlap import overlaps
from stowright.drawings.runner_places import members_of
from stowright.drawings.runner_sheet import runner_figure
from stowright.drawings.runner_template import runner_template, template_fits, template_words
from stowright.drawings.scene import Text
from stowright.drawings.sheet_frame import PAPERS
from stowright.errors import OutOfRangeError

JOB = Path(__file__).parent / "short_jobs" / "short-runners.toml"
SHEETS = {"a4": "A4", "letter": "ANSI A"}
MM = 72.0 / 25.4  # points
NEAR = 0.02  # mm: the printed figures carry three decimals of a millimetre


@cache
def design():
    shelf = load_catalogue()
    return design_job(load_job(JOB, catalogue=shelf), catalogue=shelf)


def left_members(made):
    openings = [o for block in made.blocks for o in block.openings if o.runner is not None]
    return [(o, m) for o in openings for m in members_of(made, o) if m.side == "left" and m.screws]


def strokes(page):
    """Return the straight strokes of a page in millimetres from its lower left corner."""
    found, last = [], []

    def walk(operator, operands, matrix, _text):
        a, b, c, d, e, f = (float(v) for v in matrix)
        if operator in {b"m", b"l"}:
            x, y = (float(v) for v in operands)
            point = ((a * x + c * y + e) / MM, (b * x + d * y + f) / MM)
            if operator == b"l" and last:
                found.append((last[0], point))
            last[:] = [point]

    page.extract_text(visitor_operand_before=walk)
    return found


def long_(line):
    (x0, y0), (x1, y1) = line
    return hypot(x1 - x0, y1 - y0)


def level(line):
    return abs(line[0][1] - line[1][1]) < NEAR


def corner(lines):
    """Return where the two datum lines meet: the foot of the leftmost long line on the page."""
    upright = [s for s in lines if long_(s) > 200.0 and s[0][0] > 1.0 and not level(s)]
    return min(min(upright))


@pytest.mark.parametrize("paper", sorted(SHEETS))
def test_holes_and_bar_of_a_printed_template_measure_what_they_say(paper):
    made = design()
    members = left_members(made)
    assert len(members) == 8  # four openings, cabinet and drawer member each
    pdf = make_full_size(SimpleNamespace(design=made, job=made.job), paper=paper)
    pages = [p for p in PdfReader(io.BytesIO(pdf)).pages if "drilling template" in p.extract_text()]
    assert len(pages) == len(members)
    for page, (_, member) in zip(pages, members, strict=True):
        lines = strokes(page)
        assert any(long_(line) == pytest.approx(100.0, abs=NEAR) for line in lines)
        arms = [line for line in lines if level(line) and abs(long_(line) - 8.0) < NEAR]
        x0, y0 = corner(lines)
        found = sorted(((a[0] + b[0]) / 2.0 - x0, a[1] - y0) for a, b in arms)
        wanted = sorted((screw.up, screw.along) for screw in member.screws)
        assert len(found) == len(wanted)
        for (x, y), (up, along) in zip(found, wanted, strict=True):
            assert x == pytest.approx(up, abs=NEAR)
            assert y == pytest.approx(along, abs=NEAR)


@pytest.mark.parametrize("paper", ["A4", "ANSI A"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_template_is_legible_and_its_sheet_tells_of_it(paper, units):
    sheet = PAPERS[paper]
    for opening, member in left_members(design()):
        assert overlaps(runner_template(member, units=units, paper=sheet, title=opening.name)) == []
        scene = runner_figure([member], units=units, room=(174.0, 222.0), name="r", paper=sheet)
        assert overlaps(scene) == []
        words = {i.text for i in scene.items if isinstance(i, Text)}
        assert "A drilling template at full size goes with this sheet." in words


def test_a_runner_that_fits_no_page_says_which_hole_is_past_it():
    _, member = left_members(design())[0]
    small = SimpleNamespace(name="small", width=210.0, height=250.0)
    last = max(screw.along for screw in member.screws)
    assert not template_fits(member, small)
    assert f"the hole at {last:g} is past one page" in template_words(
        member, paper=small, units="mm"
    )
    with pytest.raises(OutOfRangeError):
        runner_template(member, units="mm", paper=small, title="rings")


def test_a_runner_that_no_screw_holds_has_its_line_and_set_back_all_the_same():
    made = design()
    bare = replace(made, fixings=tuple(f for f in made.fixings if f.kind not in {"screw", "bolt"}))
    for block in made.blocks:
        for opening in (o for o in block.openings if o.runner is not None):
            whole, found = members_of(made, opening), members_of(bare, opening)
            assert found == tuple(replace(member, screws=()) for member in whole)
            for member in found:
                assert not template_fits(member, PAPERS["A4"])
            scene = runner_figure(
                found[:2], units="mm", room=(174.0, 222.0), name="r", paper=PAPERS["A4"]
            )
            assert overlaps(scene) == []
            words = {i.text for i in scene.items if isinstance(i, Text)}
            assert "No drilling template: no screw holds this member." in words
