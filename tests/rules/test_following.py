"""Rules, pins and plans go along when a change divides or opens out a piece."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from clothwright.checks.check import BorderEdge
from clothwright.cli.app import run
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.demo.workbooks import DEMOS, Demo
from clothwright.pattern.pattern import Pattern
from clothwright.rules.compile import compile_lay
from clothwright.rules.following import followed, followed_plan
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.names import pieces_of
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.stating import mistaken_rules
from clothwright.store import create, load
from clothwright.workbook import Replay, Step, Workbook, replay
from clothwright.workroom.planning.rule_mistakes import rule_mistakes
from clothwright.workroom.searching.laying import keep_better, lay_plan, recall
from tests.few_rounds import LONG_S
from tests.lay.panels import asked
from tests.listed import with_step

BACK = "skirt back"
UPPER, LOWER = "skirt back upper", "skirt back lower"


def cut() -> Workbook:
    """The demo with the skirt's back cut in two at the hip."""
    return with_step(
        coat_and_skirt(), Step(change="piece-panel", params={"piece": BACK, "line": "hip"})
    )


@cache
def done() -> Replay:
    """Its pieces as changed."""
    return replay(cut())


FOLLOWS = [
    (OnBorder(piece=BACK, edge="hem", border="b"), [(LOWER, "hem")]),
    (OnBorder(piece=BACK, edge="side", border="b"), [(UPPER, "side"), (LOWER, "side")]),
    (AtPhase(piece=BACK, point="side hem", along=0.0), [(LOWER, "side hem")]),
    (AtPhase(piece=BACK, point="centre waist", along=0.0), [(UPPER, "centre waist")]),
    (AtPhase(piece=BACK, point="moon", along=0.0), [(UPPER, "moon"), (LOWER, "moon")]),
]


@pytest.mark.parametrize(("rule", "names"), FOLLOWS)
def test_edges_and_points_are_found_on_the_parts(rule, names):
    """By name on the part that has them; a name that never was stays to be refused."""
    found = followed(rule, done().pattern)
    spoken = [(r.piece, getattr(r, "edge", getattr(r, "point", ""))) for r in found]
    assert spoken == names


def test_a_rule_on_the_whole_piece_holds_for_both_parts():
    """Kept off a border, or cut from another cloth: both parts; a list names both."""
    pattern = done().pattern
    for rule in (
        KeepOff(piece=BACK, border="b"),
        CutFrom(piece=BACK, material="shell", cloth="c"),
    ):
        assert [r.piece for r in followed(rule, pattern)] == [UPPER, LOWER]
    (one_way,) = followed(OneWay(pieces=("skirt front", BACK)), pattern)
    assert one_way.pieces == ("skirt front", UPPER, LOWER)


def test_both_ends_of_a_meeting_are_followed():
    """Front and back still meet at the hem of the side seam."""
    rule = Meets(piece_a="skirt front", point_a="side hem", piece_b=BACK, point_b="side hem")
    (now,) = followed(rule, done().pattern)
    assert (now.piece_a, now.piece_b) == ("skirt front", LOWER)


def test_a_pin_on_a_divided_piece_is_left_out_and_said():
    """A pin holds one shape; no part is that shape. The lay's notes name the rule."""
    cloth = coat_and_skirt().cloths[0].name
    pin = Pin(piece=BACK, copy=1, cloth=cloth, x=500.0, y=400.0, turn_deg=90.0)
    assert followed(pin, done().pattern) == ()
    compiled = compile_lay(done().pattern, cut().cloths, Plan(name="p", rules=(pin,)))
    assert any("rule 1 is left out" in note for note in compiled.notes)
    assert not asked(compiled.problem)


def test_a_name_that_is_still_there_means_what_it_says():
    """Where a part keeps the piece's name, a rule on the piece holds for that part."""
    step = Step(
        change="piece-panel", params={"piece": BACK, "line": "hip", "names": f"yoke, {BACK}"}
    )
    pattern = replay(with_step(coat_and_skirt(), step)).pattern
    rule = KeepOff(piece=BACK, border="b")
    assert followed(rule, pattern) == (rule,)
    (waist,) = followed(OnBorder(piece=BACK, edge="waist", border="b"), pattern)
    assert (waist.piece, waist.edge) == ("yoke", "waist")


