"""Is this your device? The page that takes the key another device has read."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import RedirectResponse, Response

from clothwright.web.keys import COOKIE, SESSION_LIFE_S, WrongKey
from clothwright.web.page import Asked, PageFile, post


def render(asked: Asked) -> Mapping[str, object]:
    """Return the key that was read, to be sent by the device's owner with one press.

    Not taken at once: programs that look at a link before a person does would use it up.
    """
    return {"key": asked.query.get("key", "")}


def take(asked: Asked) -> Response:
    """Exchange a key for a session. Raises WrongKey when it opens nothing."""
    session = asked.keys.exchange(asked.form.get("key", ""))
    if session is None:
        raise WrongKey(
            what="this key was used already, or is older than ten minutes",
            expected="a fresh one",
            try_='"Another device" on the computer that runs Clothwright, and read its square',
        )
    answer = RedirectResponse("/", status_code=303)
    answer.set_cookie(
        COOKIE, session, max_age=int(SESSION_LIFE_S), httponly=True, samesite="strict", path="/"
    )
    return answer


PAGE = PageFile(render=render, doors=(post("", take),))
