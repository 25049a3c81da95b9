"""How does it lie on the cloth? The lay on the long table, moved by hand, laid and ticked off."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode

from markupsafe import Markup
from starlette.responses import JSONResponse, Response

from clothwright.errors import BadInput
from clothwright.picture.photo_svg import Address
from clothwright.web.answering import words
from clothwright.web.cloth_pictures import photos_of
from clothwright.web.page import Asked, Door, PageFile, handed_over, post
from clothwright.web.svg import inline
from clothwright.workroom.cloth.pictures import lost_words, photos_in
from clothwright.workroom.cutting.board import Board, BoardPiece, cutting_of
from clothwright.workroom.cutting.lay_files import cloth_file, garment_file
from clothwright.workroom.cutting.printing import PRINTS, PrintKind, printed_pieces, zipped
from clothwright.workroom.cutting.table import laid_table, try_by_hand, turn_by_hand
from clothwright.workroom.cutting.ticking import lay_once_more, tick_line
from clothwright.workroom.sewing.on_garment import worn_of

PAPERS = ("A4", "Letter")
MARGIN_MM = 40.0
ROUGH_MM = 0.3
"""Lines on the screen may stray this far."""
WAYS = (("left", "←", -1, 0), ("right", "→", 1, 0), ("up", "↑", 0, 1), ("down", "↓", 0, -1))
"""Ways a piece is pushed: in words, its sign, and along and across the cloth."""


def render(asked: Asked) -> Mapping[str, object]:
    """Return the lay of the chosen plan, its laying list, and the chosen piece."""
    if not (asked.book.bought.pieces and asked.book.cloths):
        missing = "cloth" if asked.book.bought.pieces else "pieces"
        return {"ready": False, "missing": missing, "cutting": None, "board": None}
    query = asked.query
    shown = cutting_of(
        asked.lays, asked.seen, piece=query.get("piece", ""), cloth=query.get("cloth", "")
    )
    board = shown.board
    mine = asked.book.settings.paper
    return {
        "ready": True,
        "cutting": shown,
        "board": board,
        "lost": lost_words(asked.book, asked.opened.folder),
        "drawing": "" if board is None else _drawing(board, photos_of(asked.opened.name)),
        "worn_now": lambda: board and worn_of(asked.opened, asked.seen, board.laid, "cut"),
        "href": _href,
        "ways": WAYS,
        "papers": tuple(dict.fromkeys((*PAPERS, mine))),
        "piece_files": _FILES,
        "mine": mine,
    }


def _href(**query: str) -> str:
    return "?" + urlencode({k: v for k, v in query.items() if v})


def _drawing(board: Board, photos: Address) -> Markup:
    """Return the cloth on the table with something to take hold of over every piece."""
    return inline(
        board.picture,
        alt=board.title,
        over=Markup("").join(_hold(h, board.cloth) for h in board.holds),
        margin=MARGIN_MM,
        extra="lay",
        rough=ROUGH_MM,
        photos=photos,
    )


def _hold(hold: BoardPiece, cloth: str) -> Markup:
    step, place, pinned = hold.row.step, hold.place, hold.row.pinned
    data = {
        "shape": step.shape,
        "piece": step.piece,
        "copy": step.copy,
        "cloth": cloth,
        "x": f"{place.x:.4f}",
        "y": f"{place.y:.4f}",
        "turn": f"{place.turn_deg:.4f}",
        "flipped": "yes" if place.flipped else "no",
        "pinned": "yes" if pinned else "no",
        "cut": "yes" if hold.row.cut else "no",
        "held": "".join("1" if held else "0" for held in hold.held),
        "href": _href(cloth=cloth, piece=step.shape),
    }
    return Markup(
        '<g class="hold{}{}{}" id="hold-{}" tabindex="0" role="button" aria-label="{}" {} '
        'aria-pressed="{}"><path class="reach" d="M{}Z"/>{}</g>'
    ).format(
        " pinned" if pinned else "",
        " cut" if hold.row.cut else "",
        " chosen" if hold.row.chosen else "",
        step.shape.replace(" ", "-"),
        f"{step.number} {step.shape}" + (", cut" if hold.row.cut else ", pinned" * pinned),
        Markup(" ").join(Markup('data-{}="{}"').format(k, v) for k, v in data.items()),
        "true" if hold.row.chosen else "false",
        "L".join(f"{x:.0f},{-y:.0f}" for x, y in hold.ring),
        _pin(hold) if pinned else "",
    )


def _pin(hold: BoardPiece) -> Markup:
    """Return a pin through the middle of a pinned piece."""
    x, y = hold.middle[0], -hold.middle[1]
    return Markup(
        '<path class="pin" d="M{0:.0f},{1:.0f}l70,-50M{2:.0f},{3:.0f}a14,14 0 1 1 -0.1,0"/>'
    ).format(x - 35, y + 45, x + 45, y - 33)


# --- what is pressed ------------------------------------------------------------------------------


def try_it(asked: Asked) -> Response:
    """Answer a drag: the nearest place that keeps the rules, and what is wrong there. BadInput."""
    sent = asked.json
    name = str(sent.get("shape", ""))

    def number(key: str) -> float:
        value = sent.get(key, 0.0)
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise BadInput(where=key, what=f"{value!r} is no number", expected="mm or degrees")
        return float(value)

    if sent.get("next"):
        tried = turn_by_hand(asked.lays, asked.seen, name)
    else:
        tried = try_by_hand(
            asked.lays,
            asked.seen,
            name,
            x=number("x"),
            y=number("y"),
            turn_deg=number("turn"),
            flipped=sent.get("flipped") is True,
            step=(number("step_x"), number("step_y")),
            came=(number("from_x"), number("from_y")),
        )
    p = tried.place
    return JSONResponse(
        {
            "shape": name,
            "x": round(p.x, 4),
            "y": round(p.y, 4),
            "turn": p.turn_deg,
            "flipped": p.flipped,
            "faults": tried.faults,
            "over": tried.over,
            "may_pin": tried.may_pin,
        }
    )


def tick(asked: Asked) -> Response:
    """Tick or untick a line of the laying list. Raises BadInput, CannotDo."""
    form = asked.form
    done = form.get("done") == "yes"
    tick_line(asked.lays, asked.seen, form.get("key", ""), form.get("lay", ""), done=done)
    return words(asked, "cut", "")


def again(asked: Asked) -> Response:
    """Have a piece that is cut laid once more on what is left. Raises BadInput, CannotDo."""
    said = lay_once_more(asked.lays, asked.seen, asked.query.get("piece", ""))
    return words(asked, "cut", said)


def lay_rest(asked: Asked) -> Response:
    """Lay the plan anew around what is pinned or cut. Raises BadInput."""
    name = asked.lays.start()
    return words(asked, "cut", f"“{name}” is being laid, around what is pinned or cut.")


def stop(asked: Asked) -> Response:
    """Stop laying; the best lay is kept."""
    asked.lays.stop()
    return words(asked, "cut", "Stopped. The best lay is kept.")


# --- files to take away ---------------------------------------------------------------------------


def _print_door(wanted: PrintKind) -> Door:
    """Return the door of one kind of print of the pieces."""

    def answer(asked: Asked) -> Response:
        paper = asked.query.get("paper", "")
        if paper and paper not in PAPERS:
            raise BadInput(
                where="paper", what=f'"{paper[:40]}" is not offered', expected=" or ".join(PAPERS)
            )
        files = printed_pieces(
            asked.book, kinds=(wanted.kind,), paper=paper, pattern=asked.replayed.pattern
        )
        if wanted.is_zip:
            return handed_over(zipped(files, flat=True), wanted.name)
        return handed_over(files[0].content, files[0].name)

    return Door(wanted.name, answer)


_FILES = tuple(p for p in PRINTS if p.kind != "pages")
"""Offered besides the pages, which are offered for each paper."""


def _lay_door(kind: str) -> Door:
    """Return the door of the lay plan as one kind of file."""

    def answer(asked: Asked) -> Response:
        laid = laid_table(asked.lays, asked.seen).laid
        photos = photos_in(asked.opened.folder)
        file = cloth_file(laid, asked.book.unit, asked.query.get("cloth", ""), kind, photos)
        return handed_over(file.content, file.name)

    return Door(f"lay.{kind}", answer)


def garment_pdf(asked: Asked) -> Response:
    """Return front and back of a garment with its print as one page. Raises BadInput, CannotDo."""
    laid = laid_table(asked.lays, asked.seen).laid
    file = garment_file(laid, asked.query.get("name", ""), photos_in(asked.opened.folder))
    return handed_over(file.content, file.name)


PAGE = PageFile(
    render=render,
    doors=(
        post("try", try_it),
        post("tick", tick),
        post("again", again),
        post("lay", lay_rest),
        post("stop", stop),
        _lay_door("pdf"),
        _lay_door("svg"),
        Door("garment.pdf", garment_pdf),
        *(_print_door(p) for p in PRINTS),
    ),
    modules=("cut.js", "garment.js"),
)