def test_it_follows_through_several_changes():
    """Cut in two, and the lower part once more: the rule on the hem names the lowest part."""
    step = Step(
        change="piece-panel",
        params={"piece": LOWER, "start": "side middle", "end": "centre middle"},
    )
    pattern = replay(with_step(cut(), step)).pattern
    (hem,) = followed(OnBorder(piece=BACK, edge="hem", border="b"), pattern)
    assert any(e.name == "hem" for e in pattern.piece(hem.piece).edges)
    assert hem.piece not in (BACK, LOWER)


def test_an_opened_half_piece_keeps_its_centre():
    """Unfolded, the corner at the fold is the middle of the whole hem."""
    book = coat_and_skirt()
    front = next(p for p in replay(book).pattern.pieces if p.fold is not None and "skirt" in p.name)
    fold = front.fold
    at = front.edges[(front.index(fold.name) + 1) % len(front.edges)].path.start
    name = next(n for n, p in front.points().items() if p.is_near(at, 0.01))
    step = Step(change="unfold", params={"pieces": (front.name,)})
    pattern = replay(with_step(book, step)).pattern
    (now,) = followed(AtPhase(piece=front.name, point=name, along=0.0), pattern)
    assert pattern.piece(now.piece).point(now.point).is_near(at, 0.01)


def test_every_rule_of_the_demo_goes_along():
    """No plan has a rule that cannot be, and none is left out."""
    assert rule_mistakes(cut(), done().pattern) == ()
    for plan in cut().plans:
        compiled = compile_lay(done().pattern, cut().cloths, plan)
        assert not any("left out" in note for note in compiled.notes)


# --- switched off ---------------------------------------------------------------------------------

HIP = {"piece": BACK, "line": "hip"}
WOULD = (
    "change 9 (piece: cut in two along a line and add a seam) would make it and is switched off; "
    f'try to switch change 9 on, or to name "{BACK}" here.'
)


def off(*rules: PlacingRule, on: bool = False, names: str = "") -> Workbook:
    """The demo with the skirt's back cut in two, switched off, and one plan with these rules."""
    book = coat_and_skirt()
    cut = Step(change="piece-panel", params={**HIP, "names": names}, on=on)
    assert len(book.steps) == 8
    return replace(with_step(book, cut), plans=(Plan(name="p", rules=rules),), chosen_plan="p")


def now(*rules: PlacingRule, names: str = "") -> tuple[PlacingRule, ...]:
    """How these rules read with the cut switched off."""
    book = off(*rules, names=names)
    return followed_plan(book.plans[0], replay(book).pattern).rules


BORDER = coat_and_skirt().cloths[0].print.borders[0].name
PIN = Pin(piece=LOWER, copy=1, cloth=coat_and_skirt().cloths[0].name, x=500.0, y=400.0, turn_deg=90)

BACK_AGAIN = [
    (OnBorder(piece=LOWER, edge="hem", border="b"), OnBorder(piece=BACK, edge="hem", border="b")),
    (AtPhase(piece=LOWER, point="side hem"), AtPhase(piece=BACK, point="side hem")),
    (
        Meets(piece_a="skirt front", point_a="side hem", piece_b=LOWER, point_b="side hem"),
        Meets(piece_a="skirt front", point_a="side hem", piece_b=BACK, point_b="side hem"),
    ),
    (OneWay(pieces=("skirt front", UPPER, LOWER)), OneWay(pieces=("skirt front", BACK))),
]


@pytest.mark.parametrize(("said", "meant"), BACK_AGAIN)
def test_with_the_cut_off_what_a_part_has_is_the_whole_piece_s(said, meant):
    """The hem of the lower part is the hem of the piece; both parts in a list are the piece."""
    assert now(said) == (meant,)


