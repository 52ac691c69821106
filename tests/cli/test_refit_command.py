"""The command ``refit``: old and new side by side, refusals with their line, copies of a job."""

import json

TEXT = """format = 1
[job]
title = "An invented job"
[bay]
kind = "van"
length = 1400
width = 700
clear_height = 900
[build.measured_thickness]
ply-15 = [14.6]
ply-12 = [11.8]
[[block]]
name = "unit"
z = [0, 400]
columns = [ {stack = [ {fill = "drawer", name = "kit"} ]} ]
"""
READ = """
[[reading]]
of = {opening = "kit", what = "width"}
values = [655.0, 655.0, 653.0]
"""


def test_what_changed_is_shown_and_written(stowright, tmp_path):
    job, out = tmp_path / "job.toml", tmp_path / "work"
    job.write_text(TEXT + READ)
    done = stowright("refit", job, "--out", out, "--json")
    assert done.returncode == 0, done.stderr
    data = json.loads(done.stdout)
    assert any("opening reads 653 at the back" in line for line in data["reasons"])
    row = next(row for row in data["changes"] if row["name"] == "drawer inner front")
    assert row["old"][0] > row["new"][0]
    assert json.loads((out / "changes.json").read_text()) == data
    assert (out / "changes.pdf").read_bytes().startswith(b"%PDF")
    listed = stowright("refit", job, "--out", out, "--states")
    assert "drawer inner front" in listed.stdout


def test_an_unknown_mark_is_refused_with_its_line(stowright, tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(TEXT + '\n[[spoiled]]\nmark = "A99"\n')
    done = stowright("refit", job)
    assert done.returncode == 2
    line = (TEXT + '\n[[spoiled]]\nmark = "A99"\n').splitlines().index('mark = "A99"') + 1
    assert done.stderr.startswith(f"line {line},")
    assert "A9" in done.stderr


def test_a_copy_never_overwrites_unasked(stowright, tmp_path):
    job, other = tmp_path / "job.toml", tmp_path / "other.toml"
    job.write_text(TEXT)
    other.write_text(TEXT.replace("width = 700", "width = 720"))
    new = tmp_path / "new.toml"
    done = stowright("refit", job, "--for", other, "--to", new)
    assert done.returncode == 0, done.stderr
    assert "width = 720" in new.read_text()
    assert "parts differ" in done.stdout
    assert stowright("refit", job, "--mirror", "--to", new).returncode == 2
    assert "width = 720" in new.read_text()
