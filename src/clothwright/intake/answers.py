"""What is asked about a drawing, and what the maker has answered."""

from __future__ import annotations

from dataclasses import dataclass

NONE = "none"
"""The answer that an outline includes no allowance, or that there is no such thing."""
SIZES, PIECES = "sizes", "pieces"
"""The answers what blocks or layers that are alike hold."""
UNSURE = "unsure"
"""How they are taken while it is asked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What the maker has answered; empty = not answered. Texts as typed on the command line.

    allowance: "none" (the outline is the stitching line), "drawn" (the line inside it is), or what
        the outline includes: "5/8 in", or "5/8 in, hem=2 in" with edges of their own.
    true_size: "yes" when pieces are as large as they are read, though it is unusual.
    scale: "10 cm is 3.94" (a length in the world is so many of the drawing's units), or what one
        unit of the drawing is ("mm", "1/72 in").
    corners: number of corners ("5"), the least bend ("30 deg"), or their places ("at 0,0; 9,30").
    grain: "up", degrees, or "drawn" (the arrow that was recognised). fold: an edge, or "none".
    edges: names in order, counter-clockwise from the lower left corner; the same name twice running
        makes one edge of two. add: allowance to add to a
        stitching line. cut: "shell pair", "lining fold", with commas for more.
    notches, darts, levels: "none" when what was recognised is none. marks: "none", or numbers of
        the inner lines that are kept ("1,3").
    size: which of the sizes in it is the one to begin with.
    tiles: how the pages of a file lie together: "3x2" (3 across, 2 down), "1 2 3 / 4 - 5" (their
        numbers row by row), or "none". shift: how far a page moves to the next, across and down:
        "190 mm, 277 mm". moved: pages that lie off their place: "5: 2 mm, -1 mm" (right, up).
    layers: whether numbers of layers say what a line is: "numbered" or "names".
    alike: whether blocks or layers that are alike hold "sizes" of one piece, or "pieces".
    outline: which closed line is the piece's own (1 = the outermost). inside: what becomes of the
        large closed lines inside it: "1=mark, 2=piece"; others are left out.
    """

    name: str = ""
    allowance: str = ""
    add: str = ""
    true_size: str = ""
    scale: str = ""
    corners: str = ""
    edges: tuple[str, ...] = ()
    fold: str = ""
    grain: str = ""
    cut: str = ""
    notches: str = ""
    darts: str = ""
    levels: str = ""
    marks: str = ""
    outline: str = ""
    inside: str = ""
    size: str = ""
    tiles: str = ""
    shift: str = ""
    moved: str = ""
    layers: str = ""
    alike: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One thing that the drawing does not say.

    id: the field of `Answers` (and the option of the command line) that answers it. piece: the
    outline it is about, "" for the whole drawing. default: what was taken meanwhile; "" when
    nothing may be guessed and an answer is needed.
    """

    id: str
    words: str
    piece: str = ""
    choices: tuple[str, ...] = ()
    default: str = ""


def says(answer: str, word: str) -> bool:
    """Tell whether an answer is a certain word, however it is written."""
    return answer.strip().lower() == word