def test_rules_that_say_the_same_of_every_part_are_of_the_whole():
    """Both parts kept off: the piece is. One part alone is not the piece."""
    both = KeepOff(piece=UPPER, border="b"), KeepOff(piece=LOWER, border="b")
    assert set(now(*both)) == {KeepOff(piece=BACK, border="b")}
    apart = KeepOff(piece=UPPER, border="b"), KeepOff(piece=LOWER, border="c")
    assert now(*apart) == apart


def test_a_part_that_keeps_another_name_goes_back_by_its_edge():
    """The upper part is called as the piece was; the lower one's hem is the piece's."""
    low = OnBorder(piece="low", edge="hem", border="b")
    assert now(low, names=f"{BACK}, low") == (OnBorder(piece=BACK, edge="hem", border="b"),)


WHY = [
    (PIN, ["piece"], f'"{LOWER}" is not there: {WOULD}'),
    (KeepOff(piece=LOWER, border=BORDER), ["piece"], f'"{LOWER}" is not there: {WOULD}'),
    (OneWay(pieces=("skirt front", LOWER)), ["pieces"], f'"{LOWER}" is not there: {WOULD}'),
    (
        OnBorder(piece=LOWER, edge="joining", border=BORDER),
        ["piece"],
        f'"{LOWER}" is not there: {WOULD}',
    ),
]


@pytest.mark.parametrize(("rule", "fields", "words"), WHY)
def test_what_is_not_one_whole_thing_says_what_is_switched_off(rule, fields, words):
    """Which change would make it, in the field that names it, and what to try."""
    book = off(rule)
    (found,) = mistaken_rules(book.plans[0], replay(book).pattern, book.cloths)
    assert [w.field for w in found.wrong] == fields
    assert [str(w.error) for w in found.wrong] == [words]


def test_an_edge_that_is_not_made_on_a_piece_that_is_there_says_so():
    """The part that keeps the name is there as a whole, its joining edge is not."""
    book = off(OnBorder(piece=BACK, edge="joining", border=BORDER), names=f"{BACK}, low")
    another = WOULD.replace(f'"{BACK}"', "another edge")
    (found,) = mistaken_rules(book.plans[0], replay(book).pattern, book.cloths)
    assert [(w.field, str(w.error)) for w in found.wrong] == [
        ("edge", f'The edge "joining" of "{BACK}" is not there: {another}')
    ]


def test_a_name_that_never_was_is_refused_as_ever():
    """No change is blamed for a slip."""
    book = off(KeepOff(piece="skirt bach", border=BORDER))
    (found,) = mistaken_rules(book.plans[0], replay(book).pattern, book.cloths)
    assert str(found.wrong[0].error).startswith('There is no piece "skirt bach". Did you mean')


def test_a_rule_that_is_left_out_says_which_change_it_was():
    """The note of a pin on a divided piece names the cut, and what there is now."""
    book = off(replace(PIN, piece=BACK), on=True)
    notes = compile_lay(replay(book).pattern, book.cloths, book.plans[0]).notes
    assert (
        "rule 1 is left out: change 9 (piece: cut in two along a line and add a seam) divided "
        f'"{BACK}" into {UPPER} and {LOWER}'
    ) in notes


def test_the_borders_that_the_walk_looks_at_go_back_too():
    """A border of the settings on the lower part is looked at on the whole piece."""
    book = off()
    border = BorderEdge(piece=LOWER, edge="hem")
    checks = replace(book.settings.checks, borders=(border,))
    book = replace(book, settings=replace(book.settings, checks=checks))
    assert replay(book).pattern.edges_now(LOWER, "hem") == ((BACK, "hem"),)


def test_switched_on_again_the_same_rules_and_the_kept_lay_are_there(tmp_path: Path):
    """Off, saved, opened, on again: every rule is what it was, and the lay laid then is kept."""
    skirt = replace(skirt_alone(), steps=(Step(change="piece-panel", params=HIP),))
    plan = followed_plan(skirt.plans[0], replay(skirt).pattern)
    assert plan != skirt.plans[0]
    on = replace(skirt, plans=(plan,))
    name = on.plans[0].name
    create(tmp_path / "w", on)
    keep_better(tmp_path / "w", on, lay_plan(on, name, seconds=5.0, rounds=0))
    assert recall(tmp_path / "w", on, name) is not None
    read = load(tmp_path / "w")
    assert run(["change", str(tmp_path / "w"), "--off", "1"]) == 0
    without = load(tmp_path / "w")
    assert without.plans == read.plans
    assert rule_mistakes(without, replay(without).pattern) == ()
    assert recall(tmp_path / "w", without, name) is None
    assert run(["change", str(tmp_path / "w"), "--on", "1"]) == 0
    again = load(tmp_path / "w")
    assert again == read
    assert recall(tmp_path / "w", again, name) is not None


