"""The folder of workbooks that is served, and who looks at them."""

from __future__ import annotations

from dataclasses import dataclass, field

from clothwright.web.live import Hub
from clothwright.workroom.editing.opened import OpenBook, Shelf
from clothwright.workroom.searching.lays import Lays
from clothwright.workroom.searching.service import Searches


@dataclass(slots=True)
class Room(Shelf):
    """A shelf of workbooks with the pages that look at them (`hub`) and their `searches`.

    run: a mark of this run of the server, so that a page notices a restart. shared_at: the address
    it has in the house, "" when it is not shared.
    """

    run: str = ""
    shared_at: str = ""
    hub: Hub = field(default_factory=Hub)
    searches: Searches = field(default_factory=Searches)

    def __post_init__(self) -> None:
        """Let every page hear of what becomes of its workbook."""
        self.to = self.hub.tell

    def lays(self, book: OpenBook) -> Lays:
        """Return the lays of one of its workbooks."""
        return Lays(opened=book, searches=self.searches)
