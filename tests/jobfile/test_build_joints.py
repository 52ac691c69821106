"""Joints of ``[build]``: what a router can cut and a saw cannot, and keys that do nothing."""

import pytest

from stowright.errors import JobError
from stowright.jobfile import KEPT_MATERIALS, KnownNames, read_job
from stowright.jobfile.dumping import dump_job

JOB = """format = 1
[job]
title = "x"
[bay]
kind = "van"
length = 2000
width = 1500
clear_height = 1200
[[block]]
name = "unit"
"""
TABS = '[build]\nmethod = "cnc"\njoint = "tab-and-slot"\n'


def told(text):
    with pytest.raises(JobError) as caught:
        read_job(text)
    return [str(mistake) for mistake in caught.value.mistakes]


def test_a_saw_is_told_in_one_line_with_its_place():
    (line,) = told(f'{JOB}[build]\njoint = "tab-and-slot"\n')
    assert "line 12" in line
    assert "build.joint" in line
    assert "tab-and-slot with method = hand" in line
    assert 'method = "cnc"' in line


def test_a_block_that_is_sawn_is_told_too():
    (line,) = told(f'{JOB}method = "panel"\njoint = "tab-and-slot"\n[build]\nmethod = "cnc"\n')
    assert "block[1].joint" in line


def test_a_misspelt_joint_names_the_nearest():
    (line,) = told(f'{JOB}[build]\njoint = "tab and slot"\n')
    assert "tab-and-slot" in line


def test_it_is_read_with_its_keys_and_written_again():
    asked = f'{JOB}{TABS}slots = "blind"\nfit_allowance = "0.15 mm"\n'
    job = read_job(asked)
    assert (job.build.joint, job.build.slots, job.build.fit_allowance) == (
        "tab-and-slot",
        "blind",
        0.15,
    )
    again = read_job(dump_job(job))
    assert again.build == job.build
    assert not any("fit_allowance" in row.field for row in read_job(JOB).assumed)


def test_keys_of_slots_do_nothing_beside_another_joint():
    job = read_job(f'{JOB}[build]\njoint = "housing"\nslots = "blind"\nfit_allowance = 0.2\n')
    for key in ("slots", "fit_allowance"):
        assert f"build.{key}: does nothing beside joint = housing" in job.warnings


def test_an_allowance_that_is_no_allowance_is_asked_about():
    job = read_job(f"{JOB}{TABS}fit_allowance = 3\n")
    assert any("build.fit_allowance" in line for line in job.warnings)


SHEETS = KnownNames(
    materials=KEPT_MATERIALS, thicknesses=(("ply-15", 14.7), ("ply-9", 8.7), ("birch-12", 11.8))
)


def too_deep(text):
    with pytest.raises(JobError) as caught:
        read_job(text, catalogue_names=SHEETS)
    return [str(mistake) for mistake in caught.value.mistakes]


def test_a_joint_or_groove_that_comes_through_its_sheet_is_a_mistake_each_with_its_line():
    lines = too_deep(
        f'{JOB}[build]\njoint = "rebate"\njoint_depth = 9\ndrawer = "ply-9"\ngroove_depth = 8.7\n'
    )
    assert [line.split(":")[0] for line in lines] == ["line 13, column 15", "line 15, column 16"]
    assert "9 mm into ply-9, which is 8.7 mm thick" in lines[0]
    assert "build.groove_depth" in lines[1]


def test_what_a_block_writes_is_judged_by_its_own_sheet_and_by_what_was_measured():
    (line,) = too_deep(
        f'{JOB}carcass = "birch-12"\njoint_depth = 11.9\n[build]\njoint = "housing"\n'
    )
    assert "block[1].joint_depth" in line
    (line,) = too_deep(f"{JOB}[build]\ngroove_depth = 14\nmeasured_thickness = {{ply-15 = [14]}}\n")
    assert "14 mm thick" in line


def test_depths_that_nothing_is_cut_with_or_that_leave_wood_pass():
    read_job(f"{JOB}[build]\njoint_depth = 40\n", catalogue_names=SHEETS)
    read_job(f'{JOB}[build]\nbottom_fit = "planted"\ngroove_depth = 20\n', catalogue_names=SHEETS)
    read_job(f'{JOB}[build]\njoint = "rebate"\njoint_depth = 14\n', catalogue_names=SHEETS)
