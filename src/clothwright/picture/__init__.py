"""The neutral picture and document: what readers make and writers take. Roles, not colours."""

from clothwright.picture.document import (
    Block,
    Caution,
    Chapter,
    Document,
    Illustration,
    Para,
    Points,
    Table,
)
from clothwright.picture.picture import DrawnPhoto, DrawnRole, Fill, Item, Picture, Stroke, Text

__all__ = [
    "Block",
    "Caution",
    "Chapter",
    "Document",
    "DrawnPhoto",
    "DrawnRole",
    "Fill",
    "Illustration",
    "Item",
    "Para",
    "Picture",
    "Points",
    "Stroke",
    "Table",
    "Text",
]
