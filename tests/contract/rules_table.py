"""The table of all placing rules, run through all promises by test_rules.py.

A new rule adds at least one row, on the skirt and the cloths below.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from tests.lay.panels import bordered, skirt

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Figure
from clothwright.geometry.vec import Vec
from clothwright.lay import problem as put
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.chevron import Chevron
from clothwright.rules.kinds.clear import Clear
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.figure_centred import FigureCentred
from clothwright.rules.kinds.figure_whole import FigureWhole
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.may_run_into import MayRunInto
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.meets_dart import MeetsDart
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import PlacingRule


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One rule on the specimen.

    says: the rule in words, lengths in inches. asks: the rules on shapes that it becomes.
    wrong: other values of its fields that must be refused, by the field the mistake is about;
    names that are not there are planted in every field by themselves.
    against: a rule of its kind that cannot hold together with it, None when there is none.
    binds: every piece on the cloth may be laid otherwise because of it, not only those it names.
    """

    rule: PlacingRule
    says: str
    asks: tuple[type, ...] = ()
    wrong: tuple[tuple[str, Mapping[str, Any]], ...] = field(default=())
    against: PlacingRule | None = None
    binds: bool = False

    @property
    def label(self) -> str:
        """The kind and the pieces, for a report."""
        return type(self.rule).__name__


def pattern() -> Pattern:
    """A front on the fold with a dart in its side, a pair of backs."""
    plain = skirt()
    dart = Dart(name="bust dart", edge="right", a=250.0, b=280.0, point=Vec(120.0, 265.0))
    return plain.with_piece(replace(plain.piece("front"), darts=(dart,)))


def cloths() -> tuple[Cloth, ...]:
    """A checked cloth with a border and a rose, and a plain one."""
    check = bordered()
    design = replace(
        check.print,
        borders=(replace(check.print.borders[0], name="scroll"),),
        figures=(
            Figure(name="rose", x=20.0, y=300.0, radius=15.0),
            Figure(name="leaf", x=5.0, y=300.0, radius=4.0),
        ),
    )
    plain = Cloth(name="plain", width=900.0, material="lining")
    return replace(check, name="check", print=design), plain


