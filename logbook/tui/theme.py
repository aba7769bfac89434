"""Our two palettes: deep water by night, sand by day. Every state is also a word."""

from __future__ import annotations

from textual.theme import Theme

DEEP = Theme(
    name="deep",
    primary="#5fb3c8",
    secondary="#8fa7b8",
    accent="#e3c27a",
    warning="#e8a64c",
    error="#f0736a",
    success="#7cc79b",
    foreground="#dbe6ea",
    background="#0d1a21",
    surface="#14262f",
    panel="#1a313c",
    dark=True,
    variables={"text-warning": "#e8b56a", "text-error": "#f58a80", "text-success": "#8fd4aa"},
)
SAND = Theme(
    name="sand",
    primary="#0b6077",
    secondary="#4d6470",
    accent="#8a4b00",
    warning="#8f5200",
    error="#a3231b",
    success="#1c6b43",
    foreground="#1d2a30",
    background="#f6f1e4",
    surface="#ebe3d0",
    panel="#e0d6bf",
    dark=False,
    variables={"text-warning": "#7d4700", "text-error": "#99201a", "text-success": "#155c38"},
)
THEMES = (DEEP, SAND)
