"""The completeness proof: plans and drawings are broken on purpose, a fault of each kind."""

from dataclasses import replace

import pytest

from stowright.book import book_findings, make_book
from stowright.book.complete import drawn_findings, require_complete
from stowright.book.content import book_content
from stowright.book.figures import book_scenes
from stowright.book.options import BookOptions
from stowright.book.stamp import stamp_of
from stowright.drawings.scene import Dimension, Running
from stowright.errors import BookError


@pytest.fixture(scope="module")
def drawn(pickup):
    stamp = stamp_of(pickup.job)
    scenes = book_scenes(pickup, BookOptions(), stamp)
    titles = {name: title for name, (title, _) in scenes.items()}
    content = book_content(pickup, titles, ink="colour", stamp=stamp, projection="first")
    return {name: scene for name, (_, scene) in scenes.items()}, content


def statuses(plan, drawn):
    scenes, content = drawn
    return {f.id: f.status for f in (*book_findings(plan), *drawn_findings(plan, scenes, content))}


def failing(plan, drawn):
    return {code for code, status in statuses(plan, drawn).items() if status != "pass"}


def with_item(drawn, name, kind, change):
    """Return the drawings with the first item of a kind in one of them changed."""
    scenes, content = drawn
    scene = scenes[name]
    done = False
    views = []
    for view in scene.views:
        items = []
        for item in view.items:
            if isinstance(item, kind) and not done:
                items.append(change(item))
                done = True
            else:
                items.append(item)
        views.append(replace(view, items=tuple(items)))
    assert done
    return {**scenes, name: replace(scene, views=tuple(views))}, content


def test_a_whole_book_passes(pickup, drawn):
    assert failing(pickup, drawn) == set()
    require_complete(pickup, *drawn)


def test_a_part_without_a_size_fails(pickup, drawn):
    bad = replace(pickup.design.parts[0], width=float("nan"))
    parts = (bad, *pickup.design.parts[1:])
    broken = replace(pickup, design=replace(pickup.design, parts=parts))
    assert "BOOK-SIZES" in failing(broken, drawn)


def test_a_part_introduced_twice_fails(pickup, drawn):
    step = next(s for s in pickup.making.steps if any(p.first for p in s.parts))
    making = replace(pickup.making, steps=(*pickup.making.steps, replace(step, fixings=())))
    assert failing(replace(pickup, making=making), drawn) == {"BOOK-PARTS"}


def test_a_part_that_only_returns_is_no_fault(pickup, drawn):
    step = next(s for s in pickup.making.steps if any(p.first for p in s.parts))
    again = replace(step, fixings=(), parts=tuple(replace(p, first=False) for p in step.parts))
    making = replace(pickup.making, steps=(*pickup.making.steps, again))
    assert failing(replace(pickup, making=making), drawn) == set()


def with_step(plan, number, **changes):
    """Return the plan with one of its steps changed."""
    steps = tuple(replace(s, **changes) if s.number == number else s for s in plan.making.steps)
    return replace(plan, making=replace(plan.making, steps=steps))


def test_a_hole_without_a_size_fails(pickup):
    part = next(p for p in pickup.design.parts if p.features)
    bad = replace(part, features=(replace(part.features[0], size=()), *part.features[1:]))
    parts = tuple(bad if p is part else p for p in pickup.design.parts)
    broken = replace(pickup, design=replace(pickup.design, parts=parts))
    sizes = next(f for f in book_findings(broken) if f.id == "BOOK-SIZES")
    assert sizes.status != "pass"
    assert any(part.mark in line for line in (*sizes.needs, *sizes.working))


def test_a_part_that_no_step_introduces_fails(pickup, drawn):
    step = next(s for s in pickup.making.steps if any(p.first for p in s.parts))
    assert "BOOK-PARTS" in failing(with_step(pickup, step.number, parts=()), drawn)


