"""What a rule names goes along when a cloth, a border or a figure is called something else."""

from __future__ import annotations

from dataclasses import replace

from clothwright.rules.kinds.clear import Clear
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.names import with_cloth
from tests.contract.rules_table import cloths

CHECK = cloths()[0]


def test_a_border_and_a_figure_with_a_new_name():
    """The rules on them say it; rules on other things are the same objects."""
    border = replace(CHECK.print.borders[0], name="vine")
    rose, *others = CHECK.print.figures
    figures = (replace(rose, name="lily"), *others)
    new = replace(CHECK, print=replace(CHECK.print, borders=(border,), figures=figures))
    on = OnBorder(piece="front", edge="hem", border="scroll")
    assert with_cloth(on, CHECK, new) == replace(on, border="vine")
    clear = Clear(piece="front", point="hem start", figure="rose")
    assert with_cloth(clear, CHECK, new) == replace(clear, figure="lily")
    one_way = OneWay()
    assert with_cloth(one_way, CHECK, new) is one_way
    other = KeepOff(piece="front", border="another")
    assert with_cloth(other, CHECK, new) is other


def test_a_border_that_is_taken_out_is_not_another():
    """With fewer borders than before, or two that change places, no rule changes."""
    on = OnBorder(piece="front", edge="hem", border="scroll")
    bare = replace(CHECK, print=replace(CHECK.print, borders=()))
    assert with_cloth(on, CHECK, bare) is on
    second = replace(CHECK.print.borders[0], name="vine", side="upper")
    two = replace(CHECK, print=replace(CHECK.print, borders=(*CHECK.print.borders, second)))
    swapped = replace(two, print=replace(two.print, borders=two.print.borders[::-1]))
    assert with_cloth(on, two, swapped) is on


def test_a_cloth_with_a_new_name():
    """A pin on it says it."""
    pin = Pin(piece="back", copy=1, cloth="check", x=1.0, y=2.0, turn_deg=0.0)
    new = replace(CHECK, name="gingham")
    assert with_cloth(pin, CHECK, new) == replace(pin, cloth="gingham")
