"""PDF files made to break a reader (demo data): endless, huge, locked, contradictory."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable
from functools import cache
from itertools import pairwise

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream

from tests.intake.mutations import Broken

LINE = b"10 10 m 500 10 l 500 700 l h S"


def _pdf(content: bytes = LINE, *, page: dict[str, object] | None = None, **save: object) -> bytes:
    """Return a file of one page. page: more entries of it."""
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(595, 842))
    obj = pdf.pages[0].obj
    obj.Contents = Stream(pdf, content)
    for key, value in (page or {}).items():
        obj[f"/{key}"] = value
    return _saved(pdf, **save)


def _saved(pdf: pikepdf.Pdf, **save: object) -> bytes:
    out = io.BytesIO()
    pdf.save(out, **save)  # type: ignore[arg-type]
    return out.getvalue()


def _forms(bodies: dict[str, bytes], links: dict[str, tuple[str, ...]], start: str) -> bytes:
    """Return a file with forms that draw each other."""
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(595, 842))
    made = {
        n: pdf.make_indirect(
            Stream(pdf, b, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 595, 842]))
        )
        for n, b in bodies.items()
    }
    for n, inner in links.items():
        made[n].Resources = Dictionary(XObject=Dictionary({f"/{k}": made[k] for k in inner}))
    page = pdf.pages[0].obj
    page.Resources = Dictionary(XObject=Dictionary({f"/{start}": made[start]}))
    page.Contents = Stream(pdf, f"/{start} Do".encode())
    return _saved(pdf)


def form_in_itself() -> bytes:
    return _forms({"A": LINE + b" /A Do /A Do"}, {"A": ("A",)}, "A")


def forms_in_turn() -> bytes:
    return _forms(
        {"A": b"/B Do /B Do " + LINE, "B": b"/A Do /A Do " + LINE}, {"A": ("B",), "B": ("A",)}, "A"
    )


def doubling_forms() -> bytes:
    names = [f"F{k}" for k in range(22)]
    bodies = {n: f"/{m} Do /{m} Do".encode() for n, m in pairwise(names)}
    bodies[names[-1]] = LINE
    links = {n: (m,) for n, m in pairwise(names)}
    return _forms(bodies, links, names[0])


@cache
def _spaces(head: bytes = b"") -> bytes:
    """Return 400 MB of spaces, after what comes before them, packed: it takes seconds."""
    pack = zlib.compressobj(9)
    parts = [pack.compress(head), *(pack.compress(b" " * 1_000_000) for _ in range(400))]
    return b"".join((*parts, pack.flush()))


def _packed(data: bytes, filters: int = 1) -> bytes:
    """Return a file of one page whose content is packed so many times already."""
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(595, 842))
    stream = Stream(pdf, b"")
    stream.write(data, filter=Array([Name.FlateDecode] * filters))
    pdf.pages[0].obj.Contents = stream
    return _saved(pdf, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.none)


def packed_spaces() -> bytes:
    return _packed(_spaces())


def packed_twice() -> bytes:
    return _packed(zlib.compress(_spaces(), 9), filters=2)


def packed_form() -> bytes:
    data = _forms({"A": LINE}, {}, "A")
    with pikepdf.open(io.BytesIO(data)) as pdf:
        form = pdf.pages[0].obj.Resources.XObject.A
        form.write(_spaces(), filter=Name.FlateDecode)
        return _saved(
            pdf, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.none
        )


def packed_object_stream() -> bytes:
    """Catalog and page tree lie in an object stream that unpacks to 400 MB; written by hand."""
    inner = (
        b"<</Type/Catalog/Pages 2 0 R>>",
        b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]>>",
    )
    places = [sum(len(o) + 1 for o in inner[:k]) for k in range(3)]
    head = b" ".join(b"%d %d" % (k + 1, at) for k, at in enumerate(places)) + b"\n"
    body = _spaces(head + b" ".join(inner))
    out = b"%PDF-1.7\n"
    four = len(out)
    out += b"4 0 obj\n<</Type/ObjStm/N 3/First %d/Filter/FlateDecode/Length %d>>" % (
        len(head),
        len(body),
    )
    out += b"stream\n" + body + b"\nendstream\nendobj\n"
    five = len(out)
    rows = [(0, 0, 255), (2, 4, 0), (2, 4, 1), (2, 4, 2), (1, four, 0), (1, five, 0)]
    table = b"".join(struct.pack(">BIB", *row) for row in rows)
    out += b"5 0 obj\n<</Type/XRef/Size 6/W[1 4 1]/Root 1 0 R/Length %d>>" % len(table)
    out += b"stream\n" + table + b"\nendstream\nendobj\n"
    return out + b"startxref\n%d\n%%%%EOF" % five


def _by_hand(objects: tuple[bytes, ...], trailer: bytes = b"") -> bytes:
    out = b"%PDF-1.7\n"
    for k, each in enumerate(objects, start=1):
        out += b"%d 0 obj\n%s\nendobj\n" % (k, each)
    return out + b"trailer<</Root 1 0 R/Size %d%s>>\nstartxref\n0\n%%%%EOF" % (
        len(objects) + 1,
        trailer,
    )


def pages_in_a_ring() -> bytes:
    return _by_hand(
        (b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Kids[2 0 R 2 0 R]/Count 2147483647>>")
    )


def parent_in_a_ring() -> bytes:
    return _by_hand(
        (
            b"<</Type/Catalog/Pages 2 0 R>>",
            b"<</Type/Pages/Kids[3 0 R]/Count 1/Parent 2 0 R>>",
            b"<</Type/Page/Parent 2 0 R/Rotate 2 0 R/MediaBox 2 0 R>>",
        )
    )


def huge_count() -> bytes:
    kids = b"3 0 R " * 100_000
    return _by_hand(
        (
            b"<</Type/Catalog/Pages 2 0 R>>",
            b"<</Type/Pages/Kids[%s]/Count 100000>>" % kids,
            b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]>>",
        )
    )


def previous_of_itself() -> bytes:
    return _by_hand((b"<</Type/Catalog/Pages 2 0 R>>", b"<</Kids[]>>"), b"/Prev 9")


def deep_dictionary() -> bytes:
    return _by_hand((b"<</A " * 20_000 + b"1" + b">>" * 20_000,))


def locked() -> bytes:
    return _pdf(encryption=pikepdf.Encryption(owner="o", user="u"))


def locked_without_word() -> bytes:
    return _pdf(encryption=pikepdf.Encryption(owner="o", user=""))


def layer_of_itself() -> bytes:
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(595, 842))
    mark = pdf.make_indirect(Dictionary(Type=Name.OCMD))
    mark.OCGs = Array([mark] * 40)
    page = pdf.pages[0].obj
    page.Resources = Dictionary(Properties=Dictionary(M=mark))
    page.Contents = Stream(pdf, b"/OC /M BDC " + LINE + b" EMC")
    return _saved(pdf)


def outside_stream() -> bytes:
    """A content that names a file of the machine and one of another machine."""
    return _by_hand(
        (
            b"<</Type/Catalog/Pages 2 0 R/OpenAction<</S/URI/URI(http://127.0.0.1:9/)>>>>",
            b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
            b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]/Contents 4 0 R>>",
            b"<</Length 0/F(/etc/hostname)/FFilter/FlateDecode>>stream\n\nendstream",
        )
    )


BOMBS: dict[str, Callable[[], bytes]] = {
    "nothing": lambda: b"",
    "only a head": lambda: b"%PDF-1.7\n",
    "no PDF": lambda: b"<svg xmlns='http://www.w3.org/2000/svg'/>" * 10,
    "a form in itself": form_in_itself,
    "forms in each other": forms_in_turn,
    "forms that double": doubling_forms,
    "400 MB packed": packed_spaces,
    "400 MB packed twice": packed_twice,
    "400 MB packed in a form": packed_form,
    "400 MB packed in an object stream": packed_object_stream,
    "pages in a ring": pages_in_a_ring,
    "parents in a ring": parent_in_a_ring,
    "100,000 pages": huge_count,
    "the part before is itself": previous_of_itself,
    "a deep dictionary": deep_dictionary,
    "locked with a password": locked,
    "locked with an empty password": locked_without_word,
    "a layer of itself": layer_of_itself,
    "content outside": outside_stream,
    "a million states kept": lambda: _pdf(b"q " * 1_000_000 + LINE),
    "a million states given back": lambda: _pdf(b"Q " * 1_000_000 + LINE),
    "marks without end": lambda: _pdf(b"/OC /M BDC " * 100_000 + LINE),
    "deep arrays": lambda: _pdf(b"[" * 100_000 + b"]" * 100_000 + b" 0 d " + LINE),
    "deep dictionaries drawn": lambda: _pdf(b"/OC " + b"<</A " * 50_000 + b">>" * 50_000 + b" BDC"),
    "two million lines": lambda: _pdf(b"0 0 m " + b"9 9 l 5 5 l " * 1_000_000 + b"S"),
    "a million rectangles": lambda: _pdf(b"1 1 2 2 re " * 1_000_000 + b"S"),
    "a picture without end": lambda: _pdf(b"BI /W 9 /H 9 ID " + b"x" * 100_000),
    "huge numbers": lambda: _pdf(b"1" * 400 + b" 0 m 1e400 -1e400 l " + b"9" * 5000 + b" w S"),
    "no numbers": lambda: _pdf(b"nan inf m (a) /b l [1] 2 cm (x) w [(a)] (b) d S"),
    "a huge matrix": lambda: _pdf(b"1e30 0 0 1e30 0 0 cm " * 50 + LINE),
    "a flat matrix": lambda: _pdf(b"0 0 0 0 0 0 cm " + LINE),
    "a huge page": lambda: _pdf(page={"MediaBox": Array([0, 0, 10**15, 10**15])}),
    "a page of no size": lambda: _pdf(page={"MediaBox": Array([5, 5, 5, 5])}),
    "a crop beside the page": lambda: _pdf(page={"CropBox": Array([900, 900, 950, 950])}),
    "boxes of words": lambda: _pdf(page={"MediaBox": Array([Name.a, Name.b, Name.c, Name.d])}),
    "a turn of words": lambda: _pdf(page={"Rotate": Name.a, "UserUnit": Array([])}),
    "a turn by 45": lambda: _pdf(page={"Rotate": 45}),
    "a huge unit": lambda: _pdf(page={"UserUnit": 10**9}),
    "resources of words": lambda: _pdf(b"/A Do /G gs " + LINE, page={"Resources": Name.a}),
    "content of words": lambda: _pdf(page={"Contents": Name.a}),
    "long name": lambda: _pdf(b"/" + b"x" * 1_000_000 + b" Do " + LINE),
}


def bombs() -> list[Broken]:
    """Return every file that was made to break a reader."""
    return [Broken(how, make()) for how, make in BOMBS.items()]
