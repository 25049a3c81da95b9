"""Whatever a file does to who reads it ends in another process, within limits, in a sentence."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from clothwright.errors import BadInput
from clothwright.store import create
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.apart import asking
from clothwright.workroom.apart.asking import Left, Unread, apart
from tests.workroom.apart import planted

WAIT_S = 120.0
"""A test that waits this long for what it waits for has failed, however busy the machine is."""
on_linux = pytest.mark.skipif(sys.platform != "linux", reason="only Linux bounds memory")


@pytest.fixture(autouse=True)
def nothing_known(monkeypatch):
    """Nothing that was tried in a test is known to the next; no process loads what reads files."""
    monkeypatch.setattr(asking, "KNOWN", (planted.__name__,))
    asking._unread.clear()
    yield
    asking._unread.clear()


@pytest.fixture
def short(monkeypatch):
    """Little time for each reading."""
    monkeypatch.setattr(asking, "SECONDS", 0.3)


def the_process():
    """Return which process reads files now."""
    return apart("it", os.getpid)


def is_there(pid):
    """Tell whether a process is there (one that ended and was not fetched counts as gone)."""
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def wait_until_gone(pid):
    until = time.monotonic() + WAIT_S
    while is_there(pid) and time.monotonic() < until:
        time.sleep(0.01)
    assert not is_there(pid)


def wait_for(file):
    until = time.monotonic() + WAIT_S
    while not file.exists() and time.monotonic() < until:
        time.sleep(0.01)
    return int(file.read_text())


def test_it_is_another_process_and_stays_the_same():
    """What it read stays with it, so one is kept; what it raises comes back as it was raised."""
    assert the_process() == the_process() != os.getpid()
    with pytest.raises(FileNotFoundError):
        apart("it", open, "nowhere")
    assert apart("it", apart, "it", os.getpid) == the_process()


def test_what_is_asked_for_one_answer_shares_one_time(monkeypatch):
    """Photos that were put together leave less time to what is shown of them; not so the next."""
    now, ends = [100.0], []

    def answer(_asked, until, _files):
        ends.append(until - now[0])
        now[0] += 3.0
        return "done", None

    monkeypatch.setattr(asking, "_answer", answer)
    monkeypatch.setattr(asking.time, "monotonic", lambda: now[0])
    with asking.in_one_time(2):
        apart("it", os.getpid)
        apart("it", os.getpid)
    apart("it", os.getpid)
    assert ends == [2 * asking.SECONDS, 2 * asking.SECONDS - 3.0, asking.SECONDS]


@pytest.mark.parametrize("never", [planted.loops, planted.sleeps])
def test_what_never_ends_is_ended(never, short):
    """A reader that loops is gone when its time is over; the next file is read as ever."""
    before = the_process()
    with pytest.raises(Unread, match=r"^front\.svg: it takes more than 10 seconds to read; try"):
        apart("front.svg", never)
    wait_until_gone(before)
    assert the_process() != before


@on_linux
@pytest.mark.parametrize("eats", [planted.eats, planted.eats_at_once])
def test_what_eats_memory_is_ended(eats):
    """A reader never has more than a gigabyte; what it may have it gets, time and again."""
    with pytest.raises(Unread, match="more than 1 GB of memory"):
        apart("front.svg", eats)
    for _ in range(3):
        assert apart("it", planted.takes, 600) == 600_000_000


def test_what_gives_back_without_end_is_refused():
    """An answer is bounded, so that a file cannot fill the server by what it becomes."""
    with pytest.raises(Unread, match="more in it than can be shown"):
        apart("front.svg", planted.gives_back, 50)
    assert len(apart("it", planted.gives_back, 30)) == 30_000_000


@on_linux
def test_what_writes_without_end_is_stopped(tmp_path):
    """It cannot fill the disk either."""
    with pytest.raises(OSError, match="File too large"):
        apart("front.svg", planted.writes, tmp_path / "large")
    assert (tmp_path / "large").stat().st_size <= 200_000_000


@pytest.mark.parametrize("breaks", [planted.dies, planted.slips])
def test_what_breaks_is_a_sentence(breaks):
    """A reader that falls, or meets what nobody has foreseen, takes nothing else with it."""
    with pytest.raises(BadInput, match="reading it broke off"):
        apart("front.svg", breaks)
    assert the_process()


def test_what_could_not_be_read_is_not_tried_again(tmp_path, short):
    """A page that is drawn again does not wait again; another file, or the same at once, does."""
    file = tmp_path / "tried"
    with pytest.raises(Unread):
        apart("front.svg", planted.says_and_loops, file)
    file.unlink()
    with pytest.raises(Unread):
        apart("front.svg", planted.says_and_loops, file)
    assert not file.exists()
    with pytest.raises(Unread):
        apart("front.svg", planted.says_and_loops, tmp_path / "other")
    assert (tmp_path / "other").exists()


def test_it_is_ended_when_who_asked_goes_away(tmp_path):
    """Nothing is computed for nobody; who else waits has the next turn."""
    left = threading.Event()

    def ask():
        asking.gone.set(left)
        apart("front.svg", planted.says_and_loops, tmp_path / "pid")

    with ThreadPoolExecutor(2) as threads:
        asked = threads.submit(ask)
        pid = wait_for(tmp_path / "pid")
        waits = threads.submit(the_process)
        left.set()
        with pytest.raises(Left):
            asked.result(WAIT_S)
        wait_until_gone(pid)
        assert waits.result(WAIT_S) not in (pid, os.getpid())


def test_who_leaves_while_waiting_is_let_go(tmp_path):
    """Somebody who goes away while another file is read asks for nothing, and ends nothing."""
    mine, theirs = threading.Event(), threading.Event()
    theirs.set()

    def ask(left, *args):
        asking.gone.set(left)
        apart("front.svg", *args)

    with ThreadPoolExecutor(2) as threads:
        first = threads.submit(ask, mine, planted.says_and_loops, tmp_path / "pid")
        pid = wait_for(tmp_path / "pid")
        second = threads.submit(ask, theirs, planted.says_and_loops, tmp_path / "other")
        with pytest.raises(Left):
            second.result(WAIT_S)
        assert is_there(pid)
        assert not (tmp_path / "other").exists()
        mine.set()
        with pytest.raises(Left):
            first.result(WAIT_S)


KILLED = """
import sys
from pathlib import Path
from clothwright.workroom.apart import asking
from tests.workroom.apart import planted
asking.SECONDS, asking.KNOWN = 1.0, ()
if __name__ == "__main__":
    asking.apart("it", planted.says_and_loops, Path(sys.argv[1]))
