"""What differs between two states of a workbook, as keys; and the lasting names of its changes."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, fields, replace
from difflib import SequenceMatcher
from typing import Any

from clothwright.body.body import Body
from clothwright.body.toile import ToileNote
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.store.history.record import Key
from clothwright.workbook import Step, Workbook

EVERYTHING: tuple[Key, ...] = ((),)
"""The touch of a step of which nothing is known: it holds every key."""


def clash(mine: Iterable[Key], theirs: Iterable[Key]) -> tuple[Key, Key] | None:
    """Return the first two keys of which one holds the other; None when all are apart.

    >>> clash([("cloth", "linen", "width")], [("cloth", "linen")])
    (('cloth', 'linen', 'width'), ('cloth', 'linen'))
    """
    others = tuple(theirs)
    for a in mine:
        for b in others:
            n = min(len(a), len(b))
            if a[:n] == b[:n]:
                return a, b
    return None


def touched(
    before: Workbook, before_ids: Sequence[str], after: Workbook, after_ids: Sequence[str]
) -> tuple[Key, ...]:
    """Return a key for everything that is not the same in both states."""
    out: list[Key] = [
        (name,)
        for name in ("title", "unit", "notes", "chosen_plan", "wishes")
        if getattr(before, name) != getattr(after, name)
    ]
    out += _fields(("settings",), before.settings, after.settings, inner=("checks",))
    out += _body(before.body, after.body)
    out += [("chart",)] if before.chart != after.chart else []
    out += _named("piece", before.bought.pieces, after.bought.pieces, lambda _k, _a, _b: [])
    out += _named("seam", before.bought.seams, after.bought.seams, _fields)
    out += _named("companion", before.bought.companions, after.bought.companions, _fields)
    out += _named("cloth", before.cloths, after.cloths, _cloth)
    out += _notes(before.toile, after.toile)
    out += _named("plan", before.plans, after.plans, _plan)
    out += _changes(
        dict(zip(before_ids, before.steps, strict=True)),
        dict(zip(after_ids, after.steps, strict=True)),
    )
    return tuple(dict.fromkeys(out))


def _fields(at: Key, a: Any, b: Any, inner: tuple[str, ...] = ()) -> list[Key]:
    out: list[Key] = []
    for f in fields(a):
        one, other = getattr(a, f.name), getattr(b, f.name)
        if one == other:
            continue
        out += _fields((*at, f.name), one, other) if f.name in inner else [(*at, f.name)]
    return out


def _body(a: Body, b: Body) -> list[Key]:
    old, new = dict(a.taken), dict(b.taken)
    out: list[Key] = [("body", m) for m in {**old, **new} if old.get(m) != new.get(m)]
    others = [n for n in ("note", "day", "compare") if getattr(a, n) != getattr(b, n)]
    return out + [("body", n) for n in others]


def _cloth(at: Key, a: Any, b: Any) -> list[Key]:
    return _fields(at, a, b, inner=("print",))


def _notes(a: Sequence[ToileNote], b: Sequence[ToileNote]) -> list[Key]:
    """Return the keys of notes of the toile; a new one's is what it says, whatever its name."""
    old, new = {n.name: n for n in a}, {n.name: n for n in b}
    out: list[Key] = [("toile", n) for n in old if n not in new]
    for name, note in new.items():
        if name not in old:
            out.append(("toile", "new", json.dumps(asdict(replace(note, name="")), sort_keys=True)))
        else:
            out += _fields(("toile", name), old[name], note)
    return out


def _named(
    kind: str, a: Sequence[Any], b: Sequence[Any], look: Callable[[Key, Any, Any], list[Key]]
) -> list[Key]:
    old, new = {x.name: x for x in a}, {x.name: x for x in b}
    out: list[Key] = [(kind, n) for n in [*old, *new] if (n in old) != (n in new)]
    for name, was in old.items():
        if name in new and was != new[name]:
            out += look((kind, name), was, new[name]) or [(kind, name)]
    if [n for n in old if n in new] != [n for n in new if n in old]:
        out.append(("order", kind))
    return out


def rule_key(rule: PlacingRule) -> Key:
    """Return the key of a placing rule within its plan: a pin's is its copy, wherever it lies."""
    if isinstance(rule, Pin):
        return ("pin", rule.piece, str(rule.copy))
    return ("rule", json.dumps({"kind": type(rule).__name__, **asdict(rule)}, sort_keys=True))


def _plan(at: Key, a: Plan, b: Plan) -> list[Key]:
    out: list[Key] = [(*at, "why")] if a.why != b.why else []
    gone = list(a.rules)
    for rule in b.rules:
        if rule in gone:
            gone.remove(rule)
        else:
            out.append((*at, *rule_key(rule)))
    out += [(*at, *rule_key(rule)) for rule in gone]
    return out or [(*at, "order")]


def _changes(a: dict[str, Step], b: dict[str, Step]) -> list[Key]:
    out: list[Key] = [("change", i) for i in [*a, *b] if (i in a) != (i in b)]
    for i, was in a.items():
        if i in b and was != b[i]:
            out += _fields(("change", i), was, b[i])
    old, new = [i for i in a if i in b], [i for i in b if i in a]
    match = SequenceMatcher(None, old, new, autojunk=False)
    still = {old[m.a + k] for m in match.get_matching_blocks() for k in range(m.size)}
    return out + [("change", i, "place") for i in old if i not in still]


def carried(
    before: Sequence[Step], ids: Sequence[str], after: Sequence[Step], fresh: str
) -> tuple[str, ...]:
    """Return the lasting names of a list of changes that came from another list in some way.

    The same change keeps its name wherever it has gone; one that stands between the same
    neighbours and is of the same kind is taken to be the old one, edited; the rest are new and
    get names that begin with `fresh`.
    """
    old, new = [_text(s) for s in before], [_text(s) for s in after]
    found: dict[int, str] = {}
    free = dict(enumerate(ids))
    blocks = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    for tag, a1, _, b1, b2 in blocks:
        if tag == "equal":
            found |= {b1 + k: free.pop(a1 + k) for k in range(b2 - b1)}
    for k, text in enumerate(new):
        twin = next((i for i in free if old[i] == text), None) if k not in found else None
        if twin is not None:
            found[k] = free.pop(twin)
    for tag, a1, a2, b1, b2 in blocks:
        for k in range(b1, b2) if tag == "replace" else ():
            like = [i for i in range(a1, a2) if i in free and before[i].change == after[k].change]
            if like and k not in found:
                found[k] = free.pop(like[0])
    return tuple(found.get(k) or f"{fresh}-{k + 1}" for k in range(len(after)))


def _text(step: Step) -> str:
    return json.dumps(
        [step.change, dict(step.params), step.on, step.why, step.toile], sort_keys=True, default=str
    )
