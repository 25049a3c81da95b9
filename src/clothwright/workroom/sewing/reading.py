"""In what order is it sewn? The steps with their ticks, and the guide of the plan that is cut."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.drawing.laying_chapter import BLADES
from clothwright.drawing.printed import printed_piece
from clothwright.drawing.walk_table import loose_edges
from clothwright.errors import BadInput, ClothwrightError
from clothwright.picture.document import Document
from clothwright.picture.picture import Picture
from clothwright.rules.weighing.laid import Laid
from clothwright.sewing import order_of_work
from clothwright.sewing.operation import SewStep
from clothwright.store import Opened
from clothwright.words import told
from clothwright.workroom.cloth.pictures import photos_in
from clothwright.workroom.cutting.ticks import done_ticks, set_ticks, ticks_lost
from clothwright.workroom.searching.lays import Lays
from clothwright.workroom.sewing.guiding import guide_document

SEWING = "sewing"
"""The list of ticks of the sewing: of no plan, so that it stays when the lay is another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedPiece:
    """A piece as it is laid, the print on it, the way it is worn."""

    name: str
    picture: Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class WhileSewing:
    """What is read while sewing.

    steps: each with whether it is done. plan: the one that is cut. why_not: why the guide has no
    lay, a sentence, "" when it has. printed: pieces of printed cloths, in the order of their names.
    blades: what to mind with knives and pins. unsewn: edges meant for a seam that are in none, so
    that no step speaks of them. lost: earlier ticks could not be read.
    """

    steps: tuple[tuple[SewStep, bool], ...]
    guide: Document
    plan: str
    why_not: str
    printed: tuple[PrintedPiece, ...]
    unsewn: tuple[str, ...]
    lost: bool
    blades: str = BLADES

    @property
    def left(self) -> int:
        """How many steps are still to do."""
        return sum(1 for _, done in self.steps if not done)


def reading_of(lays: Lays, at: Opened) -> WhileSewing:
    """Return what is read while sewing. at: the workbook as looked at; the guide is in its unit."""
    done = done_ticks(lays.opened.folder, SEWING, SEWING)
    laid, why_not = _laid(lays, at)
    return WhileSewing(
        steps=tuple((s, s.key in done) for s in _steps(lays, at)),
        guide=guide_of(lays, at),
        plan=at.book.chosen_plan,
        why_not=why_not,
        unsewn=loose_edges(lays.opened.replayed(at).pattern),
        lost=ticks_lost(lays.opened.folder, SEWING, SEWING),
        printed=() if laid is None else _printed(lays, at, laid),
    )


def guide_of(lays: Lays, at: Opened) -> Document:
    """Return the guide with the kept lay of the chosen plan, where there is one."""
    laid, _ = _laid(lays, at)
    return lays.opened.once(
        "guide",
        at.revision,
        lambda: guide_document(
            at.book,
            [laid] if laid else [],
            lays.opened.replayed(at),
            days=lays.opened.days(),
        ).with_photos(photos_in(lays.opened.folder)),
        of=laid and laid.lay.placements,
    )


def tick_step(lays: Lays, at: Opened, key: object, *, done: bool, when: str = "") -> SewStep:
    """Tick or untick a step of the sewing; return it. Raises BadInput for one that is not there.

    when: UTC, for a device that was away; "" = now.
    """
    step = next((s for s in _steps(lays, at) if s.key == key), None)
    if step is None:
        raise BadInput(where="tick", what="there is no such step", expected="a step of the list")
    set_ticks(lays.opened.folder, SEWING, SEWING, {step.key: done}, at=when)
    lays.opened.tell("ticks")
    return step


def _steps(lays: Lays, at: Opened) -> tuple[SewStep, ...]:
    return order_of_work(lays.opened.replayed(at).pattern)


def _laid(lays: Lays, at: Opened) -> tuple[Laid | None, str]:
    """Return the kept lay of the chosen plan; or None, and a sentence that says why."""
    if not at.book.plans:
        return None, "There is no plan yet."
    name = at.book.plan().name
    try:
        found = lays.kept(at, name)
    except ClothwrightError as error:
        return None, told(error, at.book.unit)
    if found is None:
        return None, f"The plan “{name}” is not laid yet, or the pieces have changed since."
    return found, ""


def _printed(lays: Lays, at: Opened, laid: Laid) -> tuple[PrintedPiece, ...]:
    """Return each laid piece of a printed cloth with the print on it."""
    designed = {c.name for c in laid.compiled.cloths if c.print.has_design}
    placed = sorted(laid.lay.placements, key=lambda p: p.shape)

    def make() -> tuple[PrintedPiece, ...]:
        return tuple(
            PrintedPiece(name=p.shape, picture=without_names(printed_piece(laid.compiled, p)))
            for p in placed
            if p.region in designed
        )

    return lays.opened.once("printed", at.revision, make, of=laid.lay.placements)


def without_names(picture: Picture) -> Picture:
    """Return a picture whose parts nothing takes hold of: without the names of their pieces."""
    return replace(picture, items=tuple(replace(i, group="") for i in picture.items))
