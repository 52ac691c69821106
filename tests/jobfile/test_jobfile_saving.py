"""Saving: comments and layout stay, writing is all or nothing, old versions are kept."""

import stat
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import job_texts

from stowright.errors import JobError, UnknownNameError
from stowright.jobfile import read_job, save_edits, starter, write_job_file
from stowright.jobfile.saving import HISTORY, KEPT_VERSIONS

JOB = """\
# the pickup
[job]
title = "x"   # as on the order

[bay]         # measured twice
length = 1494   # tape
width = 1392
rail = 486
arches = [ {side = "left", start = 402, end = 1105, height = 228, reach = 141},  # by hand
           {side = "right", start = 404, end = 1105, height = 229, reach = 139} ]

[bay.tailgate]
hinge = "down"

[[block]]
name = "drawers"
columns = [ {stack = [ {fill = "drawer", name = "a"} ]}, {stack = [ {name = "b"} ]} ]
"""


def test_one_changed_value_changes_one_place_and_nothing_else():
    saved = save_edits(JOB, {"bay.length": 1490})
    assert saved == JOB.replace("1494   # tape", "1490   # tape")
    saved = save_edits(JOB, {"bay.arches[2].start": 410})
    assert saved == JOB.replace("start = 404", "start = 410")
    saved = save_edits(JOB, {"block[1].columns[2].stack[1].name": "c"})
    assert saved == JOB.replace('{name = "b"}', '{name = "c"}')


def test_new_keys_tables_and_entries_find_their_place():
    saved = save_edits(
        JOB,
        {
            "bay.cove": 20,
            "bay.people_space.barrier": "none",
            "build.front_gap": "1/8 in",
            "build.measured_thickness.ply-15": (14.6, 14.7),
            "block[2]": {"name": "side", "face": "left"},
            "block[2].columns[1].stack[1].fill": "tray",
            "deck": [{"over": ["drawers"], "top": 430}],
            "done[1]": {"stage": "cut", "parts": [{"mark": "A1", "size": [1430.0, 409.0, 14.6]}]},
        },
    )
    job = read_job(saved)
    assert job.bay.cove == 20.0
    assert job.bay.people_space.barrier == "none"
    assert job.build.front_gap == 3.175
    assert job.measured_thickness == (("ply-15", (14.6, 14.7)),)
    assert [block.name for block in job.blocks] == ["drawers", "side"]
    assert job.blocks[1].columns[0].stack[0].fill == "tray"
    assert job.decks[0].top == 430.0
    assert job.done[0].parts[0].size == (1430.0, 409.0, 14.6)
    for comment in ("# the pickup", "# as on the order", "# measured twice", "# tape", "# by hand"):
        assert comment in saved


def test_none_takes_a_key_or_an_entry_out():
    saved = save_edits(JOB, {"bay.arches[1]": None, "bay.tailgate": None, "bay.cove": None})
    tables = tomllib.loads(saved)
    assert [arch["side"] for arch in tables["bay"]["arches"]] == ["right"]
    assert "tailgate" not in tables["bay"]


def test_line_ends_and_byte_order_mark_stay():
    windows = "\ufeff" + JOB.replace("\n", "\r\n")
    saved = save_edits(windows, {"bay.length": 1490})
    assert saved == windows.replace("1494", "1490")


@pytest.mark.parametrize("path", ["", "bay.", "bay..length", "bay[0]", "[1]", "bay length", 'a."b'])
def test_a_path_that_is_none_is_refused(path):
    with pytest.raises(UnknownNameError):
        save_edits(JOB, {path: 1})


@pytest.mark.parametrize("path", ["bay.length.x", "bay.arches[4]", "bay.arches.start", "job[2].a"])
def test_a_path_through_something_that_cannot_hold_it_is_refused(path):
    with pytest.raises(UnknownNameError):
        save_edits(JOB, {path: 1})


