"""The table of all edits, run through all promises by test_edits.py.

A new edit adds one row: the edit on the workbook BOOK, and what the record says of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.body.toile import ToileNote
from clothwright.cloth.prints import Print, PrintPicture
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.pattern.pattern import Along, Companion
from clothwright.pattern.piece import Cut
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.pin import Pin
from clothwright.units import Unit
from clothwright.workbook import Step, Workbook
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits import (
    changes,
    cloths,
    companions,
    names,
    pieces,
    pins,
    plans,
    rules,
    seams,
    toile,
    wearer,
    whole,
)

PHOTO = "0123456789abcdef0123.png"
"""A photo of a cloth: its name tells nothing, and its bytes are asked for by no edit."""
DEMO = checked_waistcoat()
PIN = Pin(piece="pocket", copy=1, cloth="check", x=1.0, y=2.0, turn_deg=0.0)
LINING = replace(DEMO.bought.piece("front"), name="lining front", cuts=(Cut(material="lining"),))
"""A lining that is drawn like its front; demo data."""
BOOK: Workbook = replace(
    DEMO,
    unit=Unit.inch,
    bought=replace(
        DEMO.bought,
        pieces=(*DEMO.bought.pieces, LINING),
        companions=(
            Companion(
                piece="lining front",
                kind="lining",
                of=(Along(edge="side", piece="front", edge_of="side"),),
            ),
        ),
    ),
    steps=(
        Step(change="set-allowance", params={"edges": "front.side", "amount": "3/4 in"}),
        Step(change="set-allowance", params={"edges": "back.side", "amount": "1 in"}),
        Step(change="lengthen", params={"pieces": "front", "level": "waist", "by": "1/2 in"}),
    ),
    plans=(
        replace(
            DEMO.plans[0],
            rules=(
                *DEMO.plans[0].rules,
                Pin(piece="pocket", copy=1, cloth="check", x=1.0, y=2.0, turn_deg=0.0),
            ),
        ),
        *DEMO.plans[1:],
    ),
    chosen_plan="as it falls",
    toile=(ToileNote(name="1", where="back.side", seen="pinned-out", by=12.7),),
    cloths=(
        DEMO.cloths[0],
        replace(
            DEMO.cloths[1],
            print=Print(picture=PrintPicture(file=PHOTO, width=100.0, height=80.0)),
        ),
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One edit of BOOK. words: what the record says of it; "…" stands for what a change says."""

    edit: Edit
    words: str


HEM = {"edges": "front.hem", "depth": "1 1/2 in"}
BORDER = {"name": "leaves", "side": "lower", "base": "1 in", "height": "3 in"}
POCKET = replace(DEMO.bought.piece("pocket"), name="ticket pocket")

