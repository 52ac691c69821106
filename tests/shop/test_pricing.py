"""The price line by line, payments that make the price, hours of one's own, and changes."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from quotes import FIGURES, GOODS, HOURS, part, quote

from stowright.model.quote import Good, HoursRow
from stowright.shop.pricing import own_hours, payments, price_up, variation


def test_a_price_worked_by_hand():
    # goods 200, sundries 20, work 200: 420; markup 84: 504; tax 50.40: 554.40; up to 5: 555
    sums, price = price_up(FIGURES, GOODS, HOURS)
    assert [row.amount for row in sums] == [200.0, 20.0, 200.0, 84.0, 50.4, 0.6]
    assert price == 555.0


def test_goods_without_a_price_count_nothing():
    bare = (*GOODS, replace(GOODS[0], name="runner", price=None, total=None))
    assert price_up(FIGURES, bare, HOURS) == price_up(FIGURES, GOODS, HOURS)


def test_a_price_that_leaves_goods_out_is_not_called_fixed():
    assert quote().price_word == "fixed price"
    assert "not fixed" in replace(quote(), without_price=("hinge",)).price_word


money = st.floats(0.0, 1.0e6)


@given(total=money, hours=st.floats(0.0, 500.0), step=st.sampled_from([0.01, 0.05, 1.0, 5.0, 10.0]))
def test_the_lines_make_the_price_and_the_payments_too(total, hours, step):
    figures = replace(FIGURES, round_to=step)
    goods = (Good(name="g", group="x", get="1", amount=1, price=total, total=total),)
    sums, price = price_up(figures, goods, (HoursRow(what="w", hours=hours, basis="b"),))
    # every amount is a whole number of cents; half a cent bounds the noise of adding them
    assert sum(row.amount for row in sums) == pytest.approx(price, abs=0.005)
    assert sum(amount for _, amount in payments(figures, price)) == pytest.approx(price, abs=0.005)
    before = sum(row.amount for row in sums if row.what != "rounding")
    assert -0.005 <= price - before < step + 0.005


@given(amount=st.floats(0.0, 1.0e4), more=st.floats(0.0, 1.0e4))
def test_dearer_goods_never_make_a_cheaper_job(amount, more):
    one, two = (
        price_up(FIGURES, (replace(GOODS[0], total=total),), HOURS)[1]
        for total in (amount, amount + more)
    )
    assert two >= one


def test_payments_follow_the_stages():
    staged = replace(FIGURES, deposit=0.5, stages=(("carcass", 0.3), ("handover", 0.2)))
    assert payments(staged, 999.99) == (
        ("before the work begins", 500.0),
        ("carcass", 300.0),
        ("handover", 199.99),
    )
    assert payments(replace(FIGURES, deposit=0.0), 10.0) == (("at handover", 10.0),)
    assert payments(replace(FIGURES, deposit=1.0), 10.0) == (("before the work begins", 10.0),)


def test_own_hours_scale_what_is_expected():
    past = (("carcasses", 2.5, 3.5), ("carcasses", 5.0, 5.5), ("finish", 0.0, 9.0))
    found = own_hours({"carcasses": 5.0, "finish": 2.5, "install": 2.5}, past)
    assert found == {"carcasses": (6.0, 2)}  # 9 h for what was expected to take 7.5


def test_no_change_costs_nothing():
    change = variation(FIGURES, quote(), quote(), since="quote 1")
    assert (change.price, change.parts, change.goods, change.hours) == (0.0, (), (), ())


def test_a_change_worked_by_hand():
    more = (replace(GOODS[0], amount=4, total=240.0), GOODS[1])
    longer = (replace(HOURS[0], hours=6.0), HoursRow(what="drawers", hours=1.0, basis="b"))
    now = quote(more, longer, (part(quantity=1), part(length=650.0), part("shelf")), 45.0)
    change = variation(FIGURES, quote(), now, since="quote 1")
    # a sheet 60, sundries 6, 3 h at 65: 195; 261; markup 52.20; tax 31.32
    assert change.price == pytest.approx(344.52)
    assert change.goods == (("sheet", 1),)
    assert change.hours == (("carcasses", 2.0), ("drawers", 1.0))
    assert change.mass_kg == 5.0
    assert change.parts == (
        (part(), part(quantity=1)),
        (None, part(length=650.0)),
        (None, part("shelf")),
    )


def test_hours_saved_are_given_back_at_the_hours_rate():
    less = quote(hours=(replace(HOURS[0], hours=3.0),))
    change = variation(FIGURES, quote(), less, since="quote 1")
    assert change.price == pytest.approx(-50.0 * 1.2 * 1.1)


def test_a_sheet_from_the_rack_in_place_of_a_bought_one_is_no_change():
    held = (replace(GOODS[0], origin="in hand"), GOODS[1])
    change = variation(FIGURES, quote(), quote(goods=held), since="quote 1")
    assert change.price == 0.0


def test_a_change_with_unpriced_goods_says_so():
    bare = (*GOODS, Good(name="hinge", group="h", get="1", amount=1, price=None, total=None))
    change = variation(FIGURES, quote(), quote(goods=bare), since="quote 1")
    assert change.without_price == ("hinge",)
