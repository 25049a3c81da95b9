"""Whatever is sent as a pattern file: a whole state or a sentence, in bounds, nothing else touched.

One of each kind is sent here; `UPLOADS=200` sends so many.
"""

from __future__ import annotations

import io
import os
import random
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import NamedTuple
from urllib.parse import quote

import ezdxf
import pytest
from PIL import Image

from clothwright.intake.typed.examples import EXAMPLE
from clothwright.workroom.apart import asking
from clothwright.workroom.pieces import inbox
from tests.intake.mutations import DAMAGES, HUGE, damaged
from tests.intake.pdf.bombs import BOMBS
from tests.intake.pdf.sheets import by_reportlab, skirt_sheet
from tests.photo.taken import jpegs
from tests.web.conftest import Desk
from tests.web.intake_demo import bare, demo_piece

COUNT = int(os.environ.get("UPLOADS", "0"))
"""How many are sent; 0: one of each kind."""
SHIPPED_S = asking.SECONDS
"""What one reading may take, as it is shipped; tests of other things allow more."""
MOST_S, MOST_BYTES = 10.0, 1_000_000_000
BOOK = "/b/coat-and-skirt"
JSON, HTML = {"accept": "application/json"}, {"accept": "text/html"}
HEIC = Path(__file__).parents[1] / "photo" / "data" / "coat_front.heic"
LONG = b"9" * 5000
UP = ".." + "/"
NAMES = (
    UP * 2 + "out.svg", "..\\..\\out.svg", "/" + "etc" + "/passwd.svg",
    "a\nb.svg", "\u202egvs.svg", ".svg", " ",
    "x" * 5000 + ".svg", "con.svg", "a;rm -rf.svg", "<b>x</b>.svg", "front.svg.exe", "steps.jsonl",
    "%00.svg", "..", "workbook.toml", "ü ß 𝛼.SVG", "a.svg/", "drawing", "a:b.svg",
)  # fmt: skip
"""What a file may be called that is sent by somebody else than our page."""


class Sent(NamedTuple):
    """A file that is sent. how: what is wrong with it. name: what it is said to be called.

    make: makes what is in it, when it is sent.
    """

    how: str
    name: str
    make: Callable[[], bytes]


