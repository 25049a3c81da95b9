"""Starting and ending: ports, addresses, the command, a second device for real."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from clothwright.cli.app import run
from clothwright.errors import BadInput, CannotDo
from clothwright.web import serve
from clothwright.web.pages.share import square, terminal_square
from tests.web.conftest import WAIT_S, demo_at, until


def get(url: str) -> str:
    """Fetch a page."""
    with urllib.request.urlopen(url, timeout=10) as answer:
        return answer.read().decode("utf-8")


def test_one_workbook_alone(tmp_path: Path) -> None:
    """With WORKBOOK only that one is served; its neighbours and new ones are out of reach."""
    demo_at(tmp_path, "remnant")
    one = demo_at(tmp_path, "coat-and-skirt")
    served = serve.prepare(one)
    served.start()
    try:
        assert "coat front" in get(served.address + "/b/coat-and-skirt/pieces")
        assert "Open a demo" not in get(served.address + "/")
        with pytest.raises(urllib.error.HTTPError, match="404"):
            get(served.address + "/b/remnant/pieces")
    finally:
        served.stop()


def test_what_computes_gives_way_to_the_loop(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While it serves, a thread that computes gives way fifty times as often as by itself."""
    monkeypatch.setattr(serve.uvicorn.Server, "run", lambda server, sockets: None)
    was = sys.getswitchinterval()
    sys.setswitchinterval(0.005)
    served = serve.prepare(tmp_path)
    try:
        served.run()
        assert sys.getswitchinterval() == pytest.approx(serve.TURN_S) == 0.0001
    finally:
        sys.setswitchinterval(was)
        for each in served.sockets:
            each.close()


def test_a_taken_port_is_said(tmp_path: Path) -> None:
    """A wanted port that is taken is a sentence; without a wish another one is found."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        with pytest.raises(BadInput, match="taken by another program"):
            serve.prepare(tmp_path, port=other.getsockname()[1])
    first, second = serve.prepare(tmp_path), serve.prepare(tmp_path)
    try:
        assert first.port != second.port
    finally:
        for it in (first, second):
            for each in it.sockets:
                each.close()


def test_no_folder_is_said(tmp_path: Path, capsys) -> None:
    """A folder that is not there is a sentence and exit code 2."""
    assert run(["open", str(tmp_path / "nowhere"), "--no-browser"]) == 2
    assert "no such folder" in capsys.readouterr().err
    assert run(["open", str(tmp_path), "--port", "70000", "--no-browser"]) == 2


def test_no_network_no_share(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a network --share says so."""
    monkeypatch.setattr(serve, "NOWHERE", ("127.0.0.1", 9))
    with pytest.raises(CannotDo, match="on no network"):
        serve.prepare(tmp_path, share=True)


def test_shared_on_a_second_address(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Shared, both addresses answer on one port, each to its own name only.

    127.0.0.2 stands in for the house address; it counts as this machine, so the key is asked for
    in test_safety, where the address of the other device can be chosen.
    """
    demo_at(tmp_path, "remnant")
    monkeypatch.setattr(serve, "house_address", lambda: "127.0.0.2")
    served = serve.prepare(tmp_path, share=True)
    served.start()
    try:
        assert served.room.shared_at == f"http://127.0.0.2:{served.port}"
        assert "Read this square" in get(served.address + "/share")
        assert "corduroy" in get(served.room.shared_at + "/")
    finally:
        served.stop()


def test_the_square_holds_the_address() -> None:
    """The square read back module by module is the QR code of the address, quiet zone round it.

    Against segno, an independent encoder of ISO/IEC 18004, whose matrix both drawings must show.
    """
    import segno

    text = "http://192.168.7.2:8377/enter?key=abcdefghijklmnopqrstuv"
    code = segno.make(text, error="m", micro=False)
    dark = {(int(x), int(y)) for x, y in re.findall(r"M(\d+),(\d+)h1", str(square(text)))}
    expected = {
        (x + 4, y + 4) for y, row in enumerate(code.matrix) for x, on in enumerate(row) if on
    }
    assert dark == expected
    assert len(terminal_square(text).splitlines()) > 15


def answers(url: str) -> bool:
    """Tell whether something answers there."""
    try:
        get(url)
    except urllib.error.URLError:
        return False
    return True


@pytest.mark.skipif(os.name != "posix", reason="Ctrl-C is sent as a POSIX signal")
def test_the_command_ends_by_ctrl_c(tmp_path: Path) -> None:
    """clothwright open says where it is, serves, and ends quietly on Ctrl-C."""
    demo_at(tmp_path, "remnant")
    # A shell that runs the tests in the background has Ctrl-C ignored in all below it.
    heard = "import signal; signal.signal(signal.SIGINT, signal.default_int_handler); "
    command = [sys.executable, "-c", heard + "from clothwright.cli import main; main()"]
    with subprocess.Popen(
        [*command, "open", str(tmp_path / "remnant"), "--no-browser"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    ) as it:
        try:
            line = it.stdout.readline()
            url = re.search(r"http://127\.0\.0\.1:\d+/b/remnant/pieces", line)
            assert url, line
            until(lambda: answers(url.group()))
            assert "What have I got?" in get(url.group())
            it.send_signal(signal.SIGINT)
            _, err = it.communicate(timeout=WAIT_S)
        finally:
            it.kill()
    assert "Traceback" not in err
    assert it.returncode in (0, 130)


def test_small_answers_are_sent_at_once(tmp_path: Path) -> None:
    """The socket says that it is TCP: only then does asyncio switch off the wait for more to send.

    (asyncio's own rule, `base_events._set_nodelay`; without it every answer came 40 ms late.)
    """
    demo_at(tmp_path, "remnant")
    served = serve.prepare(tmp_path / "remnant")
    try:
        assert [s.proto for s in served.sockets] == [socket.IPPROTO_TCP]
    finally:
        for each in served.sockets:
            each.close()
