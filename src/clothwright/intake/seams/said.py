"""What is said to a seam, proposed or named: turned round, joined so; and what it becomes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.errors import BadInput, did_you_mean, one_of
from clothwright.intake.seams.proposed import Proposed
from clothwright.pattern.measure import side
from clothwright.pattern.pattern import FOLDED, FOLDS_TO, SEAM_JOINS, SEAM_KINDS, Pattern, Seam
from clothwright.pattern.walk import mark_named, mark_names, walk_seam
from clothwright.pattern.ways_round import swapped, turned
from clothwright.units import Unit, is_count, parse_length

EASED = SEAM_JOINS[0]
NAME_MOST = 60
FOLDS_MOST = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamSaid:
    """What is said to a seam, as typed; None leaves a thing as it is.

    turn: the ends meet the other way round. join: how the sides are brought to one length. by:
    what one is meant to be longer by; "" for none, or, where it is gathered, folded, stretched or
    drawn in, for as much as it is longer now. up_to: more is meant, up to this. start, end: marks
    of the longer side between which it is done, "" for the seam's own end. folds, fold_to: how
    many pleats or tucks, and where they lie. zip: how long a zip opens that is set in it, "" for
    none. kind: what the seam is.
    """

    name: str | None = None
    turn: bool = False
    join: str | None = None
    by: str | None = None
    up_to: str | None = None
    start: str | None = None
    end: str | None = None
    folds: str | None = None
    fold_to: str | None = None
    zip: str | None = None
    kind: str | None = None


def said_seam(pattern: Pattern, seam: Seam | Proposed, unit: Unit, said: SeamSaid) -> Seam:
    """Return the seam that one becomes; of a plain one the longer side becomes the second.

    Of a stretched one the shorter, which is stretched. Raises BadInput.
    """
    old = seam.seam if isinstance(seam, Proposed) else seam
    new = turned(old) if said.turn else old
    new = replace(
        new,
        name=_name(said.name, old.name),
        kind=_one(said.kind, old.kind, SEAM_KINDS, "kind of seam"),
        join=_one(said.join, old.join, SEAM_JOINS, "way to join a seam"),
        zip=old.zip if said.zip is None else _length(said.zip, unit, "zip", 0.0),
    )
    new = _by(pattern, new, unit, said, anew=new.join != old.join)
    return _folded(_between(pattern, new, said), said)


def _by(pattern: Pattern, seam: Seam, unit: Unit, said: SeamSaid, *, anew: bool) -> Seam:
    """Return a seam with the difference that is meant. anew: it is joined otherwise now."""
    walk = walk_seam(pattern, seam)
    longer = walk.b.length - walk.a.length
    meant, most = abs(seam.ease), abs(seam.eased_max)
    if said.by is not None or (anew and not meant):
        measured = abs(longer) if seam.join != EASED else 0.0
        meant, most = _length(said.by, unit, "by", measured), 0.0
    if said.up_to is not None:
        most = _length(said.up_to, unit, "up to", 0.0)
    stretched = seam.join == "stretched"
    if meant and seam.kind == "plain" and (longer > 0 if stretched else longer < 0):
        seam, longer = swapped(seam), -longer
    sign = -1.0 if longer < 0 or (stretched and longer == 0) else 1.0
    return replace(seam, ease=sign * meant or 0.0, eased_max=sign * most or 0.0)


def _length(typed: str | None, unit: Unit, where: str, empty: float) -> float:
    text = (typed or "").strip()
    return parse_length(text, unit=unit, where=where, least_mm=0.0) if text else round(empty, 2)


def _between(pattern: Pattern, seam: Seam, said: SeamSaid) -> Seam:
    """Return a seam with the marks between which it is eased or gathered. Raises BadInput."""
    run = side(pattern, seam.b)
    ends = []
    for typed, old in ((said.start, seam.ease_from), (said.end, seam.ease_to)):
        name = old if typed is None else " ".join(typed.split())
        if typed is not None and name and mark_named(run, name) is None:
            marks = mark_names(run)
            raise BadInput(
                where=f'seam "{seam.name}"',
                what=f'there is no mark "{name}" on {seam.b[0].piece} ({seam.b[0].edge}).'
                f"{did_you_mean(name, marks)}",
                expected=one_of(marks) if marks else "nothing: there are no marks",
            )
        ends.append(name)
    return replace(seam, ease_from=ends[0], ease_to=ends[1])


def _folded(seam: Seam, said: SeamSaid) -> Seam:
    """Return a seam with its pleats or tucks; of another join it has none. Raises BadInput."""
    if seam.join not in FOLDED:
        return replace(seam, folds=0, fold_to="")
    typed = (said.folds or "").strip()
    if typed and (not is_count(typed) or int(typed) > FOLDS_MOST):
        what = f'"{typed}" is no number of folds'
        raise BadInput(where="folds", what=what, expected=f"a number from 1 to {FOLDS_MOST}")
    folds = seam.folds if said.folds is None else int(typed or 0)
    to = _one(said.fold_to, seam.fold_to, FOLDS_TO, "way for folds to lie")
    return replace(seam, folds=folds, fold_to=to)


def _name(typed: str | None, old: str) -> str:
    name = " ".join((typed or "").split()) or old
    if "." in name or len(name) > NAME_MOST:
        what = f'"{name[:NAME_MOST]}" cannot name a seam'
        raise BadInput(where="seam", what=what, expected="a name without a dot")
    return name


def _one(typed: str | None, old: str, known: tuple[str, ...], what: str) -> str:
    """Return one of some words. Raises BadInput with the nearest."""
    word = old if typed is None else typed.strip()
    if word not in known:
        words = [w for w in known if w]
        raise BadInput(
            what=f'"{word}" is no {what}.{did_you_mean(word, words)}', expected=one_of(words)
        )
    return word
