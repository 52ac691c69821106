"""What a bay of one length and one width leaves open: assumed, not warned of."""

from job_texts import PLAIN, TUB, made

SHORT = "\n".join(line for line in TUB.splitlines() if not line.startswith("widths"))


def higher_up(unit):
    return [line for line in unit.warnings if "was read above" in line]


def assumed(unit):
    return {row.field for row in unit.assumed} & {"bay.widths", "bay.lengths"}


def test_one_length_and_one_width_are_assumed_to_hold_at_every_height():
    unit = made(SHORT, PLAIN)
    assert higher_up(unit) == []
    assert assumed(unit) == {"bay.widths", "bay.lengths"}


def test_a_width_read_higher_up_leaves_the_length_to_be_warned_of():
    unit = made(TUB, PLAIN)
    (line,) = higher_up(unit)
    assert line.startswith("no length was read above bay.length")
    assert assumed(unit) == set()


def test_stations_that_end_below_the_unit_are_warned_of():
    unit = made(TUB.replace("height = 450", "height = 200"), PLAIN)
    assert any(line.startswith("no width was read above bay.widths[2]") for line in higher_up(unit))
