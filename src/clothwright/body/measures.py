"""The measurements of a body: what each is called, how it is taken, what it is for.

Names follow ISO 8559-1:2017 as far as they are known to us; docs/body.md says how far that is. How
to take each is in our own words (common practice).
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.errors import BadInput, did_you_mean, one_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One measurement.

    id: its name in files and on the command line. name: as in the standard. how: how to take it.
    used: where it counts. least, most: mm outside which it is no grown body's and no child's, but
    a slip of the hand (wide on purpose, our own guide). also: other names on envelopes.
    """

    id: str
    name: str
    how: str
    used: str
    least: float
    most: float
    also: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """Its key in workbook.toml."""
        return self.id.replace("-", "_")

    def fits(self, mm: float) -> bool:
        """Tell whether a measurement (mm) may be one of a body; otherwise it is a slip."""
        return self.least <= mm <= self.most


MEASURES: tuple[Measure, ...] = (
    Measure(
        id="high-bust",
        name="high bust girth",
        how="The tape high under both arms, over the top of the bust and level across the back.",
        used="the size of bodices, coats and dresses when the bust is fuller than the pattern's",
        least=350,
        most=1900,
        also=("high bust", "upper bust", "upper chest", "upper chest girth"),
    ),
    Measure(
        id="bust",
        name="bust girth",
        how="Standing, breathing calmly, in the bra the garment is worn over: the tape under the "
        "arms and over the fullest part of the bust, level all round.",
        used="the size of bodices, coats and dresses; ease at the bust",
        least=400,
        most=2000,
        also=("bust girth", "full bust", "chest", "chest girth"),
    ),
    Measure(
        id="under-bust",
        name="under-bust girth",
        how="The tape close under the bust, level all round.",
        used="high waistlines and yokes that end under the bust",
        least=350,
        most=1800,
        also=("under bust", "underbust", "under-bust girth", "rib cage"),
    ),
    Measure(
        id="waist",
        name="waist girth",
        how="Tie a cord round the waist and bend to the side: it settles where the waist is. "
        "Measure there, one finger under the tape.",
        used="the size of skirts and trousers that are not fitted at the hip; ease at the waist",
        least=350,
        most=2000,
        also=("waist girth", "natural waist"),
    ),
    Measure(
        id="hip",
        name="hip girth",
        how="Feet together: the tape round the fullest part of the seat, level all round.",
        used="the size of skirts and trousers fitted at the hip; ease at the hip",
        least=400,
        most=2100,
        also=("hip girth", "hips", "full hip", "seat"),
    ),
    Measure(
        id="back-waist",
        name="back waist length",
        how="From the bone that stands out at the back of the neck when you bow your head, "
        "straight down to the cord at the waist.",
        used="lengthening or shortening bodices and coats above the waist",
        least=180,
        most=600,
        also=("back waist length", "back neck to waist", "nape to waist", "back length"),
    ),
    Measure(
        id="waist-to-hip",
        name="waist to hips",
        how="From the cord at the waist down the side to where the hip was measured.",
        used="where the hip line lies",
        least=60,
        most=400,
        also=("waist to hips",),
    ),
    Measure(
        id="upper-arm",
        name="upper-arm girth",
        how="The arm hanging, slightly bent: round its thickest part between shoulder and elbow.",
        used="ease of sleeves at the biceps line",
        least=100,
        most=800,
        also=("upper arm", "upper arm girth", "biceps", "bicep"),
    ),
    Measure(
        id="wrist",
        name="wrist girth",
        how="Round the wrist, over the bone that stands out.",
        used="cuffs and sleeve hems",
        least=80,
        most=350,
        also=("wrist girth",),
    ),
    Measure(
        id="neck-base",
        name="neck-base girth",
        how="Round the base of the neck, where a fine chain lies: over the bone at the back and "
        "through the hollow in front. The tape stands on its edge.",
        used="necklines, collars",
        least=180,
        most=700,
        also=("neck base", "neck", "neck girth", "neck base girth"),
    ),
    Measure(
        id="shoulder",
        name="shoulder length",
        how="From the base of the neck along the shoulder to the bone at its end.",
        used="shoulder seams",
        least=50,
        most=250,
        also=("shoulder length",),
    ),
    Measure(
        id="back-width",
        name="back width",
        how="Across the back from arm to arm, half-way between shoulder and armpit.",
        used="the back between the armholes",
        least=150,
        most=700,
        also=("across back", "cross back"),
    ),
    Measure(
        id="arm-length",
        name="arm length",
        how="Hand on the hip: from the bone at the end of the shoulder over the elbow to the "
        "bone of the wrist.",
        used="length of sleeves",
        least=200,
        most=950,
        also=("sleeve length", "arm"),
    ),
    Measure(
        id="thigh",
        name="thigh girth",
        how="Standing: round the thickest part of one leg, close under the seat.",
        used="trousers",
        least=200,
        most=1200,
        also=("thigh girth",),
    ),
    Measure(
        id="head",
        name="head girth",
        how="Round the head above the eyebrows and over the widest part behind.",
        used="whether the head gets through a neckline that does not open",
        least=350,
        most=750,
        also=("head girth",),
    ),
    Measure(
        id="height",
        name="height",
        how="Without shoes, back to a wall, a book level on the head: from the floor to the book.",
        used="lengths; most charts name the height they were drafted for",
        least=500,
        most=2400,
        also=("stature", "body height"),
    ),
)
"""Every measurement, in the order they are taken and shown."""

_BY_NAME = {
    " ".join(words.lower().replace("-", " ").replace("_", " ").split()): m
    for m in MEASURES
    for words in (m.id, m.name, *m.also)
}


def measure_of(name: str, *, where: str = "") -> Measure:
    """Return a measurement by its id, its name, or a name on envelopes. Raises BadInput.

    >>> measure_of("Hips").id, measure_of("back_waist").name
    ('hip', 'back waist length')
    """
    found = _BY_NAME.get(" ".join(name.lower().replace("-", " ").replace("_", " ").split()))
    if found is None:
        raise BadInput(
            where=where,
            what=f'there is no measurement "{name}".{did_you_mean(name, list(_BY_NAME))}',
            expected=one_of(m.id for m in MEASURES),
        )
    return found
