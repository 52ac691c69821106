"""A plan looks longer where things are left out that would go in by themselves."""

from dataclasses import replace

from stowright.app.loading import load_catalogue, load_job
from stowright.explore import settle as room
from stowright.explore.packing import QUICK, pack_carry
from stowright.explore.settle import settled
from stowright.model.job import RunnerFactors
from stowright.proofs.prove import prove

SHELF = load_catalogue()
JOB = """
[job]
title = "Field school, one drawer"
[bay]
kind = "tub"
length = 1500
width = 1400
rail = 480
[[carry]]
what = "box"
size = [200, 150, 100]
mass = 1
quantity = 6
"""


def job_with(*carry, fills=("left", "right"), width=1400):
    """A tub with two drawers and things to carry, each a line of keys."""
    things = "".join(f"[[carry]]\n{lines}\n" for lines in carry)
    columns = ", ".join(f'{{stack = [{{fill = "drawer", name = "{n}"}}]}}' for n in fills)
    return load_job(
        f"""[job]
title = "Bridge inspectors"
[bay]
kind = "tub"
length = 1500
width = {width}
rail = 500
{things}[[block]]
name = "drawers"
face = "tail"
columns = [{columns}]
"""
    )


def why(job):
    return {left.what: left.why for left in settled(job, SHELF).packed.left_out}


def test_what_is_too_large_says_by_how_much_in_the_drawer_that_is_built():
    job = job_with('what = "ladder"\nsize = [1900, 400, 100]\nmass = 12')
    found = settled(job, SHELF)
    usable = max((o.usable for b in found.blocks for o in b.openings), key=lambda u: u.size[0])
    over = 1900.0 - usable.size[0]
    assert why(job)["ladder"].startswith(f"{over:g} mm too long for ")


def test_what_is_too_heavy_for_what_lies_there_says_by_how_much():
    job = job_with('what = "wheel weights"\nsize = [200, 100, 100]\nmass = 20\nquantity = 12')
    found = settled(job, SHELF)
    (left,) = found.packed.left_out
    assert len(found.packed.things) + left.copies == 12
    assert "more than the runners there still carry" in left.why


def test_what_may_not_stand_with_others_says_with_which():
    job = job_with(
        'what = "petrol can"\nsize = [240, 150, 330]\nmass = 5\nnever_with = ["bread"]',
        'what = "bread"\nsize = [400, 300, 200]\nmass = 3',
        fills=("only",),
    )
    (left,) = settled(job, SHELF).packed.left_out
    assert "which it may not stand with" in left.why


def test_all_that_is_packed_lies_in_the_drawers_that_are_built():
    """Masses choose runners and runners depths: a packing may change the design it was made for."""
    job = job_with(
        'what = "fitting tray"\nsize = [400, 300, 90]\nmass = 9\nquantity = 8',
        'what = "pipe"\nsize = [1219, 76, 76]\nmass = 6\nquantity = 4',
        'what = "wrenches"\nsize = [600, 200, 100]\nmass = 22',
    )
    found = settled(job, SHELF)
    usable = {o.name: o.usable for b in found.blocks for o in b.openings}
    assert found.packed.things
    for thing in found.packed.things:
        room = usable[thing.opening]
        for inner, outer in zip(
            (thing.box.x, thing.box.y, thing.box.z), (room.x, room.y, room.z), strict=True
        ):
            assert inner.low >= outer.low - 0.05
            assert inner.high <= outer.high + 0.05


def test_flat_things_lie_flat_and_friends_share_a_drawer():
    job = job_with(
        'what = "stove"\nsize = [400, 300, 110]\nmass = 4\ngoes_with = ["pot set"]',
        'what = "pot set"\nsize = [300, 300, 160]\nmass = 3',
        'what = "towels"\nsize = [400, 300, 100]\nmass = 2\nquantity = 2',
    )
    things = settled(job, SHELF).packed.things
    heights = {"stove": 110.0, "pot set": 160.0, "towels": 100.0}
    assert [t.size[2] for t in things] == [heights[t.what] for t in things]
    where = {t.what: t.opening for t in things}
    assert where["stove"] == where["pot set"]


def asked_for(monkeypatch, **options):
    """The settled design of the job, and how long each packing was asked to look."""
    calls = []

    def counted(design, **asked):
        calls.append((asked["budget"], asked.get("longer")))
        return pack_carry(design, **asked)

    monkeypatch.setattr(room, "pack_carry", counted)
    return settled(load_job(JOB), SHELF, **options), calls


def test_no_runners_are_loaded_beyond_what_the_jobs_own_factors_leave():
    """With half the vehicle factor the list is too heavy: it is moved or left out, never loaded."""
    job = job_with('what = "anvil"\nsize = [300, 150, 150]\nmass = 11\nquantity = 12')
    build = replace(job.blocks[0].build, runner_factors=RunnerFactors(vehicle=0.35))
    job = replace(job, blocks=tuple(replace(b, build=build) for b in job.blocks))
    found = settled(job, SHELF)
    proofs = {f.id: f for f in prove(found, SHELF, builds=0, advise=False)}
    runners = [f for name, f in proofs.items() if name.startswith("RUNNER:")]
    assert len(runners) == 2
    assert all(f.demand <= f.capacity for f in runners)
    assert found.packed.left_out
    assert "more than the runners there still carry" in found.packed.left_out[0].why


def test_packing_is_told_by_stages_and_tenths():
    told = []
    settled(load_job(JOB), SHELF, progress=told.append)
    packing = [words for words in told if words.startswith("packing the load")]
    assert packing[0] == "packing the load: usual orders, 0 %"
    assert packing[-1] == "packing the load: turning round, 100 %"
    assert len(packing) == len(set(packing))


def test_a_load_is_packed_once_and_looked_for_longer_where_things_are_left_out(monkeypatch):
    design, calls = asked_for(monkeypatch)
    assert calls == [(None, None)]  # as long as suits the number of things
    assert not design.packed.left_out


def test_who_has_no_patience_takes_the_first_packings(monkeypatch):
    _, calls = asked_for(monkeypatch, patient=False)
    assert calls == [(QUICK, 0)]
