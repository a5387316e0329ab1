"""The program's own two palettes. Colours are named here and nowhere else."""

from __future__ import annotations

from textual.theme import Theme

DARK = "wellward-dark"
LIGHT = "wellward-light"

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
)


def other(theme: str) -> str:
    """The palette to switch to."""
    return LIGHT if theme == DARK else DARK
