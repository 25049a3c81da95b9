"""The folder of workbooks that is served, and who looks at them."""

from __future__ import annotations

from dataclasses import dataclass, field

from clothwright.web.live import Hub
from clothwright.workroom.editing.opened import Shelf


@dataclass(slots=True)
class Room(Shelf):
    """A shelf of workbooks with the pages that look at them (`hub`).

    run: a mark of this run of the server, so that a page notices a restart. shared_at: the address
    it has in the house, "" when it is not shared.
    """

    run: str = ""
    shared_at: str = ""
    hub: Hub = field(default_factory=Hub)

    def __post_init__(self) -> None:
        """Let every page hear of what becomes of its workbook."""
        self.to = self.hub.tell
