"""The rules of one plan told and stated: what a page shows of them, and the edits it makes."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.lay.compiled import Compiled
from clothwright.lay.folded import WAYS, why_single
from clothwright.rules.compile import compile_lay
from clothwright.rules.following import followed, why_gone
from clothwright.rules.kinds.folded import Folded, asked_folds
from clothwright.rules.known import kind_of, said
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.rule import Foreseen
from clothwright.rules.stating import stated as stated_of
from clothwright.store.book.format import writing_in
from clothwright.units import Unit, parse_length
from clothwright.units.params import declared
from clothwright.words import begun, say, told
from clothwright.words.exact import length_text
from clothwright.workbook import Replay, Workbook
from clothwright.workroom.editing.asking import Field, FromForm, bare
from clothwright.workroom.editing.mending import Mending, mending_of
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

Single = Callable[[], Compiled]
"""Makes the lay problem of a plan laid single, or returns the one kept (`laid_single`)."""

SINGLE = "single"
FOLD_WORDS = {
    SINGLE: "single, right side up",
    **declared(Folded)["way"].choices,
}


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
class FoldForm:
    """How one cloth lies. ways: (way, words, chosen, allowed); reasons: why others are not."""

    cloth: str
    ways: tuple[tuple[str, str, bool, bool], ...]
    depth: str
    reasons: tuple[str, ...]
    may: bool


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
    folds, trouble = _folds(book, plan, single)
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


# --- names and copies -----------------------------------------------------------------------------


def named(book: Workbook, plan_name: str, new: str, why: str) -> FromForm:
    """Return the edit that gives a plan another name or reason."""
    was = book.plan(plan_name).name
    wrong = _name_trouble(book, new, but=was)
    if wrong:
        return FromForm(wrong={"name": wrong})
    return FromForm(edit={"edit": "set-plan", "plan": was, "name": new, "why": why})


def copied(book: Workbook, plan_name: str, new: str, why: str, *, same: bool) -> FromForm:
    """Return the edit that makes another plan, with the rules of one or with none."""
    like = book.plan(plan_name).name
    wrong = _name_trouble(book, new)
    if wrong:
        return FromForm(wrong={"name": wrong})
    edit = {"edit": "add-plan", "plan": new, "why": why}
    return FromForm(edit=edit | ({"like": like} if same and book.plans else {}))


def _name_trouble(book: Workbook, new: str, but: str = "") -> str:
    """Return why a plan cannot have a name, "" when it can."""
    if not new:
        return "A plan needs a name."
    taken = {p.name for p in book.plans} - {but}
    return f"There is a plan “{new}” already. Give this one another name." if new in taken else ""


# --- folds ----------------------------------------------------------------------------------------


def laid_single(book: Workbook, replayed: Replay, plan: Plan) -> Compiled:
    """Return the lay problem of a plan with every cloth laid single. Raises BadInput, Mistakes."""
    rules = tuple(r for r in plan.rules if not isinstance(r, Folded))
    single = replace(plan, rules=rules)
    return compile_lay(replayed.pattern, book.cloths, single, gap=book.settings.gap)


def _folds(book: Workbook, plan: Plan, single: Single) -> tuple[tuple[FoldForm, ...], str]:
    """Return how each cloth may lie, and what is wrong when that cannot be known."""
    if not book.cloths or not book.bought.pieces:
        return (), ""
    try:
        compiled = single()
        used = {r.name for r in compiled.problem.regions}
        cloths = [c for c in compiled.cloths if c.name in used]
        return tuple(_fold(compiled, plan, c, book.unit) for c in cloths), ""
    except ClothwrightError as error:
        return (), told(error, book.unit)


def _fold(compiled: Compiled, plan: Plan, cloth: Cloth, unit: Unit) -> FoldForm:
    now = next((f for f in asked_folds(plan) if f.cloth == cloth.name), None)
    why = {way: why_single(compiled, cloth, way) for way in WAYS}
    chosen = SINGLE if now is None else now.way
    refused: dict[str, list[str]] = {}
    for way, reason in why.items():
        if reason:
            refused.setdefault(reason, []).append(way)
    every = [r for r, ways in refused.items() if len(ways) == len(WAYS)]
    reasons = every or [f"not {' or '.join(ways)}: {r}" for r, ways in refused.items()]
    return FoldForm(
        cloth=cloth.name,
        ways=tuple(
            (way, words, way == chosen, way in (SINGLE, chosen) or not why[way])
            for way, words in FOLD_WORDS.items()
        ),
        depth="" if now is None or now.depth is None else length_text(now.depth, unit),
        reasons=tuple(reasons),
        may=now is not None or not all(why.values()),
    )


def folded(book: Workbook, plan: Plan, filled: Mapping[str, str], single: Single) -> FromForm:
    """Return the edit that folds a cloth for a plan, or lays it single. Raises BadInput."""
    cloth, way = book.cloth(filled.get("cloth", "")), filled.get("way", SINGLE)
    text = filled.get("depth", "").strip() if way == "partial" else ""
    if way != SINGLE:
        compiled = single()
        why = why_single(compiled, compiled.cloth(cloth.name), way)
        if why:
            return FromForm(wrong={"way": f"It cannot lie {way}: {why}."})
    try:
        depth = parse_length(text, unit=book.unit, least_mm=1.0) if text else None
        if depth is not None and depth > cloth.width / 2:
            raise BadInput(what="no cloth is folded deeper than half its width")
    except BadInput as error:
        return FromForm(wrong={"depth": told(error, book.unit)})
    new = None if way == SINGLE else Folded(cloth=cloth.name, way=way, depth=depth)
    return FromForm(edit=_fold_edit(plan, cloth.name, new, book.unit))


def _fold_edit(plan: Plan, cloth: str, new: Folded | None, unit: Unit) -> Mapping[str, Any]:
    """Return one step that takes the cloth's fold out and puts the new one in."""
    folds = asked_folds(plan)
    if new in folds or (new is None and cloth not in {f.cloth for f in folds}):
        return {"edit": "several", "edits": []}
    edits: list[Mapping[str, Any]] = [
        {"edit": "remove-rule", "plan": plan.name, "rule": n}
        for n, r in reversed(list(enumerate(plan.rules, start=1)))
        if isinstance(r, Folded) and r.cloth == cloth
    ]
    words = f"{cloth} is laid single"
    if new is not None:
        values = writing_in(unit).plain(PlacingRule, new)
        edits.append({"edit": "add-rule", "plan": plan.name, "values": values})
        words = rule_words(new, unit)
    return {"edit": "several", "edits": edits, "words": f'Plan "{plan.name}", now: {words}'}
