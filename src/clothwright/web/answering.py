"""What a form that was sent is answered with: words or an edit for the page's script, or the page.

The page's own script asks for the edit (`wanted=edit`) and sends it like every other edit; a form
without a script makes it at once. A form that cannot be used is answered with a sentence for each
field, and nothing is written.
"""

from __future__ import annotations

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.web.page import Asked
from clothwright.workroom.editing.asking import FromForm


def words(asked: Asked, page: str, said: str, **more: object) -> Response:
    """Say what was done or begun: to the page's own script as JSON, else by showing the page.

    page: its name, with its query. more: what the script needs beside the words.
    """
    if asked.form.get("by") == "script":
        return JSONResponse({"words": said, **more})
    return RedirectResponse(asked.address(page), status_code=303)


def made_edit(
    asked: Asked, made: FromForm, page: str, query: str = "", *, lay: str = ""
) -> Response:
    """Give the edit to the page's script, or make it and show the page; or say what is wrong.

    query: the page's, once the edit is made. lay: the plan that is laid anew then.
    """
    if made.wrong:
        told = {"sentence": " ".join(made.wrong.values()), "fields": dict(made.wrong)}
        return JSONResponse(told, status_code=400)
    if asked.form.get("wanted") == "edit":
        more = {"after": query.partition("#")[0], "lay": lay}
        answer = {"edit": made.edit, "revision": asked.revision}
        return JSONResponse(answer | {name: value for name, value in more.items() if value})
    asked.opened.edit(made.edit, base=asked.revision)
    if lay:
        asked.lays.start(lay)
    return RedirectResponse(asked.address(page + query), status_code=303)
