"""The chart over a scheduler's workers: the same entries, a killed worker, a client that leaves.

Two worker processes on this machine stand for two machines. Skipped without the extra "cluster".
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from clothwright.errors import BadInput
from clothwright.lay import spreading
from clothwright.lay.spreading import executor, spread
from clothwright.workroom.planning.chart import chart
from tests.cluster import cluster
from tests.lay.test_spreading import (
    fall_once,
    search,
    soon,
    square,
    three_is_poison,
    told,
    trouble,
)
from tests.workroom.planning.test_chart import small

distributed = pytest.importorskip(
    "distributed", reason='the extra "cluster" is not installed: pip install "clothwright[cluster]"'
)
pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore")]


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with cluster(2) as where:
        yield where


def test_a_cluster_lays_what_one_process_does(address):
    """Ended by rounds, the same seed gives the same chart, wherever it is laid."""
    assert chart(small(), scheduler=address) == chart(small(), workers=0)


def test_equal_tasks_are_each_done(address):
    """No two calls are taken for one, though they look alike."""
    done, failed = told()
    spread([2, 2, 2], square, workers=1, scheduler=address, done=done.__setitem__,
           failed=failed.__setitem__)  # fmt: skip
    assert done == {0: 4, 1: 4, 2: 4}


def test_trouble_on_a_worker_is_told(address):
    """The error of a task comes back as its reason."""
    done, failed = told()
    spread(range(3), trouble, workers=1, scheduler=address, done=done.__setitem__,
           failed=failed.__setitem__)  # fmt: skip
    assert done == {0: 0}
    assert failed[1] == "This one: a reason."
    assert "ZeroDivisionError" in failed[2]


def test_a_killed_worker_loses_nothing(address, tmp_path):
    """Kill -9 of a worker in the middle: another does its task again."""
    done, failed = told()
    tasks = [(str(tmp_path), n) for n in range(6)]
    spread(tasks, fall_once, workers=1, scheduler=address, done=done.__setitem__,
           failed=failed.__setitem__)  # fmt: skip
    assert (tmp_path / "fallen").exists()
    assert (done, failed) == ({n: n * n for n in range(6)}, {})


def test_a_task_that_always_kills_its_worker_fails_alone(address):
    """The scheduler may give up its neighbours with it; alone they are done, and it is not."""
    done, failed = told()
    spread(range(5), three_is_poison, workers=1, scheduler=address, done=done.__setitem__,
           failed=failed.__setitem__)  # fmt: skip
    assert done == {n: n * n for n in range(5) if n != 3}
    assert failed == {3: "its worker died each time, the last time alone"}


def test_a_fall_that_takes_all_with_it_fails_one():
    """One worker holds all tasks and its first fall kills every one: only the culprit stays so."""
    done, failed = told()
    with cluster(1, allowed_failures=0) as where:
        spread(range(4), three_is_poison, workers=1, scheduler=where, done=done.__setitem__,
               failed=failed.__setitem__)  # fmt: skip
    assert done == {n: n * n for n in range(3)}
    assert list(failed) == [3]


def test_work_ends_when_its_client_leaves(address, tmp_path):
    """Cancelling does not end running work, so the work hears of it and ends by itself."""
    with executor(1, address) as pool:
        jobs = [pool.submit(search, (str(tmp_path), n)) for n in range(2)]
        assert soon(lambda: len(list(tmp_path.glob("began-*"))) == 2)
    assert soon(lambda: len(list(tmp_path.glob("ended-*"))) == 2)
    assert jobs


def test_a_scheduler_without_workers_is_told(monkeypatch):
    """A sentence with the call that starts a worker."""
    monkeypatch.setattr(spreading, "CONNECT_S", 1.0)
    with (
        cluster(0) as where,
        pytest.raises(BadInput, match=r"has no worker.*dask worker tcp"),
        executor(1, where),
    ):
        pass
