"""Our own drafted pieces and cloths, made by code."""

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.demo.remnant import remnant
from clothwright.demo.workbooks import DEMOS, Demo

__all__ = ["DEMOS", "Demo", "checked_waistcoat", "coat_and_skirt", "remnant"]
