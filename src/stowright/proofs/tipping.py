"""Nothing tips over: a carcass while it is built, the unit in use, the vehicle on its wheels.

Building: the carcass stands free and level with its first drawer pulled out. In use: everything is
loaded and out, parked with the open side downhill on a slope of 20 %. A person on the end of a
drawer is told as information and claims nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from stowright.formulas.actions_en1990 import load_factor
from stowright.formulas.anchorage import elastic_bolt_tensions_n
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.slopes import WORST_PARKED_GRADE_PERCENT, grade_angle_deg
from stowright.formulas.tipping import MassAt, counterweight_kg, moments_n_mm
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.geometry import Point3, Span
from stowright.proofs.anchor_strengths import LINKS, Link
from stowright.proofs.index import NO_CARRY
from stowright.proofs.judge import PASS_UP_TO, About, not_proved, ratio, weakest
from stowright.proofs.restraint_advice import more_holds
from stowright.proofs.restraint_bodies import StandingBody, Survey
from stowright.proofs.restraint_check import Held, Study, held_by, studied
from stowright.proofs.restraint_forces import SHARING
from stowright.proofs.tipping_vehicle import vehicle_tipping

__all__ = ["tipping_findings", "use_when_out"]

_FAMILY = 11
_ANGLE = grade_angle_deg(grade_percent=WORST_PARKED_GRADE_PERCENT)
#: A person who sits down on the end of a drawer (a suggestion; information only). [kg]
PERSON_KG = 100.0
#: A weight laid in a carcass lies this far from its back (common practice). [mm]
_FROM_BACK = 100.0


def tipping_findings(
    design: Design, catalogue: Catalogue, study: Study | None = None
) -> Iterator[Finding]:
    """Yield findings about tipping, carcass by carcass and for the vehicle.

    ``study`` is the design looked through before, to save doing it twice.
    """
    seen = study or studied(design, catalogue)
    for held in seen.held:
        sliding = _sliding(held.body)
        if sliding:
            yield _building(held.body, sliding)
            yield _in_use(seen.survey, held, sliding)
    yield from vehicle_tipping(design)


def use_when_out(held: Held) -> float:
    """Return the worst use of what holds a carcass with everything out on a slope.

    0 where nothing slides out of it, infinite where no bolts hold it.
    """
    sliding = _sliding(held.body)
    if not sliding:
        return 0.0
    if held.group is None:
        return float("inf")
    return _worst(held, _Edge(held.body, packers=True), held.body, sliding)[0]


def _sliding(body: StandingBody) -> tuple[OpeningDesign, ...]:
    return tuple(
        o for o in body.block.openings if o.module == body.module.name and o.runner is not None
    )


class _Edge:
    """The edge on a body's open side: distances from it, positive into the body."""

    def __init__(self, body: StandingBody, *, packers: bool) -> None:
        self.inward: Point3 = body.block.axes[1]
        self.axis = 0 if abs(self.inward[0]) > 0.5 else 1
        self.sign = 1.0 if self.inward[self.axis] > 0.0 else -1.0
        box = body.module.box
        spans: tuple[Span, Span] = (body.x, body.y) if packers else (box.x, box.y)
        span = spans[self.axis]
        self.at = span.low if self.sign > 0.0 else span.high
        self.floor = body.pivot_z if packers else box.z.low

    def mass(self, mass: float, centre: Point3, *, out: float = 0.0) -> MassAt:
        """Return a mass moved out of the open side by a distance."""
        at = self.sign * (centre[self.axis] - self.at) - out
        return MassAt(mass_kg=mass, at_mm=at, up_mm=max(0.0, centre[2] - self.floor))


def _travel(opening: OpeningDesign) -> float:
    return opening.runner.size.travel if opening.runner else 0.0


