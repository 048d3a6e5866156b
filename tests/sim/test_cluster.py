"""A Dask cluster gives the same seasons as this process, and one that does not answer is told in a sentence."""

import subprocess
import sys

import pytest

from sim.cluster import cluster
from sim.comparison import compare_as_they_come
from sim.errors import RunError
from sim.workers import here, worker_count
from tests.sim import fake_seasons as fake
from tests.sim.fake_seasons import as_bytes

ALL = {(plan, seed) for plan in ("net", "nothing", "spray") for seed in range(1, 9)}


@pytest.fixture(scope="module")
def local_cluster():
    from distributed import LocalCluster

    with LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as running:
        yield running


@pytest.mark.slow
def test_same_bytes_on_a_cluster_one_worker_of_which_is_killed(tmp_path, local_cluster):
    expected = list(compare_as_they_come(fake.scenario(), seasons=8, season=fake.season, executor=here()))
    with cluster(local_cluster.scheduler_address) as executor:
        assert worker_count(executor) == 2
        plain = list(compare_as_they_come(fake.scenario(), seasons=8, season=fake.season, executor=executor))
        assert as_bytes(plain) == as_bytes(expected)

        garden = fake.scenario(about=str(tmp_path))
        found = list(compare_as_they_come(garden, seasons=8, season=fake.kills_its_worker_once, executor=executor))
    assert (tmp_path / "died").exists()
    assert as_bytes(found) == as_bytes(expected)
    assert set(fake.runs(tmp_path)) == ALL


def test_a_cluster_out_of_reach_is_told():
    with pytest.raises(RunError, match=r"No cluster answers at 'tcp://127\.0\.0\.1:9'"):
        cluster("tcp://127.0.0.1:9", timeout_seconds=1)


@pytest.mark.parametrize(
    "address", ["nonsense", "tcp://", "tcp://host", "host:8786", "odd://host:8786", "tcp://[::1:8786"]
)
def test_what_is_no_address_of_a_cluster_is_told_without_asking_for_it(monkeypatch, address):
    monkeypatch.setattr("distributed.Client", lambda *_, **__: pytest.fail("Dask was asked"))
    with pytest.raises(RunError, match=r"No cluster answers at .*; the address of a scheduler looks like tcp://"):
        cluster(address)


def test_a_cluster_out_of_reach_leaves_nothing_else_to_read():
    script = (
        "from sim.errors import RunError\n"
        "from sim.cluster import cluster\n"
        "try:\n"
        "    cluster('tcp://127.0.0.1:9', timeout_seconds=0.5)\n"
        "except RunError as error:\n"
        "    print(error)\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.startswith("No cluster answers at 'tcp://127.0.0.1:9'")
    assert done.stderr == ""
