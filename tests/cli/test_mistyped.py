"""What is typed wrongly is said without a programmer's words, with the command's own help."""

from __future__ import annotations

import shlex

import pytest

from clothwright.cli.app import run

SAID = {
    "walk w --mend one": '--mend: found "one"; expected a whole number, such as 2.',
    "lay w --seconds soon": '--seconds: found "soon"; expected a number, such as 2.5.',
    "walk w --mend": "--mend wants a value after it.",
    "walk w --paper": "--paper wants a value after it; one with a minus is typed `--paper=-2`.",
    "toile w --take 1": "--take wants 2 values after it.",
    "walk w x": 'Not understood: "x". A name of several words stands in quotation marks.',
    "walk": "WORKBOOK is missing.",
    "walk w --mnd 1": "Unknown option: --mnd. Did you mean --mend?",
    "walk w --other": "--other: no finding is named; expected --mend NUMBER --other.",
}


@pytest.mark.parametrize("typed", SAID)
def test_a_slip_of_typing_is_said_in_plain_words(
    typed: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """One sentence: what was found and what was expected; then where the help is."""
    monkeypatch.setattr("clothwright.cli.walk.open_book", lambda _: None)
    assert run(shlex.split(typed)) == 2
    said, *more = capsys.readouterr().err.splitlines()
    assert said == SAID[typed]
    assert more in ([], [f"Try: clothwright {typed.split(maxsplit=1)[0]} --help"])
