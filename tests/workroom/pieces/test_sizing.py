"""From the tape to the change: which size at which level, what is refused, what it does."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from clothwright.body.body import Body, body_with
from clothwright.body.chart import chart_from
from clothwright.body.charts import EXAMPLES
from clothwright.checks.size_by_chart import kinds_of
from clothwright.checks.wearing_ease import rooms_of
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.demo.three_sizes import three_sizes
from clothwright.errors import BadInput
from clothwright.pattern.girth import finished_girths
from clothwright.store import create, load, redo, undo
from clothwright.units import Unit
from clothwright.words import say, show_length
from clothwright.workbook import Workbook, replay
from clothwright.workroom.editing.committing import apply_edit, commit_edit
from clothwright.workroom.editing.reading import edit_from
from clothwright.workroom.pieces.sizing import size_edit, sizing_of
from clothwright.workroom.sewing.guiding import guide_document
from clothwright.workroom.walking.checking import findings_of
from tests.store.history.saving import revision

IN = 25.4


def wearing(book: Workbook, **inches: object) -> Workbook:
    """Return the workbook with a wearer (inches) and the example chart."""
    body = body_with(Body(), inches, unit=Unit.inch)
    return replace(book, body=body, chart=EXAMPLES[0])


def skirt(**inches: object) -> Workbook:
    return wearing(replace(three_sizes(), steps=()), **inches)


def test_one_size_everywhere_is_chosen() -> None:
    """Waist and hip of a 16: choose-size 16, for the waistband too."""
    found = sizing_of(skirt(waist=30, hip=40))
    assert (found.step.change, dict(found.step.params)) == ("choose-size", {"size": "16"})
    assert not found.done


def test_two_sizes_are_blended_and_the_waistband_follows_the_waist() -> None:
    """12 at the waist, 14 at the hip: what the demo's own maker wrote into her list by hand."""
    found = sizing_of(skirt(waist="26 1/2", hip=38))
    assert found.step.change == "blend-sizes"
    assert found.step.params["at"] == three_sizes().steps[0].params["at"]
    assert sizing_of(wearing(three_sizes(), waist="26 1/2", hip=38)).done


def test_the_demo_is_cut_for_its_wearer() -> None:
    """Its list has the change that its own wearer and chart suggest, and there is room for her."""
    book = three_sizes()
    assert sizing_of(book).done
    assert findings_of(book) == ()


def test_in_between_both_ways() -> None:
    """The demo's wearer, between 12 and 14 at both: size 13."""
    assert dict(sizing_of(skirt(waist="27 1/4", hip=37)).step.params) == {"size": "13"}


@settings(max_examples=25, deadline=None)
@given(waist=st.floats(26.5, 30), hip=st.floats(36, 40))
@example(waist=29.84375, hip=36.0)  # once the side seam doubled back by 2 mm between two points
def test_the_pieces_cut_so_fit_her(waist: float, hip: float) -> None:
    """Whatever waist and hip within the range: the girths of the pieces, once the change is made,
    are hers and the style's ease (18 and 50 mm), but for a tape's eighth and a size's hundredth."""
    book = skirt(waist=f"{waist:.3f}", hip=f"{hip:.3f}")
    after = apply_edit(book, edit_from(size_edit(book)))
    done = replay(after)
    assert not any(t.error for t in done.told)
    girths = {g.level: g.mm for g in finished_girths(done.pattern, ("waist", "hip"))}
    assert girths["waist"] == pytest.approx(waist * IN + 18, abs=4.0)
    assert girths["hip"] == pytest.approx(hip * IN + 50, abs=4.0)
    assert not [f for f in findings_of(after) if f.where.seam]


