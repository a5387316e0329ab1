"""The program's own two palettes, and the terminal's own colours. Colours are named here and nowhere else."""

from __future__ import annotations

from textual.theme import Theme

DARK = "wellward-dark"
LIGHT = "wellward-light"
ANSI = "wellward-ansi"

_DARK_VARIABLES = {
    "block-cursor-foreground": "#f2f7f4",
    "block-cursor-background": "#2b4f51",
    "block-cursor-text-style": "bold",
    "block-cursor-blurred-background": "#203235",
    "block-cursor-blurred-foreground": "#dde5e1",
    "border": "#8fc7b5",
    "border-blurred": "#31454a",
    "footer-background": "#182427",
    "footer-key-foreground": "#e2bd7a",
    "scrollbar": "#31454a",
    "scrollbar-background": "#10191b",
    "input-selection-background": "#35595a",
}

_LIGHT_VARIABLES = {
    "block-cursor-foreground": "#10191b",
    "block-cursor-background": "#bfdccf",
    "block-cursor-text-style": "bold",
    "block-cursor-blurred-background": "#dce7e0",
    "block-cursor-blurred-foreground": "#1f2a2b",
    "border": "#21695a",
    "border-blurred": "#c3cdc6",
    "footer-background": "#e4e9e2",
    "footer-key-foreground": "#7a5210",
    "scrollbar": "#b9c5bd",
    "scrollbar-background": "#f5f6f1",
    "input-selection-background": "#b8d8cc",
}

_ANSI_VARIABLES = {
    "ansi-background": "ansi_black",
    "ansi-foreground": "ansi_white",
    "block-cursor-foreground": "ansi_bright_white",
    "block-cursor-background": "ansi_blue",
    "block-cursor-text-style": "none",
    "block-cursor-blurred-background": "ansi_default",
    "block-cursor-blurred-foreground": "ansi_default",
    "block-cursor-blurred-text-style": "underline",
    "border": "ansi_cyan",
    "border-blurred": "ansi_bright_black",
    "foreground-muted": "ansi_bright_black",
    "text-muted": "ansi_bright_black",
    "footer-background": "ansi_default",
    "footer-key-foreground": "ansi_yellow",
    "scrollbar": "ansi_bright_black",
    "scrollbar-background": "ansi_default",
    "input-selection-background": "ansi_blue",
}

THEMES = (
    Theme(
        name=DARK,
        primary="#8fc7b5",
        secondary="#86a9c9",
        accent="#e2bd7a",
        foreground="#dde5e1",
        background="#10191b",
        surface="#152124",
        panel="#1c2b2e",
        success="#93c98a",
        warning="#e5b45c",
        error="#ee8b78",
        dark=True,
        variables=_DARK_VARIABLES,
    ),
    Theme(
        name=LIGHT,
        primary="#21695a",
        secondary="#2e5b86",
        accent="#7a5210",
        foreground="#1f2a2b",
        background="#f5f6f1",
        surface="#ebeee7",
        panel="#e0e6de",
        success="#2f6b2a",
        warning="#855400",
        error="#a5311d",
        dark=False,
        variables=_LIGHT_VARIABLES,
    ),
    Theme(
        name=ANSI,
        ansi=True,
        primary="ansi_cyan",
        secondary="ansi_blue",
        accent="ansi_yellow",
        foreground="ansi_default",
        background="ansi_default",
        surface="ansi_default",
        panel="ansi_default",
        boost="ansi_default",
        success="ansi_green",
        warning="ansi_yellow",
        error="ansi_red",
        dark=True,
        variables=_ANSI_VARIABLES,
    ),
)


_CYCLE = (DARK, LIGHT, ANSI)


def other(theme: str) -> str:
    """The palette to switch to."""
    return _CYCLE[(_CYCLE.index(theme) + 1) % len(_CYCLE)] if theme in _CYCLE else DARK
