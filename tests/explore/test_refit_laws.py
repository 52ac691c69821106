"""Refit laws over random records of a build: whatever is read, what is cut stays as cut."""

from hypothesis import given, settings
from hypothesis import strategies as st
from refit_jobs import BASE, CATALOGUE, SIZES, done, job, reading

from stowright.design.build import design
from stowright.drawings.clashes import interpenetrations
from stowright.explore.refit import Asked, find_refit
from stowright.model.given import Given

SHAPES = {part.mark: (part.features, part.outline) for part in BASE.parts}
LEFT = BASE.opening("left")
#: What is read, what it is by the plan, and how far a careful builder finds it off at most. [mm]
READ = {
    "width": (LEFT.width, 3.0),
    "height": (LEFT.height, 3.0),
    "depth": (LEFT.depth, 60.0),
    "runner-thickness": (LEFT.runner.runner.thickness, 0.6),
    "box-width": (LEFT.box.width, 2.0),
}
#: No run depends on how busy the machine is.
QUICK = settings(max_examples=25, deadline=None, derandomize=True)


@st.composite
def readings(draw):
    texts = []
    for opening in ("left", "right"):
        for what in draw(st.sets(st.sampled_from(sorted(READ)), max_size=3)):
            planned, off = READ[what]
            size = st.integers(-20, 20).map(lambda n, p=planned, o=off: round(p + o * n / 20, 2))
            texts.append(reading(what, *draw(st.lists(size, min_size=1, max_size=3)),
                                 opening=opening))  # fmt: skip
    return "".join(texts)


@QUICK
@given(
    cut=st.sets(st.sampled_from(sorted(SIZES)), min_size=1),
    longer=st.sampled_from([0.0, 0.0, -0.5, 1.0]),
    read=readings(),
)
def test_what_is_cut_stays_as_cut_whatever_is_read(cut, longer, read):
    """Its size, its holes and its contour; but for what is told to serve no longer."""
    sizes = {mark: (SIZES[mark][0] + longer, *SIZES[mark][1:]) for mark in sorted(cut)}
    asked = job(done(*sizes.items()), read)
    found = find_refit(BASE, asked, CATALOGUE, Asked(sizes=SIZES, marks={}, shapes=SHAPES))
    unit = design(asked, CATALOGUE, Given(refit=found))
    told = {row.mark for row in found.no_longer}
    kept = {name: row for row in unit.refit.frozen for name in row.pieces}
    assert {row.mark for row in unit.refit.frozen} == cut - told
    for piece in unit.placed:
        if piece.id not in kept:
            continue
        part, mark = unit.part(piece.mark), kept[piece.id].mark
        assert (part.length, part.width, part.thickness) == sizes[mark]
        if not longer:
            assert part.outline == BASE.part(mark).outline
            assert bare(part) == bare(BASE.part(mark))


def bare(part):
    return sorted((f.kind, f.face, f.at, f.size, f.depth) for f in part.features)


@QUICK
@given(read=readings())
def test_whatever_is_read_the_design_is_sound_and_read_again_the_same(read):
    """No solid runs into another, and going on from the plan that came out changes nothing."""
    asked = job(read)
    found = find_refit(BASE, asked, CATALOGUE, Asked(sizes=SIZES, marks={}))
    unit = BASE if found is None else design(asked, CATALOGUE, Given(refit=found))
    assert interpenetrations(unit) == []
    later = Asked(
        sizes={part.mark: (part.length, part.width, part.thickness) for part in unit.parts},
        marks={piece.id: piece.mark for piece in unit.placed},
    )
    again = find_refit(BASE, asked, CATALOGUE, later)
    twice = BASE if again is None else design(asked, CATALOGUE, Given(refit=again))
    assert twice.parts == unit.parts
    assert twice.placed == unit.placed