@pytest.mark.parametrize(
    ("inches", "words"),
    [
        (
            {"waist": 30, "hip": 44},
            "hip girth is 4 in more than size 16 (you are 20), the pattern's",
        ),
        ({"waist": 30, "hip": 60}, "hip girth is 10 in more than size 26, the chart's largest"),
        (
            {"waist": 48, "hip": 38},
            "waist girth is 6 1/2 in more than size 26, the chart's largest",
        ),
        ({"waist": 20, "hip": 38}, "waist girth is 2 in less than size 4, the chart's smallest"),
        ({"waist": 32, "hip": 38}, "waist girth is 2 in more than size 16 (you are 18), the"),
        ({"waist": 25, "hip": 38}, "waist girth is 1 1/2 in less than size 12 (you are 10), the"),
        ({"waist": 48, "hip": 60}, "largest; waist girth is"),
        ({"wrist": 6}, "No bust, hip or waist measurement yet"),
    ],
)
def test_why_no_size_is_offered(inches, words: str) -> None:
    """Beyond the pattern or the chart at any level, or nothing to go by: which measure, by how
    much, what to try; no change is offered."""
    book = skirt(**inches)
    found = sizing_of(book)
    assert found.step is None
    assert words in found.why_not
    assert "try a chart and pattern" in found.why_not or "wrist" in inches
    with pytest.raises(BadInput) as caught:
        size_edit(book)
    assert words in str(caught.value)


def test_letters_beyond_the_pattern() -> None:
    """A chart with a size that the pattern has not: the measure and the size are told."""
    book = skirt(waist=34, hip=37)
    sizes = replace(book.bought.sizes, names=("S", "M", "L"), drawn="M")
    chart = chart_from("size S M L XL\nwaist 26 1/2 28 30 34\nhip 36 38 40 44", unit=Unit.inch)
    book = replace(book, bought=replace(book.bought, sizes=sizes), chart=chart)
    assert "waist girth is 4 in more than size L (you are XL)" in sizing_of(book).why_not


def test_a_pattern_in_one_size_has_suggestions_and_no_change() -> None:
    """The coat and skirt: an upper and a lower suggestion, and the reason why no size is cut."""
    book = wearing(coat_and_skirt(), bust=36, hip=40)
    assert kinds_of(book.bought) == ("upper", "lower")
    found = sizing_of(book)
    assert [(s.kind, s.standing.words) for s in found.suggestions] == [
        ("upper", "14"),
        ("lower", "16"),
    ]
    assert "came in one size" in found.why_not


def test_nothing_without_a_chart_or_a_measurement() -> None:
    """There is no sizing then, and taking it says what is needed."""
    book = replace(three_sizes(), body=Body())
    assert sizing_of(book) is None
    assert sizing_of(replace(skirt(hip=38), chart=None)) is None
    with pytest.raises(BadInput, match="measurements, a size chart"):
        size_edit(book)


def test_an_older_change_of_size_makes_room() -> None:
    """Taken twice, one change stands at the head of the list; what comes after stays."""
    book = wearing(three_sizes(), waist=28, hip=38)
    lengthen = edit_from(
        {"edit": "add-change", "kind": "set-hem",
         "params": {"edges": ["skirt front.hem"], "depth": "2 in"}}
    )  # fmt: skip
    book = apply_edit(book, lengthen)
    after = apply_edit(book, edit_from(size_edit(book)))
    assert [s.change for s in after.steps] == ["choose-size", "set-hem"]
    assert sizing_of(after).done


def test_letters_of_a_pattern() -> None:
    """Sizes that are letters: in the middle between two the change says so, "S/M"."""
    book = skirt(waist=27.25, hip=37)
    sizes = replace(book.bought.sizes, names=("S", "M", "L"), drawn="M")
    book = replace(
        book,
        bought=replace(book.bought, sizes=sizes),
        chart=chart_from("size S M L\nwaist 26 1/2 28 30\nhip 36 38 40", unit=Unit.inch),
    )
    assert dict(sizing_of(book).step.params) == {"size": "S/M"}


def test_ease_is_finished_less_body() -> None:
    """The published definition: finished bust 38, body 36, ease 2 in; here the skirt's own."""
    book = skirt(waist=28, hip=38)
    rooms = {r.girth.level: r for r in rooms_of(book.bought, book.body.figures())}
    assert rooms["waist"].ease == pytest.approx(18, abs=0.1)
    assert rooms["hip"].ease == pytest.approx(50, abs=0.1)
    assert "at least 2 in to 2 3/4 in is asked for" in say(rooms["hip"].words, Unit.inch)
    tight = rooms_of(book.bought, skirt(hip=42).body.figures())
    assert "less than the body" in say(tight[0].words, Unit.inch)


