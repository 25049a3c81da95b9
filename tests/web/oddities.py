"""Odd requests for every door, from a fixed start: what a stranger or a fault may send."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import fields
from typing import Any, NamedTuple
from urllib.parse import urlencode

from clothwright.web.app import EVERY_BOOK
from clothwright.web.pages import PAGES
from clothwright.workroom.editing.reading import NAMES
from tests.web.conftest import PLACE

BOOK = "coat-and-skirt"
SORTS = {
    "str": '"coat front"',
    "int": "1",
    "float": "10.5",
    "bool": "true",
    "Typed": '"1 cm"',
    "Values": "{}",
    "tuple[str, ...]": '["coat front"]',
}
"""A usual value for each type of an edit's field; null for the others."""
VALUES = (
    *("true", "null", "NaN", "-Infinity", "1e999", "-1e308", "-1", "1.5", "9" * 5000, "9" * 400),
    *('"\\ud800"', '"a\\u0000b"', '"²"', '""', '"' + "9" * 5000 + '"', '"1e999"', '"nan"', '"/"'),
    *("[[[]]]", "[" * 7000 + "]" * 7000, '{"a":' * 7000 + "1" + "}" * 7000, "[null]", "[NaN]"),
    *('{"\\ud800":1}', '{"a":{"b":[1e999]}}', '{"type": 1, "amount": []}', "[" + "9" * 5000 + "]"),
    *('{"width": ' + "9" * 5000 + "}", '{"width": true}', '"' + "x" * 3000 + '"', '"../../etc"'),
)
"""Odd values as they stand in JSON."""
TEXTS = (
    *(
        "²",
        "nan",
        "inf",
        "1e999",
        "9" * 5000,
        "-1",
        "",
        "\x00",
        "a\x00b",
        "%",
        "\ud800",
        "x" * 3000,
    ),
    *(
        "1/0",
        "٣",
        "1e400",
        "../../etc/passwd",
        "[[",
        "{}",
        "true",
        "1,2",
        "nan,nan nan,nan",
        "1|2|3",
    ),
)
"""Odd texts of a form or an address."""
USUAL = ("coat-and-skirt", "coat front", "linen", "1", "0", "cm", "A4", "scan", "", "0.1,0.9")
NAMED = [
    "add",
    "added",
    "all",
    "amount",
    "as",
    "at",
    "base",
    "by",
    "change",
    "cloth",
    "corners",
    "count",
    "dpi",
    "drawing",
    "edge",
    "edit",
    "from",
    "how",
    "hold",
    "key",
    "kept",
    "kind",
    "least",
    "move",
    "name",
    "number",
    "open",
    "paper",
    "part",
    "piece",
    "plan",
    "rule",
    "seam",
    "seconds",
    "shape",
    "size",
    "spot",
    "step",
    "text",
    "title",
    "to",
    "turn",
    "unit",
    "wanted",
    "where",
    "width",
    "height",
    "across",
    "along",
    "what",
    "type",
    "near",
    "x",
    "y",
    "place",
    "pair",
    "sheet",
    "mode",
    "dart",
    "line",
    "a",
    "b",
    "first",
    "second",
    "edge1",
    "edge2",
    "piece1",
    "piece2",
    "wish",
    "fold",
]
"""Names of fields that doors ask for."""


class Sent(NamedTuple):
    """One request, as text: its method, path, query, body and the type of its body."""

    method: str
    path: str
    query: dict[str, str]
    body: bytes
    kind: str


def requests(start: int) -> Iterator[Sent]:
    """Yield odd requests without end, the same ones for the same start."""
    chance = random.Random(start)
    doors = [(d.method, d.path) for d in EVERY_BOOK]
    for page in PAGES:
        doors.append(("GET", page.path))
        doors += [(d.method, page.below(d.path)) for d in page.file.doors]
    while True:
        if chance.random() < 0.4:
            yield Sent("POST", f"/b/{BOOK}/edit", {}, _edit(chance), "application/json")
            continue
        method, path = chance.choice(doors)
        path = path.replace("{book}", BOOK).replace("{file}", "a")
        query = _fields(chance)
        if method == "GET":
            yield Sent(method, path, query, b"", "")
        elif chance.random() < 0.5:
            some = [*chance.sample(NAMED, 6), "piece", "key", "mm", "shape", "done", "base"]
            body = ", ".join(f'"{n}": {_value(chance)}' for n in some)
            yield Sent(method, path, query, ("{" + body + "}").encode(), "application/json")
        else:
            body = urlencode(_fields(chance), errors="surrogatepass")
            yield Sent(method, path, query, body.encode(), "application/x-www-form-urlencoded")


def _fields(chance: random.Random) -> dict[str, str]:
    return {
        name: chance.choice(TEXTS if chance.random() < 0.5 else USUAL)
        for name in chance.sample(NAMED, 12)
    }


def _value(chance: random.Random) -> str:
    return chance.choice(VALUES) if chance.random() < 0.6 else '"coat front"'


def _edit(chance: random.Random) -> bytes:
    """One edit of a kind there is, one of its fields odd; now and then the whole is."""
    name = chance.choice(sorted(NAMES))
    parts = {f.name: SORTS.get(str(f.type), "null") for f in fields(NAMES[name])}
    if parts:
        parts[chance.choice(sorted(parts))] = chance.choice(VALUES)
    edit = ", ".join([f'"edit": "{name}"', *(f'"{k}": {v}' for k, v in parts.items())])
    base = "0" if chance.random() < 0.9 else chance.choice(VALUES)
    whole = "{" + edit + "}" if chance.random() < 0.95 else chance.choice(VALUES)
    return f'{{"base": {base}, "edit": {whole}}}'.encode()


def send(client: Any, sent: Sent, revision: int) -> Any:
    """Send a request as our own page does; an edit is one of this revision."""
    body = sent.body.replace(b'{"base": 0,', f'{{"base": {revision},'.encode(), 1)
    query = urlencode(sent.query, errors="surrogatepass")
    headers = {"origin": f"http://{PLACE}", "accept": "application/json"}
    if sent.kind:
        headers["content-type"] = sent.kind
    address = f"{sent.path}?{query}"[:60000]
    return client.request(
        sent.method, address, content=body, headers=headers, follow_redirects=False
    )
