"""Everything a maker is shown of a workbook, without a browser: pages, answers, commands, prints.

Pages are found by following their links, one of each form: forms open, pieces and edges chosen,
changes opened, plans laid: the first lay of each, never one by time.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from urllib.parse import parse_qsl, quote, urlencode, urljoin, urlsplit

import pypdfium2
import pytest
from starlette.testclient import TestClient

from clothwright.cli import saying
from clothwright.cli.app import COMMANDS, run
from clothwright.demo.workbooks import DEMOS
from clothwright.rules.kinds import RULES
from clothwright.rules.weighing.laid import Laid, laid_so
from clothwright.rules.weighing.laying import lay_from
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.web.app import make_app
from clothwright.web.keys import Keys
from clothwright.web.room import Room
from clothwright.workbook import Step, Workbook
from clothwright.workroom.searching.laying import compile_plan, keep_better
from tests.words.walker import in_metric, links_of, text_of

PLACE = "127.0.0.1:8000"
TELLING = ("kind", "as", "form", "tab", "way")
"""Entries of an address whose every value is another page; of all others one value is enough."""
ONE_OF_MENU = re.compile(r"/changes\?kind=[\w-]+$")
"""The form of one change of the menu, nothing filled in."""
BROKEN = Step(change="crop", params={"edges": "coat front.hem", "length": "2 in"})


@dataclass(frozen=True, slots=True)
class Shown:
    """What is read at one place, and for which workbook."""

    place: str
    text: str
    book: Workbook
    help_: bool = False


def demo(name: str, unit: Unit) -> Workbook:
    """Return a demo workbook kept in a unit; what is typed in it is typed in that unit."""
    book = next(d for d in DEMOS if d.name == name).make()
    if not unit.is_metric:
        return replace(book, unit=unit)
    steps = tuple(
        replace(s, params={k: in_metric(v) for k, v in s.params.items()}) for s in book.steps
    )
    return replace(book, unit=unit, steps=steps)


def put(folder: Path, book: Workbook, *, laid: bool = True) -> Path:
    """Write a workbook, with a lay of each plan beside it; return its folder."""
    create(folder, book)
    for plan in book.plans if laid else ():
        keep_better(folder, book, laid_once(book, plan.name))
    return folder


LAID: dict[str, Laid] = {}


def laid_once(book: Workbook, plan: str) -> Laid:
    """Return the first lay; what is laid alike, in whichever unit, is laid once."""
    start = compile_plan(book, book.plan(plan))
    if start.mark not in LAID:
        LAID[start.mark] = lay_from(start, seconds=0.0)
    return laid_so(start, LAID[start.mark].lay, LAID[start.mark].folds)


@dataclass
class Desk:
    """The application on a folder, as the owner of the machine sees it."""

    client: TestClient
    root: Path
    room: Room

    def post(self, path: str, **more: object) -> str:
        """Send a form or data as our own page does; return what is read of the answer."""
        headers = {"origin": f"http://{PLACE}", "accept": "text/html"}
        answer = self.client.post(path, headers=headers, follow_redirects=False, **more)  # type: ignore[arg-type]
        return read(answer.headers.get("content-type", ""), answer.text)


def desk_on(root: Path) -> Desk:
    """Return the application on the workbooks in a folder."""
    room = Room(root=root, run="one")
    app = make_app(room, hosts=frozenset({PLACE}), keys=Keys())
    client = TestClient(app, base_url=f"http://{PLACE}", client=("127.0.0.1", 50000))
    return Desk(client=client, root=root, room=room)


def read(kind: str, body: str) -> str:
    """Return what a reader or a script shows of an answer: a page's text, the words of data."""
    if "json" not in kind:
        return text_of(body)
    return "\n".join(words_in(json.loads(body)))


UNREAD = frozenset(
    {"address", "go", "kind", "key", "name", "edit", "outline", "after", "lay", "line", "mark"}
)
"""Entries of an answer that a script needs and nobody reads."""


def words_in(data: object, key: str = "") -> Iterator[str]:
    """Yield what a page shows of data: entries that hold words, and pieces of pages in them."""
    if isinstance(data, dict):
        for name, value in data.items():
            if name not in ("params", "edit"):
                yield from words_in(value, str(name))
    elif isinstance(data, list):
        for value in data:
            yield from words_in(value, key)
    elif isinstance(data, str) and key not in UNREAD:
        yield text_of(data) if "<" in data else data


