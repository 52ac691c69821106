"""Steps of a routed job with tabs: a trial cut, pushed together one way, each piece once."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "design"))
from job_texts import VAN, made

from stowright.making.steps import step_drafts
from stowright.making.tabs import pushed_together

BLOCK = """
[[block]]
name = "unit"
modules = "shared"
place = {z = [0, 420]}
columns = [ {stack = [ {fill = "open"}, {fill = "open"} ]},
            {stack = [ {fill = "drawer", name = "d"}, {fill = "THROUGH"} ]} ]
"""
BUILD = '[build]\nmethod = "cnc"\nsaw = "cnc-6"\njoint = "JOINT"\n'


def unit_of(joint="tab-and-slot", through="through"):
    return made(VAN, BLOCK.replace("THROUGH", through), BUILD.replace("JOINT", joint))


def test_each_piece_is_put_in_once_and_before_what_shuts_it_in():
    for through in ("through", "open"):
        unit = unit_of(through=through)
        pieces = [p for p in unit.placed if p.module == "1" and not p.opening]
        order = [name for _, new in pushed_together(pieces) for name in new]
        assert sorted(order) == sorted(p.id for p in pieces)
        for joint in unit.joints:
            if joint.kind == "tab-and-slot" and not joint.parts[0].startswith("d/"):
                upright, entering = joint.parts
                # on its left an upright is lowered onto tabs, on its right it takes them
                if upright.endswith("side-right"):
                    assert order.index(upright) > order.index(entering) or "rail" in entering
                if upright.endswith("side-left"):
                    assert order.index(upright) < order.index(entering)
        wall = order.index("unit/1/partition-1")
        assert all(order.index(p.id) < wall for p in pieces if "/shelf-1-" in p.id)
        assert all(order.index(p.id) > wall for p in pieces if "/shelf-2-" in p.id)


def test_tabs_are_tried_dry_glued_and_tapped_home():
    text = " ".join(line for step in step_drafts(unit_of()) for line in step.text)
    for words in ("cut one tab and one slot in an offcut", "Try it dry", "tap the part home"):
        assert words in text
    plain = " ".join(line for step in step_drafts(unit_of("butt")) for line in step.text)
    assert "tab" not in plain.replace("table", "")


def test_a_job_for_the_router_is_not_told_to_saw():
    step = next(s for s in step_drafts(unit_of()) if s.key == ("cut", "A"))
    assert not any("saw" in line or "cut number" in line for line in (*step.text, *step.tools))
    assert "zero" in " ".join(step.text)