@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_rules_of_every_demo_come_back_from_every_cut(demo: Demo):
    """Written on the parts of each cut along a line, they are the rules of the whole with it off.

    Where a rule cannot be, it says which change is switched off.
    """
    book = demo.make()
    tried = followed_back = 0
    for piece in replay(book).pattern.pieces:
        for line in (lv.name for lv in piece.levels):
            step = Step(change="piece-panel", params={"piece": piece.name, "line": line})
            done = replay(with_step(book, step))
            if done.told[-1].error:
                continue
            tried += 1
            for plan in book.plans:
                on_parts = followed_plan(plan, done.pattern)
                without = replace(
                    with_step(book, replace(step, on=False)),
                    plans=(on_parts,),
                    chosen_plan=plan.name,
                )
                pattern = replay(without).pattern
                back = followed_plan(on_parts, pattern).rules
                left = [r for r in plan.rules if followed(r, done.pattern)]
                assert list(dict.fromkeys(back)) == list(dict.fromkeys(left))
                followed_back += on_parts != plan
    assert tried
    assert followed_back or demo.name not in ("coat-and-skirt", "checked-waistcoat")


COMMANDS = {
    "show": (),
    "walk": (),
    "lay": ("--seconds", LONG_S, "--rounds", 1),
    "compare": ("--seconds", 0.4),
    "ways-to-fit": ("--seconds", 0.4),
    "guide": (),
    "chart": ("--seconds", 0.2),
    "print": (),
}


def skirt_alone() -> Workbook:
    """The demo's skirt with the plan that lays its hem on the border, and no coat."""
    book = coat_and_skirt()
    pieces = tuple(p for p in book.bought.pieces if p.name.startswith("skirt"))
    names = {p.name for p in pieces}
    seams = tuple(s for s in book.bought.seams if all(r.piece in names for r in (*s.a, *s.b)))
    plan = book.plans[0]
    return replace(
        book,
        bought=Pattern(pieces=pieces, seams=seams),
        steps=(),
        plans=(replace(plan, rules=tuple(r for r in plan.rules if pieces_of(r) <= names)),),
        chosen_plan=plan.name,
    )


def test_every_command_works_on_the_divided_skirt(tmp_path, monkeypatch, capsys):
    """After `change … piece-panel` on the skirt's back no command misses "skirt back"."""
    folder = tmp_path / "w"
    book = skirt_alone()
    assert any(BACK in pieces_of(r) for r in book.plans[0].rules)
    create(folder, book)
    monkeypatch.chdir(tmp_path)
    assert run(["change", str(folder), "piece-panel", f"piece={BACK}", "line=hip"]) == 0
    for command, more in COMMANDS.items():
        code = run([command, str(folder), *map(str, more)])
        told = capsys.readouterr()
        assert "There is no piece" not in told.err + told.out, command
        assert code in (0, 1), (command, told.err)


def test_a_lay_stays_valid_when_no_shape_changes(tmp_path: Path):
    """A change that leaves every cutting line where it is leaves the kept lay; a cut does not."""
    book = coat_and_skirt()
    name = book.plans[0].name
    create(tmp_path / "w", book)
    keep_better(tmp_path / "w", book, lay_plan(book, name, seconds=5.0, rounds=0))
    assert recall(tmp_path / "w", book, name) is not None
    still = with_step(
        book,
        Step(change="lengthen", params={"pieces": (BACK,), "level": "hip", "by": "0 in"}),
    )
    assert not any(t.error for t in replay(still).told)
    assert recall(tmp_path / "w", still, name) is not None
    assert recall(tmp_path / "w", cut(), name) is None
