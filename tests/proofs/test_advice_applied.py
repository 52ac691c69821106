"""Advice is followed to the letter in the job file: the finding that gave it passes afterwards."""

import re
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

sys.path.insert(0, str(Path(__file__).parents[1] / "jobfile"))
from strategies import jobs
from structure_jobs import CATALOGUE, job_text

from stowright.design.build import design
from stowright.errors import DesignError, UnknownNameError
from stowright.jobfile import read_job
from stowright.proofs import prove
from stowright.proofs.changes import WAYS
from stowright.proofs.untried import BY_ITSELF, FAMILIES, UNTRIED

MISTAKES = Path(__file__).parent / "mistakes"
SOURCES = Path(__file__).parents[2] / "src" / "stowright" / "proofs"
#: A van and a job in inches, for advice that moves or rebuilds a block.
VAN = """
format = 1
[job]
title = "Bakery round, van"
units = "{units}"
[bay]
kind = "van"
length = "2400 mm"
width = "1600 mm"
clear_height = "1300 mm"
{bay}
[[bay.opening]]
face = "tail"
width = "1500 mm"
height = "1250 mm"
above_ground = "600 mm"
[[carry]]
what = "crate"
size = ["400 mm", "300 mm", "120 mm"]
mass = "12 kg"
used = "daily"
goes_in = "low"
[[block]]
name = "rack"
{block}
columns = [ {{stack = [ {{fill = "{fill}", name = "low", height = "200 mm"}} ]}},
            {{stack = [ {{fill = "drawer", name = "side", height = "200 mm"}} ]}} ]
[build]
{build}
"""


def van(*, units="mm", bay="", block="", build="", fill="drawer"):
    return VAN.format(units=units, bay=bay, block=block, build=build, fill=fill)


def proved(text, *, advise=True):
    unit = design(read_job(text), CATALOGUE)
    return {found.id: found for found in prove(unit, CATALOGUE, builds=0, advise=advise)}


def in_build(text, line):
    return text.replace("[build]\n", f"[build]\n{line}\n", 1)


def in_block(text, line):
    return re.sub(r'(\[\[block\]\]\nname = "[^"]+"\n)', rf"\g<1>{line}\n", text, count=1)