ROWS: tuple[Row, ...] = (
    Row(
        edit=changes.AddChange(kind="set-hem", params=HEM),
        words="Set the hem of front…",
    ),
    Row(
        edit=changes.AddChange(
            kind="lengthen",
            params={"pieces": "front", "level": "waist", "by": "1 in"},
            alike="yes",
        ),
        words="Lengthened front by 1 in at the waist line.…Lengthened lining front by 1 in at the "
        "waist line.",
    ),
    Row(
        edit=changes.AddChange(kind="set-hem", params=HEM, on=False, at=1),
        words="Added a change (set hem depth and corners), switched off",
    ),
    Row(
        edit=changes.SetChange(change="1", params={"amount": "1/2 in"}),
        words="Change 1 set: Set the allowance of front…",
    ),
    Row(
        edit=changes.SetChange(change="2", why="as the toile showed"),
        words="Another reason for change 2 (set seam allowances)",
    ),
    Row(
        edit=changes.RemoveChange(change="1"),
        words="Removed change 1 (set seam allowances)",
    ),
    Row(
        edit=changes.RepeatChange(change="3"),
        words="Lengthened lining front by 1/2 in at the waist line. Space the buttons of lining "
        "front anew.",
    ),
    Row(
        edit=changes.MoveChange(change="1", to=2),
        words="Moved change 1 (set seam allowances) to place 2",
    ),
    Row(
        edit=changes.SwitchChange(change="2", on=False),
        words="Switched change 2 (set seam allowances) off",
    ),
    Row(
        edit=cloths.AddCloth(values={"name": "canvas", "width": 36, "material": "canvas"}),
        words='Added the cloth "canvas", 36 in wide',
    ),
    Row(
        edit=cloths.SetCloth(
            cloth="check",
            values={
                "width": "45 in",
                "length": "3 yd",
                "nap": True,
                "shrink_along": "3 %",
                "print": {"repeat_along": "2 in", "border": [BORDER]},
            },
        ),
        words='Cloth "check": width 45 in, length 108 in, with a nap, shrinks along by 3 %, '
        'border "leaves" added, repeat along 2 in',
    ),
    Row(
        edit=cloths.SetCloth(cloth="check", values={"name": "tweed"}),
        words='Cloth "check": called "tweed" now',
    ),
    Row(edit=cloths.RemoveCloth(cloth="check"), words='Removed the cloth "check"'),
    Row(
        edit=cloths.SetPicture(
            cloth="check",
            values={"file": PHOTO, "width": "20 in", "height": "18 in"},
        ),
        words='Cloth "check": shown by its photo',
    ),
    Row(edit=cloths.RemovePicture(cloth="lining"), words='Cloth "lining": no photo any more'),
    Row(edit=plans.AddPlan(plan="bold", like="matched"), words='Added the plan "bold"'),
    Row(
        edit=plans.SetPlan(plan="matched", name="all bars meet"),
        words='Called the plan "matched" "all bars meet"',
    ),
    Row(
        edit=plans.SetPlan(plan="", why="to compare"),
        words='Another reason for the plan "as it falls"',
    ),
    Row(edit=plans.RemovePlan(plan="as it falls"), words='Removed the plan "as it falls"'),
    Row(edit=plans.ChoosePlan(plan="matched"), words='Chose the plan "matched"'),
    Row(
        edit=plans.PutPlans(
            plans=(
                replace(DEMO.plans[1], name="lengthwise"),
                replace(DEMO.plans[1], rules=(Folded(cloth="check", way="lengthwise"),)),
            ),
            chosen="lengthwise",
        ),
        words='Added the plan "lengthwise"; Plan "as it falls", added: check is laid double, '
        "lengthwise",
    ),
    Row(
        edit=plans.SetWishes(wishes=("middle of the front", "level round the body")),
        words="Wishes in this order: middle of the front and level round the body",
    ),
    Row(
        edit=rules.AddRule(plan="as it falls", values={"kind": "one-way", "pieces": ["front"]}),
        words='Plan "as it falls", added: all tops one way: front',
    ),
    Row(
        edit=rules.SetRule(plan="matched", rule=1, values={"across": "1 in"}),
        words='Plan "matched", now: back, centre back, lies 1 in past the start of the repeat, '
        "measured across the cloth",
    ),
    Row(
        edit=rules.RemoveRule(plan="matched", rule=4),
        words='Plan "matched", removed: the print meets in height at front, side hem, '
        "and back, side hem",
    ),
    Row(
        edit=rules.MoveRule(plan="matched", rule=4, to=1),
        words='Plan "matched", now counts as number 1 of 6: the print meets in height at front, '
        "side hem, and back, side hem",
    ),
    Row(
        edit=pins.PinShape(plan="", piece="front", copy=2, cloth="check", x=20.0, y=30.0),
        words='Plan "as it falls": pinned front, copy 2, on "check"',
    ),
    Row(
        edit=pins.UnpinShape(plan="matched", piece="pocket", copy=1),
        words='Plan "matched": unpinned pocket',
    ),
    Row(
        edit=seams.AddSeam(
            values={"name": "pocket", "a": ["pocket.hem"], "b": ["front.hem"], "ease": "1 in"}
        ),
        words='Added the seam "pocket": pocket, hem to front, hem',
    ),
    Row(
        edit=seams.SetSeam(seam="side", values={"ease": "1/4 in", "kind": "closure"}),
        words='Seam "side": ease 1/4 in, a closure seam',
    ),
    Row(
        edit=seams.SetSeam(
            seam="side",
            values={"join": "pleated", "ease": "3 in", "folds": "3", "fold_to": "end"},
        ),
        words='Seam "side": ease 3 in, pleated now, 3 folds, folds towards its end',
    ),
    Row(
        edit=companions.AddCompanion(piece="pocket", kind="pocket", along=("front",)),
        words='The piece "pocket" goes with front, as pocket',
    ),
    Row(
        edit=companions.RemoveCompanion(piece="lining front"),
        words='The piece "lining front" goes with no other',
    ),
    Row(
        edit=names.AddLevel(piece="back", name="hip", at="hem start", above="2 in"),
        words="Marked the hip line on back",
    ),
    Row(
        edit=names.AddPoint(piece="back", name="blade", at="neck start", right="-1 in", up="-4 in"),
        words='Marked the point "blade" on back',
    ),
    Row(
        edit=names.NameCorner(piece="pocket", edge="hem", name="opening"),
        words='The corner of pocket where its hem starts is "opening"',
    ),
    Row(
        edit=names.NameNotch(piece="back", edge="side", notch=1, name="hip height"),
        words='Notch 1 on the side of back is "hip height"',
    ),
    Row(edit=seams.RemoveSeam(seam="side"), words='Removed the seam "side"'),
    Row(edit=pieces.AddPieces(pieces=(POCKET,)), words="Added ticket pocket"),
    Row(edit=pieces.RemovePiece(piece="pocket"), words="Removed the piece pocket"),
    Row(
        edit=wearer.SetBody(values={"bust": "36 1/2", "hip": "38 in"}),
        words="Measured: bust girth and hip girth",
    ),
    Row(
        edit=wearer.SetChart(text="size 8 10\nbust 31 1/2 32 1/2", name="the envelope's"),
        words='Size chart "the envelope\'s"',
    ),
    Row(
        edit=toile.NoteToile(
            values={"where": "front.side", "seen": "let-out", "by": "1/2", "day": "2026-11-29"}
        ),
        words="The toile of 29 November 2026 showed at front, side: too little cloth, it had to be "
        "let out, by 1/2 in.",
    ),
    Row(
        edit=toile.SetToile(note="1", values={"by": "3/4 in", "answer": "left"}),
        words="The toile, back, side: by 3/4 in, left as it is",
    ),
    Row(edit=toile.RemoveToile(note="1"), words="Removed a note of the toile: back, side"),
    Row(edit=whole.SetUnit(unit="cm"), words="Lengths are shown in centimetres now"),
    Row(
        edit=whole.SetSettings(values={"gap": "1/8 in", "paper": "Letter"}),
        words="Settings: room between cutting lines 1/8 in, paper Letter",
    ),
    Row(
        edit=whole.RenameWorkbook(title="for the spring"),
        words='Called the workbook "for the spring"',
    ),
    Row(edit=whole.SetNotes(notes="press well"), words="Other notes"),
    Row(
        edit=whole.Several(
            edits=(whole.SetNotes(notes="press"), changes.RemoveChange(change="2")),
        ),
        words="Other notes; Removed change 2 (set seam allowances)",
    ),
)
