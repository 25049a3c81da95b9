"""Damage of every kind to every file that is read in a workbook's folder, from a fixed start."""

from __future__ import annotations

import gzip
import os
import random
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

MANY = 400
HUGE = "9" * 5000
DEEP = 20_000

Damage = Callable[[Path, random.Random, Path], None]
"""Damages a file of the workbook. Path: where something lies outside that nobody may touch."""


class Mutant(NamedTuple):
    """One damage to one file. file: its path in the workbook. seed: of what is left to chance."""

    file: str
    kind: str
    seed: int

    def do(self, folder: Path, outside: Path) -> None:
        """Damage the workbook in a folder."""
        DAMAGES[self.kind](folder / self.file, random.Random(self.seed), outside)


# --- whatever the file is -------------------------------------------------------------------------


def _cut(file: Path, rng: random.Random, _: Path) -> None:
    data = file.read_bytes()
    file.write_bytes(data[: rng.randrange(len(data))])


def _flipped(many: int) -> Damage:
    def flip(file: Path, rng: random.Random, _: Path) -> None:
        data = bytearray(file.read_bytes())
        for _k in range(many):
            data[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
        file.write_bytes(data)

    return flip


def _hole(file: Path, rng: random.Random, _: Path) -> None:
    data = bytearray(file.read_bytes())
    at = rng.randrange(len(data))
    data[at : at + 512] = bytes(len(data[at : at + 512]))
    file.write_bytes(data)


def _written(data: bytes) -> Damage:
    return lambda file, _rng, _out: _put(file, data)


def _put(file: Path, data: bytes) -> None:
    file.write_bytes(data)


def _noise(file: Path, rng: random.Random, _: Path) -> None:
    file.write_bytes(rng.randbytes(3000))


def _twice(file: Path, _rng: random.Random, _out: Path) -> None:
    file.write_bytes(file.read_bytes() * 2)


def _no_file(file: Path, _rng: random.Random, _out: Path) -> None:
    file.unlink()


def _folder(file: Path, _rng: random.Random, _out: Path) -> None:
    file.unlink()
    file.mkdir()
    (file / "hers.txt").write_text("hers")


def _link(to: str) -> Damage:
    def link(file: Path, _rng: random.Random, out: Path) -> None:
        target = out / to
        target = target if to != "relative" else Path(os.path.relpath(out / "diary", file.parent))
        file.unlink()
        file.symlink_to(target)

    return link


def _linked_folder(file: Path, _rng: random.Random, out: Path) -> None:
    """The folder that the file lies in leads outside, where the same files lie."""
    shutil.copytree(file.parent, out / "copied")
    shutil.rmtree(file.parent)
    file.parent.symlink_to(out / "copied")


def _pipe(file: Path, _rng: random.Random, _out: Path) -> None:
    file.unlink()
    os.mkfifo(file)


ANY: dict[str, Damage] = {
    "cut": _cut,
    "one bit": _flipped(1),
    "ten bits": _flipped(10),
    "many bits": _flipped(300),
    "a hole": _hole,
    "empty": _written(b""),
    "noise": _noise,
    "twice": _twice,
    "zeros": _written(bytes(5000)),
    "gone": _no_file,
    "a folder": _folder,
    "a relative link": _link("relative"),
    "an absolute link": _link("diary"),
    "a link to a folder": _link("letters"),
    "a link to nothing": _link("not there"),
    "a pipe": _pipe,
}


# --- text of some form ----------------------------------------------------------------------------

ODD = (
    *(
        HUGE,
        "9" * 400,
        "-" + HUGE,
        "1e999",
        "NaN",
        "-1",
        "1e308",
        "0",
        "true",
        "null",
        "[]",
        "{}",
        '""',
    ),
    *('"../../diary"', '"/etc/hostname"', '"a\\u0000b"', '"\\ud800"', '"x/../../../diary"', '"."'),
    *("[" * DEEP + "]" * DEEP, '{"a":' * DEEP + "1" + "}" * DEEP, '"' + "x" * 100_000 + '"'),
    *('"other/9"', "[[[1e999]]]", '{"../../diary": 1}', "[null, null]"),
)
"""Odd values as they stand in JSON; most are values of TOML, too."""
FORMATS = ('"clothwright-other/1"', "99", "-1", "null", HUGE, '["a"]')


def _odd_value(file: Path, rng: random.Random, _: Path) -> None:
    """Put an odd value in the place of one after a colon, an equals sign or a comma."""
    text = file.read_text("utf-8")
    found = list(re.finditer(r'(?<=[:=,\[] )?("[^"\n]*"|-?\d[\d.]*|true|false)(?! *[:=])', text))
    at = rng.choice(found)
    file.write_text(text[: at.start()] + rng.choice(ODD) + text[at.end() :], "utf-8")


def _odd_format(file: Path, rng: random.Random, _: Path) -> None:
    text = file.read_text("utf-8")
    odd = rng.choice(FORMATS)
    file.write_text(re.sub(r'("?format"?\s*[:=]\s*)("[^"]*"|\d+)', rf"\g<1>{odd}", text, count=1))


def _odd_text(file: Path, rng: random.Random, _: Path) -> None:
    file.write_text(rng.choice(ODD), "utf-8", errors="surrogatepass")


def _lines_lost(file: Path, rng: random.Random, _: Path) -> None:
    lines = file.read_text("utf-8").splitlines(keepends=True)
    file.write_text("".join(line for line in lines if rng.random() < 0.8), "utf-8")


def _other_letters(file: Path, rng: random.Random, _: Path) -> None:
    text = file.read_text("utf-8")
    file.write_bytes(text.encode(rng.choice(("utf-16", "utf-32", "utf-8-sig"))))


def _outside_name(file: Path, rng: random.Random, out: Path) -> None:
    """Let every name of a file in a text lead outside, in one of the ways there are."""
    text = file.read_text("utf-8")
    way = rng.choice(("../../diary", "../outside/diary", str(out / "diary"), "pieces/../../diary"))
    named = re.sub(r"[\w /.-]+\.(?:svg|jpg|png|txt|json|toml)", way, text)
    file.write_text(named, "utf-8")


TEXT: dict[str, Damage] = {
    "an odd value": _odd_value,
    "another odd value": _odd_value,
    "a third odd value": _odd_value,
    "an odd format": _odd_format,
    "something else": _odd_text,
    "lines lost": _lines_lost,
    "other letters": _other_letters,
    "names outside": _outside_name,
}


# --- drawings, pictures, copies -------------------------------------------------------------------


def _odd_number(file: Path, rng: random.Random, _: Path) -> None:
    text = file.read_text("utf-8")
    found = list(re.finditer(r"\d+\.?\d*", text))
    at = rng.choice(found)
    odd = rng.choice((HUGE, "1e999", "nan", "-1e300", "0", "²"))
    file.write_text(text[: at.start()] + odd + text[at.end() :], "utf-8")


def _nested(file: Path, _rng: random.Random, _out: Path) -> None:
    text = file.read_text("utf-8")
    start = text.index(">", text.index("<svg")) + 1
    end = text.rindex("</svg>")
    file.write_text(text[:start] + "<g>" * DEEP + text[start:end] + "</g>" * DEEP + text[end:])


def _entities(file: Path, _rng: random.Random, out: Path) -> None:
    """Entities that grow a thousandfold, and one that reads a file outside."""
    rows = "".join(f'<!ENTITY e{k} "{f"&e{k - 1};" * 10}">' for k in range(1, 12))
    own = f'<!ENTITY e0 "0123456789"><!ENTITY out SYSTEM "file://{out / "diary"}">'
    body = "<svg xmlns='http://www.w3.org/2000/svg'><desc>&e11;&out;</desc></svg>"
    file.write_text(f"<?xml version='1.0'?><!DOCTYPE svg [{own}{rows}]>{body}")


DRAWN: dict[str, Damage] = {
    "an odd number": _odd_number,
    "another odd number": _odd_number,
    "nested": _nested,
    "entities": _entities,
    "lines lost": _lines_lost,
}


def _claims_much(file: Path, _rng: random.Random, _out: Path) -> None:
    """A picture whose head says it has four thousand million pixels."""
    head = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR" + (65_000).to_bytes(4, "big") * 2
    file.write_bytes(head + b"\x08\x02\0\0\0" + bytes(100))


def _unpacks_to_much(file: Path, _rng: random.Random, _out: Path) -> None:
    """Twenty million bytes of zeros, a hundred times over, packed."""
    file.write_bytes(gzip.compress(bytes(20_000_000), 9, mtime=0) * 100)


PICTURE: dict[str, Damage] = {"claims much": _claims_much}
PACKED: dict[str, Damage] = {
    "unpacks to much": _unpacks_to_much,
    "its folder linked": _linked_folder,
}
DAMAGES = {**ANY, **TEXT, **DRAWN, **PICTURE, **PACKED}


def mutants(folder: Path) -> tuple[Mutant, ...]:
    """Return `MANY` mutants of the files in a workbook's folder, every file and every kind."""
    rng = random.Random(11)
    rows = list(_all(folder))
    rng.shuffle(rows)
    first = {row.file: row for row in rows} | {row.kind: row for row in rows}
    rest = [row for row in rows if row not in first.values()]
    return (*dict.fromkeys(first.values()), *rest)[:MANY]


def _all(folder: Path) -> Iterator[Mutant]:
    packed = sorted(folder.rglob("*.gz"))
    for file in sorted(p for p in folder.rglob("*") if p.is_file() and p not in packed[2:]):
        name = file.relative_to(folder).as_posix()
        kinds = dict(ANY)
        if file.suffix in (".toml", ".json", ".jsonl", ".txt") or file.name == ".saving":
            kinds |= TEXT
        if file.suffix == ".svg":
            kinds |= DRAWN
        if file.suffix in (".jpg", ".png"):
            kinds |= PICTURE
        if file.suffix == ".gz":
            kinds |= PACKED
        for n, kind in enumerate(kinds):
            yield Mutant(name, kind, 1000 * n + len(name))


def plain(folder: Path) -> dict[str, bytes | str | None]:
    """Return every file below a folder by its path; a folder is None, a link where it leads."""
    out: dict[str, bytes | str | None] = {}
    for each in sorted(folder.rglob("*")):
        name = each.relative_to(folder).as_posix()
        if each.is_symlink():
            out[name] = str(each.readlink())
        else:
            out[name] = each.read_bytes() if each.is_file() else None
    return out
