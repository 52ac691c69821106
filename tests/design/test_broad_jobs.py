"""The laws of every design, on random jobs over every key of the contract's blocks and decks.

300 jobs is the number that the geometry's law asks for. What does not fit is refused in words; no
other error may come out.
"""

from broad_jobs import broad_jobs
from hypothesis import HealthCheck, assume, given, settings
from job_texts import CATALOGUE, check

from stowright.design.build import design
from stowright.errors import StowrightError
from stowright.jobfile import read_job

LAW = settings(
    max_examples=300,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
#: Where a clash begins to count. [mm]
CLASH = 0.01


def inside(box, room):
    return all(
        mine.low >= its.low - CLASH and mine.high <= its.high + CLASH
        for mine, its in ((box.x, room.x), (box.y, room.y), (box.z, room.z))
    )


def designed(text):
    """The design, or None where the job asks for what does not fit."""
    try:
        return design(read_job(text), CATALOGUE)
    except StowrightError:
        return None


@LAW
@given(text=broad_jobs())
def test_every_job_is_designed_by_the_laws_or_refused_in_words(text):
    unit = designed(text)
    assume(unit is not None)
    check(unit)
    for block in unit.blocks:
        assert inside(block.box, block.usable.box)
        for module in block.modules:
            assert inside(module.box, block.box)
    for gap in unit.gaps:
        assert gap.sum >= gap.least - CLASH, gap
    assert all(part.length > 0 and part.width > 0 for part in unit.parts)
    assert len({piece.id for piece in unit.placed}) == len(unit.placed)