RIBS = (
    'floor = {material = "steel", thickness = "0.8 mm", rib_depth = "9 mm", rib_pitch = "64 mm", '
    'ribs_run = "lengthwise"}'
)
HATCH = 'access = [{what = "hatch", x = ["0 mm", "150 mm"], y = ["-100 mm", "100 mm"]}]'
#: A shelf that a front stands 2 mm under: nothing of that is left for its sag.
SHELVES = van(build="front_gap = 2").replace(
    'name = "low", height = "200 mm"} ]', 'name = "low", height = "200 mm"}, {fill = "open"} ]'
)
#: Job, finding, what its advice has to say, and how that is written into the job.
FOLLOWED = {
    "a back against racking": (
        job_text(mass=60, build='back = "none"\ndeck_sheet = "birch-24"'),
        "RACKING:drawers/1",
        r'(back) = "(panel)"',
        lambda text, _: text.replace('back = "none"', 'back = "panel"'),
    ),
    "a thicker bottom": (
        job_text(mass=80, footprint=(1300, 440), build='drawer_bottom = "ply-6"'),
        "BOTTOM-STRESS:one",
        r"ply-6 → (\S+)() passes at 0\.\d\d",
        lambda text, m: text.replace('"ply-6"', f'"{m[1]}"'),
    ),
    "a thicker deck": (
        job_text(build='deck_sheet = "birch-12"'),
        "DECK-STRESS:deck/1",
        r"birch-12 → (\S+)() passes at 0\.\d\d",
        lambda text, m: text.replace('"birch-12"', f'"{m[1]}"'),
    ),
    "a deck's free edge": (
        job_text(build='deck_sheet = "birch-18"'),
        "DECK-EDGE:deck/1",
        r"birch-18 → (\S+)() passes at 0\.\d\d",
        lambda text, m: text.replace('"birch-18"', f'"{m[1]}"'),
    ),
    "a stronger latch": (
        job_text(mass=60, more='latch = "turn-catch"'),
        "LATCH:one",
        r"^(\S+)() passes at 0\.\d\d",
        lambda text, m: text.replace("turn-catch", m[1]),
    ),
    "less in a drawer that is pushed uphill": (
        job_text(mass=70),
        "PUSH:one",
        r"(\d+)() kg taken out of it passes at 0\.\d\d",
        lambda text, m: text.replace("mass = 70", f"mass = {70 - int(m[1])}"),
    ),
    "a finish": (
        job_text(build='finish = "none"'),
        "SEALED:none",
        r'(finish) = "(clear)"',
        lambda text, _: text.replace('finish = "none"', 'finish = "clear"'),
    ),
    "air behind a block in a van": (
        van(build="end_clear = 0\nside_clear = 0", bay=RIBS),
        "DRAINS:rack",
        r"end_clear = ([\d.]+)() passes|and end_clear = ([\d.]+)",
        lambda text, m: text.replace("end_clear = 0", f"end_clear = {m[1] or m[3]}"),
    ),
    "a block that begins beyond a hatch": (
        van(bay=HATCH),
        "ACCESS:hatch",
        r"x = \[(\d+), (\d+)\] for rack, passes",
        lambda text, m: in_block(text, f'place = {{x = ["{m[1]} mm", "{m[2]} mm"]}}'),
    ),
    "the same, the job in inches": (
        van(bay=HATCH, units="in"),
        "ACCESS:hatch",
        r"(x = \[\"\d+ mm\", \"\d+ mm\"\])() for rack, passes",
        lambda text, m: in_block(text, m[1]),
    ),
    "more room at the face, in inches": (
        van(units="in", block='clear_at_face = "1 mm"', build='handle = {projection = "30 mm"}'),
        "SHUTS:low",
        r"clear_at_face (\d+)() mm more passes",
        lambda text, m: text.replace('"1 mm"', f'"{1 + int(m[1])} mm"'),
    ),
    "a drawer side that takes longer runner screws": (
        job_text(mass=45, build='drawer = "birch-12"'),
        "RUNNER-FIXINGS:one/side",
        r'drawer = "(birch-\d+)"(), which takes \S+, passes',
        lambda text, m: text.replace('drawer = "birch-12"', f'drawer = "{m[1]}"'),
    ),
    "an upright for each column that takes longer runner screws": (
        in_block(job_text(mass=30, build='carcass = "birch-12"'), 'modules = "shared"'),
        "RUNNER-FIXINGS:one/upright",
        r'(modules = "separate") for drawers and carcass = "(\S+)" instead of birch-12 passes',
        lambda text, m: text.replace('modules = "shared"', m[1]).replace(
            'carcass = "birch-12"', f'carcass = "{m[2]}"'
        ),
    ),
    "a runner line clear of a neighbour's on a partition": (
        in_block(job_text(mass=20, build='carcass = "birch-18"'), 'modules = "shared"'),
        "RUNNER-FIXINGS:one/upright",
        r"runner_up = (\d+)() for one, clear of the screws on the other face, passes",
        lambda text, m: text.replace('name = "one"', f'name = "one", runner_up = {m[1]}'),
    ),
    "a lift-out deck, whose pieces another sheet divides anew": (
        job_text(build='deck_sheet = "birch-12"').replace(
            "[[deck]]\n", '[[deck]]\nname = "top"\nkind = "lift-out"\n'
        ),
        "DECK-STRESS:top/1",
        r'deck_sheet = "(\S+)"() passes at 0\.\d\d',
        lambda text, m: text.replace('"birch-12"', f'"{m[1]}"'),
    ),
    "a lift-out deck that the next sheet saves, not the thickest alone": (
        job_text(build='deck_sheet = "birch-12"').replace(
            "[[deck]]\n", '[[deck]]\nname = "top"\nkind = "lift-out"\n'
        ),
        "DECK-SAG:top/1",
        r'deck_sheet = "(birch-15)"() passes at 0\.\d\d(?!; but)',
        lambda text, m: text.replace('"birch-12"', f'"{m[1]}"'),
    ),
    "room under a shelf for its sag": (
        SHELVES,
        "SHELF-SAG:rack/1/shelf-1-1",
        r"front_gap = ([\d.]+)() passes",
        lambda text, m: text.replace("front_gap = 2", f"front_gap = {m[1]}"),
    ),
    "packers under an overlay front that droops onto the sill": (
        van(
            build='front = "overlay"\npackers = {how = "none", sheet = "ply-12"}',
            block='place = {z = ["0 mm", "400 mm"]}',
        ),
        "TRAVELS:low",
        r'(packers = \{how = "on-ribs", sheet = "\S+"\})() passes',
        lambda text, m: re.sub(r"packers = \{[^}]*\}", m[1], text),
    ),
    "a drawer where a hand does not reach": (
        van(fill="open"),
        "REACH:low",
        r'fill = "(drawer|tray)"() instead passes',
        lambda text, m: text.replace('fill = "open"', f'fill = "{m[1]}"'),
    ),
}


