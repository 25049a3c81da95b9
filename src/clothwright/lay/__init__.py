"""Laying out: shapes on cloth under placing rules; problem, search, result and judge apart."""