ROWS: tuple[Row, ...] = (
    Row(
        rule=OnBorder(piece="front", edge="hem", border="scroll", above=19.05),
        says="front, hem, lies along the scroll, 3/4 in above its lower line",
        asks=(put.OnLine,),
        against=OnBorder(piece="front", edge="hem", border="scroll", above=25.4),
    ),
    Row(
        rule=OnBorder(piece="front", edge="hem", border="scroll", follows="best"),
        says="front, hem, lies along the scroll, as far below as above the line",
        asks=(put.OnLine,),
        against=OnBorder(piece="front", edge="hem", border="scroll", follows="sides"),
    ),
    Row(
        rule=OnBorder(piece="front", edge="hem", border="scroll", above=-12.7),
        says="front, hem, lies along the scroll, 1/2 in below its lower line",
        asks=(put.OnLine,),
        against=OnBorder(piece="front", edge="hem", border="scroll"),
    ),
    Row(
        rule=OnBorder(piece="front", edge="hem", border="scroll", lower=12.7, higher=25.4),
        says="front, hem, lies along the scroll, up to 1/2 in lower or 1 in higher",
        asks=(put.OnLine,),
        against=OnBorder(piece="front", edge="hem", border="scroll", above=12.7),
    ),
    Row(
        rule=Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left"),
        says="the print meets in height at front, lower right, and back, lower left",
        asks=(put.SamePhase, put.SameTurn),
    ),
    Row(
        rule=Meets(
            piece_a="front",
            point_a="lower right",
            piece_b="back",
            point_b="lower left",
            within=3.175,
        ),
        says="the print meets in height at front, lower right, and back, lower left, "
        "up to 1/8 in apart",
        asks=(put.SamePhase, put.SameTurn),
    ),
    Row(
        rule=MeetsDart(piece="front", point="bust dart point", side="above"),
        says="the print meets in height above the bust dart of front",
        asks=(put.SamePhase, put.SameTurn),
        wrong=(("point", {"point": "lower right"}),),
        against=MeetsDart(piece="front", point="bust dart point"),
        binds=True,
    ),
    Row(
        rule=Chevron(
            piece_a="back", point_a="hem end", piece_b="back", point_b="hem end", bias=True
        ),
        says="the print meets as in a mirror at back, hem end, and its twin, both on the bias",
        asks=(put.MirrorPhase, put.SamePhase, put.SameTurn),
        wrong=(("bias", {"piece_a": "front"}),),
    ),
    Row(
        rule=AtPhase(
            piece="back", point="hem start", along=0.0, across=0.0, higher=19.05, aside=6.35
        ),
        says="back, hem start, lies at the start of the repeat, measured along the cloth, and at "
        "the start of the repeat, measured across the cloth, up to 3/4 in higher, up to 1/4 in to "
        "either side",
        asks=(put.AtPhase, put.AtPhase),
    ),
    Row(
        rule=AtPhase(piece="back", point="hem start", along=12.7),
        says="back, hem start, lies 1/2 in past the start of the repeat, measured along the cloth",
        asks=(put.AtPhase,),
    ),
    Row(
        rule=Mirrored(piece="back", point="lower right", way="across"),
        says="the two of back mirror each other's print at lower right",
        asks=(put.MirrorPhase, put.SameTurn, put.SamePhase),
        wrong=(("piece", {"piece": "front"}),),
    ),
    Row(
        rule=FigureCentred(piece="front", point="hem middle", figure="rose", match="upright"),
        says="front, hem middle, lies sideways on the middle of a motif “rose”",
        asks=(put.AtFigure,),
        against=FigureCentred(piece="front", point="hem middle", figure="leaf", match="upright"),
    ),
    Row(
        rule=FigureCentred(piece="back", point="hem middle", figure="rose", higher=12.7),
        says="back, hem middle, lies on the middle of a motif “rose”, up to 1/2 in higher",
        asks=(put.AtPhase,),
        against=FigureCentred(piece="back", point="hem middle", figure="leaf", higher=12.7),
    ),
    Row(
        rule=FigureWhole(piece="back", figure="leaf", by=2.54),
        says="no motif “leaf” on back is cut by a seam, hem, dart or marked line or comes nearer "
        "to one than 1/8 in",
        asks=(put.KeepWhole,),
        wrong=(("figure", {"by": 60.0}),),
    ),
    Row(
        rule=Mirrored(piece="back", point="lower right", within=6.35),
        says="the two of back mirror each other's print at lower right, up to 1/4 in apart",
        asks=(put.MirrorPhase, put.SameTurn, put.SamePhase),
    ),
    Row(
        rule=Clear(piece="back", point="hem start", figure="rose", by=25.4),
        says="back, hem start, keeps clear of every motif “rose” by 1 in",
        asks=(put.KeepClear,),
    ),
    Row(
        rule=KeepOff(piece="back", border="scroll", by=6.35),
        says="back keeps off the scroll by 1/4 in",
        asks=(put.KeepOff,),
        wrong=(("by", {"by": -80.0}),),
    ),
    Row(
        rule=MayRunInto(piece="back", border="scroll"),
        says="back may run into the scroll",
        asks=(),
    ),
    Row(
        rule=OneWay(pieces=("back",)),
        says="all tops one way: back",
        asks=(put.SameTurn,),
    ),
    Row(
        rule=OneWay(outside=("front",)),
        says="all tops one way: every piece but front",
        asks=(put.SameTurn,),
        wrong=(("outside", {"pieces": ("front", "back")}),),
    ),
    Row(
        rule=OnGrain(piece="back", grain="bias", tilt_deg=2.0),
        says="back lies on the bias, tilted by up to 2°",
        against=OnGrain(piece="back", grain="across"),
    ),
    Row(
        rule=CutFrom(piece="back", material="shell", cloth="plain"),
        says="back is cut from plain instead of shell",
        against=CutFrom(piece="back", material="shell", cloth="check"),
    ),
    Row(
        rule=Folded(cloth="plain", way="partial", depth=304.8),
        says="plain is laid double, partial, 12 in deep",
        against=Folded(cloth="plain", way="lengthwise"),
        binds=True,
    ),
    Row(
        rule=Pin(piece="back", copy=2, cloth="check", x=508.0, y=304.8, turn_deg=180.0),
        says="back 2 is pinned on check",
        asks=(put.Pinned,),
    ),
)
