"""Whatever is sent as a pattern file: a whole state or a sentence, in bounds, nothing else touched.

A share of the damaged files is sent here; `UPLOADS=200` sends so many.
"""

from __future__ import annotations

import io
import itertools
import os
import random
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple
from urllib.parse import quote

import ezdxf
import pytest
from PIL import Image

from clothwright.intake.typed.examples import EXAMPLE
from clothwright.workroom.apart import asking
from clothwright.workroom.pieces import inbox
from tests.intake.mutations import HUGE, Broken, damaged
from tests.intake.pdf.bombs import bombs
from tests.intake.pdf.sheets import by_reportlab, skirt_sheet
from tests.photo.taken import jpegs
from tests.web.conftest import Desk
from tests.web.intake_demo import bare, demo_piece

COUNT = int(os.environ.get("UPLOADS", "12"))
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
    """A file that is sent. how: what is wrong with it. name: what it is said to be called."""

    how: str
    name: str
    data: bytes


@pytest.fixture(scope="module")
def seeds(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[bytes]]:
    """A sound file of every kind, by the ending of its name."""
    folder = tmp_path_factory.mktemp("sound")
    file = ezdxf.new()
    file.modelspace().add_lwpolyline([(0, 0), (300, 0), (250, 400), (0, 400)], close=True)
    block = file.blocks.new("PIECE")
    block.add_spline([(0, 0), (100, 50), (200, 0), (100, -80), (0, 0)])
    file.modelspace().add_blockref("PIECE", (500, 0))
    text, png = io.StringIO(), io.BytesIO()
    file.write(text)
    photo = Image.open(io.BytesIO(jpegs()[0]))
    photo.resize((photo.width // 2, photo.height // 2)).save(png, "PNG")
    return {
        ".svg": [bare(demo_piece("skirt front")), bare(demo_piece("coat front"))],
        ".pdf": [by_reportlab(skirt_sheet(), folder)],
        ".dxf": [text.getvalue().encode()],
        ".txt": [EXAMPLE.encode()],
        ".jpg": [jpegs()[0]],
        ".png": [png.getvalue()],
        ".heic": [HEIC.read_bytes()],
    }


def hostile(svg: bytes) -> list[Sent]:
    """Files made to take all time or memory, and numbers that no computer reads."""
    head = b'<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm" '
    head += b'viewBox="0 0 900 900">'
    box = b'<path d="M%d,%dh25v25h-25z"/>'
    deep = b"<g>" * 3000
    many = b"".join(box % (k % 90 * 30, k // 90 * 30) for k in range(19_000))
    wave = b" ".join(b"%d,%d" % (k % 900, k % 7) for k in range(400_000))
    rows = b"".join(
        b"0\nLINE\n8\n0\n10\n%d\n20\n%d\n11\n%d\n21\n9\n" % (k, k, k + 9) for k in range(60000)
    )
    dxf = b"0\nSECTION\n2\nENTITIES\n" + rows + b"0\nENDSEC\n0\nEOF\n"
    entity = b'<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>' + head + b"&b;</svg>"
    large = io.BytesIO()
    Image.new("L", (9000, 7000), 200).save(large, "PNG")
    texts = [b"piece a\npoint A at 0, " + LONG, b"piece a\n" + b"point A\n" * 30_000, LONG]
    return [
        Sent("19,000 shapes", "a.svg", head + many + b"</svg>"),
        Sent("400,000 points", "a.svg", head + b'<path d="M' + wave + b'z"/></svg>'),
        Sent("a long number", "a.svg", svg.replace(b'd="M', b'd="M' + LONG, 1)),
        Sent(
            "a long width", "a.svg", head.replace(b"900mm", LONG + b"mm") + box % (1, 1) + b"</svg>"
        ),
        Sent("deep groups", "a.svg", head + deep + b"</svg>"),
        Sent("entities", "a.svg", entity),
        Sent("60,000 lines", "a.dxf", dxf),
        Sent("a long number", "a.dxf", dxf[:900].replace(b"21\n9\n", b"21\n" + LONG + b"\n", 1)),
        Sent("63 million pixels", "a.png", large.getvalue()),
        *(Sent(f"typed {k}", "a.txt", text) for k, text in enumerate(texts)),
        *(Sent("an odd number", "a.txt", EXAMPLE.encode().replace(b"5", n)) for n in HUGE[:3]),
        *(Sent(b.how, "a.pdf", b.data) for b in bombs()),
        *(Sent("a name", name, svg) for name in NAMES),
        *(
            Sent("another kind", f"a{end}", svg)
            for end in (".pdf", ".dxf", ".txt", ".jpg", ".heic")
        ),
    ]


def files_sent(seeds: dict[str, list[bytes]]) -> list[Sent]:
    """Return all that is sent: what is hostile, and every kind damaged; a seeded share of it."""
    all_of = hostile(seeds[".svg"][0])
    broken: list[Iterator[tuple[str, Broken]]] = [
        iter([(end, b) for b in damaged(sound, max(20, COUNT // 6))])
        for end, sound in seeds.items()
    ]
    for row in itertools.zip_longest(*broken):
        all_of += [Sent(b.how, f"a{end}", b.data) for end, b in (x for x in row if x)]
    if len(all_of) > COUNT:
        picked = random.Random(7).sample(range(len(all_of)), COUNT)
        all_of = [all_of[k] for k in sorted(picked)]
    return all_of


def everything(folder: Path) -> dict[Path, bytes]:
    """Return every file below a folder but the inbox."""
    return {p: p.read_bytes() for p in folder.rglob("*") if p.is_file() and "inbox" not in p.parts}


def most_memory() -> int:
    """Return the most that the process which reads files has taken, bytes."""
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith("VmHWM:"):
            return int(line.split()[1]) * 1024
    raise AssertionError("no VmHWM")


def test_what_is_sent_is_a_whole_state_or_a_sentence(
    desk: Desk, seeds: dict[str, list[bytes]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each in time and memory; the workbook, what lies beside it and above it stay as they were."""
    timed = bool(os.environ.get("UPLOADS"))
    if timed:  # by hand, on a quiet machine; no rule breaks because a machine is busy
        monkeypatch.setattr(asking, "SECONDS", 9.0)
    book = desk.folder / "coat-and-skirt"
    assert desk.client.get(f"{BOOK}/add", headers=HTML).status_code == 200  # the first look is kept
    before = everything(desk.folder.parent)
    took, most, said = [], 0, []
    for each in files_sent(seeds):
        began = time.monotonic()
        door = "photo" if each.name.endswith((".jpg", ".png", ".heic")) else "file"
        path = f"{BOOK}/add/{door}?name={quote(each.name)}"
        answer = desk.post(path, content=each.data, headers=JSON)
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
