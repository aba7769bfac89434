"""Questions with a yes or a no, asked of the person at the terminal and of nobody else."""

from __future__ import annotations

import sys

from logbook.cli.asked import Asked
from logbook.cli.failures import StoppedError
from logbook.cli.output import wrapped

_YES, _NO = ("y", "yes"), ("n", "no")


def can_ask(asked: Asked) -> bool:
    """Whether somebody is there to be asked: at a terminal, and not where JSON is wanted."""
    return not asked.as_json and sys.stdin.isatty() and sys.stderr.isatty()


def yes(question: str) -> bool:
    """Asks until the answer is yes or no; raises StoppedError where the input ends."""
    while True:
        sys.stderr.write(f"{wrapped(f'{question} [y/n]')} ")
        sys.stderr.flush()
        answer = sys.stdin.readline()
        if not answer:
            raise StoppedError
        word = answer.strip().casefold()
        if word in (*_YES, *_NO):
            return word in _YES
