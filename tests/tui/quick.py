"""What an app without a terminal need not do, so that more tests fit into a minute."""

from __future__ import annotations

from typing import Any

import pytest
from textual import _wait
from textual._compositor import Compositor
from textual._context import visible_screen_stack
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.screen import Screen

REST_S = 1 / 100  # the pilot looks so often whether the app has come to rest

_parsed: dict[tuple[Any, ...], list[RuleSet]] = {}  # by text, place and colours: the same for every app


def leave_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Parse each style sheet once, paint nothing that goes nowhere, and notice sooner that all is done."""
    parse, paint = Stylesheet._parse_rules, Compositor.render_update

    def parse_rules(self: Stylesheet, *told: Any, **more: Any) -> list[RuleSet]:
        key = (*told, *more.items(), *self._variables.items())
        if key not in _parsed:
            _parsed[key] = parse(self, *told, **more)
        return _parsed[key]

    def render_update(
        self: Compositor, full: bool = False, screen_stack: list[Screen] | None = None, simplify: bool = False
    ) -> Any:
        if full:
            return paint(self, full, screen_stack, simplify)
        visible_screen_stack.set(screen_stack or [])
        self._dirty_regions.clear()
        return None

    monkeypatch.setattr(Stylesheet, "_parse_rules", parse_rules)
    monkeypatch.setattr(Compositor, "render_update", render_update)
    monkeypatch.setattr(_wait, "SLEEP_GRANULARITY", REST_S)
    monkeypatch.setattr(_wait, "SLEEP_IDLE", REST_S / 20)
