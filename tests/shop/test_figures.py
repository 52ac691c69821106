"""The shop's own figures: every mistake in one go, with its line, and no money of our own."""

import pytest

from stowright.errors import JobError
from stowright.shop.figures import STARTER, read_figures


def test_what_is_left_out_is_told_with_where_it_comes_from():
    figures = read_figures("hour_rate = 60\n")
    assert figures.variation_rate == 60.0
    told = dict(figures.assumed)
    assert "pricing guide" in told["sundries = 0.15"]
    assert all("hour_rate" not in what for what in told)


def test_every_mistake_has_its_line():
    text = 'hour_rate = -1\nsundres = 0.1\ntax = "a tenth"\nstages = [{ when = "later" }]\n'
    with pytest.raises(JobError) as refused:
        read_figures(text)
    found = {m.field: m for m in refused.value.mistakes}
    assert {k: m.line for k, m in found.items()} == {
        "hour_rate": 1,
        "sundres": 2,
        "tax": 3,
        "stages": 4,
    }
    assert found["sundres"].nearest == "sundries"
    assert found["tax"].found == '"a tenth"'


@pytest.mark.parametrize("value", ["0", "nan", "inf", "-3", "true", '"60"', "1e300"])
def test_an_hour_has_a_price(value):
    with pytest.raises(JobError) as refused:
        read_figures(f"hour_rate = {value}\n")
    assert refused.value.mistakes[0].field == "hour_rate"


def test_no_rate_no_quote():
    with pytest.raises(JobError) as refused:
        read_figures('name = "A shop"\n')
    assert [m.field for m in refused.value.mistakes] == ["hour_rate"]


def test_deposit_and_stages_are_the_whole_price():
    stages = '[{ when = "carcass", share = 0.3 }, { when = "handover", share = 0.3 }]'
    with pytest.raises(JobError) as refused:
        read_figures(f"hour_rate = 60\nstages = {stages}\n")
    assert refused.value.mistakes[0].line == 2
    assert "1.1" in refused.value.mistakes[0].found
    assert read_figures(f"hour_rate = 60\ndeposit = 0.4\nstages = {stages}\n").stages[1] == (
        "handover",
        0.3,
    )


def test_the_starter_asks_for_the_rate_alone():
    with pytest.raises(JobError) as refused:
        read_figures(STARTER)
    assert [m.field for m in refused.value.mistakes] == ["hour_rate"]
    filled = STARTER.replace("hour_rate = 0 ", "hour_rate = 60 ", 1)
    assert read_figures(filled).hour_rate == 60.0
    # every key that is only remarked on is one that is understood
    whole = filled.replace("\n# ", "\n").split("\n", 2)[2]
    whole = whole.replace("variation_rate = 0 ", "variation_rate = 1 ")
    assert read_figures(whole).valid_days == 30
