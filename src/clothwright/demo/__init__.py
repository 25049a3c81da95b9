"""Our own drafted pieces and cloths, made by code."""

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.demo.workbooks import DEMOS, Demo

__all__ = ["DEMOS", "Demo", "coat_and_skirt"]
