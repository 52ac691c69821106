"""Joints of drawers and carcass, uprights and racking."""

import pytest
from structure_jobs import findings, found_in, job_text


@pytest.mark.parametrize(
    ("fit", "word"),
    [("grooved", "lip"), ("planted", "planted"), ("between", "(8.6)")],
)
def test_the_bottom_is_held_by_the_way_it_is_fitted(fit, word):
    found = findings(build=f'bottom_fit = "{fit}"')["BOTTOM-JOINT:one"]
    assert found.family == 7
    assert found.status in {"pass", "not proved"}
    said = " ".join(found.working)
    assert word in said or "glue" in said


def test_a_higher_groove_has_a_stronger_lip():
    low = findings(build="groove_up = 8")["BOTTOM-JOINT:one"]
    high = findings(build="groove_up = 16")["BOTTOM-JOINT:one"]
    assert high.capacity == pytest.approx(2.0 * low.capacity, rel=1e-4)  # both rounded


def test_a_tray_base_bears_on_its_cheeks():
    found = findings(fill="tray")["BOTTOM-JOINT:one"]
    assert found.status == "pass"
    assert "bears" in " ".join(found.working)


def test_the_front_is_pulled_off_by_thread_or_head():
    found = findings()["FRONT-PULL:one"]
    assert found.status == "pass"
    assert any("head pulled through" in line or "thread" in line for line in found.working) or (
        "pulled" in found.load_case
    )


def test_screws_stand_far_enough_apart():
    rows = [each for code, each in findings().items() if code.startswith("SCREW-SPACING")]
    assert rows
    assert all(each.status == "pass" for each in rows)


def test_a_carcass_with_a_back_does_not_rack_and_one_without_does():
    assert findings(mass=40)["RACKING:drawers/1"].status == "pass"
    open_back = findings(mass=40, build='back = "none"')["RACKING:drawers/1"]
    assert open_back.status == "fail"
    assert 'back = "panel"' in open_back.advice[0]
    assert "passes at" in open_back.advice[0]


def test_back_rails_brace_more_than_bare_corners_of_thin_sheet():
    rails = findings(build='back = "frame"')["RACKING:drawers/1"]
    assert "couples" in " ".join(rails.working)


def test_an_upright_is_pushed_by_its_runner_and_tied_by_rails():
    found = findings(mass=30)
    pushed = found["UPRIGHT-PUSHED:drawers/1/side-left"]
    tied = found["RAIL-TIES:drawers/1/side-left"]
    assert (pushed.family, tied.family) == (6, 6)
    assert pushed.utilisation > findings(mass=5)[pushed.id].utilisation


def test_without_a_deck_the_top_edge_spans_from_rail_to_rail():
    open_top = findings(deck=False, mass=30)["UPRIGHT-PUSHED:drawers/1/side-left"]
    assert "rails" in " ".join((open_top.load_case, *open_top.working))


def test_a_tall_thin_upright_buckles_before_it_crushes():
    found = findings()
    (pressed,) = (each for code, each in found.items() if code.startswith("UPRIGHT-PRESSED"))
    assert "buckling" in pressed.load_case
    stiff = findings(build='carcass = "birch-18"')
    (strong,) = (each for code, each in stiff.items() if code.startswith("UPRIGHT-PRESSED"))
    assert strong.utilisation < pressed.utilisation


def test_codes_are_unique_and_each_finding_can_be_followed():
    for text in (job_text(), job_text(fill="open"), job_text(fill="tray")):
        for code, found in found_in(text).items():
            assert found.source, code
            assert found.load_case or found.status == "not proved", code
            if found.status in {"pass", "warn", "fail"} and found.kind == "ratio":
                assert any(sign in found.working[0] for sign in ("=", "<=")), code
                assert any(line.startswith("E = ") for line in found.working), code
            if found.status == "not proved":
                assert found.needs, code


def test_screws_near_an_edge_that_carry_alone_are_not_proved_and_glued_ones_are_left_out():
    found = findings()
    edges = {code: each for code, each in found.items() if code.startswith("SCREW-EDGE")}
    assert edges
    for each in edges.values():
        short = each.capacity < each.demand
        assert each.status == ("not proved" if short else "pass")
    # the drawer's screws stand 6 mm from the edges of its sides, and are glued: they only clamp
    assert not any("inner-front – " in each.load_case for each in edges.values())


def test_a_latch_on_the_front_is_held_by_what_joins_the_front():
    found = findings(build='runner = "heavy-76"', more='latch = "slam-latch"')["FRONT-PULL:one"]
    said = " ".join((found.load_case, *found.working))
    assert "held by its latch" in said