def test_a_wrong_count_of_parts_in_a_step_fails(pickup, drawn):
    step = next(s for s in pickup.making.steps if any(p.first for p in s.parts))
    parts = (replace(step.parts[0], copies=step.parts[0].copies + 1), *step.parts[1:])
    assert failing(with_step(pickup, step.number, parts=parts), drawn) == {"BOOK-PARTS"}


def test_a_wrong_mark_in_a_step_fails(pickup, drawn):
    step = next(s for s in pickup.making.steps if any(p.first for p in s.parts))
    parts = (replace(step.parts[0], mark="V1"), *step.parts[1:])
    assert "BOOK-PARTS" in failing(with_step(pickup, step.number, parts=parts), drawn)


def test_a_part_that_comes_back_before_it_came_fails(pickup, drawn):
    step = next(s for s in pickup.making.steps if any(p.first for p in s.parts))
    early = tuple(replace(p, first=False) for p in step.parts)
    assert failing(with_step(pickup, 1, parts=early), drawn) == {"BOOK-PARTS"}


def test_a_printed_count_of_screws_that_is_not_what_is_placed_fails(pickup, drawn):
    step = next(s for s in pickup.making.steps if any(row.ids for row in s.fixings))
    rows = (replace(step.fixings[0], count=step.fixings[0].count + 1), *step.fixings[1:])
    broken = with_step(pickup, step.number, fixings=rows)
    assert failing(broken, drawn) == {"BOOK-FIXINGS", "BOOK-SCHEDULE"}


def test_a_screw_driven_before_its_parts_came_fails(pickup, drawn):
    step = next(s for s in pickup.making.steps if any(row.ids for row in s.fixings))
    moved = with_step(with_step(pickup, step.number, fixings=()), 1, fixings=step.fixings)
    assert failing(moved, drawn) == {"BOOK-FIXINGS"}


def test_a_schedule_that_the_steps_do_not_use_up_fails(pickup, drawn):
    schedule = tuple(
        replace(row, quantity=row.quantity + 1) if row.kind == "runners" else row
        for row in pickup.making.schedule
    )
    broken = replace(pickup, making=replace(pickup.making, schedule=schedule))
    assert failing(broken, drawn) == {"BOOK-SCHEDULE"}


def test_a_stop_that_no_step_fits_fails(pickup, drawn):
    step = next(s for s in pickup.making.steps if any(not row.ids for row in s.fixings))
    rows = tuple(row for row in step.fixings if row.ids)
    assert failing(with_step(pickup, step.number, fixings=rows), drawn) == {"BOOK-SCHEDULE"}


def test_a_feature_that_no_drawing_places_fails(pickup, drawn):
    part = next(p for p in pickup.design.parts if p.features)
    feature = replace(part.features[0], at=(part.features[0].at[0] + 3.7, part.features[0].at[1]))
    bad = replace(part, features=(feature, *part.features[1:]))
    parts = tuple(bad if p is part else p for p in pickup.design.parts)
    broken = replace(pickup, design=replace(pickup.design, parts=parts))
    assert "BOOK-DRAWN" in failing(broken, drawn)


def test_a_part_without_a_drawing_fails(pickup, drawn):
    scenes, content = drawn
    rest = {name: scene for name, scene in scenes.items() if name != "part-A1"}
    assert {"BOOK-DRAWN", "BOOK-FIGURES"} <= failing(pickup, (rest, content))


def test_a_dimension_that_says_something_else_fails(pickup, drawn):
    def longer(item):
        return replace(item, value=item.value + 1.0)

    assert failing(pickup, with_item(drawn, "part-A1", Dimension, longer)) >= {"BOOK-DIMENSIONS"}


def test_a_printed_figure_that_is_not_its_value_fails(pickup, drawn):
    def misprinted(item):
        return replace(item, texts=(*item.texts[:-1], "999"))

    changed = with_item(drawn, "view-1", Running, misprinted)
    assert failing(pickup, changed) == {"BOOK-DIMENSIONS"}


