"""What a page is: one question, one path, one function from what was asked to what is shown."""

from __future__ import annotations

import importlib
import json
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import PurePath
from typing import Any, NamedTuple

from starlette.responses import Response

from clothwright.errors import garbled
from clothwright.web.keys import Keys
from clothwright.web.room import Room
from clothwright.workroom.editing.opened import Looked, OpenBook
from clothwright.workroom.searching.lays import Lays

SMALL = 100_000
"""Bytes of an ordinary request's body; a door that takes files says so itself (`Door.most`)."""
LONGEST_NUMBER = 15
"""Figures of a whole number that is sent: all that are exact as a float as well."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One of the seven stages of the job, in the order of the guide."""

    number: int
    name: str
    question: str


STAGES = (
    Stage(number=1, name="pieces", question="What have I got?"),
    Stage(number=2, name="changes", question="What do I change?"),
    Stage(number=3, name="walk", question="Does it still sew together?"),
    Stage(number=4, name="cloth", question="What do I cut from?"),
    Stage(number=5, name="plans", question="Where does the print go?"),
    Stage(number=6, name="cut", question="How does it lie on the cloth?"),
    Stage(number=7, name="sew", question="In what order is it sewn?"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked(Looked):
    """A request as a page sees it. All paths are already safe, the key already checked.

    query: the address's ?name=value pairs. form, sent: what a POST brought, as a form's fields
        (when it is one) and as bytes. path: the named parts of the address.
    local: True on the machine the server runs on; what only its owner may do asks this.
    """

    room: Room
    keys: Keys
    query: Mapping[str, str] = field(default_factory=dict)
    form: Mapping[str, str] = field(default_factory=dict)
    sent: bytes = b""
    path: Mapping[str, str] = field(default_factory=dict)
    local: bool = False
    origin: str = ""

    def with_book(self, open_book: OpenBook) -> Asked:
        """Return the request with its workbook read. Raises BadInput, Mistakes."""
        at = open_book.read()
        return replace(self, open_book=open_book, at=at)

    @property
    def json(self) -> dict[str, Any]:
        """What a script sent, a JSON object. Raises BadInput for anything else."""
        try:
            sent = json.loads(
                self.sent or b"null", parse_int=_whole, parse_float=_finite, parse_constant=_finite
            )
            sayable(json.dumps(sent, ensure_ascii=False))
        except (ValueError, RecursionError):
            raise garbled() from None
        if not isinstance(sent, dict):
            raise garbled()
        return sent

    def address(self, page: str) -> str:
        """Return the address of a page of the workbook: its name, with its query."""
        return f"/b/{self.opened.name}/{page}"

    @property
    def lays(self) -> Lays:
        """The lays of the open workbook."""
        return self.room.lays(self.opened)


def sayable(text: str) -> None:
    """Raise BadInput for text that no page sends: halves of letters, and the null of a file."""
    if "\0" in text or "\\u0000" in text or any("\ud800" <= c <= "\udfff" for c in text):
        raise garbled()


def _whole(text: str) -> int:
    if len(text) > LONGEST_NUMBER:
        raise garbled()
    return int(text)


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        raise garbled()
    return number


Render = Callable[[Asked], Mapping[str, object]]
"""What a page shows, as the names its template uses."""


@dataclass(frozen=True, slots=True)
class Door:
    """A further address of a page: a file to take away, a form to send, a list as JSON.

    path: below the page's own ("lay.pdf"), "" for the page's. method: "GET" or "POST".
    most: bytes of a body. unread: it answers for a workbook that cannot be opened, too.
    """

    path: str
    answer: Callable[[Asked], Response]
    method: str = "GET"
    most: int = SMALL
    unread: bool = False


def post(path: str, answer: Callable[[Asked], Response], most: int = SMALL) -> Door:
    """Return a door that something is sent to."""
    return Door(path, answer, "POST", most)


@dataclass(frozen=True, slots=True, kw_only=True)
class PageFile:
    """What the file of a page holds: its function, its doors, its own ES modules in static/js."""

    render: Render
    doors: tuple[Door, ...] = ()
    modules: tuple[str, ...] = ()


class Page(NamedTuple):
    """One page: its name (template NAME.html, file pages/NAME.py), path, the question it answers.

    Its file is imported when it is first asked for, so that none waits for what another needs. A
    path below "/b/{book}/" belongs to a workbook. The page of a stage carries the stage's name.
    """

    name: str
    path: str
    question: str

    @property
    def file(self) -> PageFile:
        """What its file holds; the file is imported if it was not yet."""
        own = self.name.replace("-", "_")
        found: PageFile = importlib.import_module(f"clothwright.web.pages.{own}").PAGE
        return found

    @property
    def stage(self) -> Stage | None:
        """The stage of the job it is the page of, if it is one."""
        return next((s for s in STAGES if s.name == self.name), None)

    def address(self, book: str = "") -> str:
        """Return its address; `book` is the workbook's name in addresses."""
        return self.path.replace("{book}", book)

    def below(self, door: str) -> str:
        """Return the path of one of its doors, or of all of them: "{rest:path}"."""
        base = self.path if self.path != "/" else f"/{self.name}"
        return f"{base}/{door}" if door else self.path


MEDIA = {
    ".csv": "text/csv; charset=utf-8",
    ".dxf": "image/vnd.dxf",
    ".pdf": "application/pdf",
    ".svg": "image/svg+xml",
    ".zip": "application/zip",
}
"""The type of a file that is handed over, as the web calls it, by the ending of its name."""


def handed_over(data: bytes, name: str) -> Response:
    """Return a file to be kept under this name, without letters that spoil a header."""
    plain = "".join(c for c in name if c.isascii() and (c.isalnum() or c in "-_. "))
    headers = {"Content-Disposition": f'attachment; filename="{plain}"'}
    return Response(data, media_type=MEDIA[PurePath(name).suffix], headers=headers)
