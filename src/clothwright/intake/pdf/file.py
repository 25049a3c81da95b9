"""A PDF file opened with limits, and its pages as lines and words in mm.

Page boxes, rotation and UserUnit: ISO 32000-2, 7.7.3.3 and 14.11.2.
"""

from __future__ import annotations

import io
import logging
from collections import Counter
from collections.abc import Iterator
from typing import Any, NamedTuple

import pikepdf

from clothwright.errors import BadInput
from clothwright.geometry.transform import Transform
from clothwright.intake.drawing import DrawnText
from clothwright.intake.pdf.content import Budget, Content, said
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.layers import Layers
from clothwright.intake.pdf.weigh import weigh
from clothwright.intake.pdf.words import ONE_AT_A_TIME, POINTS_MM, open_words, words_of

MOST_BYTES = 60_000_000
MOST_PAGES = 400
logging.getLogger("pikepdf").addHandler(logging.NullHandler())  # told in `FileRead.mended`


class FileRead(NamedTuple):
    """Pages of a file; what was not read, by kind; whether the file was damaged and mended."""

    pages: tuple[DrawnPage, ...]
    left_out: Counter[str]
    mended: bool = False


def read_pages(data: bytes, where: str) -> FileRead:
    """Return what is drawn on every page. Raises BadInput, never anything else."""
    if len(data) > MOST_BYTES:
        raise BadInput(
            where=where,
            what=f"it has {len(data) / 1e6:.0f} MB",
            expected=f"at most {MOST_BYTES / 1e6:.0f} MB",
        )
    with _opened(data, where) as file:
        budget = Budget(where)
        try:
            layers = Layers(file.Root)
            mended = bool(file.get_warnings())
            with ONE_AT_A_TIME, open_words(_whole(file) if mended else data) as words:
                if words is None:
                    budget.left_out["words"] += 1
                pages = tuple(_pages(file, layers, budget, words, where))
            mended = mended or bool(file.get_warnings())
        except BadInput:
            raise
        except (pikepdf.PdfError, ValueError, TypeError, KeyError, IndexError) as error:
            raise _broken(where, error) from None
        except (AttributeError, RuntimeError, RecursionError, OverflowError) as error:
            raise _broken(where, error) from None
    return FileRead(pages, budget.left_out, mended)


def _whole(file: pikepdf.Pdf) -> bytes:
    """Return a mended file as a whole one, for the reader of words."""
    out = io.BytesIO()
    file.save(out)
    return out.getvalue()


def _broken(where: str, error: Exception) -> BadInput:
    return BadInput(
        where=where,
        what=f"its pages cannot be read ({said(error)})",
        expected="a whole PDF file",
        try_="saving or downloading it again",
    )


def _opened(data: bytes, where: str) -> pikepdf.Pdf:
    try:
        return pikepdf.open(io.BytesIO(data), suppress_warnings=True)
    except pikepdf.PasswordError:
        raise BadInput(
            where=where,
            what="it is locked with a password",
            expected="a file that opens without one",
            try_="opening it with its password and saving a copy without",
        ) from None
    except (pikepdf.PdfError, ValueError, RuntimeError, OverflowError) as error:
        raise BadInput(
            where=where,
            what=f"it could not be read as a PDF file ({said(error)})",
            expected="a whole PDF file",
            try_="saving or downloading it again",
        ) from None


def _pages(
    file: pikepdf.Pdf, layers: Layers, budget: Budget, words: Any, where: str
) -> Iterator[DrawnPage]:
    count = len(file.pages)
    if not 0 < count <= MOST_PAGES:
        raise BadInput(
            where=where,
            what=f"it has {count} pages",
            expected=f"between 1 and {MOST_PAGES}",
        )
    for number, page in enumerate(file.pages, start=1):
        move, width, height = _frame(page, where)
        content = Content(layers, budget)
        if "/Contents" in page.obj:
            weigh(page.obj["/Contents"], where)
            content.draw(page, page.obj.get("/Resources") or page.resources, move)
        texts: tuple[DrawnText, ...] = ()
        if words is not None and number <= len(words):
            texts = words_of(words[number - 1], move)
        yield DrawnPage(
            number=number,
            width=width,
            height=height,
            lines=tuple(content.lines),
            texts=tuple(t for t in texts if t.words),
        )


def _frame(page: pikepdf.Page, where: str) -> tuple[Transform, float, float]:
    """Return the move from a page's coordinates to mm as shown, and its width and height."""
    box = [float(n) for n in page.cropbox]
    media = [float(n) for n in page.mediabox]
    x0, x1 = sorted((box[0], box[2]))
    y0, y1 = sorted((box[1], box[3]))
    mx0, mx1 = sorted((media[0], media[2]))
    my0, my1 = sorted((media[1], media[3]))
    x0, x1, y0, y1 = max(x0, mx0), min(x1, mx1), max(y0, my0), min(y1, my1)
    if not (x1 > x0 and y1 > y0):
        x0, x1, y0, y1 = mx0, mx1, my0, my1
    unit = POINTS_MM * _user_unit(page)
    width, height = (x1 - x0) * unit, (y1 - y0) * unit
    if not (0 < width < 100_000 and 0 < height < 100_000):
        raise BadInput(where=where, what="a page has no size", expected="pages of paper size")
    turn = round(_number(_inherited(page.obj, "/Rotate"), 0.0) / 90) % 4
    move = Transform(unit, 0.0, 0.0, unit, -x0 * unit, -y0 * unit)
    for _ in range(turn):  # a quarter clockwise each: (x, y) -> (y, width - x)
        move = move.then(Transform(0.0, -1.0, 1.0, 0.0, 0.0, width))
        width, height = height, width
    return move, width, height


def _user_unit(page: pikepdf.Page) -> float:
    found = _number(page.obj.get("/UserUnit"), 1.0)
    return found if 0 < found < 10_000 else 1.0


def _inherited(node: Any, key: str) -> Any:
    for _ in range(50):
        if not isinstance(node, pikepdf.Dictionary):
            return None
        if key in node:
            return node[key]
        node = node.get("/Parent")
    return None


def _number(value: Any, default: float) -> float:
    try:
        return float(value)
    except (TypeError, ValueError, OverflowError):
        return default
