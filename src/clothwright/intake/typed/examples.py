"""A pocket in typed measurements, to begin from: in cm, and in inches."""

from __future__ import annotations

EXAMPLE = """piece pocket
unit cm
allowance not included
A is the start
B is 18 down from A
C is 15 right of B
D is 15 right of A
hem from A to D, straight, allowance 3 cm
side from D to C, straight, allowance 1,5 cm
bottom from C to B, curve 2 cm out, allowance 1,5 cm
front from B to A, straight, allowance 1,5 cm
grain up
cut 2 shell, pair
check A to C 23,4
"""
EXAMPLE_INCH = """piece pocket
unit in
allowance not included
A is the start
B is 8 down from A
C is 6 right of B
D is 6 right of A
hem from A to D, straight, allowance 1 1/4
side from D to C, straight, allowance 5/8
bottom from C to B, curve 3/4 out, allowance 5/8
front from B to A, straight, allowance 5/8
grain up
cut 2 shell, pair
check A to C 10
"""
