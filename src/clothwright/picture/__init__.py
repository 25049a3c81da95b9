"""The neutral picture and document: what readers make and writers take. Roles, not colours."""

from clothwright.picture.document import (
    Block,
    Caution,
    Document,
    Figure,
    Para,
    Points,
    Section,
    Table,
)
from clothwright.picture.picture import Fill, Item, Picture, Role, Stroke, Text

__all__ = [
    "Block",
    "Caution",
    "Document",
    "Figure",
    "Fill",
    "Item",
    "Para",
    "Picture",
    "Points",
    "Role",
    "Section",
    "Stroke",
    "Table",
    "Text",
]