def test_a_size_that_is_not_the_plans_fails_though_it_is_drawn_true(pickup, drawn):
    part = pickup.design.part("A1")
    bad = replace(
        part,
        length=part.length + 1.0,
        outline=tuple((u + 1.0 if u else u, v) for u, v in part.outline),
    )
    parts = tuple(bad if p is part else p for p in pickup.design.parts)
    broken = replace(pickup, design=replace(pickup.design, parts=parts))
    assert failing(broken, drawn) >= {"BOOK-DIMENSIONS", "BOOK-DRAWN"}


def test_a_figure_that_nothing_refers_to_fails(pickup, drawn):
    scenes, content = drawn
    lonely = {**scenes, "view-99": scenes["view-1"]}
    assert failing(pickup, (lonely, content)) == {"BOOK-FIGURES"}


def test_a_reference_to_no_figure_fails(pickup, drawn):
    scenes, content = drawn
    steps = [{**content["steps"][0], "figure": "step-99"}, *content["steps"][1:]]
    assert failing(pickup, (scenes, {**content, "steps": steps})) == {"BOOK-FIGURES", "BOOK-STEPS"}


def test_a_step_whose_figure_is_missing_fails(pickup, drawn):
    scenes, content = drawn
    name = next(s.figure for s in pickup.making.steps if s.figure)
    rest = {key: scene for key, scene in scenes.items() if key != name}
    assert "BOOK-FIGURES" in failing(pickup, (rest, content))


def test_a_step_that_nothing_shows_fails(pickup, drawn):
    scenes, content = drawn
    steps = [
        {**content["steps"][2], "see": []} if n == 2 else row
        for n, row in enumerate(content["steps"])
    ]
    # the layouts are referred to by their own chapter, so the step alone is at fault
    assert failing(pickup, (scenes, {**content, "steps": steps})) == {"BOOK-STEPS"}


def test_a_packer_without_its_place_fails(pickup, drawn):
    scenes, content = drawn
    floor = scenes["placing-floor"]
    views = tuple(
        replace(v, items=tuple(i for i in v.items if not isinstance(i, Running)))
        for v in floor.views
    )
    bare = {**scenes, "placing-floor": replace(floor, views=views)}
    assert failing(pickup, (bare, content)) == {"BOOK-PLACES"}


def test_an_incomplete_book_is_refused(pickup):
    step = next(s for s in pickup.making.steps if s.fixings)
    making = replace(pickup.making, steps=(*pickup.making.steps, replace(step, parts=())))
    with pytest.raises(BookError, match="not complete"):
        make_book(replace(pickup, making=making))


def test_a_stop_whose_screws_nobody_buys_or_drives_fails(pickup):
    making = pickup.making
    screw = next(
        row.name
        for row in making.schedule
        if row.kind == "screws" and any(o.name in " ".join(row.used_for) for o in openings(pickup))
    )
    unbought = tuple(row for row in making.schedule if row.name != screw)
    assert "BOOK-SCHEDULE" in failing_alone(
        replace(pickup, making=replace(making, schedule=unbought))
    )
    undriven = tuple(
        replace(
            step,
            fixings=tuple(f for f in step.fixings if f.ids or f.type not in {screw, "stop-block"}),
        )
        for step in making.steps
    )
    assert "BOOK-SCHEDULE" in failing_alone(replace(pickup, making=replace(making, steps=undriven)))
    fewer = replace(pickup.design, hardware=pickup.design.hardware[1:])
    assert "BOOK-SCHEDULE" in failing_alone(replace(pickup, design=fewer))
    assert failing_alone(pickup) == set()


def openings(plan):
    return [o for block in plan.design.blocks for o in block.openings]


def failing_alone(plan):
    return {f.id for f in book_findings(plan) if f.status != "pass"}