@given(st.floats(35, 45), st.sampled_from([Unit.inch, Unit.cm, Unit.mm]))
def test_the_words_of_the_ease_agree_with_what_is_made_of_them(hip: float, unit: Unit) -> None:
    """Where there is said to be too little, the two figures shown differ; nothing is 0 less."""
    (room,) = (
        r
        for r in rooms_of(three_sizes().bought, skirt(hip=f"{hip:.4f}").body.figures())
        if r.girth.level == "hip"
    )
    words = say(room.words, unit)
    if room.too_little and not room.too_small:
        assert show_length(room.ease, unit) != show_length(room.least, unit)
    assert ", 0 in less" not in words
    assert "-" not in words


def test_short_by_a_thirty_second_is_not_too_little() -> None:
    """The demo's hip has 50 mm, 1.97 in, where 2.00 are asked for: shown as 2 in, and enough; at
    a sixteenth more it is still enough, beyond that it is too little."""
    rooms = rooms_of(three_sizes().bought, skirt(hip=38).body.figures())
    (room,) = (r for r in rooms if r.girth.level == "hip")
    assert room.ease == pytest.approx(50, abs=0.1)
    assert not room.too_little
    for short, too_little in ((1 / 32, False), (1 / 16 - 0.001, False), (1 / 16 + 0.01, True)):
        at = replace(room, body=room.girth.mm - room.least + short * IN)
        assert at.too_little is too_little


def test_undo_and_redo_of_all_three(tmp_path) -> None:
    """Measurements, chart and change: three steps, taken back one by one, and done again."""
    folder = tmp_path / "w"
    create(folder, replace(three_sizes(), steps=(), body=Body(), chart=None))
    states = [load(folder)]
    it = EXAMPLES[0]
    for edit in (
        {"edit": "set-body", "values": {"waist": "26 1/2", "hip": "38", "date": "2026-11-25"}},
        {"edit": "set-chart", "text": it.text, "name": it.name, "unit": "in"},
        None,
    ):
        data = size_edit(states[-1]) if edit is None else edit
        commit_edit(folder, edit_from(data), base=revision(folder))
        states.append(load(folder))
    assert len({(s.body, s.chart, len(s.steps)) for s in states}) == 4
    for state in reversed(states[:-1]):
        undo(folder)
        assert load(folder) == state
    for state in states[1:]:
        redo(folder)
        assert load(folder) == state


def test_two_devices_measure_at_once(tmp_path) -> None:
    """One types the waist, the other the hip, both from the same state: both are there."""
    folder = tmp_path / "w"
    create(folder, replace(three_sizes(), body=Body()))
    base = revision(folder)
    for key, value in (("waist", "70 cm"), ("hip", "96 cm")):
        commit_edit(folder, edit_from({"edit": "set-body", "values": {key: value}}), base=base)
    assert load(folder).body.figures() == {"waist": 700.0, "hip": 960.0}


def test_steps_and_guide_tell_no_figure(tmp_path) -> None:
    """The words of the steps and the guide's text have none of her figures in them."""
    folder = tmp_path / "w"
    create(folder, replace(three_sizes(), body=Body()))
    values = {"waist": "31 3/8 in", "hip": "61 5/8 in", "note": "privately"}
    done = commit_edit(
        folder, edit_from({"edit": "set-body", "values": values}), base=revision(folder)
    )
    assert done.saved.words == "Measured: waist girth and hip girth; another note"
    book = load(folder)
    assert any(f.code == "ease-below-body" for f in findings_of(book))
    document = guide_document(book, [])
    text = repr(document)
    assert not any(w in text for w in ("31 3/8", "61 5/8", "privately", "less than the body"))
    asked = repr(guide_document(book, [], wearer=True))
    assert all(w in asked for w in ("31 3/8", "61 5/8", "privately", "less than the body"))
