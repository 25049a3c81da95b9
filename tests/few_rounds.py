"""Searches beside the page that end after a few rounds, or use one core, on any machine."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from multiprocessing.connection import Connection

from clothwright.workroom.planning.tried import ways_to_fit
from clothwright.workroom.searching import process, service
from clothwright.workroom.searching.laying import lay_by_many, lay_plan

ROUNDS = 3
LONG_S = 600.0


def search(line: Connection, task: process.Task) -> None:
    """Do a task in a process of its own, as the room does: each lay for a few rounds, by one core.

    The process ends afterwards, and with it what is set here.
    """
    process.lay_by_many = partial(lay_by_many, rounds=ROUNDS)
    process.lay_plan = partial(lay_plan, rounds=ROUNDS)
    process.ways_to_fit = partial(ways_to_fit, rounds=1)
    seconds = LONG_S if task.kind == "lay" else task.seconds  # there are many ways
    process.search(line, replace(task, workers=1, seconds=seconds))


def search_alone(line: Connection, task: process.Task) -> None:
    """Do a task as the room does, by one core: no more processes are started for it."""
    process.search(line, replace(task, workers=1))


@contextmanager
def few_rounds() -> Iterator[None]:
    """Let the searches begun meanwhile end so, instead of after the time that was asked for."""
    with _searched_by(search):
        yield


@contextmanager
def one_core() -> Iterator[None]:
    """Let the searches begun meanwhile use one core; they last as long as was asked for."""
    with _searched_by(search_alone):
        yield


@contextmanager
def _searched_by(do: Callable[[Connection, process.Task], None]) -> Iterator[None]:
    own = service.search
    service.search = do
    try:
        yield
    finally:
        service.search = own
