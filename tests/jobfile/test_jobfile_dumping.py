"""A job written out in full reads back to the same job."""

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import job_texts

from stowright.jobfile import dump_job, read_job
from stowright.jobfile.dump_text import length_text, value_text
from stowright.units import parse_length

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/job.toml"))


def plain(job):
    return replace(job, assumed=(), warnings=())


@settings(max_examples=80, deadline=None)
@given(text=job_texts())
def test_a_full_file_reads_back_to_an_equal_job_with_nothing_assumed(text):
    job = read_job(text)
    full = dump_job(job)
    again = read_job(full)
    assert plain(again) == plain(job)
    assert [row.field for row in again.assumed if row.field != "bay.height_from"] == []
    assert dump_job(again) == full


@pytest.mark.parametrize("file", EXAMPLES, ids=[file.parent.name for file in EXAMPLES])
def test_the_examples_read_back(file):
    job = read_job(file.read_bytes())
    assert plain(read_job(dump_job(job))) == plain(job)


def test_everything_that_a_job_can_hold_is_written_out():
    text = """
[job]
title = "tab\\t \\"quoted\\" back\\\\slash"
client = "ñ \\u0007"
[bay]
kind = "wagon"
length = 1200
width = 1100
clear_height = 900
height_from = "valley"
floor = {rib_depth = 9}
diagonals = [1628, 1627]
widths = [{at = 0, left = 550, right = 549}]
keep_out = [{what = "a", x = [0, 9], y = [0, 9], z = [10, 20]}]
no_drill = [{surface = "cab", y = [0, 9], z = [10, 20]}, {surface = "left", x = [0, 9]}]
anchors = [{surface = "left", x = 9, tension = "unknown", shear = 5}, {x = 9, y = 9, z = 9}]
belts = [{surface = "roof", x = 9, y = 9}]
access = [{x = [0, 9], y = [0, 9]}]
[[bay.opening]]
width = 1000
height = 800
[[bay.opening]]
face = "left"
x = [100, 900]
[bay.tailgate]
open_top = -9
[bay.people_space]
[vehicle]
weighed_after = {front_axle = 1, rear_axle = 2, includes = "driver", note = "n"}
also = [{what = "a", mass = -3, x = 1}]
tow_ball = {mass = 1, x = -900}
[[carry]]
what = "a"
size = [1, 2, 3]
mass = "21 lb"
hazard = "gas"
goes_with = ["b"]
never_with = ["c", "d"]
[[block]]
name = "one"
z = [0, 300]
lining = {bay = 2}
[[block.columns]]
width = 300
weight = 2
[[block.columns.stack]]
fill = "locker"
door = "lift"
height = 200
weight = 3
vent = 60
cable_way = 30
lock = "in"
latch = "slam"
net = true
lap = 4
[[block]]
name = "two"
place = "cab"
beside = "one"
[[deck]]
top = 320
deck_sheet = "birch-18"
[build]
joint = "rebate"
joint_depth = 5.5
[[sheet]]
material = "ply-15"
size = [2440, 1220]
price = 80
offcut = true
only_in_hand = true
[[done]]
stage = "fitted"
parts = ["A1", {mark = "A2", size = [1, 2, 3]}]
[[spoiled]]
mark = "A2"
[[reading]]
of = {block = "one", what = "diagonals"}
values = [400, 401.25]
"""
    job = read_job(text)
    assert plain(read_job(dump_job(job))) == plain(job)


@given(
    mm=st.floats(-20_000, 20_000).map(lambda mm: round(mm, 9)), units=st.sampled_from(["mm", "in"])
)
def test_every_length_is_written_so_that_it_reads_back(mm, units):
    written = length_text(mm, units)
    value = written.strip('"') if written.startswith('"') else float(written)
    assert parse_length(value, units=units) == mm


@given(text=st.text(max_size=30))
def test_every_text_is_written_so_that_it_reads_back(text):
    assert tomllib.loads(f"a = {value_text(text, 'mm')}\n")["a"] == text
