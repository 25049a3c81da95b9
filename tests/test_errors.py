"""What the maker is told when something cannot be used or done."""

import doctest
import pickle

import pytest

from clothwright import errors
from clothwright.errors import (
    BadInput,
    CannotDo,
    ClothwrightError,
    Mistakes,
    did_you_mean,
    raise_all,
)

FULL = BadInput(what="no such piece", where="line 3", expected="one of front, back", try_="front")


def test_the_examples_in_the_docstrings_hold():
    """Every example shown to a reader is true."""
    outcome = doctest.testmod(errors)
    assert outcome.attempted >= 7
    assert outcome.failed == 0


def test_bad_input_reads_as_one_sentence_with_all_its_parts():
    """Where, what, what was expected, what to try: in that order, ended by one full stop."""
    assert str(FULL) == "Line 3: no such piece; expected one of front, back; try front."


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (BadInput(what="nothing is written"), "Nothing is written."),
        (BadInput(what="nothing is written."), "Nothing is written."),
        (BadInput(what="no x", where="--width"), "--width: no x."),
        (BadInput(what="no x", where="workbook.toml, line 2"), "workbook.toml, line 2: no x."),
        (BadInput(what='no "a". Did you mean "b"?'), 'No "a". Did you mean "b"?'),
        (
            BadInput(what='no "a". Did you mean "b"?', expected="b or c", try_="b"),
            'No "a". Did you mean "b"? Expected b or c; try b.',
        ),
    ],
)
def test_the_sentence_is_well_formed_when_parts_are_missing(error: BadInput, said: str):
    """Missing parts leave no stray marks; names, options and paths keep their spelling."""
    assert str(error) == said


def test_an_outer_place_goes_in_front_of_the_inner_one():
    """An error met deep down names the whole way to it, and keeps everything else."""
    moved = FULL.at("workbook.toml")
    assert str(moved).startswith("workbook.toml, line 3: no such piece; ")
    assert (moved.expected, moved.try_) == (FULL.expected, FULL.try_)
    assert FULL.where == "line 3"


def test_cannot_do_gives_the_reason_and_the_nearest_that_can():
    """A refusal says why, and what could be done instead when there is something."""
    refused = CannotDo(what="the hem cannot meet the border", why="it rises 40 mm")
    assert str(refused) == "The hem cannot meet the border: it rises 40 mm."
    refused = CannotDo(what="no lay", why="12 mm short", nearest="a 10 mm shorter hem")
    assert str(refused).endswith(" The nearest that can be done: a 10 mm shorter hem.")


def test_mistakes_lists_every_one_in_order():
    """Several mistakes are told at once, each with its place, in the order they were found."""
    said = str(Mistakes([FULL, BadInput(what="no number", where="line 9")]))
    first, second, third = said.splitlines()
    assert first == "2 mistakes:"
    assert second == f"- {FULL}"
    assert third == "- Line 9: no number."


def test_a_single_mistake_reads_like_itself():
    """A list of one is not announced as a list."""
    assert str(Mistakes([FULL])) == str(FULL)


def test_raise_all_raises_nothing_one_or_all():
    """No mistakes: nothing. One: itself. More: all of them together."""
    raise_all(())
    with pytest.raises(BadInput) as one:
        raise_all(iter([FULL]))
    assert one.value is FULL
    with pytest.raises(Mistakes) as both:
        raise_all([FULL, FULL])
    assert both.value.mistakes == (FULL, FULL)


@pytest.mark.parametrize(
    "error",
    [
        FULL,
        CannotDo(what="a", why="b", nearest="c"),
        Mistakes([FULL, BadInput(what="x")]),
        ClothwrightError("x"),
    ],
)
def test_errors_survive_the_way_between_processes(error: ClothwrightError):
    """A pickled error comes back with its class, its words, its fields and its exit code."""
    back = pickle.loads(pickle.dumps(error))
    assert type(back) is type(error)
    assert str(back) == str(error)
    assert back.exit_code == error.exit_code
    fields = {k: v for k, v in vars(error).items() if isinstance(v, str)}
    assert fields.items() <= vars(back).items()


def test_input_that_cannot_be_used_ends_with_exit_code_two():
    """Exit code 2 is for what she can mend; 1 for the rest."""
    codes = [kind.exit_code for kind in (BadInput, CannotDo, Mistakes, ClothwrightError)]
    assert codes == [2, 2, 2, 1]


@pytest.mark.parametrize(
    ("name", "answer"),
    [
        ("frnt", ' Did you mean "Front"?'),
        ("BACK", ' Did you mean "back"?'),
        ("collar", ""),
        ("", ""),
    ],
)
def test_did_you_mean_offers_the_closest_known_name_or_nothing(name: str, answer: str):
    """Letters' size does not count; the answer keeps the known spelling; far names give nothing."""
    assert did_you_mean(name, ["Front", "back", "sleeve"]) == answer
