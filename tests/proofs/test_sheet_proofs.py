"""Bottoms, shelves, decks: the right edges, the grain as cut, sags and gaps, tried advice."""

import pytest
from structure_jobs import findings, found_in, indexed, job_text

from stowright.design.deck_spans import spans_under
from stowright.formulas import plates_navier
from stowright.proofs.edges import joined_edges

DRAWER = 'drawer_bottom = "{}"'


def test_a_grooved_bottom_is_held_on_four_edges():
    index = indexed(job_text())
    (piece,) = index.in_drawer(index.design.opening("one"), "drawer-bottom")
    edges = joined_edges(index, piece, depth_axis=(1.0, 0.0, 0.0))
    assert len(edges) == 4


def test_a_bottom_under_spread_contents_by_the_series():
    # contents that cover the bottom: the plate of the handbook's section 2.2, all edges held
    index = indexed(job_text(mass=20, footprint=(1300, 440)))
    (piece,) = index.in_drawer(index.design.opening("one"), "drawer-bottom")
    row = index.material(piece)
    it = plates_navier.plate(
        side_x_mm=piece.length,
        side_y_mm=piece.width,
        thickness_mm=piece.thickness,
        modulus_x_n_mm2=row.e_along,
        modulus_y_n_mm2=row.e_across,
        shear_modulus_n_mm2=row.g_panel,
    )
    own = piece.thickness * row.density * 1e-9 * 9.81
    case = plates_navier.patch_response(it, load_n=20 * 9.81, patch_x_mm=1300.0, patch_y_mm=440.0)
    weight = plates_navier.uniform_response(it, pressure_n_mm2=own)
    stress = 6.0 / piece.thickness**2
    found = found_in(job_text(mass=20, footprint=(1300, 440)))["BOTTOM-STRESS:one"]
    by_hand = stress * 2.0 * (1.5 * case.moment_y_n + 1.35 * weight.moment_y_n)
    assert found.demand == pytest.approx(by_hand, rel=1e-4)


@pytest.mark.parametrize(("thin", "thick"), [("birch-9", "birch-12"), ("ply-9", "ply-15")])
def test_a_thicker_bottom_is_never_weaker_nor_sags_more(thin, thick):
    one, two = findings(build=DRAWER.format(thin)), findings(build=DRAWER.format(thick))
    for code in ("BOTTOM-STRESS:one", "BOTTOM-SHEAR:one", "BOTTOM-SAG:one"):
        assert two[code].utilisation < one[code].utilisation, code


@pytest.mark.parametrize("code", ["BOTTOM-STRESS:one", "BOTTOM-SHEAR:one", "BOTTOM-SAG:one"])
def test_more_mass_never_leaves_more_margin(code):
    rows = [findings(mass=mass)[code].utilisation for mass in (5, 20, 45)]
    assert rows == sorted(rows)


def test_one_heavy_thing_on_a_small_foot_asks_more_than_the_same_mass_spread():
    small = findings(mass=30, footprint=(200, 150))["BOTTOM-STRESS:one"]
    wide = findings(mass=30, footprint=(1200, 420))["BOTTOM-STRESS:one"]
    assert small.demand > wide.demand


def test_a_rough_road_shakes_half_as_hard_again():
    sealed, rough = (findings(road=road)["BOTTOM-STRESS:one"] for road in ("sealed", "rough"))
    assert rough.demand == pytest.approx(1.5 * sealed.demand, rel=1e-3)


def test_advice_about_a_weak_bottom_was_tried():
    found = findings(mass=60, build=DRAWER.format("ply-9"))["BOTTOM-STRESS:one"]
    assert found.status == "fail"
    line = found.advice[0]
    assert line.startswith("ply-9 → ")
    name, figure = line.split("→ ")[1].split()[0], float(line.split()[-1])
    again = findings(mass=60, build=DRAWER.format(name))["BOTTOM-STRESS:one"]
    assert again.utilisation == pytest.approx(figure, abs=0.02)


def test_grain_across_a_narrow_drawer_makes_its_bottom_stiffer():
    long = findings(build='drawer_bottom = "ply-12"\ngrain = "long"')["BOTTOM-SAG:one"]
    across = findings(build='drawer_bottom = "ply-12"\ngrain = "across"')["BOTTOM-SAG:one"]
    assert across.demand < long.demand


def test_the_gap_under_a_bottom_is_measured_where_it_lies():
    # grooved: 8 under the box, 10 up to the groove, 2 of it stay free
    assert findings()["BOTTOM-SAG:one"].capacity == pytest.approx(16.0, abs=0.6)


