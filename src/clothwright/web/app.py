"""The application: an explicit list of routes over the pages, wrapped in the guard."""

from __future__ import annotations

import asyncio
import contextlib
import threading
from collections.abc import AsyncIterator, Callable, Iterator, Sequence
from dataclasses import replace
from urllib.parse import parse_qsl

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import Mount, Route, WebSocketRoute, compile_path
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp, Receive, Scope, Send
from starlette.websockets import WebSocket

from clothwright.errors import BadInput, CannotDo, ClothwrightError, disk_failed
from clothwright.units import Unit, is_count, parse_length
from clothwright.web.answering import words
from clothwright.web.cloth_pictures import PATH, send_picture
from clothwright.web.guard import Guard, address_of, is_local, turn_of
from clothwright.web.keys import Keys, WrongKey
from clothwright.web.live import listen
from clothwright.web.page import Asked, Door, Page, post, sayable
from clothwright.web.pages import PAGES
from clothwright.web.rendering import problem_page, whole
from clothwright.web.room import Room
from clothwright.web.still import FOLDER
from clothwright.web.turns import Gone
from clothwright.words import show_length, told
from clothwright.workroom.apart.asking import gone
from clothwright.workroom.editing.opened import NotThere, unit_of

PACKED, PACKING = 2000, 4
"""Answers of more bytes are sent packed, quickly rather than tightly: drawings to a fifth."""
MOST_OFFERED = 12
"""How many earlier states are offered of a workbook that cannot be opened."""
WATCH_S = 1.0
"""How often the files of a workbook that somebody looks at are looked at."""


def make_app(
    room: Room, *, hosts: frozenset[str], keys: Keys | None = None, pages: tuple[Page, ...] = PAGES
) -> ASGIApp:
    """Return the whole application. hosts: every "name:port" it may be reached by."""
    shared = keys or Keys()
    seen: Seen = {}
    inner = Starlette(
        routes=[
            Mount("/static/at-{stamp}", app=StaticFiles(directory=FOLDER)),
            Mount("/static", app=StaticFiles(directory=FOLDER)),
            WebSocketRoute("/live/{book}", _live(room, seen)),
            *(_route(door.path, door, room, shared) for door in EVERY_BOOK),
        ],
        lifespan=_lifespan(room, seen),
        exception_handlers={HTTPException: _http_problem, Exception: _own_fault},
    )

    def routes_of(page: Page) -> list[Route]:
        shows = Door("", lambda asked: HTMLResponse(whole(page, asked, pages)))
        doors = (shows, *page.file.doors)
        return [_route(page.below(door.path), door, room, shared) for door in doors]

    loading = _loading(inner, pages, routes_of)
    packed = GZipMiddleware(loading, minimum_size=PACKED, compresslevel=PACKING)
    return Guard(app=packed, hosts=hosts, keys=shared)


def _loading(
    inner: Starlette, pages: tuple[Page, ...], routes_of: Callable[[Page], list[Route]]
) -> ASGIApp:
    """Return the application that loads a page's file, off the loop, before its first request."""
    waiting = {
        page: tuple(compile_path(path)[0] for path in (page.path, page.below("{rest:path}")))
        for page in pages
    }

    async def loading(scope: Scope, receive: Receive, send: Send) -> None:
        path = scope.get("path", "")
        for page in [p for p, own in waiting.items() if any(one.match(path) for one in own)]:
            routes = await run_in_threadpool(routes_of, page)
            if waiting.pop(page, None):
                inner.router.routes += routes
        await inner(scope, receive, send)

    return loading


def _route(path: str, door: Door, room: Room, keys: Keys) -> Route:
    async def endpoint(request: Request) -> Response:
        try:
            body = await _sent(request, door.most)
            with _while_there(request):
                return await run_in_threadpool(_answer, door, room, keys, request, body)
        except (ClientDisconnect, Gone):
            return Response(status_code=400)  # nobody is there to read it
        except OSError as error:
            return await run_in_threadpool(_refused, room, request, disk_failed(error))
        except ClothwrightError as error:
            if isinstance(error, WrongKey) and not is_local(request.scope):
                # Waited for on the loop, not in a thread: who guesses holds up nobody else.
                turn_of(request.scope).give_back()
                await asyncio.sleep(keys.slowed(address_of(request.scope)))
            return await run_in_threadpool(_refused, room, request, error)

    return Route(path, endpoint, methods=[door.method])


@contextlib.contextmanager
def _while_there(request: Request) -> Iterator[None]:
    """Let what is read for a page be ended when the page goes away meanwhile."""
    left = threading.Event()

    async def watch() -> None:
        while (await request.receive())["type"] != "http.disconnect":
            pass
        left.set()

    watcher = asyncio.create_task(watch())
    mark = gone.set(left)
    try:
        yield
    finally:
        gone.reset(mark)
        watcher.cancel()


