"""Where do I begin? The workbooks of the folder, the demos, and five steps to a laid plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from starlette.responses import RedirectResponse, Response

from clothwright.web.page import Asked, PageFile, post
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.pieces.shelf import add_demo, add_empty, demos, shelved


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstStep:
    """One of the five steps from nothing to a laid plan. page: where it is done."""

    words: str
    why: str
    page: str


STEPS = (
    FirstStep(
        words="Choose an outfit",
        why="A demo below is ready at once; or begin a workbook of your own and add your pieces.",
        page="start",
    ),
    FirstStep(
        words="Add your pieces, and look at them",
        why="Add a pattern file and answer a few questions. Every piece is shown to scale: its "
        "edges, how long each is, and what it is sewn to.",
        page="pieces",
    ),
    FirstStep(
        words="Walk the seams",
        why="It suggests which edges are sewn together; you confirm. What no longer sews together "
        "is found on paper, before any cloth is cut.",
        page="walk",
    ),
    FirstStep(
        words="Choose where the print goes",
        why="Each choice laid on your own cloth, side by side: what fits, and what it costs.",
        page="plans",
    ),
    FirstStep(
        words="Lay it and take the plan to the table",
        why="Where every piece lies, measured from the selvedge and from the cut end.",
        page="cut",
    ),
)


def render(asked: Asked) -> Mapping[str, object]:
    """Return the workbooks found, the demos, the five steps and where each is done."""
    shelf = tuple(shelved(b) for b in asked.room.shelf())
    first = next((s for s in shelf if not s.problem), None)
    return {
        "shelf": shelf,
        "demos": demos() if asked.room.may_add else (),
        "may_add": asked.room.may_add,
        "steps": STEPS,
        "first": first,
        "to_add": first is not None and not first.pieces,
    }


def take_demo(asked: Asked) -> Response:
    """Make a demo workbook and open it. Raises BadInput."""
    return _to(add_demo(asked.room, asked.form.get("name", "")))


def begin(asked: Asked) -> Response:
    """Make an empty workbook and open it. Raises BadInput."""
    return _to(add_empty(asked.room, asked.form.get("title", ""), asked.form.get("unit", "cm")))


def _to(book: OpenBook) -> Response:
    return RedirectResponse(f"/b/{book.name}/pieces", status_code=303)


PAGE = PageFile(render=render, doors=(post("demo", take_demo), post("new", begin)))
