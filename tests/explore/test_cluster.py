"""The same call on a small cluster in this machine gives the same set as one process."""

from dask.distributed import Client, LocalCluster
from small_bays import WAGON

from stowright.app.exploring import explore_job
from stowright.app.loading import load_catalogue, load_job
from stowright.explore.budget import Budget

FEW = Budget(quick=40, whole=3, first_quick=24, first_whole=1, round_quick=16, round_whole=2)


def test_a_cluster_gives_the_same_set():
    shelf, job = load_catalogue(), load_job(WAGON)
    alone = explore_job(job, catalogue=shelf, seed=1, budget=FEW, workers=1)
    with (
        LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None
        ) as cluster,
        Client(cluster) as client,
    ):
        there = explore_job(job, catalogue=shelf, seed=1, budget=FEW, client=client)
    assert there == alone
    assert alone.kept
