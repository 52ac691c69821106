"""The book's drawings: name, title, scene."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from stowright.book.options import BookOptions
from stowright.book.part_pages import part_pages, part_titles
from stowright.book.runner_sheets import runner_groups
from stowright.book.stamp import Stamp
from stowright.drawings.arrangement import ViewName
from stowright.drawings.arrangement_sheets import Issue, arrangement_sheets
from stowright.drawings.details import detail_figures
from stowright.drawings.general_arrangement import arrangement_figure
from stowright.drawings.goods_figure import goods_figure, goods_groups
from stowright.drawings.isometric import assembled, exploded_set
from stowright.drawings.layout_drawing import layout_pages
from stowright.drawings.placing_plan import placing_figures
from stowright.drawings.rods import RodAxis
from stowright.drawings.runner_places import MemberPlaces, drawn_members
from stowright.drawings.runner_sheet import runner_figure
from stowright.drawings.runner_template import runner_templates, template_fits
from stowright.drawings.scene import Scene
from stowright.drawings.set_out import set_out_strip
from stowright.drawings.sheet_frame import PAPERS
from stowright.drawings.step_figures import step_scenes
from stowright.drawings.survey_form import survey_figure
from stowright.errors import OutOfRangeError
from stowright.model.plan import Plan

__all__ = ["book_scenes", "layout_scenes"]

type Titled = dict[str, tuple[str, Scene]]

#: Room for a drawing with a page of its own. [mm]
WHOLE_PAGE = (174.0, 222.0)
#: Height of a page's text area, by its paper and the template's margins. [mm]
PAGE_HEIGHTS = {"a4": 264.0, "letter": 246.4}
#: What a runner sheet's tables and words take of its page, the chapter's heading included. [mm]
SHEET_WORDS = 136.0
#: What they take where a shop's rows are short; the table of packers may then stand overleaf. [mm]
_SHORT_WORDS = 122.0
#: Below this scale a runner's drawing goes on a page after its words, as large as that lets it.
_READABLE = 0.05


def book_scenes(plan: Plan, options: BookOptions, stamp: Stamp) -> Titled:
    """Return every drawing of the book by name, with its title.

    Args:
        plan: The plan.
        options: Paper, projection, sheets for drawings.
        stamp: What title blocks say about the job's state.
    """
    cover = assembled(plan.design, open_by=0.35, width_mm=174.0, height_mm=92.0, name="cover")
    return {
        "cover": (plan.job.title, cover),
        "survey": ("Where each reading is taken", survey_figure(plan.job.bay.kind)),
        **_sheets(plan, options, stamp),
        **_views(plan, options),
        **_placing(plan),
        **_exploded(plan),
        **_details(plan),
        **_fitted(plan),
        **layout_scenes(plan),
        **_rods(plan),
        **_runners(plan, options),
        **_steps(plan),
        **_parts(plan, options),
    }


def _sheets(plan: Plan, options: BookOptions, stamp: Stamp) -> Titled:
    """Return the general arrangement of each block on framed sheets, where they are wanted."""
    if options.drawings != "large":
        return {}
    sheets = arrangement_sheets(
        plan.design,
        projection=options.projection,
        paper=PAPERS["A3" if options.paper == "a4" else "ANSI B"],
        units=plan.job.units,
        issue=Issue(
            owner=plan.job.client,
            title=plan.job.title,
            job=stamp.job,
            revision=stamp.revision,
            date=stamp.date,
        ),
    )
    return {f"ga-{n}": (scene.title, scene) for n, scene in enumerate(sheets, start=1)}


def _views(plan: Plan, options: BookOptions) -> Titled:
    """Return plan, elevation and section, a figure each, for each block's face.

    First angle shows the elevation before the plan, third angle the plan first.
    """
    order: tuple[ViewName, ...] = ("elevation", "plan", "section", "cross")
    if options.projection == "third":
        order = ("plan", "elevation", "section", "cross")
    scenes: list[tuple[str, Scene]] = []
    for n, block in enumerate(plan.design.blocks):
        for view in order:
            if view == "plan" and n:
                continue
            scene = arrangement_figure(
                plan.design, view, units=plan.job.units, block=block.name, room=(174.0, 205.0)
            )
            scenes.append((scene.title, scene))
    return {f"view-{n}": pair for n, pair in enumerate(scenes, start=1)}


def _exploded(plan: Plan) -> Titled:
    scenes = exploded_set(plan.design, width_mm=172.0, height_mm=205.0)
    of = f" ({{}} of {len(scenes)})" if len(scenes) > 1 else ""
    return {
        f"exploded-{n}": (f"{scene.title}, moved apart, with marks{of.format(n)}", scene)
        for n, scene in enumerate(scenes, start=1)
    }


def _details(plan: Plan) -> Titled:
    scenes = detail_figures(plan.design, plan.catalogue, units=plan.job.units, room=(174.0, 160.0))
    return {f"detail-{n}": (scene.title, scene) for n, scene in enumerate(scenes, start=1)}


def layout_scenes(plan: Plan) -> Titled:
    """Return each layout's drawing, and after it the pages of its cuts where the list is long."""
    stock = {(use.sheet, use.material): use for use in plan.cutting.stock}
    releases = {part.mark: part.release for part in plan.design.parts}
    found: Titled = {}
    for layout in plan.cutting.layouts:
        pages = layout_pages(
            layout,
            stock=stock[layout.sheet, layout.material],
            units=plan.job.units,
            room=WHOLE_PAGE,
            releases=releases,
        )
        name, title = f"layout-{layout.number}", f"Sheet layout {layout.number}"
        found[name] = (title, pages[0])
        of = f" ({{}} of {len(pages) - 1})" if len(pages) > 2 else ""
        for n, scene in enumerate(pages[1:], start=1):
            found[f"{name}-cuts-{n}"] = (f"{title}, order of its cuts{of.format(n)}", scene)
    return found


