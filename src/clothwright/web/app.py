"""The application: an explicit list of routes over the pages, wrapped in the guard."""

from __future__ import annotations

import asyncio
import contextlib
import json
from collections.abc import AsyncIterator, Callable
from pathlib import Path
from urllib.parse import parse_qsl

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import BaseRoute, Mount, Route, WebSocketRoute, compile_path
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp
from starlette.websockets import WebSocket

from clothwright.errors import BadInput, CannotDo, ClothwrightError, garbled
from clothwright.units import Unit, parse_length
from clothwright.web.guard import Guard, is_local
from clothwright.web.keys import Keys
from clothwright.web.live import listen
from clothwright.web.page import Asked, Door, Page
from clothwright.web.pages import PAGES
from clothwright.web.rendering import problem_page, whole
from clothwright.web.room import Room
from clothwright.words import show_length, told
from clothwright.workroom.editing.opened import NotThere, unit_of

STATIC = Path(__file__).with_name("static")
SMALL = 100_000
"""Bytes of an ordinary request's body; a door that takes files says so itself (`Door.takes`)."""
PACKED, PACKING = 2000, 4
"""Answers of more bytes are sent packed, quickly rather than tightly: drawings to a fifth."""
WATCH_S = 1.0
"""How often the files of a workbook that somebody looks at are looked at."""


def make_app(
    room: Room, *, hosts: frozenset[str], keys: Keys | None = None, pages: tuple[Page, ...] = PAGES
) -> ASGIApp:
    """Return the whole application. hosts: every "name:port" it may be reached by."""
    shared = keys or Keys()
    routes: list[BaseRoute] = [Mount("/static", app=StaticFiles(directory=STATIC), name="static")]
    for page in pages:
        doors = (Door(path=page.path, answer=_shows(page, pages)), *page.doors)
        routes += [_route(door, room, shared) for door in doors]
    for path, answer, method in EVERY_BOOK:
        door = Door(path=path, answer=answer, methods=(method,))
        routes.append(_route(door, room, shared))
    seen: Seen = {}
    routes.append(WebSocketRoute("/live/{book}", _live(room, seen)))
    inner = Starlette(
        routes=routes,
        lifespan=_lifespan(room, seen),
        exception_handlers={HTTPException: _http_problem, Exception: _own_fault},
    )
    packed = GZipMiddleware(inner, minimum_size=PACKED, compresslevel=PACKING)
    return Guard(app=packed, hosts=hosts, keys=shared, limit=_limits(pages))


def _shows(page: Page, pages: tuple[Page, ...]) -> Callable[[Asked], Response]:
    return lambda asked: HTMLResponse(whole(page, asked, pages))


def _route(door: Door, room: Room, keys: Keys) -> Route:
    async def endpoint(request: Request) -> Response:
        try:
            body = await request.body()
            return await run_in_threadpool(_answer, door, room, keys, request, body)
        except ClothwrightError as error:
            return _refused(request, error, _unit(room, request))

    return Route(door.path, endpoint, methods=list(door.methods))


def _answer(door: Door, room: Room, keys: Keys, request: Request, body: bytes) -> Response:
    kind = request.headers.get("content-type", "").partition(";")[0]
    form = {}
    if kind == "application/x-www-form-urlencoded":
        form = dict(parse_qsl(body.decode("utf-8", "replace"), keep_blank_values=True))
    asked = Asked(
        room=room,
        keys=keys,
        query=dict(request.query_params),
        form=form,
        sent=body,
        path=dict(request.path_params),
        local=is_local(request.scope),
        origin=f"http://{request.headers['host']}",
    )
    name = request.path_params.get("book")
    return door.answer(asked if name is None else asked.with_book(room.book(name)))


def _unit(room: Room, request: Request) -> Unit:
    """Return the unit of the workbook a request is about; cm where it is about none."""
    name = request.path_params.get("book")
    try:
        return (None if name is None else unit_of(room.book(name).folder)) or Unit.cm
    except ClothwrightError:
        return Unit.cm


def _refused(request: Request, error: ClothwrightError, unit: Unit) -> Response:
    """Say a refusal: as JSON to a script, as a page to a reader. 409: it cannot be done (now)."""
    status = 409 if isinstance(error, CannotDo) else 400
    if isinstance(error, NotThere) and request.method == "GET":
        status = 404
    if "text/html" in request.headers.get("accept", ""):
        return HTMLResponse(problem_page(told(error, unit)), status_code=status)
    return JSONResponse({"sentence": told(error, unit)}, status_code=status)


