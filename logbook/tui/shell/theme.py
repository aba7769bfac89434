"""Our colours: deep water by night, sand by day, and the terminal's own colours. Every state is also a word.

The two of our own are chosen so that the states stay apart also where red and green, or yellow and blue, look
alike; what is asked of them stands in the tests of the themes.
"""

from __future__ import annotations

from dataclasses import replace

from textual.theme import Theme

from logbook.record.file import looks_file

DEEP = Theme(
    name="deep",
    primary="#6ac6dd",
    secondary="#8fa7b8",
    accent="#e7a244",
    warning="#fdc167",
    error="#f16d68",
    success="#91fdd3",
    foreground="#dbe6ea",
    background="#0d1a21",
    surface="#14262f",
    panel="#1a313c",
    dark=True,
    variables={
        "text-warning": "#fdc167",
        "text-error": "#f16d68",
        "text-success": "#91fdd3",
        "foreground-muted": "#9fa7a9",
        "text-disabled": "#9fa7a9",  # what an empty field means
        "foreground-disabled": "#6f7a7d",
    },
)
SAND = Theme(
    name="sand",
    primary="#155668",
    secondary="#4d6470",
    accent="#502d4c",
    warning="#6f5604",
    error="#ad2747",
    success="#064517",
    foreground="#1d2a30",
    background="#f6f1e4",
    surface="#ebe3d0",
    panel="#e0d6bf",
    dark=False,
    variables={
        "text-warning": "#6f5604",
        "text-error": "#ad2747",
        "text-success": "#064517",
        "foreground-muted": "#4d5e63",
        "text-disabled": "#4d5e63",
        "foreground-disabled": "#6a757d",
    },
)
# Without grounds: what stands out does so in bold, reversed or underlined, as the sheet of the app says.
TERMINAL = Theme(
    name="terminal",
    primary="ansi_cyan",
    secondary="ansi_blue",
    accent="ansi_magenta",
    warning="ansi_yellow",
    error="ansi_red",
    success="ansi_green",
    foreground="ansi_default",
    background="ansi_default",
    surface="ansi_default",
    panel="ansi_default",
    boost="ansi_default",
    ansi=True,
    variables={
        "ansi-background": "ansi_default",
        "ansi-foreground": "ansi_default",
        "foreground-disabled": "ansi_default 50%",
        "block-cursor-background": "ansi_default",
        "block-cursor-text-style": "bold underline",
        "border": "ansi_default",
        "border-blurred": "ansi_default",
        "scrollbar": "ansi_default",
        "scrollbar-background": "ansi_default",
    },
)
_BY_NAME = {theme.name: theme for theme in (DEEP, SAND, TERMINAL)}
THEMES = tuple(_BY_NAME[name] for name in looks_file.THEMES)

# Where there are 256 colours the grounds would come out black or teal: these greys are among the 256.
_GREY_GROUNDS = {  # background, surface, panel
    "deep": ("#121212", "#1c1c1c", "#262626"),
    "sand": ("#f6f6f6", "#eeeeee", "#e4e4e4"),
}


def for_256_colours(theme: Theme) -> Theme:
    """The colours with grounds that are told apart where there are 256 colours."""
    if theme.name not in _GREY_GROUNDS:
        return theme
    background, surface, panel = _GREY_GROUNDS[theme.name]
    return replace(theme, background=background, surface=surface, panel=panel)