@pytest.fixture(scope="module")
def seeds(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[bytes]]:
    """A sound file of every kind, by the ending of its name."""
    folder = tmp_path_factory.mktemp("sound")
    file = ezdxf.new()
    file.modelspace().add_lwpolyline([(0, 0), (300, 0), (250, 400), (0, 400)], close=True)
    block = file.blocks.new("PIECE")
    block.add_spline([(0, 0), (100, 50), (200, 0), (100, -80), (0, 0)])
    file.modelspace().add_blockref("PIECE", (500, 0))
    text, jpg, png = io.StringIO(), io.BytesIO(), io.BytesIO()
    file.write(text)
    photo = Image.open(io.BytesIO(jpegs()[0]))
    small = photo.resize((photo.width // 2, photo.height // 2))
    small.save(jpg, "JPEG", quality=90)
    small.save(png, "PNG")
    return {
        ".heic": [HEIC.read_bytes()],
        ".svg": [bare(demo_piece("skirt front")), bare(demo_piece("coat front"))],
        ".pdf": [by_reportlab(skirt_sheet(), folder)],
        ".dxf": [text.getvalue().encode()],
        ".txt": [EXAMPLE.encode()],
        ".jpg": [jpg.getvalue()],
        ".png": [png.getvalue()],
    }


HEAD = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm" viewBox="0 0 900 900">'
)
BOX = b'<path d="M%d,%dh25v25h-25z"/>'


def drawn(what: bytes, head: bytes = HEAD) -> bytes:
    """Return an SVG of something."""
    return head + what + b"</svg>"


def shapes() -> bytes:
    return drawn(b"".join(BOX % (k % 90 * 30, k // 90 * 30) for k in range(19_000)))


def wave() -> bytes:
    points = b" ".join(b"%d,%d" % (k % 900, k % 7) for k in range(400_000))
    return drawn(b'<path d="M' + points + b'z"/>')


def entities() -> bytes:
    kinds = b'<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
    return drawn(b"&b;", kinds + HEAD)


def lines(count: int, last: bytes = b"9") -> bytes:
    """Return a DXF of so many lines. last: a number in each."""
    row = b"0\nLINE\n8\n0\n10\n%d\n20\n%d\n11\n%d\n21\n%s\n"
    rows = b"".join(row % (k, k, k + 9, last) for k in range(count))
    return b"0\nSECTION\n2\nENTITIES\n" + rows + b"0\nENDSEC\n0\nEOF\n"


def pixels() -> bytes:
    large = io.BytesIO()
    Image.new("L", (9000, 7000), 200).save(large, "PNG")
    return large.getvalue()


def hostile(svg: bytes) -> dict[str, list[Sent]]:
    """Files made to take all time or memory, and numbers that no computer reads, by their kind."""
    wide = HEAD.replace(b"900mm", LONG + b"mm")
    texts = [b"piece a\npoint A at 0, " + LONG, b"piece a\n" + b"point A\n" * 30_000, LONG]
    odd = [EXAMPLE.encode().replace(b"5", n) for n in HUGE[:3]]
    return {
        "endless": [
            Sent("19,000 shapes", "a.svg", shapes),
            Sent("400,000 points", "a.svg", wave),
            Sent("deep groups", "a.svg", lambda: drawn(b"<g>" * 3000)),
            Sent("entities", "a.svg", entities),
            Sent("60,000 lines", "a.dxf", lambda: lines(60_000)),
            Sent("63 million pixels", "a.png", pixels),
        ],
        "a number": [
            Sent("a long number", "a.svg", lambda: svg.replace(b'd="M', b'd="M' + LONG, 1)),
            Sent("a long width", "a.svg", lambda: drawn(BOX % (1, 1), wide)),
            Sent("a long number", "a.dxf", lambda: lines(20, LONG)),
            *(Sent(f"typed {k}", "a.txt", lambda text=text: text) for k, text in enumerate(texts)),
            *(Sent("an odd number", "a.txt", lambda text=text: text) for text in odd),
        ],
        "a PDF": [Sent(how, "a.pdf", make) for how, make in BOMBS.items()],
        "a name": [Sent("a name", name, lambda: svg) for name in NAMES],
        "another kind": [
            Sent("another kind", f"a{end}", lambda: svg)
            for end in (".pdf", ".dxf", ".txt", ".jpg", ".heic")
        ],
    }


def broken(seeds: list[bytes], number: int) -> bytes:
    """Return a damaged file, the same for the same number."""
    return next(damaged(seeds, 1, first=number)).data


def files_sent(seeds: dict[str, list[bytes]]) -> list[Sent]:
    """Return what is sent: of what is hostile, and of every ending damaged, one of each; or more.

    One of each: the first ending has the first kind of damage, the next the next.
    """
    every = hostile(seeds[".svg"][0])
    for first, (end, sound) in enumerate(seeds.items()):
        numbers = range(first, first + max(20, COUNT // 6))
        every[end] = [
            Sent(f"{tuple(DAMAGES)[k % len(DAMAGES)]} {k}", f"a{end}", partial(broken, sound, k))
            for k in numbers
        ]
    if not COUNT:
        rng = random.Random(7)
        return [row[0] if kind in seeds else rng.choice(row) for kind, row in every.items()]
    all_of = [each for row in every.values() for each in row]
    picked = random.Random(7).sample(range(len(all_of)), min(COUNT, len(all_of)))
    return [all_of[k] for k in sorted(picked)]


def everything(folder: Path) -> dict[Path, bytes]:
    """Return every file below a folder but the inbox."""
    return {p: p.read_bytes() for p in folder.rglob("*") if p.is_file() and "inbox" not in p.parts}


def most_memory() -> int:
    """Return the most that the process which reads files has taken, bytes."""
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith("VmHWM:"):
            return int(line.split()[1]) * 1024
    raise AssertionError("no VmHWM")


def test_one_of_each_kind_is_sent(
    seeds: dict[str, list[bytes]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every ending, every kind of damage and all that is hostile, by one at least."""
    monkeypatch.setitem(globals(), "COUNT", 0)
    sent = files_sent(seeds)
    assert {each.name for each in sent} >= {f"a{end}" for end in seeds}
    assert {each.how.rpartition(" ")[0] for each in sent} >= set(DAMAGES)
    for row in hostile(seeds[".svg"][0]).values():
        assert {(one.how, one.name) for one in row} & {(each.how, each.name) for each in sent}


def test_what_is_sent_is_a_whole_state_or_a_sentence(
    desk: Desk, seeds: dict[str, list[bytes]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each in time and memory; the workbook, what lies beside it and above it stay as they were."""
    timed = bool(COUNT)
    if timed:  # by hand, on a quiet machine; no rule breaks because a machine is busy
        monkeypatch.setattr(asking, "SECONDS", SHIPPED_S)
    book = desk.folder / "coat-and-skirt"
    assert desk.client.get(f"{BOOK}/add", headers=HTML).status_code == 200  # the first look is kept
    before = everything(desk.folder.parent)
    took, said = [], []
    most = asking.apart("it", most_memory)  # a server has begun what reads when it is asked
    for each in files_sent(seeds):
        began = time.monotonic()
        door = "photo" if each.name.endswith((".jpg", ".png", ".heic")) else "file"
        path = f"{BOOK}/add/{door}?name={quote(each.name)}"
        answer = desk.post(path, content=each.make(), headers=JSON)
        took.append((round(time.monotonic() - began, 2), each.how, each.name[:20]))
        assert answer.status_code in (200, 400, 409, 413), (each.how, each.name, answer.text)
        words = answer.json()["words" if answer.status_code == 200 else "sentence"]
        assert words.strip(), each
        assert "Traceback" not in words, each
        said.append(answer.status_code)
        waits = inbox.waiting(book)
        assert bool(waits) == (answer.status_code == 200), (each.how, each.name, words)
        for one in waits:
            began = time.monotonic()
            page = desk.client.get(f"{BOOK}/add?drawing={one.id}", headers=HTML)
            took.append((round(time.monotonic() - began, 2), f"{each.how}, shown", each.name[:20]))
            assert page.status_code == 200, (each.how, page.text)
            inbox.throw_away(book, one.id)
        most = max(most, asking.apart("it", most_memory))
        assert everything(desk.folder.parent) == before, each
    assert most < MOST_BYTES
    if timed:
        took.sort(reverse=True)
        print(f"\n{len(said)} sent, {said.count(200)} came in; {most / 1e6:.0f} MB")
        print(f"longest: {took[:8]}")
        assert took[0][0] < MOST_S, took[:5]
