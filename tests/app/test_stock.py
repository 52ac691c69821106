"""From a design and a job to parts, sheets and a saw."""

from dataclasses import replace

import pytest

from stowright import load_catalogue, load_job
from stowright.app.stock import saw_settings, stock_for

JOB = """
[job]
title = "Stock"
[bay]
length = 900
width = 700
clear_height = 900
[[sheet]]
id = "S1"
material = "ply-15"
size = [2440, 1220]
count = 2
[[sheet]]
id = "R7"
material = "ply-12"
size = [800, 600]
offcut = true
only_in_hand = true
"""


@pytest.fixture
def job():
    return load_job(JOB)


@pytest.fixture
def shelf():
    return load_catalogue()


def test_sheets_in_hand_come_first_and_count_for_nothing(job, shelf):
    stock = stock_for(job, shelf, ("ply-15",))
    assert (stock[0].id, stock[0].copies, stock[0].cost, stock[0].in_hand) == ("S1", 2, 0.0, True)
    assert all(not sheet.in_hand and sheet.copies is None for sheet in stock[1:])
    assert len(stock) > 1


def test_nothing_is_bought_of_a_material_that_is_only_in_hand(job, shelf):
    assert [sheet.id for sheet in stock_for(job, shelf, ("ply-12",))] == ["R7"]


def test_a_bought_sheet_never_takes_the_name_of_one_in_hand(job, shelf):
    named = replace(job.sheets[0], id="ply-15 2440 × 1220")
    stock = stock_for(replace(job, sheets=(named,)), shelf, ("ply-15",))
    assert len({sheet.id for sheet in stock}) == len(stock)


def test_the_mass_of_a_sheet_is_its_volume_times_the_density(job, shelf):
    birch = shelf.material("birch-15")
    sheet = next(s for s in stock_for(job, shelf, ("birch-15",)) if s.length == 2440.0)
    metres = sheet.length / 1e3 * sheet.width / 1e3 * birch.thickness / 1e3
    assert sheet.mass == pytest.approx(metres * birch.density)


def test_the_saws_kerf_and_trim_are_the_catalogues(job, shelf):
    saw = shelf.saw(job.build.saw)
    settings = saw_settings(job, shelf)
    assert (settings.kerf, settings.trim) == (saw.kerf, saw.trim)


def test_a_method_without_a_saw_gets_the_first_saw_of_that_method(shelf):
    job = load_job(JOB.replace("[[sheet]]", '[build]\nmethod = "cnc"\n[[sheet]]', 1))
    first = next(saw for saw in shelf.saws if saw.method == "cnc")
    assert saw_settings(job, shelf).kerf == first.kerf
