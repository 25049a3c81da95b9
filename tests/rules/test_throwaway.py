"""A rule that is one file and one line of the list is read, told, refused, laid and edited."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from clothwright.cli.app import run
from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.rules import kinds, known
from clothwright.rules.compile import compile_lay
from clothwright.rules.names import without_piece
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.rule import Ask, Form, RuleKind
from clothwright.rules.table import CuttingTable
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.units.params import param
from clothwright.workbook import Workbook
from clothwright.workroom.planning import rule_form
from clothwright.workroom.planning.rule_mistakes import rule_mistakes
from clothwright.workroom.planning.rule_view import rule_words
from tests.lay.panels import asked, bordered, skirt

# --- the one file --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Abreast(PlacingRule):
    """A point of every copy lies `across` mm from the lower selvedge."""

    piece: str = param("piece", "the piece")
    point: str = param("own point", "the point", label="Which point")
    across: float = param("length", "how far from the lower selvedge", label="How far across")


def said(rule: Abreast) -> Sentence:
    """Return the rule in words."""
    return (f"{rule.piece}, {rule.point}, lies ", rule.across, " from the lower selvedge")


def asks(rule: Abreast, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield the line for each copy."""
    for each in at.of(rule.piece):
        yield put.OnLine(
            id=f"abreast {each.id}",
            shape=each.id,
            points=(at.point(each, rule.point),),
            axis="across",
            at=rule.across,
        )


RULE = RuleKind(
    id="abreast",
    params=Abreast,
    said=said,
    forms=(
        Form(
            id="abreast",
            title="A point so far from the selvedge",
            help="For a stripe that is woven once.",
            asks=(Ask(name="point"), Ask(name="across")),
        ),
    ),
    asks=asks,
)

# --- the one line --------------------------------------------------------------------------------


@pytest.fixture(autouse=True)
def listed(monkeypatch):
    """Put it in the list, as one line of `rules/kinds/__init__.py` would."""
    longer = (*kinds.RULES, RULE)
    monkeypatch.setattr(kinds, "RULES", longer)
    monkeypatch.setattr(known, "RULES", longer)
    forms = tuple((k, f) for k in longer for f in k.forms)
    monkeypatch.setattr(rule_form, "FORMS", forms)


RULED = Abreast(piece="back", point="hem start", across=254.0)


def book(*asked: PlacingRule) -> Workbook:
    plan = Plan(name="p", rules=asked)
    return Workbook(title="t", unit=Unit.inch, bought=skirt(), cloths=(bordered(),), plans=(plan,))


def test_the_workbook_the_lay_and_the_words_know_it(tmp_path):
    """It is written, read, laid and told."""
    create(tmp_path / "w", book(RULED))
    assert 'kind = "abreast"' in (tmp_path / "w" / "workbook.toml").read_text()
    assert load(tmp_path / "w").plans == book(RULED).plans
    problem = compile_lay(skirt(), (bordered(),), Plan(name="p", rules=(RULED,))).problem
    assert [(r.id, r.at) for r in asked(problem)] == [
        ("1 abreast back 1", 254.0),
        ("1 abreast back 2", 254.0),
    ]
    assert rule_words(RULED, Unit.inch) == "back, hem start, lies 10 in from the lower selvedge"


def test_the_command_line_refuses_what_it_names_in_vain(tmp_path, capsys):
    """Its own point, misspelt, is told by show; a missing entry refuses the file."""
    create(tmp_path / "w", book(Abreast(piece="back", point="hem strat", across=1.0)))
    assert run(["show", str(tmp_path / "w")]) == 2
    assert 'Did you mean "hem start"?' in capsys.readouterr().err
    file = tmp_path / "w" / "workbook.toml"
    file.write_text(file.read_text().replace("\nacross = ", "\nacros = "))
    assert run(["show", str(tmp_path / "w")]) == 2
    assert 'Did you mean "across"?' in capsys.readouterr().err


def test_the_page_has_its_form(tmp_path):
    """It stands in the menu, its fields are filled from the workbook, and it is read."""
    ruled = book(RULED)
    src = rule_form.Sources(
        pattern=skirt(), cloths=ruled.cloths, unit=Unit.inch, plan=ruled.plans[0]
    )
    form = rule_form.form_for(RULED, src)
    assert form is not None
    point, across = rule_form.fields_of(form, src, RULED)
    assert (point.label, across.label, across.value) == ("Which point", "How far across", "10 in")
    read = rule_form.read_form(form, {"point": "front.hem start", "across": "4 in"}, src)
    assert read.rule == Abreast(piece="front", point="hem start", across=101.6)
    assert rule_mistakes(ruled, skirt()) == ()


def test_a_piece_taken_out_takes_it_along():
    """The rule goes with the piece it names."""
    assert without_piece(RULED, "front") == (RULED,)
    assert without_piece(RULED, "back") == ()
