"""The locked requirements name no host and hold everything that the package asks for."""

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("name", ["run", "test"])
def test_a_lock_names_no_host_and_every_line_has_a_hash(name):
    text = (ROOT / "requirements" / f"{name}.txt").read_text(encoding="utf-8")
    assert "://" not in text
    pins = re.findall(r"^[A-Za-z0-9._-]+==\S+.*$", text, re.MULTILINE)
    assert pins
    assert all(pin.endswith("\\") for pin in pins)  # a hash follows on the next line


def test_what_the_package_asks_for_is_locked():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    locked = (ROOT / "requirements" / "run.txt").read_text(encoding="utf-8")
    names = [re.split(r"[<>=!~]", wish)[0] for wish in project["dependencies"]]
    assert [n for n in names if not re.search(rf"^{n}==", locked, re.MULTILINE)] == []
