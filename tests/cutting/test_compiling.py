"""What is compiled is kept under a name that changes with every file it is made from."""

from importlib import import_module
from pathlib import Path

import stowright
from stowright.cutting import compiling, planning
from stowright.explore import packing_search

SOURCES = Path(stowright.__file__).parent


def test_every_file_with_compiled_functions_is_among_those_that_name_the_folder():
    listed = {(SOURCES / "cutting" / name).resolve() for name in compiling._FILES}
    found = {
        path.resolve()
        for path in SOURCES.rglob("*.py")
        if any(line.startswith("@compiled") for line in path.read_text("utf-8").splitlines())
    }
    assert len(found) > 5
    assert found == listed


def test_nothing_that_is_compiled_is_left_for_the_first_who_needs_it():
    planning.compile_ahead()
    packing_search.compile_ahead()
    folder = compiling._FOLDER
    kept = {path.name.partition(".")[0] for path in folder.rglob("*.nbi")} if folder else set()
    for name in compiling._FILES:
        room = "explore" if name.startswith("../explore/") else "cutting"
        module = import_module(f"stowright.{room}.{Path(name).stem}")
        own = [each for each in vars(module).values() if hasattr(each, "py_func")]
        made = any(each.signatures for each in own if each.__module__ == module.__name__)
        # what only other loops call is not made again where these were kept by an earlier run
        assert made or module.__name__.rpartition(".")[2] in kept, name