"""


HEARS = "import signal; signal.signal(signal.SIGINT, signal.default_int_handler)\n"


def started(folder, text, *args):
    """Run a script in a process of its own, in a folder, which Ctrl-C ends whatever started us."""
    script = folder / "script.py"
    script.write_text(HEARS + text)
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(p or "." for p in sys.path)}
    command = [sys.executable, script, *args]
    return subprocess.Popen(command, env=env, cwd=folder, stderr=subprocess.PIPE, text=True)


@on_linux
def test_it_goes_when_the_server_is_killed(tmp_path):
    """A server that is killed leaves nothing behind that computes for ever."""
    server = started(tmp_path, KILLED, str(tmp_path / "pid"))
    pid = wait_for(tmp_path / "pid")
    server.kill()
    server.communicate()
    wait_until_gone(pid)


ADDING = """
from clothwright.cli.app import main
from clothwright.workroom.pieces import adding
from tests.workroom.apart import planted
adding._read = planted.loops_here
if __name__ == "__main__":
    main(["add", "w", "front.svg"])
"""


def test_a_command_is_stopped(tmp_path):
    """Ctrl-C ends a command that reads a file, and what reads for it; nothing is changed."""
    create(tmp_path / "w", Workbook(title="t", unit=Unit.cm))
    (tmp_path / "front.svg").write_text("<svg/>")
    before = {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}
    command = started(tmp_path, ADDING)
    pid = wait_for(tmp_path / "reading")
    command.send_signal(signal.SIGINT)
    _, said = command.communicate(timeout=WAIT_S)
    assert command.returncode == 130
    assert "Traceback" not in said
    wait_until_gone(pid)
    assert before.items() <= {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}.items()


@on_linux
def test_a_process_with_nothing_beside_is_copied(monkeypatch):
    """What it has loaded is there in the copy, and is not loaded twice; one with threads is not."""
    monkeypatch.setattr(threading, "active_count", lambda: 1)
    monkeypatch.setattr(planted, "LOADED", "here")
    for one in asking._kept:
        one.end()
    asking._kept.clear()
    try:
        assert apart("it", planted.loaded) == "here"
        copied = the_process()
        assert copied != os.getpid()
    finally:
        for one in asking._kept:
            one.end()
        asking._kept.clear()
    wait_until_gone(copied)
    monkeypatch.setattr(threading, "active_count", lambda: 2)
    assert apart("it", planted.loaded) == ""
