"""Lists of changes as a test wants them, without asking whether each can be done."""

from __future__ import annotations

from dataclasses import replace

from clothwright.workbook import Step, Workbook


def with_step(book: Workbook, step: Step, at: int | None = None) -> Workbook:
    """The workbook with a change put in at a place, from 1; at the end without one."""
    steps = list(book.steps)
    steps.insert(len(steps) if at is None else at - 1, step)
    return replace(book, steps=tuple(steps))


def switched(book: Workbook, number: int, *, on: bool) -> Workbook:
    """The workbook with a change, from 1, switched on or off."""
    steps = list(book.steps)
    steps[number - 1] = replace(steps[number - 1], on=on)
    return replace(book, steps=tuple(steps))
