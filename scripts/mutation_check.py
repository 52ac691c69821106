"""Change each number in ``stowright.formulas`` by two per cent and see whether a test goes red.

    python scripts/mutation_check.py                  # every module
    python scripts/mutation_check.py beams tape       # some of them
    python scripts/mutation_check.py --factor 0.98    # smaller instead of larger

A copy of the room and of its tests is made in a temporary folder; one number at a time is changed
there and only the tests of that module run (``TESTS_OF`` below): first those that call the function
it stands in, then, when these are green, all of them. Each run is a forked child of this
process, so that Python, numpy and pytest are loaded once. Numbers that survive are listed; the exit
code is 1 when there are any. Tests that do not come to an end are told apart from red ones. Zero
cannot be changed by two per cent and is left alone. ``EXEMPT`` lists the numbers that set how
finely something is computed, not what: each with its reason.

A slow tool (half a second or more for each of some 1150 numbers); not part of ``make test``.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

import pytest
from hypothesis import Phase, settings

ROOT = Path(__file__).resolve().parent.parent
ROOM = Path("src/stowright/formulas")
LIMIT_S = 600.0

PLATES = ("formulas/test_formulas_plates_navier.py", "validation/test_timoshenko_plates.py")
# Module -> its tests, quickest first: the run stops at the first red one.
TESTS_OF: dict[str, tuple[str, ...]] = {
    "actions_en1990": ("formulas/test_formulas_actions.py",),
    "anchor_path": ("formulas/test_formulas_anchor_path.py",),
    "anchorage": ("formulas/test_formulas_anchorage.py",),
    "axles": ("formulas/test_formulas_axles.py", "validation/test_axle_examples.py"),
    "beams": ("formulas/test_formulas_sections.py", "formulas/test_formulas_beams.py"),
    "buckling": ("formulas/test_formulas_strips.py",),
    "bolts_en1993_1_8": (
        "validation/test_en_1993_1_8.py",
        "formulas/test_formulas_steel.py",
    ),
    "cutting_practice": (
        "validation/test_noise_directive.py",
        "formulas/test_formulas_workshop.py",
    ),
    "fit_window": ("formulas/test_formulas_fit_window.py",),
    "ec5_axial": ("validation/test_eurocode_5.py", "formulas/test_formulas_ec5_axial.py"),
    "ec5_design": (
        "validation/test_porteous_kermani.py",
        "formulas/test_formulas_ec5_design.py",
    ),
    "ec5_lateral": (
        "validation/test_eurocode_5.py",
        "validation/test_porteous_kermani.py",
        "formulas/test_formulas_ec5_lateral.py",
    ),
    "ec5_spacing": ("validation/test_lvl_handbook.py", "formulas/test_formulas_spacing.py"),
    "equipment_anchors_asce7": (
        "validation/test_asce_7.py",
        "formulas/test_formulas_equipment_anchors.py",
    ),
    "friction": ("validation/test_ctu_code_friction.py",),
    "glue": ("formulas/test_formulas_workshop.py",),
    "gravity": ("formulas/test_formulas_restraint.py",),
    "handling": ("validation/test_hse_filters.py", "formulas/test_formulas_slopes.py"),
    "interpolation": ("formulas/test_formulas_spacing.py",),
    "iso_fasteners": (
        "validation/test_iso_273.py",
        "validation/test_iso_898_and_3506.py",
        "validation/test_asme_b18_6_1.py",
        "formulas/test_formulas_iso_fasteners.py",
    ),
    "movement": ("validation/test_plywood_movement.py", "formulas/test_formulas_workshop.py"),
    "panel_tolerances": ("validation/test_en_315.py", "formulas/test_formulas_measuring.py"),
    "plates_levy": ("formulas/test_formulas_plates_levy.py",),
    "plates_navier": (*PLATES, "formulas/test_formulas_plates_levy.py"),
    "plates_quick": ("formulas/test_formulas_strips.py",),
    "plates_roark": ("validation/test_roark_plates.py", "formulas/test_formulas_plate_tables.py"),
    "plates_timoshenko": (
        "validation/test_timoshenko_plates.py",
        "formulas/test_formulas_plate_tables.py",
    ),
    "platform_loads": ("formulas/test_formulas_actions.py",),
    "plywood_classes": ("formulas/test_formulas_plywood_classes.py",),
    "pull_over_aisi": ("validation/test_aisi_s100.py", "formulas/test_formulas_steel.py"),
    "racking": ("formulas/test_formulas_workshop.py",),
    "ranges": ("formulas/test_formulas_sources.py",),
    "restraint": ("validation/test_rule_sets.py", "formulas/test_formulas_restraint.py"),
    "runners": ("validation/test_runner_note.py", "formulas/test_formulas_runners.py"),
    "screw_tests_e830": ("validation/test_e830_screws.py",),
    "sections": ("formulas/test_formulas_sections.py",),
    "short_tabs": ("formulas/test_formulas_short_tabs.py",),
    "slopes": ("formulas/test_formulas_slopes.py",),
    "sources": ("formulas/test_formulas_sources.py",),
    "spreader_plate": (
        "formulas/test_formulas_steel.py",
        "formulas/test_formulas_anchor_path.py",
    ),
    "squareness": ("formulas/test_formulas_measuring.py",),
    "strips": ("formulas/test_formulas_strips.py",),
    "tape": ("validation/test_tape_directive.py", "formulas/test_formulas_measuring.py"),
    "thin_sheet_en1993_1_3": (
        "validation/test_en_1993_1_3.py",
        "formulas/test_formulas_steel.py",
    ),
    "tipping": ("formulas/test_formulas_tipping.py",),
    "tolerance_stack": ("formulas/test_formulas_tolerance_stack.py",),
    "veneer": (
        "validation/test_formwork_sheet.py",
        "validation/test_porteous_kermani.py",
        "formulas/test_formulas_veneer.py",
    ),
    "wood_handbook": (
        "validation/test_wood_handbook.py",
        "formulas/test_formulas_wood_handbook.py",
    ),
}
# (module, text in the line) -> why two per cent there changes no result.
EXEMPT: dict[tuple[str, str], str] = {
    ("plates_navier", "MODES: Final"): "number of waves: past convergence any serves",
    ("plates_navier", "lru_cache(maxsize"): "how many plates are remembered",
    ("plates_navier", "swing[-1] /= 2.0"): "tames the last wave of a converged sum",
    ("plates_quick", "WAVES: Final"): "which waves: whole odd numbers only",
    ("plates_levy", "MODES: Final"): "number of waves: past convergence any serves",
    ("plates_levy", "ROOT_GAP: Final"): "keeps equal roots apart, far below any tolerance",
    ("fit_window", "CELL: Final"): "width of a grid cell: any fine one serves",
    ("fit_window", "NORMAL_REACH: Final"): "where the grid ends beyond a normal term's tails",
    ("fit_window", "lru_cache(maxsize"): "how many stacks are remembered",
    ("fit_window", "min(1.0, max(0.0"): "keeps a sum that is 1e-7 past 1 inside it",
    ("fit_window", "1 << "): "any power of two with room serves",
    ("fit_window", "room_for"): "any power of two with room serves",
    ("tolerance_stack", "WAVES: Final"): "number of waves: past convergence any serves",
    ("tolerance_stack", "TAIL: Final"): "half a period of the sum: any that holds the tails",
    ("tolerance_stack", "min(1.0, max(0.0"): "keeps a sum that is 1e-7 past 1 inside it",
}


@dataclass(frozen=True, slots=True)
class Mutant:
    """One number in one module, and what it is changed to; ``within`` which function it stands."""

    module: str
    within: str
    line: int
    start: int
    end: int
    old: str
    new: str

    def apply(self, text: str) -> str:
        """Return the module's text with the number changed."""
        lines = text.splitlines(keepends=True)
        raw = lines[self.line - 1].encode()
        lines[self.line - 1] = (raw[: self.start] + self.new.encode() + raw[self.end :]).decode()
        return "".join(lines)


