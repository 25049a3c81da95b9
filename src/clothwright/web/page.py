"""What a page is: one question, one path, one function from what was asked to what is shown."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import PurePath

from starlette.responses import Response

from clothwright.web.keys import Keys
from clothwright.web.room import Room
from clothwright.workroom.editing.opened import Looked, OpenBook
from clothwright.workroom.searching.lays import Lays


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
    def lays(self) -> Lays:
        """The lays of the open workbook."""
        return self.room.lays(self.opened)


Render = Callable[[Asked], Mapping[str, object]]
"""What a page shows, as the names its template uses."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """A further address of a page: a file to take away, a form to send, a list as JSON.

    path: as in a Page. methods: "GET" or "POST". takes: most bytes of a body.
    """

    path: str
    answer: Callable[[Asked], Response]
    methods: tuple[str, ...] = ("GET",)
    takes: int = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page: its name (and template NAME.html), path, the question it answers, its function.

    A path below "/b/{book}/" belongs to a workbook. The page of a stage carries the stage's name.
    modules: its own ES modules in static/js, loaded after the core.
    """

    name: str
    path: str
    question: str
    render: Render
    doors: tuple[Door, ...] = ()
    modules: tuple[str, ...] = ()

    @property
    def of_book(self) -> bool:
        """True for a page that belongs to a workbook."""
        return self.path.startswith("/b/{book}/")

    @property
    def stage(self) -> Stage | None:
        """The stage of the job it is the page of, if it is one."""
        return next((s for s in STAGES if s.name == self.name and self.of_book), None)

    def address(self, book: str = "") -> str:
        """Return its address; `book` is the workbook's name in addresses."""
        return self.path.replace("{book}", book)


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
