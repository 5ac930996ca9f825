"""Colours by the names that the settings use; the third has the contrast that WCAG 2.1 asks for at its level AAA."""

from textual.theme import Theme

NAMES = {"dark": "textual-dark", "light": "textual-light", "high contrast": "workshop-contrast"}

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
