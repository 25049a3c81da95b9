"""How do I look at it on another device? A key in a square to read; and the page that takes it."""

from __future__ import annotations

import io
from collections.abc import Mapping

import segno
from markupsafe import Markup
from starlette.responses import RedirectResponse, Response

from clothwright.errors import BadInput
from clothwright.web.keys import COOKIE, SESSION_LIFE_S
from clothwright.web.page import Asked, Door, Page

QUIET = 4
"""Modules of clear space round the square, as ISO/IEC 18004 asks for."""


def square(text: str) -> Markup:
    """Return a QR code as inline SVG: dark modules as one path, a light ground under it.

    ISO/IEC 18004, error correction M, at the smallest size that holds the text (by segno).
    """
    code = segno.make(text, error="m", micro=False)
    rows = [[bool(m) for m in row] for row in code.matrix]
    side = len(rows) + 2 * QUIET
    dark = "".join(
        f"M{x + QUIET},{y + QUIET}h1v1h-1z"
        for y, row in enumerate(rows)
        for x, on in enumerate(row)
        if on
    )
    return Markup(
        '<svg class="square" role="img" aria-label="Square to be read by a camera" '
        'viewBox="0 0 {0} {0}" shape-rendering="crispEdges"><rect class="light" width="{0}" '
        'height="{0}"/><path class="dark" d="{1}"/></svg>'
    ).format(side, dark)


def terminal_square(text: str) -> str:
    """Return a QR code in block letters, two modules to a letter's height, for the terminal."""
    out = io.StringIO()
    segno.make(text, error="m", micro=False).terminal(out, compact=True)
    return out.getvalue()


def share(asked: Asked) -> Mapping[str, object]:
    """Return a fresh key in a square, on the machine itself when it is shared in the house."""
    address = asked.room.shared_at
    if not address or not asked.local:
        return {"shared": bool(address), "square": "", "link": ""}
    link = f"{address}/enter?key={asked.keys.make_key()}"
    return {"shared": True, "square": square(link), "link": link}


def enter(asked: Asked) -> Mapping[str, object]:
    """Return the key that was read, to be sent by the device's owner with one press.

    Not taken at once: programs that look at a link before a person does would use it up.
    """
    return {"key": asked.query.get("key", "")}


def take(asked: Asked) -> Response:
    """Exchange a key for a session. Raises BadInput when it opens nothing."""
    session = asked.keys.exchange(asked.form.get("key", ""))
    if session is None:
        raise BadInput(
            what="this key was used already, or is older than ten minutes",
            expected="a fresh one",
            try_='"Another device" on the computer that runs Clothwright, and read its square',
        )
    answer = RedirectResponse("/", status_code=303)
    answer.set_cookie(
        COOKIE, session, max_age=int(SESSION_LIFE_S), httponly=True, samesite="strict", path="/"
    )
    return answer


SHARE = Page(
    name="share",
    path="/share",
    question="How do I take it to another device?",
    render=share,
)
ENTER = Page(
    name="enter",
    path="/enter",
    question="Is this your device?",
    render=enter,
    doors=(Door(path="/enter", answer=take, methods=("POST",)),),
)
