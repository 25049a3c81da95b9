"""A rule that cannot be is refused by name, with all others, before anything is laid."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from clothwright.cli.app import run
from clothwright.errors import BadInput, Mistakes
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.stating import mistakes_of
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.workbook import Workbook
from tests.lay.panels import bordered, skirt

NAMES = (
    OnBorder(piece="front", edge="hme", border="b"),
    OnBorder(piece="back", edge="hem", border="vine"),
    AtPhase(piece="front", point="lower rigth", along=0.0),
    CutFrom(piece="front", material="shell", cloth="silk"),
)
TOLD = (
    'Plan "p", rule 1: piece "front" has no edge "hme". Did you mean "hem"?',
    'Plan "p", rule 2: no cloth has a border "vine"',
    'Plan "p", rule 3: "front" has no point "lower rigth". Did you mean "lower right',
    'Plan "p", rule 4: there is no cloth "silk"',
)


def book(*rules: PlacingRule) -> Workbook:
    """Return a skirt on bordered cloth, in inches, with one plan."""
    plan = Plan(name="p", rules=rules)
    return Workbook(
        title="skirt", unit=Unit.inch, bought=skirt(), cloths=(bordered(),), plans=(plan,)
    )


def file_of(folder, *rules, replacing=()):
    """Write a workbook to disk with parts of its text replaced; return its folder."""
    create(folder / "w", book(*rules))
    file = folder / "w" / "workbook.toml"
    text = file.read_text()
    for old, new in replacing:
        assert old in text
        text = text.replace(old, new)
    file.write_text(text)
    return folder / "w"


def test_names_that_are_not_there_are_told_together():
    """Four rules, four sentences in one go, each with its place and the nearest known name."""
    with pytest.raises(Mistakes) as caught:
        compile_lay(skirt(), (bordered(),), Plan(name="p", rules=NAMES))
    told = [str(m) for m in caught.value.mistakes]
    assert len(told) == len(TOLD)
    for one, words in zip(told, TOLD, strict=True):
        assert words in one


def test_what_a_print_has_not_is_told_with_the_names():
    """A repeat and an axis that are missing stand in the same list as a misspelt border."""
    plain = bordered()
    plain = replace(plain, print=replace(plain.print, repeat_across=None, axes_along=()))
    rules = (
        AtPhase(piece="back", point="hem start", across=0.0),
        Mirrored(piece="back", point="hem start"),
        KeepOff(piece="back", border="vine"),
    )
    told = [str(m) for m in mistakes_of(Plan(name="p", rules=rules), skirt(), (plain,))]
    assert len(told) == 3
    assert "does not repeat across" in told[0]
    assert "no mirror axis" in told[1]
    assert '"vine"' in told[2]


def test_an_invented_rule_is_refused():
    """A rule of no known kind does not vanish in compiling."""

    @dataclass(frozen=True, slots=True, kw_only=True)
    class Sideways(PlacingRule):
        piece: str

    with pytest.raises(BadInput, match="no placing rule"):
        compile_lay(skirt(), (bordered(),), Plan(name="p", rules=(Sideways(piece="front"),)))


def test_a_rule_for_another_cloth_is_refused():
    """A piece that is not cut from the cloth with the border cannot lie on it."""
    rules = (
        OnBorder(piece="front", edge="hem", border="b"),
        CutFrom(piece="front", material="shell", cloth="plain"),
    )
    plain = replace(bordered(), name="plain", print=replace(bordered().print, borders=()))
    (told,) = mistakes_of(Plan(name="p", rules=rules), skirt(), (bordered(), plain))
    assert "is not cut from the cloth with the border" in str(told)


@pytest.mark.parametrize("command", ["show", "walk"])
def test_commands_refuse_misspelt_names(command, tmp_path, capsys):
    """Show and walk leave with 2 and tell every misspelt edge, border, point and cloth."""
    folder = file_of(tmp_path, *NAMES)
    assert load(folder).plans[0].rules == NAMES
    assert run([command, str(folder)]) == 2
    told = capsys.readouterr().err
    for words in TOLD:
        assert words[len('Plan "p"') :] in told


@pytest.mark.parametrize("command", ["show", "walk", "lay"])
def test_commands_refuse_words_and_names_in_one_go(command, tmp_path, capsys):
    """An unknown kind, match word, edge, point and border: five places, all told at once."""
    rules = (
        *NAMES[:3],
        Meets(
            piece_a="front", point_a="hem start", piece_b="back", point_b="hem start", match="both"
        ),
        KeepOff(piece="back", border="b"),
    )
    wrong = (('match = "both"', 'match = "bohth"'), ('kind = "keep-off"', 'kind = "keep-of"'))
    folder = file_of(tmp_path, *rules, replacing=wrong)
    before = (folder / "workbook.toml").read_text()
    assert run([command, str(folder)]) == 2
    told = capsys.readouterr().err
    assert "5 mistakes" in told
    assert '"bohth" is not a choice here. Did you mean "both"?' in told
    assert 'there is no placing rule "keep-of". Did you mean "keep-off"?' in told
    assert 'Did you mean "hem"?' in told
    assert 'no cloth has a border "vine"' in told
    assert 'Did you mean "lower right' in told
    assert "plan 1, rule 4, match" in told
    assert (folder / "workbook.toml").read_text() == before


def test_misspelt_rules_stand_with_the_other_mistakes_of_a_file(tmp_path, capsys):
    """A cloth without a width and a rule of an unknown kind: one list."""
    wrong = (('kind = "keep-off"', 'kind = "keep-of"'), ("width = ", "widht = "))
    folder = file_of(tmp_path, KeepOff(piece="back", border="b"), replacing=wrong)
    assert run(["show", str(folder)]) == 2
    told = capsys.readouterr().err
    assert "keep-of" in told
    assert "widht" in told