def pages(desk: Desk, name: str, *, menu: bool = True) -> Iterator[Shown]:
    """Yield every page that can be reached by links from the workbook's pieces, in each form.

    Of a page what an earlier one says as well is left out. menu: with the form of every change.
    """
    book = load(desk.root / name)
    seen: set[object] = set()
    read: set[str] = set()
    todo = ["/", f"/b/{name}/pieces", "/share", "/enter", *_seeds(book, f"/b/{name}")]
    while todo:
        path = todo.pop(0)
        parts = urlsplit(path)
        query = parse_qsl(parts.query)
        form = (parts.path, *sorted(k if k not in TELLING else f"{k}={v}" for k, v in query))
        if form in seen:
            continue
        seen.add(form)
        answer = desk.client.get(path, headers={"accept": "text/html"})
        kind = answer.headers.get("content-type", "")
        if "json" in kind:
            yield Shown(path, "\n".join(words_in(answer.json())), book)
        elif "html" in kind:
            lines = dict.fromkeys(text_of(answer.text).splitlines())
            yield Shown(path, "\n".join(line for line in lines if line not in read), book)
            read.update(lines)
            links = (urljoin(path, link) for link in links_of(answer.text))
            kept = (link for link in links if menu or not ONE_OF_MENU.search(link))
            todo += [link for link in kept if link.startswith(f"/b/{name}/")]
        elif "pdf" in kind:
            yield Shown(path, pdf_text(answer.content), book)


def _seeds(book: Workbook, at: str) -> Iterator[str]:
    """Yield what no link leads to: forms a script opens, and addresses of what is not there."""
    for plan in book.plans[:2]:
        for kind in RULES:
            yield f"{at}/plans?{urlencode({'plan': plan.name, 'kind': kind.id})}"
        for number in range(len(plan.rules)):
            yield f"{at}/plans?{urlencode({'plan': plan.name, 'rule': number})}"
    for piece in book.bought.pieces:
        for page in ("pieces", "direct"):
            yield f"{at}/{page}?as={quote(piece.name)}&piece={quote(piece.name)}"
    for odd in (
        "nothing", "pieces?piece=nobody", "pieces?piece=nobody&edge=none", "cloth?cloth=none",
        "changes?kind=none", "changes?open=none", "cut?cloth=none", "cut?piece=none",
        "direct?piece=none", "seams?a=none&b=none", "seams?a=none.side&b=other", "walk?seam=none",
        "plans?plan=none&kind=none", "add?drawing=none", "cut/pages.pdf?paper=none",
        "cut/garment.pdf?name=none", "cut/lay.pdf?cloth=none",
    ):  # fmt: skip
        yield f"{at}/{odd}"


def pdf_text(data: bytes) -> str:
    """Return the text of a PDF; lines as they stand."""
    file = pypdfium2.PdfDocument(data)
    out = []
    for number in range(min(len(file), 40)):
        page = file[number]
        words = page.get_textpage()
        out.append(words.get_text_range())
        words.close()
        page.close()
    file.close()
    return "\n".join(out)


def printed(folder: Path, book: Workbook) -> Iterator[Shown]:
    """Yield the text of every PDF, page of text and drawing below a folder."""
    for file in sorted(folder.rglob("*")):
        if file.suffix == ".pdf":
            yield Shown(file.name, pdf_text(file.read_bytes()), book)
        elif file.suffix in (".md", ".csv"):
            yield Shown(file.name, plain_md(file.read_text("utf-8")), book)
        elif file.suffix == ".svg":
            words = re.findall(r"<(?:text|title|desc|tspan)[^>]*>([^<]*)<", file.read_text("utf-8"))
            yield Shown(file.name, "\n".join(words), book)


def plain_md(text: str) -> str:
    """Return Markdown without its links' addresses and escapes."""
    return re.sub(r"\]\([^)]*\)", "]", text).replace("\\", "")


class Commands:
    """The command line, in this process; what it says is read."""

    def __init__(self, capsys: pytest.CaptureFixture[str], book: Workbook) -> None:
        self.capsys, self.book = capsys, book
        saying.out.width = 400  # no cell of a table is broken

    def __call__(self, *words: object) -> Shown:
        """Run a command; return all it says."""
        self.capsys.readouterr()
        run([str(w) for w in words])
        said = self.capsys.readouterr()
        hidden = [str(w) for w in words if isinstance(w, Path)]
        text = said.out + said.err
        for path in hidden:
            text = text.replace(path, "mine")
        return Shown("clothwright " + " ".join(map(str, words)), text, self.book)


def help_texts(commands: Commands) -> Iterator[Shown]:
    """Yield the help of every command, without defaults and what is typed (in quotes)."""
    for words in ((), *((command.name,) for command in COMMANDS)):
        said = commands(*words, "--help")
        text = re.sub(r"\[default: [^\]]*\]|\"[^\"]{1,160}\"", " ", said.text)
        yield replace(said, text=text, help_=True)
