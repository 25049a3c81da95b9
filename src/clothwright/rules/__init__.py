"""Placing rules: what the print asks of the pieces; and the plans made of them.

`kinds` has a file a rule. The modules here say what a rule is, look its names up, state a plan's
rules and compile them for the lay. `weighing` knows a plan laid: what it takes and would need.
"""