def is_exempt(module: str, line: str) -> bool:
    """Say whether a line's numbers only set how finely something is computed."""
    return any(module == where and fragment in line for where, fragment in EXEMPT)


def mutants_of(module: str, text: str, factor: float) -> list[Mutant]:
    """List every number of a module that is not zero and not exempt."""
    lines = text.splitlines()
    found = []
    tree = ast.parse(text)
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or isinstance(node.value, bool | str | None):
            continue
        if not isinstance(node.value, int | float) or node.value == 0:
            continue
        if is_exempt(module, lines[node.lineno - 1]) or node.end_col_offset is None:
            continue
        old = lines[node.lineno - 1].encode()[node.col_offset : node.end_col_offset].decode()
        found.append(
            Mutant(
                module=module,
                within=_function_at(tree, node.lineno),
                line=node.lineno,
                start=node.col_offset,
                end=node.end_col_offset,
                old=old,
                new=repr(node.value * factor),
            )
        )
    return sorted(found, key=lambda mutant: (mutant.line, mutant.start))


def _function_at(tree: ast.Module, line: int) -> str:
    """Return the name of the innermost function round a line; empty outside all of them."""
    found = [
        (node.lineno, node.name)
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef) and node.lineno <= line <= (node.end_lineno or 0)
    ]
    return max(found)[1] if found else ""


class Callers:
    """Notes which tests call which functions of a module, so that those are run first."""

    def __init__(self, module: Path, out: Path) -> None:
        """Look for calls into ``module``; what was seen goes to ``out`` when all has run."""
        self.module, self.out = str(module), out
        self.tests: dict[str, list[str]] = {}

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self, item: pytest.Item) -> Iterator[None]:
        """Watch one test."""
        called: set[str] = set()

        def look(frame: FrameType, event: str, _: object) -> None:
            if event == "call" and frame.f_code.co_filename == self.module:
                called.add(frame.f_code.co_name)

        sys.setprofile(look)
        try:
            return (yield)
        finally:
            sys.setprofile(None)
            for name in called:
                self.tests.setdefault(name, []).append(item.nodeid)

    def pytest_sessionfinish(self) -> None:
        """Write what was seen."""
        self.out.write_text(json.dumps(self.tests), encoding="utf-8")


