"""One print job: each piece is drawn once, each arrangement laid over with pages once."""

from __future__ import annotations

from collections import Counter
from pathlib import Path as FilePath
from typing import Any

import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.outputs import tiled_pdf
from clothwright.web.page import MEDIA
from clothwright.workroom.cutting import printing
from clothwright.workroom.cutting.printing import PRINTS, ROWS, printed_pieces


def test_a_job_plans_its_pages_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages, sheet, drawings and DXF in one job: instruments count what is done."""
    count: Counter[str] = Counter()

    def counted(module: Any, name: str) -> None:
        real = getattr(module, name)

        def instrument(*args: Any, **more: Any) -> Any:
            count[name] += 1
            return real(*args, **more)

        monkeypatch.setattr(module, name, instrument)

    counted(printing, "piece_in")
    counted(printing, "replay")
    counted(tiled_pdf, "plan_pages")
    counted(tiled_pdf, "page_grid")
    book = next(d for d in DEMOS if d.name == "remnant").make()
    files = printed_pieces(book, kinds=("pages", "sheet", "drawings", "dxf"))
    pieces = len(book.bought.pieces)
    assert len(files) == 3 + pieces
    assert count == {"piece_in": pieces, "replay": 1, "plan_pages": 1, "page_grid": len(ROWS)}


def test_the_page_offers_what_the_command_makes() -> None:
    """One list of prints; each is a file, or several in a zip file, that the page hands over."""
    kinds = [p.kind for p in PRINTS]
    assert len(set(kinds)) == len(kinds)
    assert set(printing.KINDS) < set(kinds)
    for one in PRINTS:
        assert FilePath(one.name).suffix in MEDIA
