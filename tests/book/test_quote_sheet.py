"""The page that a customer signs: what is on it adds up, and it is the same page every time."""

import io
import re

import pypdf
import pytest

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import plan
from stowright.app.quoting import quote_of
from stowright.book.quote_sheet import make_quote_sheet, make_variation_sheet, money
from stowright.shop.figures import read_figures
from stowright.shop.pricing import variation

JOB = """format = 1
[job]
title = "An invented job"
[bay]
kind = "van"
length = 1400
width = 700
clear_height = 900
[[block]]
name = "unit"
z = [0, 400]
columns = [ {stack = [ {fill = "drawer", name = "kit"} ]} ]
"""
FIGURES = read_figures(
    'name = "An invented shop"\ncurrency = "C"\nhour_rate = 1000\nmarkup = 0.1\ntax = 0.2\n'
    'tax_name = "duty"\nexcludes = ["wiring"]\nwarranty = "One year on joints."\n'
)


@pytest.fixture(scope="module")
def made():
    return plan(load_job(JOB), catalogue=load_catalogue())


@pytest.fixture(scope="module")
def offer(made):
    return quote_of(made, FIGURES, prices={}, customer="A customer", vehicle="a van")


def text_of(pdf):
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


def amounts(text):
    return [
        float(found.replace(" ", "").replace("\N{MINUS SIGN}", "-"))
        for found in re.findall(r"C ([\d ]+\.\d\d)", text)
    ]


def test_the_lines_that_the_customer_sees_add_up(made, offer):
    page = make_quote_sheet(offer, made.design, number=3, date="2026-03-01")
    text = text_of(page)
    price = text[text.index("Price") : text.index("Payments")]
    *lines, total = amounts(price)
    assert total == offer.price
    assert sum(lines) == pytest.approx(total, abs=0.006)  # cents, each rounded once
    assert "1000" not in price.replace(" ", "")  # the rate is the shop's own business
    for words in ("Quote 3", "A customer", "a van", "wiring", "One year on joints", "2026-03-01"):
        assert words in text
    assert "no price for" in text
    assert "no approval" in text


def test_the_same_quote_is_the_same_page(made, offer):
    assert make_quote_sheet(offer, made.design) == make_quote_sheet(offer, made.design)


def test_a_change_shows_both_sizes(offer):
    other = plan(load_job(JOB.replace("400]", "380]")), catalogue=load_catalogue())
    now = quote_of(other, FIGURES, prices={})
    change = variation(FIGURES, offer, now, since="quote 1")
    text = text_of(make_variation_sheet(change, now, units="mm", ink="black", paper="letter"))
    old, new = next(row for row in change.parts if row[0] and row[1])
    assert f"{old.quantity} of {old.length:g} × {old.width:g}" in text
    assert f"{new.quantity} of {new.length:g} × {new.width:g}" in text
    assert "since quote 1" in text


def test_amounts_are_set_apart_by_thousands():
    figures = read_figures('hour_rate = 1\ncurrency = "C"\n')
    assert money(1234567.5, figures).replace("\N{NO-BREAK SPACE}", " ") == "C 1 234 567.50"
    assert money(-3.0, figures).startswith("\N{MINUS SIGN}C")