def _rods(plan: Plan) -> Titled:
    """Return a set-out figure of the first opening of every kind and size."""
    seen: set[tuple[object, ...]] = set()
    found: list[tuple[str, Scene]] = []
    for block in plan.design.blocks:
        for opening in block.openings:
            alike = (opening.fill, opening.width, opening.height, opening.depth, opening.box)
            if opening.runner is None or alike in seen:
                continue
            seen.add(alike)
            found += _rods_of(plan, opening.name)
    return {f"rod-{n}": value for n, value in enumerate(found, start=1)}


def _rods_of(plan: Plan, name: str) -> list[tuple[str, Scene]]:
    """Return an opening's heights and widths in one figure, or one each where that is too large."""
    both: tuple[RodAxis, RodAxis] = ("up", "across")
    words: dict[RodAxis, str] = {"up": "heights", "across": "widths"}
    try:
        scene = set_out_strip(plan.design, name, units=plan.job.units, room=(174.0, 200.0))
    except OutOfRangeError:
        return [
            (
                f"Rod of {name}, {words[axis]}",
                set_out_strip(
                    plan.design, name, units=plan.job.units, room=(174.0, 228.0), axes=(axis,)
                ),
            )
            for axis in both
        ]
    return [(f"Rods of {name}", scene)]


def _fitted(plan: Plan) -> Titled:
    """Return where stops and hooks of nets stand, a figure for all openings that are alike."""
    return {
        (name := f"fitted-{n}"): (
            group.title,
            goods_figure(group, units=plan.job.units, room=(174.0, 96.0), name=name),
        )
        for n, group in enumerate(goods_groups(plan.design), start=1)
    }


def _runners(plan: Plan, options: BookOptions) -> Titled:
    """Return each runner sheet's drawing, and the drilling templates that fit a page."""
    found: Titled = {}
    templates: list[tuple[str, Scene]] = []
    for number, (opening, names) in enumerate(runner_groups(plan), start=1):
        members = drawn_members(plan.design, opening)
        scene = _runner_sheet(plan, options, members, f"runner-{number}")
        found[f"runner-{number}"] = (f"Runners of {', '.join(names)}", scene)
        templates += _templates(plan, options, members, ", ".join(names))
    for number, pair in enumerate(templates, start=1):
        found[f"template-{number}"] = pair
    return found


def _runner_sheet(
    plan: Plan, options: BookOptions, members: Sequence[MemberPlaces], name: str
) -> Scene:
    """Return a runner's drawing for what its words leave of their page, or a page of its own."""
    draw = partial(
        runner_figure,
        members,
        units=plan.job.units,
        name=name,
        paper=PAPERS["A4" if options.paper == "a4" else "ANSI A"],
    )
    page = PAGE_HEIGHTS[options.paper]
    try:
        scene = draw(room=(174.0, page - _SHORT_WORDS))
        if scene.scale >= _READABLE:
            return scene
    except OutOfRangeError:
        pass
    return draw(room=(174.0, page - 40.0))


def _templates(
    plan: Plan, options: BookOptions, members: Sequence[MemberPlaces], names: str
) -> Iterator[tuple[str, Scene]]:
    """Yield the templates of one page; longer ones are printed with the rods."""
    paper = PAPERS["A4" if options.paper == "a4" else "ANSI A"]
    for member in members:
        if template_fits(member, paper):
            for scene in runner_templates(member, units=plan.job.units, paper=paper, title=names):
                yield scene.title, scene


def _steps(plan: Plan) -> Titled:
    scenes = step_scenes(plan.design, plan.making.steps)
    return {scene.name: (scene.title, scene) for scene in scenes}


def _parts(plan: Plan, options: BookOptions) -> Titled:
    """Return the part drawings, so sized that they share pages."""
    names = part_titles(plan.design.parts)
    pages = part_pages(plan.design, height_mm=PAGE_HEIGHTS[options.paper])
    return {f"part-{mark}": (names[mark], scene) for page in pages for mark, scene in page.drawings}


def _placing(plan: Plan) -> Titled:
    scenes = placing_figures(plan.design, units=plan.job.units, room=(174.0, 215.0))
    return {scene.name: (scene.title, scene) for scene in scenes}
