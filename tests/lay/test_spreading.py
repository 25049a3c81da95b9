"""Work over processes and machines: a killed worker, a stopped maker, a scheduler that leaves."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from clothwright.errors import BadInput, CannotDo
from clothwright.lay import spreading
from clothwright.lay.spreading import executor, spread, stop_asked

WAIT_S = 180.0


def told() -> tuple[dict[int, int], dict[int, str]]:
    return {}, {}


def square(n: int) -> int:
    return n * n


def fall_once(task: tuple[str, int]) -> int:
    """Kill the worker the first time it sees task 3; later do the task."""
    folder, n = task
    mark = Path(folder) / "fallen"
    if n == 3 and not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return n * n


def three_is_poison(n: int) -> int:
    """Kill every worker that sees task 3, while another is still at work beside it."""
    time.sleep(0.2 if n == 3 else 0.6)
    if n == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return n * n


def trouble(n: int) -> int:
    if n == 1:
        raise CannotDo(what="this one", why="a reason")
    if n == 2:
        raise ZeroDivisionError("by nothing")
    return n


def stands_back(more: int) -> int:
    """Stand back so much more for others; return how far a worker of this process does."""
    mine = os.nice(more)
    with executor(1) as pool:
        return pool.submit(os.nice, 0).result() - mine


def search(task: tuple[str, int]) -> int:
    """Search until told to stop; leave a mark at the beginning and one at a good end."""
    folder, n = task
    (Path(folder) / f"began-{n}-{os.getpid()}").touch()
    until = time.monotonic() + WAIT_S
    while time.monotonic() < until:
        if stop_asked():
            (Path(folder) / f"ended-{n}").touch()
            return n
        time.sleep(0.01)
    return -1


def soon(true) -> bool:
    """Wait until something is true; False when it never is."""
    until = time.monotonic() + WAIT_S
    while time.monotonic() < until:
        if true():
            return True
        time.sleep(0.02)
    return False


def alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{pid}/stat")
    return not (state.exists() and state.read_text().rsplit(")", 1)[1].split()[0] == "Z")


@pytest.mark.parametrize("workers", [0, 1, 2])
def test_every_task_is_done_by_any_number_of_workers(workers):
    """The same results here, by one process, by two."""
    done, failed = told()
    whole = spread(
        range(5), square, workers=workers, done=done.__setitem__, failed=failed.__setitem__
    )
    assert whole
    assert (done, failed) == ({n: n * n for n in range(5)}, {})


def test_a_killed_worker_loses_nothing(tmp_path):
    """Kill -9 in the middle: every result comes all the same."""
    done, failed = told()
    tasks = [(str(tmp_path), n) for n in range(6)]
    spread(tasks, fall_once, workers=2, done=done.__setitem__, failed=failed.__setitem__)
    assert (tmp_path / "fallen").exists()
    assert (done, failed) == ({n: n * n for n in range(6)}, {})


def test_a_task_that_always_kills_its_worker_fails_alone():
    """Three tries, then a reason; the tasks that were at work beside it are all done."""
    done, failed = told()
    whole = spread(
        range(6), three_is_poison, workers=2, done=done.__setitem__, failed=failed.__setitem__
    )
    assert whole
    assert done == {n: n * n for n in range(6) if n != 3}
    assert failed == {3: "its worker died 3 times"}


@pytest.mark.parametrize("workers", [0, 2])
def test_a_task_in_trouble_says_why(workers):
    """An error of one task is told as its reason; the others are done."""
    done, failed = told()
    spread(range(4), trouble, workers=workers, done=done.__setitem__, failed=failed.__setitem__)
    assert done == {0: 0, 3: 3}
    assert failed[1] == "This one: a reason."
    assert "ZeroDivisionError: by nothing" in failed[2]


def test_work_that_never_answers_is_given_up(tmp_path):
    """Nothing settled for as long as patience lasts: given up, its process gone."""
    done, failed = told()
    task = (str(tmp_path), 0)
    spread([task], search, workers=1, done=done.__setitem__, failed=failed.__setitem__, patience=2)
    assert done == {}
    assert "no worker has answered" in failed[0]
    pids = [int(p.name.split("-")[2]) for p in tmp_path.glob("began-*")]
    assert soon(lambda: not any(alive(p) for p in pids))


def test_leaving_the_pool_stops_the_work_in_it(tmp_path):
    """A search that is not waited for hears of it and ends, instead of running out its time."""
    with executor(2) as pool:
        jobs = [pool.submit(search, (str(tmp_path), n)) for n in range(2)]
        assert soon(lambda: len(list(tmp_path.glob("began-*"))) == 2)
    assert soon(lambda: len(list(tmp_path.glob("ended-*"))) == 2)
    assert all(job.done() for job in jobs)
    pids = [int(p.name.split("-")[2]) for p in tmp_path.glob("began-*")]
    assert soon(lambda: not any(alive(p) for p in pids))


@pytest.mark.skipif(not hasattr(os, "nice"), reason="nice of POSIX")
def test_a_worker_stands_back_as_who_asks_for_it():
    """Wherever a worker is copied from, the page goes before it, too."""
    with executor(1) as pool:
        assert pool.submit(stands_back, 4).result() == 0


OWNER = """
import os, signal, sys
from tests.lay.test_spreading import search
from clothwright.lay.spreading import spread

def press(frame, event, _):
    where = frame.f_code.co_filename.rpartition(os.sep)[2] + " " + frame.f_code.co_name
    if where == sys.argv[2]:
        sys.settrace(None)
        os.killpg(0, signal.SIGINT)
    return press

