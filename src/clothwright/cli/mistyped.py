"""What is typed wrongly on the command line, said to somebody who is no programmer."""

from __future__ import annotations

from cyclopts import Argument, CoercionError, CycloptsError, MissingArgumentError
from cyclopts.exceptions import UnusedCliTokensError

NUMBERS = {int: "a whole number, such as 2", float: "a number, such as 2.5"}


def mistyped(error: CycloptsError) -> str:
    """Return the sentence, and where the command's own help is."""
    command = " ".join(("clothwright", *(error.command_chain or ())))
    return f"{_said(error)}\nTry: {command} --help"


def _said(error: CycloptsError) -> str:
    if isinstance(error, CoercionError) and error.token and error.target_type in NUMBERS:
        name = error.token.keyword or (error.argument.name if error.argument else "here")
        return f'{name}: found "{error.token.value}"; expected {NUMBERS[error.target_type]}.'
    if isinstance(error, UnusedCliTokensError):
        more = ", ".join(f'"{token}"' for token in error.unused_tokens or ())
        return f"Not understood: {more}. A name of several words stands in quotation marks."
    if isinstance(error, MissingArgumentError) and error.argument:
        return _missing(error.argument, error.keyword)
    return str(error)


def _missing(argument: Argument, typed: str | None) -> str:
    """Say which value is missing; one that begins with a minus is typed with a sign before it."""
    name = typed or argument.name
    if argument.required and not typed:
        return f"{name.lstrip('-').upper()} is missing."
    count, _ = argument.token_count()
    wanted = "a value" if count == 1 else f"{count} values"
    less = f"; one with a minus is typed `{name}=-2`" if argument.hint in {str, float} else ""
    return f"{name} wants {wanted} after it{less}."