def make_copy(folder: Path) -> None:
    """Copy the room, what it stands on, and its tests; nothing else of the package is needed."""
    package = folder / "src" / "stowright"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text('"""A copy to be broken."""\n')
    shutil.copy(ROOT / "src/stowright/errors.py", package)
    shutil.copytree(
        ROOT / ROOM, folder / ROOM, ignore=shutil.ignore_patterns("__pycache__", "*.pyc")
    )
    for name in ("formulas", "validation"):
        shutil.copytree(
            ROOT / "tests" / name,
            folder / "tests" / name,
            ignore=shutil.ignore_patterns("__pycache__", "*.pyc"),
        )
    (folder / "pytest.ini").write_text("[pytest]\n")


def run_tests(folder: Path, tests: Sequence[str], watch: Callers | None = None) -> bool | None:
    """Run some tests on the copy in a forked child: all green, or None when they hang."""
    child = os.fork()
    if child == 0:
        os._exit(_in_child(folder, tests, watch))
    deadline = time.monotonic() + LIMIT_S
    while time.monotonic() < deadline:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status) == 0
        time.sleep(0.01)
    os.kill(child, 9)
    os.waitpid(child, 0)
    return None


def _in_child(folder: Path, tests: Sequence[str], watch: Callers | None) -> int:
    """Point Python at the copy, silence it, and run pytest."""
    sys.dont_write_bytecode = True
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"  # none is needed, and they take time
    sys.path.insert(0, str(folder / "src"))
    os.chdir(folder)
    silent = os.open(os.devnull, os.O_WRONLY)
    os.dup2(silent, 1)
    os.dup2(silent, 2)
    # No deadline: on a busy machine a slow example would count as a number noticed. A failing
    # example need not be made small.
    settings.register_profile(
        "mutation",
        derandomize=True,
        database=None,
        deadline=None,
        phases=(Phase.explicit, Phase.generate),
    )
    settings.load_profile("mutation")
    options = [
        "-x",
        "-q",
        "--assert=plain",
        "-p",
        "no:cacheprovider",
        "-c",
        str(folder / "pytest.ini"),
    ]
    return int(pytest.main([*options, *tests], plugins=[watch] if watch else []))


def check(module: str, folder: Path, factor: float) -> list[Mutant]:
    """Break each number of a module in turn and return those that no test noticed."""
    path = folder / ROOM / f"{module}.py"
    text = path.read_text()
    tests = [f"tests/{name}" for name in TESTS_OF[module]]
    seen = folder / f"{module}.json"
    if not run_tests(folder, tests, Callers(path, seen)):
        sys.exit(f"{module}: its tests are red before anything is changed")
    callers = json.loads(seen.read_text(encoding="utf-8"))
    survivors: list[Mutant] = []
    hung = 0
    mutants = mutants_of(module, text, factor)
    for mutant in mutants:
        path.write_text(mutant.apply(text))
        first = callers.get(mutant.within, [])
        green = run_tests(folder, first) if first else True
        if green:
            green = run_tests(folder, tests)
        hung += green is None
        if green:
            survivors.append(mutant)
    path.write_text(text)
    ended = f", {hung} never ended" if hung else ""
    print(f"{module}: {len(mutants)} numbers, {len(survivors)} survived{ended}", flush=True)
    for mutant in survivors:
        line = text.splitlines()[mutant.line - 1].strip()
        print(f"    line {mutant.line}: {mutant.old} -> {mutant.new}   {line}", flush=True)
    return survivors


def main() -> int:
    """Run the check for the modules asked for."""
    modules = sorted(path.stem for path in (ROOT / ROOM).glob("*.py") if path.stem != "__init__")
    parser = argparse.ArgumentParser(description="Change each number of a formula by two per cent.")
    parser.add_argument("modules", nargs="*", default=modules, help="modules; all by default")
    parser.add_argument(
        "--factor", type=float, default=1.02, help="what each number is multiplied by"
    )
    asked = parser.parse_args()
    unknown = sorted(set(asked.modules) - (set(modules) & set(TESTS_OF)))
    if unknown:
        sys.exit(f"no such module, or no tests named for it in TESTS_OF: {', '.join(unknown)}")
    for heavy in ("numpy", "scipy.integrate", "scipy.stats"):
        __import__(heavy)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make_copy(folder)
        survivors = [
            mutant for module in asked.modules for mutant in check(module, folder, asked.factor)
        ]
    print(f"{len(survivors) or 'no'} survivors")
    return 1 if survivors else 0


if __name__ == "__main__":
    sys.exit(main())