@pytest.mark.parametrize("name", FOLLOWED)
def test_followed_advice_mends(name):
    text, code, says, follow = FOLLOWED[name]
    before = proved(text)[code]
    assert before.status in {"fail", "warn", "not proved"}, before
    said = re.search(says, "\n".join(before.advice))
    assert said, before.advice
    after = proved(follow(text, said), advise=False).get(code)
    assert after is None or after.status == "pass", (before.advice, after)


def test_where_the_code_goes_with_its_thing_the_finding_is_gone_and_nothing_bare_is_left():
    mended = FOLLOWED["a finish"][3](FOLLOWED["a finish"][0], None)
    assert "SEALED:none" not in proved(mended, advise=False)


def test_a_floor_that_is_not_known_is_tried_as_what_it_may_be():
    text = job_text(mass=40)
    before = proved(text)["RESTRAINT-SHEET:drawers/1"]
    assert before.status == "not proved"
    thick, use = re.search(r"steel of ([\d.]+) mm.*?passes at (0\.\d\d)", before.advice[0]).groups()
    floor = f'floor = {{material = "steel", thickness = {thick}, rib_depth = 0, ribs_run = "none"}}'
    after = proved(text.replace("[bay]\n", f"[bay]\n{floor}\n"), advise=False)
    found = after["RESTRAINT-SHEET:drawers/1"]
    assert found.status == "pass"
    assert found.utilisation == pytest.approx(float(use), abs=0.005)


@settings(max_examples=6, suppress_health_check=list(HealthCheck))
@given(job=jobs())
def test_whatever_fails_says_what_was_tried_or_that_nothing_can_be(job):
    try:
        unit = design(job, CATALOGUE)
    except (DesignError, UnknownNameError):
        return
    for found in prove(unit, CATALOGUE, builds=0):
        if found.status not in {"fail", "warn"}:
            continue
        code = found.id.partition(":")[0]
        told = " ".join(found.advice)
        assert told, found.id
        by_itself = code in BY_ITSELF or code.startswith(FAMILIES)
        assert by_itself or re.search(r"passes|none mends|tried", told), (found.id, told)


def test_a_unit_is_proved_alike_with_and_without_its_advice():
    text = FOLLOWED["a back against racking"][0]
    told, plain = proved(text), proved(text, advise=False)
    assert list(told) == list(plain)
    assert all(told[name].status == plain[name].status for name in told)


def test_nothing_is_designed_again_once_parts_are_cut():
    text = van(fill="open") + '[[done]]\nstage = "cut"\nparts = [{mark = "A1"}]\n'
    found = proved(text)["REACH:low"]
    assert any("parts are cut" in line for line in found.advice)


def test_codes_that_advice_knows_are_those_of_proofs():
    """A code that is known nowhere is told as one for which nothing is tried; none is stale."""
    own = {"changes.py", "untried.py"}
    text = "\n".join(
        path.read_text(encoding="utf-8") for path in SOURCES.glob("*.py") if path.name not in own
    )
    made = set(re.findall(r'\b(?:id|code)=f?"([A-Z][A-Z-]*[A-Z])', text))
    made |= set(re.findall(r'"([A-Z]+(?:-[A-Z]+)+)"', text))
    known = {*WAYS, *BY_ITSELF, *UNTRIED}
    assert len(known) > 50
    parts = {code.partition("-")[0] for code in made}
    assert {code for code in known if code not in made and code.partition("-")[0] not in parts} == (
        set()
    )


def test_what_a_deck_fails_in_already_is_not_told_as_new_of_another_piece():
    """In a thicker sheet a lift-out deck has more pieces; its edge failed before as well."""
    text = job_text(build='deck_sheet = "birch-9"').replace(
        "[[deck]]\n", '[[deck]]\nname = "top"\nkind = "lift-out"\n'
    )
    before = proved(text)
    assert before["DECK-EDGE:top/1"].status == "fail"
    assert "DECK-EDGE:top/2" not in before
    after = proved(text.replace("birch-9", "birch-12"), advise=False)
    assert after["DECK-EDGE:top/2"].status == "fail"
    (told,) = (line for line in before["DECK-GAP:top/1"].advice if '"birch-12" passes' in line)
    assert "but then fails" not in told