def test_a_value_that_a_file_cannot_hold_is_refused():
    with pytest.raises(JobError):
        save_edits(JOB, {"bay.length": object()})
    with pytest.raises(JobError):
        save_edits("no job [", {"bay.length": 1})


EDITS = st.dictionaries(
    st.sampled_from(
        [
            "bay.length", "bay.cove", "build.front_gap", "build.lining.drawer", "job.client",
            "block[1].name", "block[1].columns[1].stack[1].fill", "block[1].wings.left",
            "vehicle.limits.total", "bay.opening[1].width", "build.measured_thickness.ply-15",
            "deck[1].top", "carry[1].what",
        ]
    ),
    st.sampled_from([1, 2.5, "text", True, [1, 2], {"a": 1}, [{"a": [1]}, {"b": {}}]]),
    max_size=4,
)  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(text=job_texts(), edits=EDITS)
def test_an_edit_says_what_was_asked_and_leaves_the_rest(text, edits):
    before = tomllib.loads(text)
    after = tomllib.loads(save_edits(text, edits))
    for path, value in edits.items():
        here = after
        for part in path.replace("]", "").replace("[", ".").split("."):
            here = here[int(part) - 1] if part.isdecimal() else here[part]
        assert here == value
    for table in before.keys() - {path.split(".")[0].split("[")[0] for path in edits}:
        assert after[table] == before[table]


@pytest.mark.parametrize("kind", ["tub", "van", "wagon", "tray"])
def test_a_starter_keeps_every_comment_when_its_bay_is_changed(kind):
    text = starter(kind)
    saved = save_edits(text, {"bay.reading_error": 3, "job.client": "someone"})
    assert [line for line in saved.split("\n") if "#" in line and "reading_error" not in line] == [
        line for line in text.split("\n") if "#" in line and "reading_error" not in line
    ]
    assert read_job(saved).bay.reading_error == 3.0


def test_a_file_is_written_whole_and_its_last_versions_are_kept(tmp_path):
    file = tmp_path / "job.toml"
    for number in range(KEPT_VERSIONS + 4):
        write_job_file(file, f"# {number}\n")
    assert file.read_text() == f"# {KEPT_VERSIONS + 3}\n"
    kept = sorted((tmp_path / HISTORY).iterdir())
    assert [each.read_text() for each in kept] == [
        f"# {number}\n" for number in range(3, KEPT_VERSIONS + 3)
    ]
    assert {each.name for each in tmp_path.iterdir()} == {"job.toml", HISTORY}


def test_writing_the_same_again_keeps_no_version(tmp_path):
    file = tmp_path / "job.toml"
    write_job_file(file, JOB)
    write_job_file(str(file), JOB)
    assert not (tmp_path / HISTORY).exists()


def test_two_jobs_in_one_folder_keep_their_versions_apart(tmp_path):
    for name in ("a.toml", "b.toml", "a.toml.toml"):
        write_job_file(tmp_path / name, "1")
        write_job_file(tmp_path / name, "2")
    assert sorted(each.name for each in (tmp_path / HISTORY).iterdir()) == [
        "a.toml.000001",
        "a.toml.toml.000001",
        "b.toml.000001",
    ]


def test_mode_and_link_of_a_file_stay(tmp_path):
    file, link = tmp_path / "job.toml", tmp_path / "link.toml"
    write_job_file(file, "1")
    file.chmod(0o640)
    link.symlink_to(file)
    write_job_file(link, "2")
    assert link.is_symlink()
    assert file.read_text() == "2"
    assert stat.S_IMODE(file.stat().st_mode) == 0o640


def test_a_write_that_fails_leaves_the_old_file_and_no_rest(tmp_path, monkeypatch):
    file = tmp_path / "job.toml"
    write_job_file(file, "old")

    def fail(*_args):
        message = "no space left"
        raise OSError(message)

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(OSError, match="no space left"):
        write_job_file(file, "new")
    assert file.read_text() == "old"
    assert {each.name for each in tmp_path.iterdir()} == {"job.toml", HISTORY}
