"""Drilling templates of short runners, printed: holes and the bar in the PDF's own coordinates."""

import io
import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import hypot
from pathlib import Path
from types import SimpleNamespace

import pytest
from pypdf import PdfReader

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.book.full_size import make_full_size
from stowright.book.runner_sheets import runner_groups
from stowright.drawings.overlap import overlaps
from stowright.drawings.runner_places import members_of
from stowright.drawings.runner_sheet import runner_figure
from stowright.drawings.runner_template import runner_templates, template_fits, template_words
from stowright.drawings.scene import Circle, Line, Symbol, Text
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
    assert len(left_members(made)) == 8  # four openings, cabinet and drawer member each
    alike = {names[0] for _, names in runner_groups(SimpleNamespace(design=made))}
    members = [(o, m) for o, m in left_members(made) if o.name in alike]
    pdf = make_full_size(SimpleNamespace(design=made, job=made.job), paper=paper)
    pages = [p for p in PdfReader(io.BytesIO(pdf)).pages if "drilling template" in p.extract_text()]
    assert len(pages) == len(members) == 4  # two and two drawers are alike
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
        pages = runner_templates(member, units=units, paper=sheet, title=opening.name)
        assert [overlaps(page) for page in pages] == [[]]
        scene = runner_figure([member], units=units, room=(174.0, 222.0), name="r", paper=sheet)
        assert overlaps(scene) == []
        words = {i.text for i in scene.items if isinstance(i, Text)}
        assert "A drilling template at full size goes with this sheet." in words


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_long_template_goes_on_over_pages_that_meet_at_their_register_marks(units):
    _, member = left_members(design())[0]
    small = SimpleNamespace(name="small", width=210.0, height=180.0)
    pages = runner_templates(member, units=units, paper=small, title="rings")
    assert len(pages) > 1
    assert f"on {len(pages)} pages" in template_words(member, paper=small)
    assert len({page.name for page in pages}) == len(pages)
    drilled = set()
    marks = []
    for page in pages:
        assert overlaps(page) == []
        view = page.view("template")
        rings = {i.centre for i in view.items if isinstance(i, Circle)}
        here = {s for s in member.screws if view.paper((s.up, s.along)) in rings}
        assert here  # no page for nothing
        drilled |= here
        found = [i.at for i in view.items if isinstance(i, Symbol)]
        marks.append({(x, round(y - view.at[1], 6)) for x, y in found})
        assert any(
            i.text.startswith("This bar measures 100 mm") for i in page.items if isinstance(i, Text)
        )
    assert drilled == set(member.screws)
    for one, two in pairwise(marks):
        assert len(one & two) == 4  # two at each side


def test_a_high_line_is_set_out_from_a_line_drawn_under_it():
    _, member = left_members(design())[0]
    high = replace(
        member,
        line=member.line + 150.0,
        screws=tuple(replace(s, up=s.up + 150.0) for s in member.screws),
    )
    sheet = PAPERS["A4"]
    (page,) = runner_templates(high, units="mm", paper=sheet, title="rings")
    assert overlaps(page) == []
    view = page.view("template")
    words = " ".join(i.text for i in view.items if isinstance(i, Text))
    lift = float(re.search(r"a line drawn (\d+) mm above the", words)[1])
    left = min(i.start[0] for i in view.items if isinstance(i, Line) and i.pen == "visible")
    for screw in high.screws:
        at = view.paper((screw.up, screw.along))
        assert at[0] - left == pytest.approx(screw.up - lift)
        assert any(i.centre == pytest.approx(at) for i in view.items if isinstance(i, Circle))


def test_a_runner_that_no_screw_holds_has_its_line_and_set_back_all_the_same():
    made = design()
    bare = replace(made, fixings=tuple(f for f in made.fixings if f.kind not in {"screw", "bolt"}))
    for block in made.blocks:
        for opening in (o for o in block.openings if o.runner is not None):
            whole, found = members_of(made, opening), members_of(bare, opening)
            assert found == tuple(replace(member, screws=()) for member in whole)
            for member in found:
                assert not template_fits(member, PAPERS["A4"])
                with pytest.raises(OutOfRangeError):
                    runner_templates(member, units="mm", paper=PAPERS["A4"], title="rings")
            scene = runner_figure(
                found[:2], units="mm", room=(174.0, 222.0), name="r", paper=PAPERS["A4"]
            )
            assert overlaps(scene) == []
            words = {i.text for i in scene.items if isinstance(i, Text)}
            assert "No drilling template: no screw holds this member." in words
