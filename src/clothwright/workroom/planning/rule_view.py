"""The rules of one plan told and stated: what a page shows of them, and the edits it makes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, CannotDo
from clothwright.rules.following import followed, why_gone
from clothwright.rules.known import kind_of, said
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.rule import Foreseen
from clothwright.rules.stating import stated as stated_of
from clothwright.units import Unit
from clothwright.words import begun, say, told
from clothwright.workbook import Replay, Workbook
from clothwright.workroom.editing.asking import Field, FromForm, bare
from clothwright.workroom.editing.mending import Mending, mending_of
from clothwright.workroom.planning.plan_forms import FoldForm, Single, folds_of
from clothwright.workroom.planning.rule_form import (
    FORMS,
    Sources,
    fields_of,
    form_for,
    form_named,
    mark_of,
    read_form,
    why_not,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ForeseenTold:
    """What is known of a rule before anything is laid. mending: what would make it better."""

    words: str
    mending: Mending | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleTold:
    """One rule. mark: its name for a page; elsewhere: where it is set, "" when in a form here.

    wrong: what these pieces and cloths do not have of what it names, "" when it holds. foreseen:
    what is known of it before anything is laid. now: how it reads after the changes, "" when no
    change divided or renamed what it names.
    """

    number: int
    mark: str
    words: str
    elsewhere: str
    open: bool
    wrong: str
    now: str
    foreseen: tuple[ForeseenTold, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleForm:
    """The form that is open. mark: the rule it changes, "" for a new one."""

    kind: str
    title: str
    help: str
    mark: str
    fields: tuple[Field, ...]
    why_not: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanRules:
    """Everything about one plan's rules. menu: (form, title, why it cannot be had or "")."""

    plan: str
    why: str
    implied: bool
    told: tuple[RuleTold, ...]
    menu: tuple[tuple[str, str, str], ...]
    form: RuleForm | None
    folds: tuple[FoldForm, ...]
    trouble: str


def rule_words(rule: PlacingRule, unit: Unit) -> str:
    """Return what a rule asks, as a sentence without its full stop.

    >>> from clothwright.rules.kinds.keep_off import KeepOff
    >>> rule_words(KeepOff(piece="collar", border="scroll"), Unit.cm)
    'collar keeps off the scroll'
    """
    return say(said(rule), unit)


def plan_words(book: Workbook) -> dict[str, tuple[str, ...]]:
    """Return the rules of every plan in words."""
    return {p.name: tuple(rule_words(r, book.unit) for r in p.rules) for p in book.plans}


def sources(book: Workbook, replayed: Replay, plan: Plan) -> Sources:
    """Return what the rules of a plan can name."""
    return Sources(pattern=replayed.pattern, cloths=book.cloths, unit=book.unit, plan=plan)


def _rule_at(plan: Plan, mark: str) -> tuple[int, PlacingRule] | None:
    """Return the number (from 1) and rule of a mark; None when the plan has it no more."""
    found = ((n, r) for n, r in enumerate(plan.rules, start=1) if mark_of(r) == mark)
    return next(found, None)


def rules_of(
    book: Workbook, replayed: Replay, plan_name: str, single: Single, *, mark: str, form: str
) -> PlanRules | None:
    """Return the rules of a plan, None when it is gone.

    mark: the rule whose form is open; form: the form open for a new one. single: `laid_single`.
    """
    if plan_name not in ({p.name for p in book.plans} or {book.plan().name}):
        return None
    plan = book.plan(plan_name)
    src = sources(book, replayed, plan)
    folds, trouble = folds_of(book, plan, single)
    found = stated_of(src.pattern, src.cloths, plan)
    wrong = {
        m.number: " ".join(told(bare(w.error), src.unit) for w in m.wrong) for m in found.mistaken
    }
    return PlanRules(
        plan=plan.name,
        why=plan.why,
        implied=not book.plans,
        told=tuple(
            replace(
                _told(r, src, mark),
                number=n,
                wrong=wrong.get(n, ""),
                foreseen=_foreseen(found.foreseen.get(n, ()), src),
            )
            for n, r in enumerate(plan.rules, start=1)
        ),
        menu=tuple((f.id, f.title, why_not(f, src)) for _, f in FORMS),
        form=_form(src, mark, form),
        folds=folds,
        trouble=trouble,
    )


def _told(rule: PlacingRule, src: Sources, mark: str) -> RuleTold:
    """Return what a rule asks, as if it held and nothing more were known of it."""
    words = rule_words(rule, src.unit)
    own = mark_of(rule)
    return RuleTold(
        number=0,
        mark=own,
        words=begun(words),
        elsewhere=kind_of(rule).elsewhere,
        open=own == mark,
        wrong="",
        now=_now(rule, src),
        foreseen=(),
    )


def _foreseen(found: Sequence[Foreseen], src: Sources) -> tuple[ForeseenTold, ...]:
    return tuple(
        ForeseenTold(
            words=say(f.words, src.unit),
            mending=None
            if f.mend is None
            else mending_of(f.mend, src.pattern, src.unit, src.plan.name)[0],
        )
        for f in found
    )


def _now(rule: PlacingRule, src: Sources) -> str:
    """Return a rule as it reads for the pieces as changed, "" when as written."""
    found = followed(rule, src.pattern, src.plan.rules)
    if found == (rule,):
        return ""
    if not found:
        return f"After the changes it holds for nothing: {why_gone(rule, src.pattern)}"
    return "After the changes: " + "; ".join(rule_words(r, src.unit) for r in found)


def _form(src: Sources, mark: str, form_id: str) -> RuleForm | None:
    found = _rule_at(src.plan, mark) if mark else None
    form = form_for(found[1], src) if found else form_named(form_id)
    if form is None:
        return None
    reason = "" if found else why_not(form, src)
    return RuleForm(
        kind=form.id,
        title=form.title,
        help=form.help,
        mark=mark if found else "",
        fields=() if reason else fields_of(form, src, found[1] if found else None),
        why_not=reason,
    )


def stated(src: Sources, filled: Mapping[str, str]) -> FromForm:
    """Return the edit that adds a rule, or changes the one whose mark is in `rule`.

    Raises BadInput without a kind, CannotDo when the rule is gone.
    """
    mark = filled.get("rule", "")
    found = _rule_at(src.plan, mark) if mark else None
    if mark and found is None:
        raise CannotDo(
            what="the rule cannot be changed",
            why="it was changed or left out meanwhile",
            nearest="to look at the rules as they are now, and add it anew",
        )
    form = form_for(found[1], src) if found else form_named(filled.get("kind", ""))
    if form is None:
        raise BadInput(what="no kind of rule is chosen", expected="one of the list")
    read = read_form(form, filled, src, found[1] if found else None)
    if read.wrong:
        return FromForm(wrong=read.wrong)
    name = src.plan.name
    if found:
        edit = {"edit": "set-rule", "plan": name, "rule": found[0], "values": read.values}
        return FromForm(edit=edit)
    if read.rule in src.plan.rules:
        return FromForm(wrong={form.asks[0].name: "The plan has this rule already."})
    edit = {"edit": "add-rule", "plan": name, "values": read.values}
    return FromForm(edit=edit, form=form.id)
