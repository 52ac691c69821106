"""The check of finished drawings finds what is planted, and nothing else."""

import pytest

from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import (
    Arc,
    Balloon,
    Circle,
    Dimension,
    Hatch,
    Leader,
    Line,
    Polyline,
    Region,
    Running,
    Scene,
    Symbol,
    Text,
    View,
)

WORD = Text(text="drawer", at=(40, 40), height=5)


def faults(*items, width=100.0, height=100.0):
    drawing = Scene(
        name="s", title="s", width=width, height=height, views=(View(name="v", items=items),)
    )
    return [(fault.kind, fault.text) for fault in overlaps(drawing)]


def test_a_word_alone_is_fine():
    assert faults(WORD) == []
    assert faults() == []


@pytest.mark.parametrize(
    "line",
    [
        Line(start=(0, 42), end=(100, 42)),
        Polyline(points=((45, 0), (45, 100))),
        Polyline(points=((40, 41), (41, 90), (95, 95)), closed=True),
        Region(outer=((45, 0), (46, 0), (46, 100)), fill="ink"),
        Region(outer=((42, 0), (99, 0), (99, 99), (42, 99)), fill="none", pen="outline"),
        Circle(centre=(40, 42), radius=6),
        Circle(centre=(50, 42), radius=1, fill="ink"),
        Arc(centre=(40, 42), radius=6, start=-20, end=20),
        Hatch(outer=((30, 30), (60, 30), (60, 60), (30, 60))),
        Symbol(kind="register", at=(45, 42), size=10),
    ],
    ids=lambda line: type(line).__name__,
)
def test_a_line_through_a_word_is_found(line):
    assert ("line through text", "drawer") in faults(line, WORD)


def test_two_words_on_each_other_are_found_once():
    other = Text(text="tray", at=(45, 42), height=5)
    assert faults(WORD, other) == [("text on text", "drawer")]


def test_a_turned_word_is_judged_by_its_own_box_not_by_its_bounds():
    slanting = Text(text="a long slanting remark", at=(20, 20), height=3, turn=45)
    assert faults(slanting, Line(start=(40, 22), end=(60, 22))) == []
    assert faults(slanting, Line(start=(28, 40), end=(40, 20))) != []


def test_a_word_over_the_edge_of_the_paper_is_found():
    assert faults(Text(text="drawer", at=(95, 40), height=5)) == [("text off the paper", "drawer")]


def test_a_word_under_a_later_filled_shape_is_found():
    cover = Region(outer=((30, 30), (90, 30), (90, 60), (30, 60)), fill="wood")
    assert faults(cover, WORD) == []
    assert ("text covered", "drawer") in faults(WORD, cover)


def test_clear_lettering_interrupts_extension_lines_centre_lines_and_hatching_alone():
    clear = Text(text="drawer", at=(40, 40), height=5, clear=True)
    upright = Dimension(
        start=(45, 10), end=(95, 10), axis="x", line_at=60, value=500, text="500", text_at=70
    )
    for line in (
        upright,
        Line(start=(0, 42), end=(100, 42), pen="centre"),
        Hatch(outer=((30, 30), (60, 30), (60, 60), (30, 60))),
    ):
        assert faults(line, clear) == []
        assert ("line through text", "drawer") in faults(clear, line)
    level = Dimension(
        start=(20, 10), end=(80, 10), axis="x", line_at=42, value=600, text="600", text_at=30
    )
    for line in (
        level,
        Line(start=(0, 42), end=(100, 42)),
        Line(start=(0, 42), end=(100, 42), pen="hidden"),
        Polyline(points=((45, 0), (45, 100)), pen="outline"),
        Leader(points=((0, 42), (75, 42)), lines=("a",)),
    ):
        assert faults(line, clear) == [("line through text", "drawer")]


def test_a_word_on_a_filled_ring_of_its_own_is_not_crossed_by_what_lies_under_it():
    line = Line(start=(0, 42), end=(100, 42))
    ring = Balloon(centre=(50, 42), text="A1")
    assert faults(line, ring) == []
    assert faults(ring, line) == [("line through text", "A1")]


def lines_through(*items):
    drawing = Scene(
        name="s", title="s", width=100, height=100, views=(View(name="v", items=items),)
    )
    return {(fault.text, fault.other) for fault in overlaps(drawing)}


def test_each_kind_of_line_through_a_dimension_text_is_named():
    """ISO 129-1: no line crosses the figure of a dimension."""
    d = Dimension(start=(10, 10), end=(60, 10), axis="x", line_at=20, value=500, text="500")
    middle = (35, 22)
    across = {
        "leader": Leader(points=((30, 0), (40, 44)), lines=("a note",)),
        "hidden line": Line(start=(0, 22), end=(90, 22), pen="hidden"),
        "centre line": Line(start=(0, 22), end=(90, 22), pen="centre"),
        "double-dotted line": Line(start=(35, 0), end=(35, 90), pen="phantom"),
        "line": Line(start=(0, 22), end=(90, 22), pen="outline"),
        "hatch": Hatch(outer=((30, 15), (50, 15), (50, 30), (30, 30)), spacing=1.0),
        "extension line": Dimension(
            start=(35, 2), end=(80, 2), axis="x", line_at=50, value=450, text="450"
        ),
        "dimension line": Dimension(
            start=(2, 4), end=(98, 4), axis="x", line_at=22, value=960, text="960", text_at=80
        ),
    }
    for kind, item in across.items():
        assert ("500", kind) in lines_through(d, item), kind
    assert lines_through(d, Line(start=middle, end=(90, 90))) == {("500", "line")}


def test_the_bent_line_of_one_running_text_through_another_is_found():
    one = Running(
        datum=(10, 10), points=((20, 10), (21, 10)), axis="x", line_at=30, side=1, out=9.0,
        texts_at=(10, 40, 22), values=(100, 110), texts=("0", "100", "110"),
    )  # fmt: skip
    assert lines_through(one) == set()
    near = Running(
        datum=(10, 10), points=((20, 10), (21, 10)), axis="x", line_at=30, side=1, out=3.0,
        texts_at=(10, 20, 20.5), values=(100, 110), texts=("0", "100", "110"),
    )  # fmt: skip
    assert ("110", "100") in lines_through(near) | {(b, a) for a, b in lines_through(near)}


def test_the_own_lines_of_a_dimension_or_leader_do_not_count():
    d = Dimension(start=(10, 10), end=(60, 10), axis="x", line_at=20, value=500, text="500")
    assert faults(d) == []
    assert faults(Leader(points=((10, 10), (30, 30)), lines=("a note",))) == []
