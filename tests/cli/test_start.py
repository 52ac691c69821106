"""The command answers at once: what is heavy loads only where it is used."""

import subprocess
import sys
from importlib.metadata import version

HEAVY = {
    "ezdxf",
    "highspy",
    "manifold3d",
    "numpy",
    "ortools",
    "packingsolver",
    "pydantic",
    "rich",
    "shapely",
    "tomlkit",
    "trimesh",
    "typst",
}


def modules_after(code):
    line = f"import sys; {code}; print(' '.join(sys.modules))"
    run = subprocess.run([sys.executable, "-c", line], capture_output=True, text=True, check=True)
    return {name.partition(".")[0] for name in run.stdout.split()}


def test_help_loads_no_heavy_library():
    assert HEAVY & modules_after("import stowright.cli.main") == set()


def test_importing_the_package_loads_no_library_at_all():
    assert (HEAVY | {"click"}) & modules_after("import stowright") == set()


def test_help_lists_the_commands(stowright):
    run = stowright("--help")
    assert run.returncode == 0
    for command in ("new", "plan", "prove", "cut", "book", "schema", "catalogue"):
        assert f"\n  {command}" in run.stdout


def test_the_version_is_the_packages(stowright):
    assert stowright("--version").stdout == f"stowright {version('stowright')}\n"