if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's "&" has it ignored
    tasks = [(sys.argv[1], n) for n in range(2)]
    if sys.argv[2]:
        sys.settrace(press)
    whole = spread(tasks, search, workers=2, done=print, failed=print)
    sys.exit(0 if whole else 130)
"""
ENDS_S = 60.0
"""Seconds, on a busy machine, in which an owner ends that is told to."""


class Owner:
    """A process of its own group that spreads two endless searches."""

    def __init__(self, folder: Path, pressed: str = "") -> None:
        """Begin it; it presses Ctrl-C as a terminal does, for the whole group, when it comes there.

        pressed: file and function of the standard library.
        """
        script, self.folder = folder / "owner.py", folder
        script.write_text(OWNER)
        root = Path(__file__).resolve().parents[2]
        self.process = subprocess.Popen(
            [sys.executable, "-X", "faulthandler", str(script), str(folder), pressed],
            env={**os.environ, "PYTHONPATH": f"{root}{os.pathsep}{root / 'src'}"},
            start_new_session=True,
            stderr=subprocess.PIPE,
            text=True,
        )

    def workers(self) -> list[int]:
        """Return the processes that have begun to search."""
        return [int(p.name.split("-")[2]) for p in self.folder.glob("began-*")]

    def ends(self) -> tuple[int, str]:
        """Return its exit code and what it says; where it hangs, every thread of it says where."""
        try:
            said = self.process.communicate(timeout=ENDS_S)[1]
        except subprocess.TimeoutExpired:
            self.process.send_signal(signal.SIGABRT)
            said = self.process.communicate(timeout=ENDS_S)[1]
            pytest.fail(f"it has not ended in {ENDS_S:.0f} s; it is at:\n{said}")
        return self.process.returncode, said

    def gone(self) -> None:
        """Kill it, if it is not gone yet."""
        self.process.kill()
        self.process.wait(ENDS_S)
        self.process.stderr.close()


@pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")
@pytest.mark.parametrize("with_what", ["SIGKILL", "SIGINT"])
def test_workers_end_with_the_process_that_asked(tmp_path, with_what):
    """Killed outright or stopped by Ctrl-C: no worker is left searching for nobody."""
    owner = Owner(tmp_path)
    try:
        assert soon(lambda: len(owner.workers()) == 2), "two workers have not begun"
        if with_what == "SIGINT":  # as a terminal does it: to the whole group
            os.killpg(owner.process.pid, signal.SIGINT)
            assert owner.ends() == (130, "")
        else:
            owner.gone()
        assert soon(lambda: not any(alive(p) for p in owner.workers())), "a worker searches on"
    finally:
        owner.gone()


@pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")
def test_ctrl_c_while_workers_are_begun_ends_it_quietly(tmp_path):
    """The thread that looks after them is half begun; half a thread cannot be waited for."""
    owner = Owner(tmp_path, "threading.py start")
    try:
        assert owner.ends() == (130, "")
        assert soon(lambda: not any(alive(p) for p in owner.workers())), "a worker searches on"
    finally:
        owner.gone()


@pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")
def test_a_worker_never_hears_ctrl_c():
    """Nor does what it is copied from, which would tell of it where it is still loading."""
    with executor(1) as pool:
        deaf = pool.submit(signal.pthread_sigmask, signal.SIG_BLOCK, ())
        assert signal.SIGINT in deaf.result()


def test_outside_a_worker_nobody_asks_to_stop():
    """In the maker's own process the question is always answered with no."""
    assert not stop_asked()


class KilledWorker(Exception):  # noqa: N818 (named as a scheduler's error is)
    pass


class Falling(spreading.Here):
    """An executor as a scheduler is: after poison, all it holds comes back killed with it."""

    def __init__(self, at_first: int) -> None:
        self.tried: list[int] = []
        self.at_first = at_first

    def submit(self, fn, /, *args, **kwargs):
        n = args[-1]
        self.tried.append(n)
        if n == 3 or len(self.tried) <= self.at_first:
            return super().submit(_killed)
        return super().submit(fn, *args, **kwargs)


def _killed() -> None:
    raise KilledWorker


def test_what_fell_over_a_scheduler_is_tried_once_more_alone(monkeypatch):
    """All six come back killed; five are done at their second try, one is given up."""
    pool = Falling(at_first=6)
    monkeypatch.setattr(spreading, "_remote", lambda _: contextlib.nullcontext(pool))
    done, failed = told()
    whole = spread(
        range(6), square, workers=1, scheduler="tcp://there:1", done=done.__setitem__,
        failed=failed.__setitem__,
    )  # fmt: skip
    assert whole
    assert done == {n: n * n for n in range(6) if n != 3}
    assert failed == {3: "its worker died each time, the last time alone"}
    assert sorted(pool.tried) == sorted([*range(6), *range(6)])


@pytest.mark.parametrize("workers", [-1, 100_000])
def test_no_number_of_workers(workers):
    """A sentence, not a machine brought to its knees."""
    with pytest.raises(BadInput, match="number of workers"), executor(workers):
        pass


@pytest.mark.parametrize("address", ["tcp://127.0.0.1:9", "nonsense", "http://there", ":1"])
def test_no_scheduler_answers(address, monkeypatch):
    """Without the extra, or without a scheduler, there is a sentence."""
    monkeypatch.setattr(spreading, "CONNECT_S", 1.0)
    with pytest.raises(BadInput, match="--scheduler"):
        spread(
            [1], square, workers=1, scheduler=address, done=lambda *_: None, failed=lambda *_: None
        )


def test_without_the_extra_there_is_a_sentence(monkeypatch):
    """It names the extra to install, and what goes without it."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(BadInput, match=r"clothwright\[cluster\]"), executor(2, "tcp://127.0.0.1:9"):
        pass
