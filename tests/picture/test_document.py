"""What a guide holds, before it is a file."""

from __future__ import annotations

import pytest

from clothwright.picture import Chapter, Document, Para, Table


def test_a_ragged_table_is_refused() -> None:
    """Every row has as many cells as the head."""
    with pytest.raises(ValueError, match=r"row 1 .* 1 cells, its head 2"):
        Table(head=("a", "b"), rows=(("1", "2"), ("1",)), caption="Cuts")


def test_walking_in_reading_order() -> None:
    """Sections come with their depth, a section before those inside it; so do the blocks."""
    document = Document(
        title="t",
        blocks=(Para(words="0"),),
        sections=(
            Chapter(
                title="A",
                blocks=(Para(words="1"),),
                sections=(Chapter(title="A1", blocks=(Para(words="2"),)),),
            ),
            Chapter(title="B", blocks=(Para(words="3"),)),
        ),
    )
    assert [(depth, section.title) for depth, section in document.walk()] == [
        (1, "A"),
        (2, "A1"),
        (1, "B"),
    ]
    assert [block.words for block in document.every_block() if isinstance(block, Para)] == [
        "0",
        "1",
        "2",
        "3",
    ]
