"""A waiting drawing is looked at once: its other sizes are worked out from what was seen."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwright.intake.waiting.said import Waiting
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.workroom.pieces import sitting

SIZES = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="500mm" viewBox="0 0 400 500">'
    '<g id="12"><path d="M60 60H300V440H60Z" fill="none" stroke="black"/></g>'
    '<g id="14"><path d="M50 50H310V450H50Z" fill="none" stroke="black"/></g></svg>'
)


def test_pieces_in_all_sizes_need_no_second_look(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As the process that reads is asked at the end: how it stands, then all its sizes."""
    stored = tmp_path / "s.svg"
    stored.write_text(SIZES, encoding="utf-8")
    one, looks = Waiting(id="a", file="s.svg", came="", stored=stored, size="12"), []
    look = sitting.drawn_look
    monkeypatch.setattr(sitting, "drawn_look", lambda *a, **k: looks.append(1) or look(*a, **k))
    seen = sitting._looked(one, Pattern(pieces=()), Unit.mm, 7)
    sizes, why = sitting._in_sizes(one, Pattern(pieces=()), Unit.mm, 7)
    assert seen.sizes == ("12", "14")
    assert sizes is not None or why
    assert looks == [1]
    sitting._looked(one, Pattern(pieces=()), Unit.inch, 7)
    assert looks == [1, 1]
