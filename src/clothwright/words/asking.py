"""What would be done, said as something to do."""

TO_DO = {
    "Added": "Add",
    "Brought": "Bring",
    "Changed": "Change",
    "Closed": "Close",
    "Cropped": "Crop",
    "Divided": "Divide",
    "Drafted": "Draft",
    "Drew": "Draw",
    "Fitted": "Fit",
    "Folded": "Fold",
    "Gave": "Give",
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


def to_do(sentence: str) -> str:
    """Return what was done as something to do; another sentence as it is.

    >>> to_do("Shortened skirt front, side by 3 cm."), to_do("Let out the side by 1 in.")
    ('Shorten skirt front, side by 3 cm.', 'Let out the side by 1 in.')
    """
    first, space, rest = sentence.partition(" ")
    return f"{TO_DO.get(first, first)}{space}{rest}"
