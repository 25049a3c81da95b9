"""How a page looks and what it runs stands at the address of its stamp, and is asked for once."""

from __future__ import annotations

import re
import shutil
from typing import Any

import pytest

from clothwright.web.pages import PAGES
from clothwright.web.still import FOLDER, STILL, reached, stamp_of
from tests.web.conftest import LAPTOP, Desk, PageOn, shown_by

NAMED = re.compile(r'(?:href|src)="(/static/[^"]+)"')
KEPT = "max-age=31536000, immutable"
ASKED = """() => performance.getEntriesByType("resource")
    .filter((e) => e.name.includes("/static/") && e.transferSize > 0).map((e) => e.name)"""


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.name)
def test_what_a_page_names_is_kept(desk: Desk, page) -> None:
    """RFC 8246: a browser that has it need not ask again, whatever it names is at its stamp."""
    text = desk.client.get(page.address("coat-and-skirt")).text
    named = set(NAMED.findall(text))
    assert len(named) > 10
    for path in named:
        answer = desk.client.get(path)
        assert path.startswith(f"{STILL}/")
        assert answer.status_code == 200
        assert answer.headers["cache-control"] == KEPT
    modules = {m.removeprefix(f"{STILL}/js/") for m in re.findall(r'preload" href="([^"]+)"', text)}
    assert modules == set(reached(("main.js", *page.file.modules)))
    for module in modules:
        imports = re.findall(r'from "\./([^"]+)"', (FOLDER / "js" / module).read_text())
        assert modules.issuperset(imports)


def test_another_stamp_is_answered_and_not_kept(desk: Desk) -> None:
    """A page from before an update still works; nothing of now is kept at an address of then."""
    now = desk.client.get(f"{STILL}/js/main.js")
    for other in ("/static/at-0123456789abcdef", "/static"):
        answer = desk.client.get(f"{other}/js/main.js")
        assert (answer.status_code, answer.text) == (200, now.text)
        assert answer.headers["cache-control"] == "no-cache"
    missing = desk.client.get(f"{STILL}/js/none.js")
    assert (missing.status_code, missing.headers["cache-control"]) == (404, "no-cache")


def test_whatever_changes_changes_the_stamp(tmp_path) -> None:
    """One byte, one name, one file more or less: another stamp; the same files, the same."""
    folder = tmp_path / "static"
    shutil.copytree(FOLDER, folder)
    seen = [stamp_of(folder)]
    assert STILL.endswith(seen[0])
    one = folder / "css" / "page.css"
    one.write_bytes(one.read_bytes() + b" ")
    seen.append(stamp_of(folder))
    one.rename(folder / "css" / "paged.css")
    seen.append(stamp_of(folder))
    (folder / "css" / "paged.css").unlink()
    seen.append(stamp_of(folder))
    assert len(set(seen)) == 4


def test_the_next_page_asks_for_what_is_new_alone(looks: PageOn, browser: Any) -> None:
    """Looked at first, a page asks for all; again for no file; another one for its own alone."""
    served = looks(LAPTOP).served
    with shown_by(browser, served, served.room.root, LAPTOP) as it:
        it.go("/b/coat-and-skirt/walk")
        first = it.page.evaluate(ASKED)
        assert len(first) > 15
        it.go("/b/coat-and-skirt/walk")
        assert it.page.evaluate(ASKED) == []
        it.go("/b/coat-and-skirt/sew")
        more = it.page.evaluate(ASKED)
        assert more
        assert not set(more) & set(first)
