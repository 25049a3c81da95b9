"""A typed piece and the answers about what its notes do not say become a pattern piece."""

from __future__ import annotations

from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.vec import unit_at
from clothwright.intake.answers import NONE, Answers, Question, says
from clothwright.intake.as_read import Apart, as_read
from clothwright.intake.drafting import cuts_of
from clothwright.intake.edges import DRAWN, edges_of
from clothwright.intake.made_cutting import with_corners_as_drawn
from clothwright.intake.typed.details import MeasuredOn, grain_through
from clothwright.intake.typed.sheet import TypedPiece
from clothwright.pattern.derive import piece_from_cutting
from clothwright.pattern.piece import Edge, Grain, Piece, Role
from clothwright.units import Unit, parse_angle_deg
from clothwright.words import with_lengths

ALLOWANCE_WORDS = "the notes do not say whether the measured line includes the seam allowance"


def allowance_asked(one: TypedPiece, answers: Answers) -> Question | None:
    """Return the question of the allowance, None when the notes or the answers say it."""
    if one.included is not None or answers.allowance:
        return None
    return Question(id="allowance", words=ALLOWANCE_WORDS, choices=("5/8 in", NONE))


def proposed(one: TypedPiece, answers: Answers) -> tuple[Question, ...]:
    """Return what is taken for granted where the notes say nothing, a question each."""
    out = []
    if one.grain is None and not answers.grain:
        words = "grain taken as up the page"
        out.append(Question(id="grain", words=words, default="up", choices=("up", "90 deg")))
    if not one.cuts and not answers.cut:
        cut = f"shell {'fold' if _folded(one) else 'once'}"
        words = f"to be cut taken as {cut}"
        out.append(Question(id="cut", words=words, default=cut, choices=(cut,)))
    return tuple(replace(q, piece=one.name) for q in out)


def _folded(one: TypedPiece) -> bool:
    return any(e.role is Role.FOLD for e in one.edges)


def piece_of(one: TypedPiece, answers: Answers, unit: Unit, *, name: str = "") -> Piece:
    """Return the pattern piece. Raises BadInput, CannotDo.

    What the notes say holds; the answers fill in the rest. Until the allowance is answered the
    measured line is taken as the stitching line (to be looked at, never to be added: see
    `allowance_asked`).
    """
    name = name or answers.name or one.name
    if not one.edges:
        raise BadInput(
            where=one.name, what="its outline is not whole yet", expected="all its edges"
        )
    included = _is_included(one, answers)
    edges = _with_allowances(one, answers, unit, name, included=included)
    rest = {
        "grain": one.grain or _grain(one, answers),
        "levels": one.levels,
        "marks": one.marks,
        "cuts": one.cuts or cuts_of(answers.cut, folded=_folded(one)),
        "note": one.note,
    }
    if included:
        made = piece_from_cutting(name, edges, one.darts, **rest)
        return with_corners_as_drawn(made, _measured(one))
    return Piece(name=name, edges=edges, darts=one.darts, **rest)  # type: ignore[arg-type]


def apart_of(one: TypedPiece, answers: Answers, piece: Piece, unit: Unit) -> tuple[Apart, ...]:
    """Return where the lines of the pattern piece are not those that were measured."""
    if _is_included(one, answers):
        return as_read(piece, unit, cutting=_measured(one))
    return as_read(piece, unit, stitching=_measured(one))


def _is_included(one: TypedPiece, answers: Answers) -> bool:
    """Tell whether the measured line is the cutting line, as the notes or the answers say."""
    if one.included is not None:
        return one.included
    return bool(answers.allowance) and not says(answers.allowance, NONE)


def _measured(one: TypedPiece) -> Path:
    """Return the whole line that was measured."""
    return join_all([e.path for e in one.edges])


def _with_allowances(
    one: TypedPiece, answers: Answers, unit: Unit, name: str, *, included: bool
) -> tuple[Edge, ...]:
    """Return the edges with their widths: of their own, of the whole piece, or as answered."""
    widths: dict[str, float] = {}
    if one.included is None and answers.allowance:
        if says(answers.allowance, DRAWN):
            raise BadInput(
                where=name,
                what="typed measurements have no line drawn inside",
                expected=with_lengths('a length such as "5/8 in", or none'),
            )
        asked = replace(answers, fold="")
        parts, names = [e.path for e in one.edges], [e.name for e in one.edges]
        widths = {e.name: e.allowance for e in edges_of(parts, names, asked, unit, name)}
    out = []
    for edge in one.edges:
        width = one.own.get(edge.name, one.width)
        if width is None:
            width = widths.get(edge.name)
        if width is None and included and edge.role is not Role.FOLD:
            raise BadInput(
                where=name,
                what=f'the allowance is included, and "{edge.name}" does not say how wide it is',
                expected=with_lengths(
                    "a width all round, such as: allowance 5/8 in included; or at the edge"
                ),
            )
        out.append(replace(edge, allowance=0.0 if edge.role is Role.FOLD else width or 0.0))
    return tuple(out)


def _grain(one: TypedPiece, answers: Answers) -> Grain:
    plain = answers.grain.strip().lower()
    angle = 90.0 if plain in ("", "up") else parse_angle_deg(answers.grain, where="--grain")
    ground = MeasuredOn(at={}, edges={e.name: e for e in one.edges}, inward="", unit=Unit.mm)
    return grain_through(ground, unit_at(angle))


def said_by(one: TypedPiece) -> tuple[str, ...]:
    """Return the questions that the notes answer themselves, by the fields of `Answers`."""
    said = {
        "allowance": one.included is not None,
        "grain": one.grain is not None,
        "cut": bool(one.cuts),
    }
    return tuple(key for key, known in said.items() if known)


def silenced(one: TypedPiece, answers: Answers) -> Answers:
    """Return the answers without those that the notes give themselves."""
    return replace(answers, **dict.fromkeys(said_by(one), ""))  # type: ignore[arg-type]


def check_silent(one: TypedPiece, answers: Answers) -> None:
    """Refuse an answer to what the notes have said already. Raises BadInput."""
    for key in said_by(one):
        if getattr(answers, key):
            raise BadInput(
                where=f"--{key}",
                what=f'the notes about "{one.name}" say this already',
                expected="one of the two",
                try_="changing it in the notes",
            )
    outside = ("scale", "size", "tiles", "shift", "corners", "edges", "outline", "inside", "fold")
    wrong = next((k for k in outside if getattr(answers, k)), None)
    if wrong:
        raise BadInput(
            where=f"--{wrong}",
            what="typed measurements say this themselves",
            expected="no such option with them",
        )