def _edit(asked: Asked) -> Response:
    """POST {"base": revision, "token": "", "edit": {...}}; or {"base": ..., "go": "undo"}."""
    sent = _json(asked)
    base = sent.get("base")
    if not isinstance(base, int) or isinstance(base, bool):
        raise BadInput(where="base", what="it is missing", expected="the revision looked at")
    go = sent.get("go")
    if go in ("undo", "redo"):
        done = asked.opened.undo(base=base) if go == "undo" else asked.opened.redo(base=base)
    else:
        token = sent.get("token", "")
        done = asked.opened.edit(
            sent.get("edit"), base=base, token=token if isinstance(token, str) else ""
        )
    return JSONResponse({"revision": done.revision, "words": done.words})


def _length(asked: Asked) -> Response:
    """GET ?text=&least=: what a typed length means, in the maker's unit and in mm."""
    unit = asked.book.unit
    least = asked.query.get("least", "")
    mm = parse_length(
        asked.query.get("text", ""),
        unit=unit,
        where=asked.query.get("where", ""),
        least_mm=float(least) if least.lstrip("-").isdigit() else None,
    )
    return JSONResponse({"mm": mm, "shown": show_length(mm, unit)})


EVERY_BOOK: tuple[tuple[str, Callable[[Asked], Response], str], ...] = (
    ("/b/{book}/edit", _edit, "POST"),
    ("/b/{book}/length", _length, "GET"),
)
"""What every workbook answers, whatever page is looked at."""


def _json(asked: Asked) -> dict[str, object]:
    try:
        sent = json.loads(asked.sent or b"null")
    except ValueError:
        sent = None
    if not isinstance(sent, dict):
        raise garbled()
    return sent


Seen = dict[str, tuple[tuple[object, ...], int]]
"""For each workbook that a page shows: its files when last looked at, the revision they had."""


def _live(room: Room, seen: Seen) -> Callable[[WebSocket], object]:
    async def endpoint(socket: WebSocket) -> None:
        try:
            book = await run_in_threadpool(room.book, socket.path_params["book"])
        except ClothwrightError:
            await socket.close(code=1008)
            return

        def hello() -> dict[str, object]:
            at: int | None
            try:
                at = book.read().revision
                seen.setdefault(book.name, ((), at))
            except ClothwrightError:
                at = None
            return {"kind": "hello", "run": room.run, "revision": at}

        await listen(socket, room.hub, book.name, lambda: run_in_threadpool(hello))

    return endpoint


def _lifespan(
    room: Room, seen: Seen
) -> Callable[[Starlette], contextlib.AbstractAsyncContextManager[None]]:
    @contextlib.asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        watcher = asyncio.create_task(_watch(room, seen))
        yield
        watcher.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await watcher

    return lifespan


async def _watch(room: Room, seen: Seen) -> None:
    """Tell the pages when a workbook's files were changed by another program."""
    while True:
        await asyncio.sleep(WATCH_S)
        for name in room.hub.listened():
            with contextlib.suppress(ClothwrightError, OSError):
                await run_in_threadpool(_look, room, name, seen)


def _look(room: Room, name: str, seen: Seen) -> None:
    """Tell the pages of one workbook if its files are others than when last looked at."""
    book = room.book(name)
    stamp, before = book.stamp(), seen.get(name)
    if before is None or before[0] != stamp:
        at = book.read().revision
        seen[name] = (stamp, at)
        if before is not None and before[1] != at:
            book.tell_changed(at)


def _limits(pages: tuple[Page, ...]) -> Callable[[str], int]:
    """Return how many bytes a path takes: what its door says, else little."""
    large = [(compile_path(d.path)[0], d.takes) for p in pages for d in p.doors if d.takes != SMALL]

    def limit(path: str) -> int:
        return next((takes for pattern, takes in large if pattern.match(path)), SMALL)

    return limit


def _http_problem(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    words = "There is no such page here." if status == 404 else "This cannot be done here."
    if isinstance(error, HTTPException) and status == 413:
        words = error.detail
    if "text/html" in request.headers.get("accept", ""):
        return HTMLResponse(problem_page(words), status_code=status)
    return JSONResponse({"sentence": words}, status_code=status)


def _own_fault(request: Request, error: Exception) -> Response:  # noqa: ARG001
    words = (
        "Something went wrong on our side; what was saved is safe. The window that runs "
        "Clothwright says more."
    )
    if "text/html" in request.headers.get("accept", ""):
        return HTMLResponse(problem_page(words), status_code=500)
    return JSONResponse({"sentence": words}, status_code=500)
