"""Where a refusal's block, opening, deck or field stands in the file."""

from stowright.jobfile.places import line_of

JOB = """[job]
title = "x"
[bay]
length = 1500
width = 1400
rail = 500
[[block]]
name = "low"
columns = [
  {stack = [{fill = "drawer", name = "left"}]},
  {stack = [{fill = "drawer"}, {fill = "open"}]},
]
[[block]]
[[block.columns]]
[[block.columns.stack]]
fill = "tray"
[[deck]]
over = ["low"]
"""


def test_a_name_is_found_where_it_is_given_and_a_made_up_one_where_its_table_stands():
    assert line_of("low", JOB) == 7
    assert line_of("low: column 2", JOB) == 7
    assert line_of("left", JOB) == 10
    assert line_of("drawer 1", JOB) == 11
    assert line_of("open 1", JOB.encode()) == 11
    assert line_of("block 1", JOB) == 13
    assert line_of("tray 1", JOB) == 15
    assert line_of("deck", JOB) == 17


def test_a_field_is_found_and_what_the_file_does_not_say_has_no_line():
    assert line_of("bay.rail", JOB) == 6
    assert line_of("nobody", JOB) == 0
    assert line_of("low", "not = [toml") == 0


def test_a_colon_in_a_name_is_part_of_the_name():
    text = JOB.replace('name = "low"', 'name = "low: tail"').replace('["low"]', '["low: tail"]')
    assert line_of("low: tail", text) == 7
