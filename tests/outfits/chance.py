"""Prints by chance: repeats, drops, mirror lines, half turns and borders in all their mixtures."""

from __future__ import annotations

import random
from dataclasses import replace

from clothwright.cloth.prints import Border, Print
from clothwright.rules.kinds.may_run_into import MayRunInto
from clothwright.rules.plan import Plan
from clothwright.workbook import Workbook

ALONG = (20.0, 33.0, 50.0, 75.5, 127.3, 300.0)
ACROSS = (18.0, 35.0, 60.0, 88.8, 210.0)


def printed(book: Workbook, seed: int) -> Workbook:
    """Return an outfit on cloths printed by chance, its pieces free to lie on the borders."""
    rng = random.Random(seed)
    cloths = tuple(
        replace(c, print=by_chance(rng), nap=False) if c.material == "shell" else c
        for c in book.cloths
    )
    rules = tuple(
        MayRunInto(piece=piece.name, border=border.name)
        for cloth in cloths
        for border in cloth.print.borders
        for piece in book.bought.pieces
        if cloth.material in [cut.material for cut in piece.cuts]
    )
    return replace(book, cloths=cloths, plans=(Plan(name="anywhere", rules=rules),), chosen_plan="")


def by_chance(rng: random.Random) -> Print:
    """Return a print. One mirror line each way is said: a second would have to agree with it."""
    ways = rng.choice(["both", "both", "along", "across", "none"])
    along = rng.choice(ALONG) if ways in ("both", "along") else None
    across = rng.choice(ACROSS) if ways in ("both", "across") else None
    mirrors = [_place(rng, repeat) for repeat in (along, across)]
    turn = (round(rng.uniform(0, 40), 2), round(rng.uniform(0, 40), 2))
    return Print(
        repeat_along=along,
        repeat_across=across,
        origin_along=round(rng.uniform(0, 50), 2),
        origin_across=round(rng.uniform(0, 50), 2),
        drop=rng.choice(["straight", "half-drop", "brick"]) if ways == "both" else "straight",
        axes_along=mirrors[0],
        axes_across=mirrors[1],
        half_turn=turn if not any(mirrors) and rng.random() < 0.4 else None,
        borders=tuple(_borders(rng)),
    )


def _place(rng: random.Random, repeat: float | None) -> tuple[float, ...]:
    return (round(rng.uniform(0, repeat / 2), 2),) if repeat and rng.random() < 0.5 else ()


def _borders(rng: random.Random) -> list[Border]:
    """Return borders without a top, so that every piece may lie on them any way round."""
    return [
        Border(
            name=side,
            side=side,
            base=rng.uniform(0, 60),
            height=rng.uniform(40, 200),
            repeat=rng.choice([None, 45.0, 70.0]),
            down="either",
        )
        for side in ("lower", "upper")
        if rng.random() < 0.55
    ]