def _building(body: StandingBody, sliding: tuple[OpeningDesign, ...]) -> Finding:
    """Return whether a free carcass stays on its feet with its first drawer out."""
    edge = _Edge(body, packers=False)
    moving = {o.name: o.gross_kg - o.contents_kg for o in sliding}
    frame = _frame(edge, body, sliding)
    rows = []
    for opening in sliding:
        mass = edge.mass(moving[opening.name], opening.usable.centre, out=_travel(opening))
        rows.append((moments_n_mm([*frame, mass]), opening))
    worst, opening = max(rows, key=lambda row: row[0].over_n_mm - row[0].back_n_mm)
    short = max(0.0, worst.over_n_mm - 0.9 * worst.back_n_mm) / 0.9
    arm = max(body.module.depth - _FROM_BACK, 1.0)
    weight = counterweight_kg(moment_n_mm=short, arm_mm=arm)
    return ratio(
        About(
            id=f"TIP-BUILD:{body.id}",
            title=f"{body.name} stays on its feet while it is built, one drawer out",
            about=body.block.name,
            family=_FAMILY,
            source="moments about the lower edge on the open side (statics)",
            standing="published",
            load_case=f"not anchored, level, empty; only {opening.name} fitted and fully out",
            working=(
                "sum of g m (x cos t - h sin t) about the edge, t = 0",
                *(_line("carcass", row) for row in frame),
                _line(
                    f"{opening.name}, {_travel(opening):.0f} mm out",
                    edge.mass(moving[opening.name], opening.usable.centre, out=_travel(opening)),
                ),
            ),
        ),
        demand=worst.over_n_mm / 1000.0,
        capacity=worst.back_n_mm / 1000.0,
        unit="N m",
        basis="common practice",
        factor=1.0,
        advice=(
            "bolt it down before its first drawer goes in",
            f"or lay {math.ceil(weight)} kg at its back: passes at 0.90",
        ),
    )


def _frame(
    edge: _Edge, body: StandingBody, sliding: tuple[OpeningDesign, ...]
) -> tuple[MassAt, ...]:
    """Return the carcass without its drawers as one mass."""
    gone = [(o.gross_kg - o.contents_kg, o.usable.centre[edge.axis]) for o in sliding]
    mass = body.own.mass - sum(m for m, _ in gone)
    at = body.own.centre[edge.axis] * body.own.mass - sum(m * c for m, c in gone)
    centre = list(body.own.centre)
    centre[edge.axis] = at / mass if mass > 0.0 else centre[edge.axis]
    return (edge.mass(max(mass, 0.0), (centre[0], centre[1], centre[2])),)


def _line(what: str, row: MassAt) -> str:
    return f"{what}: {row.mass_kg:.1f} kg, {row.at_mm:.0f} mm inside, {row.up_mm:.0f} mm up"


def _in_use(survey: Survey, held: Held, sliding: tuple[OpeningDesign, ...]) -> Finding:
    """Return whether the bolts hold a loaded carcass with everything out on a slope."""
    body = held.body
    edge = _Edge(body, packers=True)
    free = moments_n_mm(_masses(edge, body, sliding, factored=False), angle_deg=_ANGLE)
    about = About(
        id=f"TIP-USE:{body.id}",
        title=f"{body.name} stays down with everything out on a slope",
        about=body.block.name,
        family=_FAMILY,
        source="moments about the outer packer edge on an incline, elastic bolts (statics); slope "
        "of 20 %: UN R13-H parking brake, from memory",
        standing="from memory",
        load_case="parked, open side downhill on 20 %, loaded, all out",
    )
    lines = (
        f"slope 20 %: t = {_ANGLE:.2f} degrees; sum of g m (x cos t - h sin t) about the edge",
        (
            f"tips {free.over_n_mm / 1000.0:.0f} N m, kept by its weight "
            f"{free.back_n_mm / 1000.0:.0f} N m, factor 1.0"
        ),
    )
    if not survey.of.job.carry:
        return not_proved(_plain(about, lines), needs=(NO_CARRY,))
    if held.group is None or held.open:
        return _by_weight(about, held, free.over_n_mm, free.back_n_mm, lines)
    use, link, pull, shear = _worst(held, edge, body, sliding)
    person = _pulls(held, edge, _with_person(edge, body, sliding))
    return ratio(
        _told(
            about,
            link,
            (
                *lines,
                (
                    "bolts: T_i = M y_i/sum(y_j^2) of what is left; 1.5 on contents and 1.35 on "
                    "own mass where they tip, 1.0 where they hold"
                ),
                f"{LINKS[link.name]}: V {shear:.0f} N, T {pull:.0f} N",
                *link.lines,
                (
                    f"information only, nothing is claimed: with {PERSON_KG:g} kg sitting on the "
                    f"end of the drawer that reaches furthest a bolt is pulled by "
                    f"{max(person):.0f} N"
                ),
            ),
        ),
        demand=use,
        capacity=1.0,
        unit="of the limit",
        basis=link.basis,
        factor=1.5 if link.basis == "characteristic" else 1.0,
        advice=_more(survey, held, edge, sliding) if use > 0.9 else (),
    )


def _more(
    survey: Survey, held: Held, edge: _Edge, sliding: tuple[OpeningDesign, ...]
) -> tuple[str, ...]:
    """Return how many more bolts would do, tried; or that fewer drawers should be out at once."""
    found = []
    for count in (2, 4):
        other = held_by(held.body, more_holds(held, count), survey.of.job.bay.floor)
        use = _worst(other, edge, held.body, sliding)[0]
        if use <= 0.9:
            found.append(f"{count} more bolts: passes at {use:.2f}")
            break
    one = max(_worst(held, edge, held.body, (opening,))[0] for opening in sliding)
    said = f"passes at {one:.2f}" if one <= PASS_UP_TO else f"still {one:.2f}"
    return (*found, f"or one drawer out at a time on a slope: {said}")


