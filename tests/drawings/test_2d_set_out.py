"""Set-out rods: they add up, say what the model says, and print at full size."""

from itertools import pairwise

import pytest
from plans_2d import EXAMPLES, design_of
from svg_reader_2d import read_svg

from stowright.drawings.overlap import overlaps
from stowright.drawings.rods import rod_of
from stowright.drawings.scene import Region, Running, Symbol, Text
from stowright.drawings.set_out import set_out_strip
from stowright.drawings.set_out_pages import set_out_pages
from stowright.drawings.sheet_frame import PAPERS
from stowright.drawings.svg import to_svg


def openings(name):
    return [o for block in design_of(name).blocks for o in block.openings]


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_every_opening_has_a_legible_rod_that_fits_the_page(name):
    design = design_of(name)
    for opening in openings(name):
        scene = set_out_strip(design, opening.name, units=design.job.units)
        assert overlaps(scene) == [], opening.name
        assert scene.width <= 176.0
        assert scene.height <= 237.0


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_gaps_on_a_rod_are_the_gaps_of_the_sums(name):
    design = design_of(name)
    named = {gap.name: gap.sum for gap in design.gaps}
    for opening in openings(name):
        for axis in ("up", "across", "in"):
            for mark in rod_of(design, opening.name, axis).marks:
                if f"{opening.name}: {mark.name}" in named:
                    wanted = named[f"{opening.name}: {mark.name}"]
                    assert mark.high - mark.low == pytest.approx(wanted, abs=0.01)


def test_a_drawer_across_its_opening_is_a_wall_sum():
    design = design_of("pickup")
    opening = openings("pickup")[0]
    rod = rod_of(design, opening.name, "across")
    uprights = [bar for bar in rod.bars if bar.column == "carcass"]
    assert len(uprights) == 2
    left, right = uprights
    # Upright, opening, upright: the rod ends at the outside of the right one.
    assert left.low == pytest.approx(0.0)
    assert right.low - left.high == pytest.approx(opening.width)
    assert rod.length == pytest.approx(right.high)
    spaces = [m for m in rod.marks if m.name.startswith("runner space")]
    box = opening.box.width
    assert sum(m.high - m.low for m in spaces) + box == pytest.approx(opening.width)


def test_heights_run_from_the_load_floor_to_the_deck():
    design = design_of("pickup")
    opening = openings("pickup")[0]
    rod = rod_of(design, opening.name, "up")
    deck = next(p for p in design.placed if p.role == "deck")
    assert rod.length == pytest.approx(deck.origin[2] + deck.thickness)
    line = next(m for m in rod.marks if m.name == "runner centre line")
    assert line.low == line.high == pytest.approx(opening.at[2] + opening.runner.line)


def test_places_are_marked_once_in_rising_order():
    rod = rod_of(design_of("pickup"), openings("pickup")[0].name, "up")
    assert list(rod.places) == sorted(set(rod.places))
    assert 0.0 not in rod.places


def test_an_unknown_opening_is_refused():
    with pytest.raises(KeyError):
        rod_of(design_of("pickup"), "nothing", "up")


def test_the_reduced_rod_states_every_place_from_one_datum():
    design = design_of("pickup")
    name = openings("pickup")[0].name
    scene = set_out_strip(design, name, units="mm")
    for view, axis in zip(scene.views, ("up", "across"), strict=True):
        runs = [i for i in view.items if isinstance(i, Running)]
        assert len(runs) == 1
        assert runs[0].values == pytest.approx(rod_of(design, name, axis).places)


@pytest.mark.parametrize(("name", "paper"), [("pickup", "A4"), ("pickup-inches", "ANSI A")])
@pytest.mark.parametrize("axis", ["up", "across"])
def test_full_size_pages_join_and_show_all_of_the_rod(name, paper, axis):
    design = design_of(name)
    opening = openings(name)[0].name
    pages = set_out_pages(design, opening, units=design.job.units, paper=PAPERS[paper], axis=axis)
    rod = rod_of(design, opening, axis)
    assert all(overlaps(page) == [] for page in pages)
    assert all((p.width, p.height) == (PAPERS[paper].width, PAPERS[paper].height) for p in pages)
    marks = []
    for page in pages:
        view = page.view("rod")
        assert view.scale == 1.0
        found = sorted({round(view.model(i.at)[1], 6) for i in view.items if isinstance(i, Symbol)})
        marks.append(found)
    # What one page ends with the next begins with.
    for before, after in pairwise(marks):
        assert before[-2:] == after[:2]
    shown = max(
        page.view("rod").model(p)[1]
        for page in pages
        for i in page.view("rod").items
        if isinstance(i, Region)
        for p in i.outer
    )
    assert shown == pytest.approx(rod.length)


def test_full_size_is_full_size_on_the_page():
    design = design_of("pickup")
    opening = openings("pickup")[0]
    page = set_out_pages(design, opening.name, units="mm", paper=PAPERS["A4"])[0]
    top = read_svg(to_svg(page))
    assert (top.get("width"), top.get("viewBox")) == ("210mm", "0 0 210 297")
    # The bar of 100 mm, and the packer of its own thickness, in page units that are millimetres.
    paths = [p.get("d") for p in top.all("path")]
    assert "M58 290L158 290" in paths
    packer = next(b for b in rod_of(design, opening.name, "up").bars if "packer" in b.name)
    view = page.view("rod")
    region = next(i for i in view.items if isinstance(i, Region) and i.about == packer.name)
    ys = [p[1] for p in region.outer]
    assert max(ys) - min(ys) == pytest.approx(packer.high - packer.low)


def test_pages_carry_their_number_and_a_warning_to_print_true():
    pages = set_out_pages(
        design_of("pickup"), openings("pickup")[0].name, units="mm", paper=PAPERS["A4"]
    )
    for k, page in enumerate(pages, start=1):
        said = " ".join(i.text for i in page.items if isinstance(i, Text))
        assert f"page {k} of {len(pages)}" in said
        assert "print at 100 %" in said
