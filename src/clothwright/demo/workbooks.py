"""The list of demo workbooks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.demo.remnant import remnant
from clothwright.demo.three_sizes import three_sizes
from clothwright.workbook import Workbook


@dataclass(frozen=True, slots=True, kw_only=True)
class Demo:
    """A workbook of ours, made by code: its name on the command line, and what it shows."""

    name: str
    title: str
    make: Callable[[], Workbook]


DEMOS = (
    Demo(
        name="coat-and-skirt",
        title="a lined short coat and a panel skirt from one length with a woven border",
        make=coat_and_skirt,
    ),
    Demo(
        name="checked-waistcoat",
        title="a waistcoat on an even check, matched at side, front, back and pocket",
        make=checked_waistcoat,
    ),
    Demo(
        name="remnant",
        title="a short skirt from a corduroy remnant with a hole and a ragged end",
        make=remnant,
    ),
    Demo(
        name="three-sizes",
        title="a panel skirt in three nested sizes, one at the waist and another at the hip",
        make=three_sizes,
    ),
)
"""Every demo, in the order they are offered."""