def _told(about: About, link: Link, lines: tuple[str, ...]) -> About:
    return replace(
        about,
        source=f"{about.source}; {link.source}",
        standing=weakest(about.standing, link.standing),
        working=lines,
    )


def _plain(about: About, lines: tuple[str, ...]) -> About:
    return replace(about, working=lines)


def _by_weight(
    about: About, held: Held, over: float, back: float, lines: tuple[str, ...]
) -> Finding:
    """Judge a body whose bolts cannot be reckoned: its own weight has to do, else not proved."""
    told = _plain(about, (*lines, "bolts not counted: they, or what they go into, are not known"))
    if over > 0.9 * back:
        needs = tuple(dict.fromkeys(gap.needs for _, gap in held.open))
        return not_proved(told, needs=needs or ("bolts that hold it down",))
    return ratio(
        told,
        demand=over / 1000.0,
        capacity=back / 1000.0,
        unit="N m",
        basis="common practice",
        factor=1.0,
    )


def _masses(
    edge: _Edge, body: StandingBody, sliding: tuple[OpeningDesign, ...], *, factored: bool
) -> list[MassAt]:
    """Return a loaded body with every drawer out; what tips it is factored where asked."""
    contents = load_factor(load="contents", capacity_basis="characteristic")
    own = load_factor(load="own mass", capacity_basis="characteristic")
    out_mass = sum(o.gross_kg for o in sliding)
    rest = body.loaded.mass - out_mass
    centre = tuple(
        (
            body.loaded.mass * body.loaded.centre[k]
            - sum(o.gross_kg * o.usable.centre[k] for o in sliding)
        )
        / rest
        if rest > 0.0
        else body.loaded.centre[k]
        for k in range(3)
    )
    found = [edge.mass(max(rest, 0.0), (centre[0], centre[1], centre[2]))]
    for opening in sliding:
        for mass, factor in (
            (opening.contents_kg, contents),
            (opening.gross_kg - opening.contents_kg, own),
        ):
            row = edge.mass(mass, opening.usable.centre, out=_travel(opening))
            tips = row.at_mm * math.cos(math.radians(_ANGLE)) < row.up_mm * math.sin(
                math.radians(_ANGLE)
            )
            found.append(row._replace(mass_kg=mass * factor) if factored and tips else row)
    return found


def _with_person(
    edge: _Edge, body: StandingBody, sliding: tuple[OpeningDesign, ...]
) -> list[MassAt]:
    furthest = max(sliding, key=_travel)
    usable = furthest.usable
    span = (usable.x, usable.y)[edge.axis]
    tip = list(usable.centre)
    tip[edge.axis] = span.low if edge.sign > 0.0 else span.high
    seat = edge.mass(PERSON_KG, (tip[0], tip[1], usable.z.high), out=_travel(furthest))
    return [*_masses(edge, body, sliding, factored=False), seat]


def _pulls(held: Held, edge: _Edge, masses: Iterable[MassAt]) -> tuple[float, ...]:
    moments = moments_n_mm(masses, angle_deg=_ANGLE)
    net = max(0.0, moments.over_n_mm - moments.back_n_mm)
    spots = [((hold.x, hold.y)[edge.axis] - edge.at) * edge.sign for hold in held.holds]
    arms = [max(0.0, spot) for spot in spots]
    if not any(arm > 0.0 for arm in arms):
        return tuple(float("inf") if net > 0.0 else 0.0 for _ in arms)
    return elastic_bolt_tensions_n(moment_n_mm=net, distances_mm=arms)


def _worst(
    held: Held, edge: _Edge, body: StandingBody, sliding: tuple[OpeningDesign, ...]
) -> tuple[float, Link, float, float]:
    """Return the worst use of any link, the link, and the pull and push on its bolt."""
    rows = []
    slide = body.loaded.mass * GRAVITY_M_S2 * math.sin(math.radians(_ANGLE)) / SHARING
    for basis, factor in (("characteristic", 1.5), ("allowable", 1.0)):
        pulls = _pulls(held, edge, _masses(edge, body, sliding, factored=factor > 1.0))
        shear = factor * slide / len(held.holds)
        rows += [
            (link.use(shear, pulls[index]), link, pulls[index], shear)
            for index, links in enumerate(held.links)
            for link in links
            if link.basis == basis
        ]
    return max(rows, key=lambda row: row[0])
