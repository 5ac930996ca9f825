"""Colours by the names that the settings use: the contrast that WCAG 2.1 asks for at level AA, the third at AAA."""

from dataclasses import replace

from textual.theme import BUILTIN_THEMES, Theme

NAMES = {"dark": "workshop-dark", "light": "workshop-light", "high contrast": "workshop-contrast"}

DARK = replace(
    BUILTIN_THEMES["textual-dark"],
    name="workshop-dark",
    variables={
        "block-cursor-background": "#0b5797",
        "block-cursor-foreground": "#ffffff",
        "text-accent": "#ffc66b",
        "markdown-h1-color": "#ffc66b",
        "markdown-h2-color": "#ffc66b",
    },
)

LIGHT = replace(
    BUILTIN_THEMES["textual-light"],
    name="workshop-light",
    variables={
        "text-accent": "#8a3f00",
        "text-warning": "#7a4a00",
        "text-error": "#a1002b",
        "text-success": "#1d5c2e",
        "text-muted": "#3f3f3f",
        "primary-background": "#d5e4f7",
        "input-selection-background": "#b4cdf5",
        "markdown-h1-color": "#8a3f00",
        "markdown-h2-color": "#8a3f00",
    },
)

CONTRAST = Theme(
    name="workshop-contrast",
    primary="#ffe14d",
    secondary="#7fe7ff",
    accent="#ffe14d",
    warning="#ffc266",
    error="#ffb3b3",
    success="#9dff9d",
    foreground="#ffffff",
    background="#000000",
    surface="#000000",
    panel="#000000",
    boost="#1c1c1c",
    dark=True,
    variables={
        "text": "#ffffff",
        "text-muted": "#ffffff",
        "text-disabled": "#d0d0d0",
        "text-accent": "#ffe14d",
        "text-primary": "#ffe14d",
        "text-warning": "#ffc266",
        "text-error": "#ffb3b3",
        "markdown-h1-color": "#ffe14d",
        "markdown-h2-color": "#ffe14d",
        "primary-background": "#202a44",
        "panel-lighten-2": "#9a9a9a",
        "block-cursor-foreground": "#000000",
        "block-cursor-background": "#ffe14d",
        "block-cursor-text-style": "bold",
        "input-cursor-background": "#ffffff",
        "input-cursor-foreground": "#000000",
        "input-selection-background": "#1f4fa8",
        "button-focus-text-style": "bold reverse",
        "link-color": "#ffffff",
        "link-color-hover": "#000000",
        "link-background-hover": "#ffe14d",
    },
)

ALL = (DARK, LIGHT, CONTRAST)
