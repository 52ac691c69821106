"""No name leads out of the jobs folder."""

import os

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.app.jobs_folder import JobsFolder, name_from
from stowright.errors import UnknownNameError


@pytest.fixture
def folder(tmp_path):
    root = tmp_path / "jobs"
    root.mkdir()
    return JobsFolder(root)


@pytest.mark.parametrize(
    "name",
    [
        "../outside",
        "..",
        ".",
        "",
        "a/b",
        "a\\b",
        "/etc/passwd",
        "a\0b",
        ".hidden",
        "catalogue",
        " a",
    ],
)
def test_names_that_are_no_job_are_refused(folder, name):
    with pytest.raises(UnknownNameError):
        folder.path(name)


def test_a_link_that_leads_out_is_no_job(folder, tmp_path):
    (tmp_path / "secret.toml").write_text('title = "secret"')
    (folder.root / "link.toml").symlink_to(tmp_path / "secret.toml")
    assert folder.entries() == ()
    assert not folder.has("link")


@settings(max_examples=80)
@given(st.text(max_size=120))
def test_any_title_makes_a_name_that_stays_inside(title):
    name = name_from(title)
    assert name == name_from(name)
    assert not set(name) & set('/\\:*?"<>|\0')
    assert name not in {"", ".", ".."}


def test_jobs_are_listed_with_their_titles_last_changed_first(folder):
    for place, name in enumerate(("old", "new")):
        path = folder.root / f"{name}.toml"
        path.write_text(f'[job]\ntitle = "The {name} one"\n')
        os.utime(path, (1000 + place, 1000 + place))
    (folder.root / "catalogue.toml").write_text("")
    assert [(e.name, e.title) for e in folder.entries()] == [
        ("new", "The new one"),
        ("old", "The old one"),
    ]


def test_a_free_name_is_numbered(folder):
    (folder.root / "crew.toml").write_text("")
    assert folder.free_name("crew") == "crew 2"
    assert folder.free_name("catalogue") == "catalogue job"


def test_what_is_put_aside_stays(folder):
    for _ in range(2):
        (folder.root / "crew.toml").write_text("x")
        kept = folder.remove("crew")
        assert kept.read_text() == "x"
    assert len(list(kept.parent.iterdir())) == 2
    with pytest.raises(UnknownNameError):
        folder.remove("crew")


@pytest.mark.parametrize("title", ["\U0001d54f" * 100, "ö" * 100, "\udcff name", "a" * 300])
def test_a_name_is_never_too_long_for_a_file(folder, title):
    first = folder.free_name(title)
    for _ in range(3):
        name = folder.free_name(title)
        folder.path(name).write_text("format = 1\n")
        assert folder.has(name)
    assert folder.has(first)


@pytest.mark.parametrize("name", ["\U0001d54f" * 80, "a" * 5000, "\udcff", "a\x00b", "..", ""])
def test_no_name_makes_looking_for_it_fail(folder, name):
    assert not folder.has(name)