async def _sent(request: Request, most: int) -> bytes:
    """Return what was sent; while it is on its way others have their turn."""
    said = request.headers
    if said.get("content-length", "0") == "0" and "transfer-encoding" not in said:
        return b""
    turn = turn_of(request.scope)
    turn.give_back()
    body = await _body(request, most)
    await turn.take()
    return body


async def _body(request: Request, most: int) -> bytes:
    """Return what was sent; refuse more than `most` bytes by what is said of it, and by what is."""
    size = request.headers.get("content-length", "0")
    if not is_count(size) or int(size) > most:
        raise _too_big(most)
    body = bytearray()
    async for chunk in request.stream():
        body += chunk
        if len(body) > most:
            raise _too_big(most)
    return bytes(body)


def _too_big(most: int) -> HTTPException:
    size = f"{most / 1e6:g} MB" if most >= 1e6 else f"{most / 1000:g} kB"
    return HTTPException(413, f"Too big: at most {size} are taken here. Try a smaller file.")


def _answer(door: Door, room: Room, keys: Keys, request: Request, body: bytes) -> Response:
    kind = request.headers.get("content-type", "").partition(";")[0]
    form = {}
    if kind == "application/x-www-form-urlencoded":
        form = dict(parse_qsl(body.decode("utf-8", "replace"), keep_blank_values=True))
    query = dict(request.query_params)
    for said in (query, form, request.path_params):
        sayable("".join((*said, *said.values())))
    asked = Asked(
        room=room,
        keys=keys,
        query=query,
        form=form,
        sent=body,
        path=dict(request.path_params),
        local=is_local(request.scope),
        origin=f"http://{request.headers['host']}",
    )
    name = request.path_params.get("book")
    if name is None:
        return door.answer(asked)
    book = room.book(name)
    return door.answer(replace(asked, open_book=book) if door.unread else asked.with_book(book))


def _unit(room: Room, request: Request) -> Unit:
    """Return the unit of the workbook a request is about; cm where it is about none."""
    name = request.path_params.get("book")
    try:
        return (None if name is None else unit_of(room.book(name).folder)) or Unit.cm
    except ClothwrightError:
        return Unit.cm


def _refused(room: Room, request: Request, error: ClothwrightError) -> Response:
    """Say a refusal: as JSON to a script, as a page to a reader. 409: it cannot be done (now).

    The page of a workbook that cannot be opened offers the states that can be brought back.
    """
    unit = _unit(room, request)
    status = 409 if isinstance(error, CannotDo) else 400
    if isinstance(error, NotThere) and request.method == "GET":
        status = 404
    if "text/html" in request.headers.get("accept", ""):
        name = request.path_params.get("book", "")
        states: Sequence[object] = ()
        with contextlib.suppress(ClothwrightError):
            states = room.book(name).earlier(MOST_OFFERED) if name else ()
        return HTMLResponse(problem_page(told(error, unit), name, states), status_code=status)
    return JSONResponse({"sentence": told(error, unit)}, status_code=status)


def _bring_back(asked: Asked) -> Response:
    """POST the form state=the name of its copy, "" for the newest whole one; show the pieces."""
    asked.opened.bring_back(asked.form.get("state", ""))
    return RedirectResponse(asked.address("pieces"), status_code=303)


def _edit(asked: Asked) -> Response:
    """POST {"base": revision, "token": "", "edit": {...}}; or {"base": ..., "go": "undo"}."""
    sent = asked.json
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


def _put_away(asked: Asked) -> Response:
    """POST the form notice=what it speaks of, page=the page's name: told no more."""
    said = asked.opened.put_away(asked.form.get("notice", ""))
    own = {p.name: p.address(asked.opened.name) for p in PAGES if "{book}" in p.path}
    back = own.get(asked.form.get("page", ""), own["pieces"])
    return words(asked, back.removeprefix(asked.address("")), said)


def _length(asked: Asked) -> Response:
    """GET ?text=&least=: what a typed length means, in the maker's unit and in mm.

    One that means none yet, for it is still being typed, is {"sentence"}: nothing is refused.
    """
    unit = asked.book.unit
    least = asked.query.get("least", "")
    try:
        mm = parse_length(
            asked.query.get("text", ""),
            unit=unit,
            where=asked.query.get("where", ""),
            least_mm=float(least) if is_count(least.removeprefix("-")) else None,
        )
    except BadInput as error:
        return JSONResponse({"sentence": told(error, unit)})
    return JSONResponse({"mm": mm, "shown": show_length(mm, unit)})


EVERY_BOOK = (
    post("/b/{book}/edit", _edit),
    post("/b/{book}/put-away", _put_away),
    Door("/b/{book}/recover", _bring_back, "POST", unread=True),
    Door("/b/{book}/length", _length),
    Door(PATH, send_picture),
)
"""What every workbook answers, whatever page is looked at."""


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

        async def first() -> dict[str, object]:
            said = await run_in_threadpool(hello)
            turn_of(socket.scope).give_back()
            return said

        await listen(socket, room.hub, book.name, first)

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
