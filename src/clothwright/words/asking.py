"""What would be done, said as something to do."""

import re

_FIRST = re.compile(r"(?:^|(?<=[.] ))\w+")
"""How each of several sentences begins."""

TO_DO = {
    "Added": "Add",
    "Brought": "Bring",
    "Changed": "Change",
    "Closed": "Close",
    "Cropped": "Crop",
    "Divided": "Divide",
    "Drafted": "Draft",
    "Drew": "Draw",
    "Filled": "Fill",
    "Fitted": "Fit",
    "Folded": "Fold",
    "Gave": "Give",
    "Hollowed": "Hollow",
    "Joined": "Join",
    "Lapped": "Lap",
    "Left": "Leave",
    "Lengthened": "Lengthen",
    "Lowered": "Lower",
    "Made": "Make",
    "Marked": "Mark",
    "Moved": "Move",
    "Opened": "Open",
    "Pinched": "Pinch",
    "Raised": "Raise",
    "Shifted": "Shift",
    "Shortened": "Shorten",
    "Smoothed": "Smooth",
    "Spaced": "Space",
    "Squared": "Square",
    "Straightened": "Straighten",
    "Took": "Take",
    "Trued": "True",
    "Turned": "Turn",
    "Unfolded": "Unfold",
}
"""How a change's sentence begins, and how what it asks for does; "Cut", "Let", "Put" and "Set" are
both."""


def to_do(sentences: str) -> str:
    """Return what was done as something to do; another sentence as it is.

    >>> to_do("Shortened skirt front, side by 3 cm."), to_do("Let out the side by 1 in.")
    ('Shorten skirt front, side by 3 cm.', 'Let out the side by 1 in.')
    >>> to_do("Fitted collar stand to front. Fitted collar to collar stand.")
    'Fit collar stand to front. Fit collar to collar stand.'
    """
    return _FIRST.sub(lambda found: TO_DO.get(found[0], found[0]), sentences)
