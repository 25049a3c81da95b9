"""The rules of one plan as the page shows them: told, added, changed; its names, copies, folds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from urllib.parse import urlencode

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.plan import Folded, Pin, PlacingRule, Plan
from clothwright.errors import ClothwrightError
from clothwright.lay.compile import Compiled, compile_lay
from clothwright.lay.folded import WAYS, asked_folds, why_single
from clothwright.store.book.plain import length_text
from clothwright.web.page import Asked
from clothwright.web.rule_choices import Sources
from clothwright.web.rule_forms import RuleField, fields_of, kind_for, mark_of, why_not
from clothwright.web.rule_kinds import KINDS, Kind, kind_of
from clothwright.web.rule_words import rule_words

SINGLE = "single"
FOLD_WORDS = {
    SINGLE: "single, right side up",
    "lengthwise": "lengthwise, selvedge on selvedge",
    "partial": "in part: the upper selvedge folded over only as deep as the pieces need",
    "crosswise": "crosswise, cut ends together",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One rule. href: where it is changed, "" for one that is set elsewhere (`elsewhere` says)."""

    number: int
    mark: str
    words: str
    href: str
    elsewhere: str
    open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleForm:
    """The form that is open. mark: the rule it changes, "" for a new one."""

    kind: str
    title: str
    help: str
    mark: str
    fields: tuple[RuleField, ...]
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
    """Everything about one plan's rules."""

    plan: str
    why: str
    implied: bool
    told: tuple[Told, ...]
    menu: tuple[tuple[str, str, str, str], ...]
    form: RuleForm | None
    folds: tuple[FoldForm, ...]
    trouble: str


def address(plan: str, **more: str) -> str:
    """Return the query that opens a plan's rules."""
    return "?" + urlencode({"plan": plan, **more}) + "#rules"


def sources(asked: Asked, plan: Plan) -> Sources:
    """Return what the rules of a plan can name."""
    return Sources(
        pattern=asked.replayed.pattern, cloths=asked.book.cloths, unit=asked.book.unit, plan=plan
    )


def rule_at(plan: Plan, mark: str) -> tuple[int, PlacingRule] | None:
    """Return the number (from 1) and rule of a mark; None when the plan has it no more."""
    found = ((n, r) for n, r in enumerate(plan.rules, start=1) if mark_of(r) == mark)
    return next(found, None)


def rules_of(asked: Asked) -> PlanRules | None:
    """Return the plan whose rules are open, None when none is (or it is gone)."""
    name = asked.query.get("plan", "")
    known = {p.name for p in asked.book.plans} or {asked.book.plan().name}
    if name not in known:
        return None
    plan = asked.book.plan(name)
    src = sources(asked, plan)
    mark = asked.query.get("rule", "")
    folds, trouble = _folds(asked, plan)
    return PlanRules(
        plan=plan.name,
        why=plan.why,
        implied=not asked.book.plans,
        told=tuple(_told(n, r, plan, src, mark) for n, r in enumerate(plan.rules, start=1)),
        menu=tuple((k.id, k.title, why_not(k, src), address(plan.name, kind=k.id)) for k in KINDS),
        form=_form(plan, src, mark, asked.query.get("kind", "")),
        folds=folds,
        trouble=trouble,
    )


def _told(number: int, rule: PlacingRule, plan: Plan, src: Sources, mark: str) -> Told:
    words = rule_words(rule, src.unit)
    elsewhere = ""
    if isinstance(rule, Pin):
        elsewhere = "Pins are set by dragging on the cut page."
    elif isinstance(rule, Folded):
        elsewhere = "Folds are set below."
    own = mark_of(rule)
    return Told(
        number=number,
        mark=own,
        words=words[:1].upper() + words[1:],
        href="" if elsewhere else address(plan.name, rule=own),
        elsewhere=elsewhere,
        open=own == mark,
    )


def _form(plan: Plan, src: Sources, mark: str, kind_id: str) -> RuleForm | None:
    found = rule_at(plan, mark) if mark else None
    kind: Kind | None = kind_for(found[1], src) if found else kind_of(kind_id)
    if kind is None:
        return None
    rule = found[1] if found else None
    reason = "" if found else why_not(kind, src)
    return RuleForm(
        kind=kind.id,
        title=kind.title,
        help=kind.help,
        mark=mark if found else "",
        fields=() if reason else fields_of(kind, src, rule),
        why_not=reason,
    )


# --- folds ----------------------------------------------------------------------------------------


def compiled_of(asked: Asked, plan: Plan) -> Compiled:
    """Return the lay problem of a plan laid single, kept until the next edit. Raises BadInput."""
    single = replace(plan, rules=tuple(r for r in plan.rules if not isinstance(r, Folded)))

    def make() -> Compiled:
        return compile_lay(
            asked.replayed.pattern, asked.book.cloths, single, gap=asked.book.settings.gap
        )

    return asked.opened.once(f"single {plan.name}", asked.revision, make)


def _folds(asked: Asked, plan: Plan) -> tuple[tuple[FoldForm, ...], str]:
    """Return how each cloth may lie, and what is wrong when that cannot be known."""
    if not asked.book.cloths or not asked.book.bought.pieces:
        return (), ""
    try:
        compiled = compiled_of(asked, plan)
        used = {r.name for r in compiled.problem.regions}
        cloths = [c for c in compiled.cloths if c.name in used]
        return tuple(_fold(compiled, plan, c, asked) for c in cloths), ""
    except ClothwrightError as error:
        return (), str(error)


def _fold(compiled: Compiled, plan: Plan, cloth: Cloth, asked: Asked) -> FoldForm:
    now = next((f for f in asked_folds(plan) if f.cloth == cloth.name), None)
    why = {way: why_single(compiled, plan, cloth, way) for way in WAYS}
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
        depth="" if now is None or now.depth is None else length_text(now.depth, asked.book.unit),
        reasons=tuple(reasons),
        may=now is not None or not all(why.values()),
    )
