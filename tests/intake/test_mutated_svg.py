"""Two hundred broken drawings (demo data, damaged): a piece or a sentence, never anything else."""

from __future__ import annotations

import random
import re

import pytest

from clothwright.errors import ClothwrightError
from clothwright.intake.answers import Answers
from clothwright.intake.svg import read_svg
from clothwright.units import Unit
from tests.intake.proposing import propose
from tests.web.intake_demo import bare, demo_piece

ALLOWANCES = ("drawn", "5/8 in", "none")
"""One of them for each drawing: every kind of damage (one in five) meets all three."""
PIECES = ("coat front", "coat sleeve", "skirt front", "waistband", "lining back")


def damaged(seed: int) -> bytes:
    """Return a drawing cut off, with other letters, numbers, elements or commands."""
    rng = random.Random(seed)
    text = bare(demo_piece(rng.choice(PIECES))).decode()
    kind = seed % 5
    if kind == 0:
        return (text[: rng.randrange(len(text))] + "</svg>").encode()
    if kind == 1:
        data = bytearray(text.encode())
        for _ in range(rng.randrange(1, 6)):
            data[rng.randrange(len(data))] = rng.randrange(256)
        return bytes(data)
    if kind == 2:
        for found in rng.sample(re.findall(r"-?\d+\.\d+", text), 3):
            text = text.replace(found, rng.choice(["0", "1e9", "-5", "nan", "300.5", "1e-9"]), 1)
        return text.encode()
    if kind == 3:
        lines = text.split("\n")
        for _ in range(rng.randrange(1, 5)):
            i = rng.randrange(1, len(lines) - 1)
            if rng.random() < 0.5:
                lines.pop(i)
            else:
                lines.insert(rng.randrange(6, len(lines) - 1), lines[i])
        return "\n".join(lines).encode()
    return text.replace(" M", " m", rng.randrange(1, 3)).replace("C", "c", 1).encode()


@pytest.mark.parametrize("start", range(0, 200, 20))
def test_damaged_drawings(start):
    """Whatever is broken, what comes of it is pieces, or one of our own sentences."""
    told = []
    for seed in range(start, start + 20):
        try:
            drawing = read_svg(damaged(seed), "d.svg")
        except ClothwrightError as error:
            told.append(str(error))
            continue
        try:
            got = propose(drawing, Answers(allowance=ALLOWANCES[seed % 3]), unit=Unit.inch)
        except ClothwrightError as error:
            told.append(str(error))
        else:
            told.append(", ".join(p.name for p in got.pieces))
    assert len(told) == 20
    assert all(told)