def test_measured_thickness_is_what_counts():
    thin = findings(build='drawer_bottom = "ply-12"\nmeasured_thickness = {ply-12 = [11.0, 11.0]}')
    thick = findings(build='drawer_bottom = "ply-12"\nmeasured_thickness = {ply-12 = [12.4, 12.4]}')
    ratio = thin["BOTTOM-SAG:one"].demand / thick["BOTTOM-SAG:one"].demand
    assert ratio == pytest.approx((12.4 / 11.0) ** 3, rel=0.03)  # own mass grows with t


def test_a_deck_over_two_modules_has_two_spans_and_a_middle_support():
    index = indexed(job_text())
    (deck,) = index.of_role("deck")
    spans = spans_under(index, deck)
    assert len(spans) == 2
    for span in spans:
        assert {"low y", "high y", "high x"} <= span.held
        assert "low x" not in span.held  # the face: an edge that somebody kneels on
        assert span.held & span.goes_on


def test_a_deck_is_looked_at_amid_at_its_edge_and_over_its_drawers():
    found = findings(build='deck_sheet = "birch-18"\ncarcass = "birch-15"')
    for code in ("DECK-STRESS:deck/1", "DECK-EDGE:deck/1", "DECK-SAG:deck/1", "DECK-GAP:deck/1"):
        assert found[code].family == 5
        assert found[code].status == "pass", code


def test_a_foot_at_the_free_edge_asks_more_than_amid():
    found = findings(build='deck_sheet = "birch-18"')
    assert found["DECK-EDGE:deck/1"].utilisation > found["DECK-STRESS:deck/1"].utilisation
    assert "free edge" in found["DECK-EDGE:deck/1"].load_case


def test_a_panel_under_the_deck_shares_the_load():
    rails = findings(build='deck_sheet = "birch-15"\ncarcass = "birch-15"')
    panel = findings(build='deck_sheet = "birch-15"\ncarcass = "birch-15"\ntop = "panel"')
    half = panel["DECK-STRESS:deck/1"].demand / rails["DECK-STRESS:deck/1"].demand
    assert half == pytest.approx(0.5, abs=0.05)


def test_a_shelf_carries_what_stands_on_it():
    column = (
        'columns = [ {stack = [ {fill = "drawer", name = "two"}, {fill = "open", name = "one"} ]} ]'
    )
    text = job_text(mass=20, deck=False)
    start = text.index("columns = [")
    end = text.index("[build]")
    found = found_in(text[:start] + column + "\n" + text[end:])
    (stress,) = (each for code, each in found.items() if code.startswith("SHELF-STRESS"))
    (sag,) = (each for code, each in found.items() if code.startswith("SHELF-SAG"))
    (joint,) = (each for code, each in found.items() if code.startswith("SHELF-JOINT"))
    assert stress.demand > 0.0
    assert sag.capacity <= 8.0
    assert joint.family == 7


def test_a_floor_that_things_stand_on_spans_its_packers():
    found = findings(fill="open", mass=40)
    (floor,) = (each for code, each in found.items() if code.startswith("FLOOR-STRESS"))
    assert any("between packers" in line for line in floor.working)
    assert floor.status == "pass"


def test_wings_are_never_claimed_to_be_a_place_to_kneel():
    wings = [each for code, each in findings().items() if code.startswith("WING-EDGE")]
    for wing in wings:
        assert wing.status in {"pass", "not proved"}


def test_the_service_class_follows_the_bay_or_what_the_job_says():
    roofed = found_in(job_text())["BOTTOM-STRESS:one"]
    open_above = found_in(job_text().replace("clear_height = 900\n", ""))["BOTTOM-STRESS:one"]
    said = findings(job="service_class = 3")["BOTTOM-STRESS:one"]
    assert "service class 2" in " ".join(roofed.working)
    assert open_above.capacity == pytest.approx(roofed.capacity * 0.9 / 1.1, rel=1e-3)
    assert said.capacity == open_above.capacity
    assert any("service class 2" in each for each in roofed.assumed)
    assert not any("service class" in each for each in said.assumed)


def test_a_damp_place_creeps_more():
    dry, wet = (findings(job=f"service_class = {n}")["BOTTOM-SAG:one"].demand for n in (1, 3))
    # (1 + 2.5) over (1 + 0.8): k_def of plywood, EN 1995-1-1 Table 3.2
    assert wet == pytest.approx(dry * 3.5 / 1.8, rel=1e-3)
