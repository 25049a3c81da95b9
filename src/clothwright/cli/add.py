"""clothwright add: pieces from drawings."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import open_book, out, table
from clothwright.words import show_length


def add(
    workbook: Path,
    drawing: Path,
    *more: Path,
    name: str = "",
    allowance: str = "",
    add: str = "",
    scale: str = "",
    true_size: bool = False,
    size: str = "",
    tiles: str = "",
    shift: str = "",
    moved: str = "",
    layers: str = "",
    alike: str = "",
    corners: str = "",
    edges: str = "",
    fold: str = "",
    grain: str = "",
    cut: str = "",
    notches: str = "",
    darts: str = "",
    levels: str = "",
    marks: str = "",
    outline: str = "",
    inside: str = "",
    bar: str = "",
    follow: str = "",
    correct: str = "",
    show: Path | None = None,
    replace: bool = False,
    dry_run: bool = False,
) -> None:
    """Add the pieces of a drawing to a workbook.

    What the drawing does not say is asked, not guessed: whether the allowance is included, and the
    scale when the file names no unit. What is recognised (notches, darts, grain, fold, words) is
    proposed and told; an option says otherwise. Edges are counted counter-clockwise from the lower
    left corner. A drawing annotated as in docs/file-format.md needs no options, and so do typed
    measurements (.txt, docs/typed.md) but for what they do not say.

    Parameters
    ----------
    workbook
        The workbook's folder.
    drawing
        The file.
    more
        Further photos of the same paper piece (clothwright sheets prints what lies beside it).
    name
        Name of the piece; several outlines get numbers.
    allowance
        What the outline includes: "5/8 in", "5/8 in, hem=2 in"; none (it is the stitching line); or
        drawn (a line inside it is).
    add
        With --allowance none: the allowance to add outside, in the same way.
    scale
        The unit it was drawn in (mm, cm, in), or a measured length: "10 cm is 378".
    true_size
        Pieces are as large as they are read; asked where that is unusual for their names.
    size
        The size to begin with, when the drawing holds several; the others are kept.
    tiles
        How the pages of a PDF lie together: "3x2" is 3 across and 2 down, "3x2 by columns" counts
        downward first; or their numbers row by row, "1 2 3 / 4 - 5"; none: each by itself.
    shift
        With --tiles: how far it is from a page to the next, across and down: "190 mm, 277 mm".
    moved
        Single pages that lie off their place: "5: 2 mm, -1 mm" is 2 mm to the right and 1 mm down.
    layers
        What numbers of layers in a DXF file mean: numbered (1 boundary, 4 notches, 7 grain, 14 sew
        lines ... as in ASTM D6673) or names (nothing); without it, proposed by the file's looks.
    alike
        What blocks or layers of a DXF file that are alike hold, or lines in several colours, dashes
        or widths in one another: sizes (of one piece), or pieces; asked where it is not told.
    corners
        How many corners an outline has ("5"), the least bend that is one ("30 deg"), or where they
        are, in mm ("at 0,0; 120.5,300").
    edges
        Names of the edges in order, with commas; "hem" becomes a hem.
    fold
        The edge that lies on the fold; none when the mark that was recognised is no fold.
    grain
        The grain arrow: drawn (the one recognised), up (the page), or degrees from the right,
        counter-clockwise.
    cut
        How to cut: "shell pair", "shell fold, lining fold".
    notches
        none: what was recognised as notches is no notch.
    darts
        none: what was recognised as darts is no dart.
    levels
        none: what was recognised as level lines is none.
    marks
        Inner lines to keep as marks: none, or their numbers ("1,3").
    outline
        Which closed line is the piece's own, where several lie in each other (sizes): 1 is the
        outermost.
    inside
        What the large closed lines inside are: "1=mark, 2=piece"; others are left out.
    bar
        For photos: what a ruler says of the 200 mm bar on the marker sheets ("199.5 mm").
    follow
        For photos: line (the piece is drawn on its paper) or edge (it is cut out); without it the
        photos tell.
    correct
        For photos: places of the outline put elsewhere by hand, from the lower left corner of the
        picture, right and up: "4 3/4 in, 1 3/8 in by 1/16 in, 0 in" (mm without a unit: "120,35 by
        2,0"); "60,300 out" lets the line run fair across there; several with semicolons.
    show
        For photos: write the flat picture with the outline and the doubts drawn on it here.
    replace
        Replace a piece of the same name.
    dry_run
        Show what would be added and change nothing.
    """
    from clothwright.workroom.pieces import typing  # noqa: PLC0415
    from clothwright.workroom.pieces.adding import answers_of, pieces_of  # noqa: PLC0415

    book = open_book(workbook)
    at = book.look() if dry_run else book.read()
    unit = at.book.unit
    answers = answers_of(
        name=name,
        allowance=allowance,
        add=add,
        scale=scale,
        true_size="yes" if true_size else "",
        size=size,
        tiles=tiles,
        shift=shift,
        moved=moved,
        layers=layers,
        alike=alike,
        corners=corners,
        edges=edges,
        fold=fold,
        grain=grain,
        cut=cut,
        notches=notches,
        darts=darts,
        levels=levels,
        marks=marks,
        outline=outline,
        inside=inside,
    )
    edit, notes = pieces_of(
        at.book,
        drawing,
        answers,
        more=more,
        bar=bar,
        follow=follow,
        correct=correct,
        show=show,
        replace_same=replace,
    )
    for piece in edit.pieces:
        rows = [
            (
                e.name,
                e.role.value,
                show_length(e.length, unit),
                show_length(e.allowance, unit),
            )
            for e in piece.edges
        ]
        table(("edge", "role", "stitching line", "allowance"), rows, piece.name)
    for note in notes:
        out.print(f"Note: {note}")
    if not dry_run:
        done = book.edit(edit, base=at.revision)
        typing.keep_file(workbook, drawing, edit.pieces)
        out.print(f"{done.words}.")
