"""Where do I begin? The workbooks of the folder, the demos, and five steps to a laid plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup
from starlette.responses import RedirectResponse, Response

from clothwright.demo.workbooks import DEMOS
from clothwright.errors import BadInput, ClothwrightError, did_you_mean
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import translation
from clothwright.pattern.pattern import Pattern
from clothwright.picture.picture import Fill, Item, Picture, Role, Stroke
from clothwright.units import parse_unit
from clothwright.web.page import Asked, Door, Page
from clothwright.web.svg import inline
from clothwright.workbook import Workbook
from clothwright.workroom.editing.opened import OpenBook

MOST_SHOWN = 9
ROUGH_MM = 3.0
"""A miniature may stray this far from the outline."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstStep:
    """One of the five steps from nothing to a laid plan. page: where it is done."""

    words: str
    why: str
    page: str
    command: str


STEPS = (
    FirstStep(
        words="Take an outfit",
        why="A demo below is ready at once; or begin a workbook of your own and add your pieces.",
        page="start",
        command="clothwright new",
    ),
    FirstStep(
        words="Take in the pieces, and look at them",
        why="A file of what you own becomes pieces by a few questions. Every piece is shown to "
        "scale: its edges, how long each is, and what it is sewn to.",
        page="pieces",
        command="clothwright show",
    ),
    FirstStep(
        words="Walk the seams",
        why="Which edges are sewn together is proposed, you say it; what no longer sews together "
        "is found on paper, before any cloth is cut.",
        page="walk",
        command="clothwright walk",
    ),
    FirstStep(
        words="Choose where the print goes",
        why="Each choice laid on your own cloth, side by side: what fits, and what it costs.",
        page="plans",
        command="clothwright compare",
    ),
    FirstStep(
        words="Lay it and take the plan to the table",
        why="Where every piece lies, measured from the selvedge and from the cut end.",
        page="cut",
        command="clothwright lay",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelved:
    """A workbook on the start page. problem: why it cannot be opened, "" when it can."""

    name: str
    title: str
    words: str = ""
    problem: str = ""
    miniature: Markup | str = ""
    pieces: int = 0

    def address(self, page: str) -> str:
        """Return where a step is done in it: what comes first there while there is nothing yet."""
        return "add" if page == "pieces" and not self.pieces else page


def render(asked: Asked) -> Mapping[str, object]:
    """Return the workbooks found, the demos, the five steps."""
    shelf = tuple(_shelved(b) for b in asked.room.shelf())
    first = next((s for s in shelf if not s.problem), None)
    return {
        "shelf": shelf,
        "demos": DEMOS if asked.room.may_add else (),
        "may_add": asked.room.may_add,
        "steps": STEPS,
        "first": first,
    }


def _shelved(book: OpenBook) -> Shelved:
    try:
        at = book.read()
    except ClothwrightError as error:
        return Shelved(name=book.name, title=book.folder.name, problem=str(error))
    it = at.book
    counts = (
        (len(it.bought.pieces), "piece"),
        (len(it.steps), "change"),
        (len(it.cloths), "cloth"),
        (len(it.plans), "plan"),
    )
    words = ", ".join(f"{n} {what if n == 1 else what + 's'}" for n, what in counts if n)
    return Shelved(
        name=book.name,
        title=it.title,
        words=words or "still empty",
        pieces=len(it.bought.pieces),
        miniature=book.once("miniature", at.revision, lambda: _miniature(it.bought)),
    )


def _miniature(pattern: Pattern) -> Markup:
    """Return the pieces in a row, at one scale, by their outlines only; nothing without pieces."""
    items: list[Item] = []
    right = 0.0
    for piece in pattern.pieces[:MOST_SHOWN]:
        low, high = piece.outline.bounds()
        line = polyline(piece.outline.flatten(ROUGH_MM)).transformed(
            translation((right - low.x, -low.y))
        )
        right += high.x - low.x + 60.0
        items.append(Fill(path=line, role=Role.PIECE))
        items.append(Stroke(path=line, role=Role.PIECE, closed=True))
    return inline(Picture(items=tuple(items)), alt="", to_scale=False) if items else Markup("")


def take_demo(asked: Asked) -> Response:
    """Make a demo workbook and open it. Raises BadInput."""
    name = asked.form.get("name", "")
    demo = next((d for d in DEMOS if d.name == name), None)
    if demo is None:
        names = [d.name for d in DEMOS]
        raise BadInput(
            what=f'there is no demo "{name}".{did_you_mean(name, names)}',
            expected="one of " + ", ".join(names),
        )
    return _to(asked.room.add(demo.name, demo.make()))


def begin(asked: Asked) -> Response:
    """Make an empty workbook and open it. Raises BadInput."""
    title = asked.form.get("title", "").strip()
    unit = parse_unit(asked.form.get("unit", "cm"), where="unit")
    return _to(asked.room.add(title, Workbook(title=title, unit=unit)))


def _to(book: OpenBook) -> Response:
    return RedirectResponse(f"/b/{book.name}/pieces", status_code=303)


PAGE = Page(
    name="start",
    path="/",
    question="Where do I begin?",
    render=render,
    doors=(
        Door(path="/start/demo", answer=take_demo, methods=("POST",)),
        Door(path="/start/new", answer=begin, methods=("POST",)),
    ),
)
