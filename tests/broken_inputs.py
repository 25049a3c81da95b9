"""Broken inputs, each with the words its sentence must contain; run through the command line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.store import create
from clothwright.units import Unit
from clothwright.workbook import Workbook

Case = tuple[str, Callable[[Path], list[str]], str]
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">'


def _book(folder: Path) -> Path:
    create(folder / "w", Workbook(title="t", unit=Unit.cm))
    return folder / "w"


def _full(folder: Path) -> Path:
    create(folder / "w", replace(checked_waistcoat(), steps=()))
    return folder / "w"


def _chart(text: str) -> Callable[[Path], list[str]]:
    def write(folder: Path) -> list[str]:
        file = folder / "chart.txt"
        file.write_bytes(text.encode("utf-8", errors="surrogateescape"))
        return ["body", str(_book(folder)), "--chart", str(file)]

    return write


def _adding(data: bytes, *options: str) -> Callable[[Path], list[str]]:
    def write(folder: Path) -> list[str]:
        file = folder / "d.svg"
        file.write_bytes(data)
        return ["add", str(_book(folder)), str(file), *options]

    return write


def _shape(body: str, *options: str) -> Callable[[Path], list[str]]:
    return _adding(f"{SVG}{body}</svg>".encode(), *options)


def _edited(old: str, new: str, *argv: str) -> Callable[[Path], list[str]]:
    def write(folder: Path) -> list[str]:
        book = _full(folder)
        file = book / "workbook.toml"
        text = file.read_text()
        if old not in text:
            raise AssertionError(f"{old!r} is not in the workbook")
        file.write_text(text.replace(old, new, 1))
        return [argv[0] if argv else "walk", str(book), *argv[1:]]

    return write


def _edited_drawing(old: str, new: str) -> Callable[[Path], list[str]]:
    def write(folder: Path) -> list[str]:
        book = _full(folder)
        file = book / "pieces" / "front.svg"
        text = file.read_text()
        if old not in text:
            raise AssertionError(f"{old!r} is not in the drawing")
        file.write_text(text.replace(old, new, 1))
        return ["walk", str(book)]

    return write


def _without_drawing(folder: Path) -> list[str]:
    book = _full(folder)
    next((book / "pieces").iterdir()).unlink()
    return ["walk", str(book)]


def _cut_short(folder: Path) -> list[str]:
    book = _full(folder)
    file = book / "workbook.toml"
    file.write_bytes(file.read_bytes()[:700] + b'\nwidth = "unfinished')
    return ["lay", str(book)]


BOX = '<path d="M0 0h100v60h-100z"/>'
BOMB = b'<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><svg>&b;</svg>'

BROKEN: tuple[Case, ...] = (
    ("no file", lambda f: ["add", str(_book(f)), str(f / "none.svg")], "cannot be read"),
    ("not xml", _adding(b"hello, I am a letter"), "not well-formed"),
    ("empty drawing", _adding(b""), "empty"),
    ("truncated drawing", _adding(SVG.encode() + b'<path d="M0 0h1'), "not well-formed"),
    ("entity bomb", _adding(BOMB), "DOCTYPE"),
    ("not a drawing", _adding(b"<html><body/></html>"), "svg element"),
    ("no outline", _shape('<path d="M0 0h50"/>', "--allowance", "none"), "no closed outline"),
    (
        "crossing outline",
        _shape('<path d="M0 0h100v60h-50v-80z"/>', "--allowance", "none"),
        "crosses",
    ),
    ("points nowhere", _shape('<path d="M0 0h1e300v60z"/>', "--allowance", "none"), "nowhere"),
    ("allowance not answered", _shape(BOX), "--allowance"),
    ("allowance nonsense", _shape(BOX, "--allowance", "five eighths"), "not a length"),
    ("allowance too wide", _shape(BOX, "--allowance", "4 cm"), "nothing of it"),
    (
        "scale not answered",
        _adding(
            b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h9v6z"/></svg>',
            "--allowance",
            "none",
        ),
        "--scale",
    ),
    (
        "a size in pixels",
        _adding(
            b'<svg xmlns="http://www.w3.org/2000/svg" width="800px" height="600px" '
            b'viewBox="0 0 400 300"><path d="M0 0h90v60z"/></svg>',
            "--allowance",
            "none",
        ),
        "--scale",
    ),
    (
        "a drawing that uses itself",
        _shape('<g id="a"><use href="#a"/></g>', "--allowance", "none"),
        "uses itself",
    ),
    ("bad path data", _shape('<path d="M0 0 L 3 oops"/>', "--allowance", "none"), "lacks numbers"),
    ("bad transform", _shape('<g transform="turn(3)"/>', "--allowance", "none"), "transform"),
    ("wrong number of edges", _shape(BOX, "--allowance", "none", "--edges", "a,b,c"), "3 names"),
    ("no such fold", _shape(BOX, "--allowance", "none", "--fold", "middle"), "no edge"),
    ("cut nonsense", _shape(BOX, "--allowance", "none", "--cut", "twice"), "how to cut"),
    ("wrong kind of file", lambda f: ["add", str(_book(f)), str(f / "a.doc")], "not read yet"),
    ("no workbook", lambda f: ["walk", str(f / "none")], "no workbook"),
    ("truncated workbook", _cut_short, "not a readable workbook"),
    ("unknown entry", _edited("gap =", "gpa ="), 'Did you mean "gap"?'),
    ("width nonsense", _edited('width = "', 'width = "x'), "not a length"),
    ("not a number", _edited("margin_start = ", "margin_start = nan  # "), "not a length"),
    ("negative length", _edited('width = "', 'width = "-'), "more than 0"),
    ("wrong type", _edited("for_child = false", 'for_child = "no"'), "for_child"),
    (
        "change misspelt in the file",
        _edited("[[cloth]]", '[[change]]\nkind = "croop"\n[[cloth]]'),
        'change 1, kind: there is no change "croop". Did you mean "crop"?',
    ),
    (
        "drawing without an edge",
        _edited_drawing('data-edge="hem"', 'data-egde="hem"'),
        "the next edge",
    ),
    ("drawing of nonsense", _edited_drawing('data-allowance="', 'data-allowance="x'), "line "),
    ("newer format", _edited("format = 4", "format = 5"), "newer Clothwright"),
    ("piece without drawing", _without_drawing, "cannot be read"),
    ("drawing outside", _edited('file = "pieces/', 'file = "../pieces/'), "outside"),
    (
        "piece twice",
        _edited("[[seam]]", '[[piece]]\nname = "front"\nfile = "pieces/front.svg"\n[[seam]]'),
        "stands twice",
    ),
    ("seam to nowhere", _edited('a = ["front.', 'a = ["frnt.'), 'Did you mean "front"?'),
    ("unknown plan", lambda f: ["lay", str(_full(f)), "--plan", "stripes"], "no plan"),
    ("no time", lambda f: ["lay", str(_full(f)), "--seconds", "-1"], "--seconds"),
    ("unknown change", lambda f: ["change", str(_full(f)), "croop"], 'Did you mean "crop"?'),
    ("change without answers", lambda f: ["change", str(_full(f)), "crop"], "is missing"),
    (
        "change of a piece that is not there",
        lambda f: ["change", str(_full(f)), "crop", "edges=frnt.hem", "length=40 cm"],
        'Did you mean "front"?',
    ),
    ("no such paper", lambda f: ["print", str(_full(f)), "--paper", "A17"], "A17"),
    (
        "nothing like that to print",
        lambda f: ["print", str(_full(f)), "--as", "posters"],
        "posters",
    ),
    ("unknown demo", lambda f: ["demo", "coat-and-skrit", "--out", str(f)], "Did you mean"),
    ("unknown command", lambda f: ["cuddle", str(f)], "cuddle"),
    (
        "measurement of nothing",
        lambda f: ["body", str(_book(f)), "--set", "hipp=97"],
        'Did you mean "hip"?',
    ),
    ("measurement no length", lambda f: ["body", str(_book(f)), "--set", "hip=much"], "a length"),
    (
        "chart that is not there",
        lambda f: ["body", str(_book(f)), "--chart", "no"],
        "cannot be read",
    ),
    ("chart with a gap", _chart("size 8 10\nbust 80"), "line 2: 1 number for 2 sizes"),
    ("chart of bytes", _chart("size \udcff 8"), "as text"),
    ("no size to take", lambda f: ["body", str(_book(f)), "--take"], "a size chart"),
    ("body with a slip", _edited("[[seam]]", '[body]\nhipp = "9 cm"\n[[seam]]'), "not known"),
    (
        "chart in the file with a slip",
        _edited("[[seam]]", '[chart]\ntext = "size 8 10\\nbust 80"\n[[seam]]'),
        "line 2: 1 number",
    ),
    ("unit nonsense", lambda f: ["new", str(f / "n"), "--unit", "ells"], "ells"),
    ("number wanted", lambda f: ["lay", str(_full(f)), "--seconds", "soon"], "soon"),
)
