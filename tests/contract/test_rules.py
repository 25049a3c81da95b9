"""All placing rules × all promises, from the table in rules_table.py."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import MISSING, fields, replace
from pathlib import Path
from typing import Any

import pytest
from tests.contract.rules_table import ROWS, Row, cloths, pattern
from tests.lay.panels import asked
from tests.words.walker import strays

from clothwright.errors import ClothwrightError
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.trail import trail_to
from clothwright.rules.compile import compile_lay
from clothwright.rules.following import followed
from clothwright.rules.kinds import RULES
from clothwright.rules.known import contradict, kind_of, read_rule, said
from clothwright.rules.names import kinds_in, pieces_of
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.stating import mistaken_rules, mistakes_of
from clothwright.store import create, load
from clothwright.store.book.format import writing_in
from clothwright.units import Unit
from clothwright.units.params import declared
from clothwright.words import say, told
from clothwright.workbook import Workbook
from clothwright.workroom.planning.rule_form import Sources, fields_of, form_for, read_form

PAGES = Path(__file__).parents[2] / "docs" / "rules"
BY_ROW = pytest.mark.parametrize("row", ROWS, ids=[row.label for row in ROWS])
NAMES = ("piece", "pieces", "own edge", "own point", "border", "figure", "cloth", "material")


def plan(*rules: PlacingRule) -> Plan:
    return Plan(name="p", rules=rules)


def wrong_fields(rule: PlacingRule, on: Pattern | None = None) -> list[str]:
    """The fields of a rule that cannot be, on the specimen."""
    found = mistaken_rules(plan(rule), on or pattern(), cloths())
    return [w.field for m in found for w in m.wrong]


def test_every_kind_has_a_row() -> None:
    """A rule that no row tries is promised nothing."""
    assert {type(row.rule) for row in ROWS} == {kind.params for kind in RULES}


@BY_ROW
def test_it_holds_on_the_specimen_and_asks_what_it_says(row: Row) -> None:
    """The rule is whole, and becomes the rules on shapes that the row names, of its number."""
    assert wrong_fields(row.rule) == []
    problem = compile_lay(pattern(), cloths(), plan(row.rule)).problem
    mine = asked(problem)
    assert {type(r) for r in mine} == set(row.asks)
    assert all(r.id.startswith("1 ") for r in mine)
    assert len({r.id for r in problem.rules}) == len(problem.rules)


@BY_ROW
def test_pieces_it_does_not_name_lie_as_before(row: Row) -> None:
    """Without the rule every other shape is the same; without any only the prints ask."""
    bare = compile_lay(pattern(), cloths(), plan()).problem
    assert asked(bare) == []
    ruled = compile_lay(pattern(), cloths(), plan(row.rule)).problem
    if not row.binds:
        named = pieces_of(row.rule)
        assert named
        assert [s for s in ruled.shapes if s.piece not in named] == [
            s for s in bare.shapes if s.piece not in named
        ]
        assert [s.outline for s in ruled.shapes] == [s.outline for s in bare.shapes]


@BY_ROW
def test_its_sentence_is_in_her_words(row: Row) -> None:
    """As the row says it; in inches and in centimetres, without ids, dotted names or entries."""
    words = say(said(row.rule), Unit.inch)
    assert words == row.says
    for unit in (Unit.inch, Unit.cm):
        assert strays(say(said(row.rule), unit), unit, pattern()) == []
    kind = kind_of(row.rule)
    assert kind.id not in words or "-" not in kind.id
    assert not [n for n in declared(row.rule) if "_" in n and n in words]
    assert not words.endswith(".")


def planted(row: Row) -> Iterator[tuple[str, PlacingRule]]:
    """Each field that names something, with a name that is not there; and what the row plants."""
    for name, kind in kinds_in(row.rule).items():
        value = getattr(row.rule, name)
        if kind in (*NAMES, "choice"):
            off: Any = (*value, "moon") if isinstance(value, tuple) else f"{value} moon"
            yield name, replace(row.rule, **{name: off})
    for name, values in row.wrong:
        yield name, replace(row.rule, **values)


@BY_ROW
def test_every_planted_mistake_is_found(row: Row) -> None:
    """In its own field and no other, before anything is laid; the lay refuses it too."""
    found = list(planted(row))
    assert found
    for name, rule in found:
        assert wrong_fields(rule) == [name], rule
        with pytest.raises(ClothwrightError, match='Plan "p", rule 1') as caught:
            compile_lay(pattern(), cloths(), plan(rule))
        for unit in (Unit.inch, Unit.cm):
            assert strays(told(caught.value, unit), unit, pattern()) == []


@BY_ROW
def test_rules_that_contradict_are_refused(row: Row) -> None:
    """The later one is told and names the other; a rule never contradicts itself."""
    assert not contradict(row.rule, row.rule)
    assert (row.against is None) == (kind_of(row.rule).against is None)
    if row.against is not None:
        assert wrong_fields(row.against) == []
        assert contradict(row.rule, row.against)
        assert contradict(row.against, row.rule)
        (mistake,) = mistakes_of(plan(row.rule, row.against), pattern(), cloths())
        told = str(mistake)
        assert told.startswith('Plan "p", rule 2')
        assert str(say(said(row.rule), Unit.mm)) in told


@BY_ROW
@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_it_comes_back_from_a_workbook(row: Row, unit: Unit, tmp_path: Path) -> None:
    """Written to the text and read again it is the same rule; entries as usual stay unsaid."""
    usual = {f.name: f.default for f in fields(row.rule) if f.default is not MISSING}
    bare = replace(row.rule, **usual)
    book = Workbook(
        title="t", unit=unit, bought=pattern(), cloths=cloths(), plans=(plan(row.rule, bare),)
    )
    create(tmp_path / "w", book)
    assert load(tmp_path / "w").plans == book.plans
    entries = writing_in(unit).plain(PlacingRule, bare)
    assert not set(entries) & set(usual)
    assert read_rule(entries, unit=unit) == (bare, [])


@BY_ROW
def test_unknown_and_missing_entries_are_told(row: Row) -> None:
    """An entry it does not ask for, and each that is missing, in one go."""
    kind = kind_of(row.rule)
    must = [n for n, f in declared(kind.params).items() if f.default is MISSING]
    rule, wrong = read_rule({"kind": kind.id, "moon": 1}, unit=Unit.cm)
    assert rule is None
    assert [w.field for w in wrong] == ["moon", *must]


@BY_ROW
def test_it_follows_a_piece_that_is_renamed(row: Row) -> None:
    """Every piece gets another name: the rule names the new one and holds."""
    before = pattern()
    after = tuple(replace(p, name=f"{p.name} new") for p in before.pieces)
    seams = tuple(
        replace(
            s,
            a=tuple(replace(r, piece=f"{r.piece} new") for r in s.a),
            b=tuple(replace(r, piece=f"{r.piece} new") for r in s.b),
        )
        for s in before.seams
    )
    trail = before.trail
    for old, new in zip(before.pieces, after, strict=True):
        trail = trail.then(trail_to(old, (new,)))
    renamed = Pattern(pieces=after, seams=seams, trail=trail)
    (now,) = followed(row.rule, renamed)
    assert pieces_of(now) == {f"{n} new" for n in pieces_of(row.rule)}
    assert wrong_fields(row.rule, renamed) == []
    was = compile_lay(before, cloths(), plan(row.rule)).problem
    then = compile_lay(renamed, cloths(), plan(row.rule)).problem
    assert [s.outline for s in then.shapes] == [s.outline for s in was.shapes]
    assert [type(r) for r in then.rules] == [type(r) for r in was.rules]


@BY_ROW
def test_its_form_says_the_rule(row: Row) -> None:
    """What its form shows, sent back untouched, is the rule; or it says where it is set."""
    src = Sources(pattern=pattern(), cloths=cloths(), unit=Unit.inch, plan=plan(row.rule))
    form = form_for(row.rule, src)
    if form is None:
        assert kind_of(row.rule).elsewhere.endswith(".")
        return
    filled: dict[str, str] = {}
    for f in fields_of(form, src, row.rule):
        assert f.label
        chosen = [key for _, choices in f.groups for key, _, on in choices if on]
        if f.kind == "pieces":
            filled |= {f"{f.name}{n}": key for n, key in enumerate(chosen)}
        elif f.kind == "flag":
            filled |= {f.name: "yes"} if f.on else {}
        else:
            filled[f.name] = chosen[0] if f.groups else f.value
    read = read_form(form, filled, src, row.rule)
    assert (read.wrong, read.rule) == ({}, row.rule)


@pytest.mark.parametrize("kind", RULES, ids=lambda k: k.id)
def test_its_page_names_every_entry_and_its_example_holds(kind: Any) -> None:
    """Each page shows the rule as a workbook holds it; read from there, it can be laid."""
    text = (PAGES / f"{kind.id}.md").read_text(encoding="utf-8")
    assert [n for n in declared(kind.params) if f"`{n}`" not in text] == []
    blocks = re.findall(r"```toml\n(.*?)```", text, re.DOTALL)
    assert blocks
    for block in blocks:
        for table in tomllib.loads(block)["plan"]["rule"]:
            rule, wrong = read_rule(table, unit=Unit.inch)
            assert wrong == []
            assert isinstance(rule, kind.params)
            assert wrong_fields(rule) == []
