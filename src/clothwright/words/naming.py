"""Names of pieces, edges and points, lists of them, and counts with their noun."""

from collections.abc import Iterable, Sequence

_BACK = " reversed"


def edge_name(piece: str, edge: str, *, seam: bool = False) -> str:
    """Return an edge as it is said; with `seam` when it is spoken of as sewn.

    >>> edge_name("coat front", "side"), edge_name("coat front", "side", seam=True)
    ('coat front, side', 'coat front, side seam')
    >>> edge_name("coat front", "side seam", seam=True), edge_name("coat front", "")
    ('coat front, side seam', 'coat front')
    """
    if not edge:
        return piece
    sewn = seam and not edge.casefold().endswith("seam")
    return f"{piece}, {edge} seam" if sewn else f"{piece}, {edge}"


def point_name(piece: str, point: str) -> str:
    """Return a corner, notch or mark of a piece as it is said.

    >>> point_name("coat front", "hem start"), point_name("coat front", "")
    ('coat front, hem start', 'coat front')
    """
    return f"{piece}, {point}" if point else piece


def split_ref(text: str) -> tuple[str, str]:
    """Return piece and edge (or point) of what a file writes as "PIECE.EDGE"; "" without a dot.

    >>> split_ref("coat back.side reversed"), split_ref("coat front")
    (('coat back', 'side'), ('coat front', ''))
    """
    piece, _, edge = text.strip().removesuffix(_BACK).partition(".")
    return piece.strip(), edge.strip()


def ref_name(text: str) -> str:
    """Return an edge or point that a file writes as "PIECE.EDGE" as it is said.

    Text without a dot is a piece's name and stays as it is.

    >>> ref_name("coat front.side"), ref_name("coat back.side reversed"), ref_name("coat front")
    ('coat front, side', 'coat back, side', 'coat front')
    """
    return edge_name(*split_ref(text))


def refs_name(edges: Iterable[tuple[str, str]]) -> str:
    """Return several (piece, edge) pairs said together; a pair without an edge is its piece.

    >>> refs_name([("coat front", "armhole"), ("coat back", "armhole")])
    'coat front (armhole) and coat back (armhole)'
    >>> refs_name([("facing", "neck"), ("facing", "front edge")]), refs_name([("sleeve", "cap")])
    ('facing (neck and front edge)', 'sleeve, cap')
    >>> refs_name([("skirt front", "waist"), ("skirt front", "waist")])  # both halves of it
    'skirt front, waist'
    """
    of: dict[str, list[str]] = {}
    for piece, edge in dict.fromkeys(edges):
        of.setdefault(piece, []).append(edge)
    if len(of) == 1:
        piece, names = next(iter(of.items()))
        return edge_name(piece, names[0]) if len(names) == 1 else f"{piece} ({listed(names)})"
    return listed([f"{piece} ({listed(e)})" if any(e) else piece for piece, e in of.items()])


def seam_name(name: str) -> str:
    """Return a seam as it is said: its name, with the word where it is not in it.

    >>> seam_name("side"), seam_name("coat sleeve seam")
    ('side seam', 'coat sleeve seam')
    """
    return name if name.casefold().endswith("seam") else f"{name} seam"


def motif_name(name: str) -> str:
    """Return a motif of a print as it is said, whatever word its maker calls it by.

    >>> motif_name("one")
    'motif “one”'
    """
    return f"motif “{name}”"


def listed(names: Sequence[str], last: str = "and") -> str:
    """Return names as a list in words; `last` stands before the last one ("and", "or").

    >>> listed(["front", "back", "sleeve"]), listed(["front", "back"], "or"), listed([])
    ('front, back and sleeve', 'front or back', '')
    """
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


def counted(count: int, one: str, many: str = "") -> str:
    """Return a count with its noun; `many` where an s does not make the plural.

    >>> counted(1, "piece"), counted(0, "piece"), counted(2, "notch", "notches")
    ('1 piece', 'no pieces', '2 notches')
    """
    noun = one if count == 1 else many or f"{one}s"
    return f"{count} {noun}" if count else f"no {noun}"
