"""Colours by the names that the settings use: the contrast that WCAG 2.1 asks for at level AA, the third at AAA.

Ours are those of a wool shop: walnut and cream, madder for the fabric, undyed oat for its edgings, and one teal that
is used for what is at hand and for nothing else. The inks of the pictures (``pictures/canvas.py``) are variables too.
"""

from textual.theme import Theme

NAMES = {"dark": "workshop-dark", "light": "workshop-light", "high contrast": "workshop-contrast"}


def inks(**colours: str) -> dict[str, str]:
    """Colours of inks as variables of a theme: ``cloth_shade`` becomes ``ink-cloth-shade``."""
    return {f"ink-{name.replace('_', '-')}": colour for name, colour in colours.items()}


DARK = Theme(
    name="workshop-dark",
    primary="#c9735a",
    secondary="#7fd0c4",
    accent="#f0b264",
    warning="#ffcf70",
    error="#ff9d8c",
    success="#a8cf8e",
    foreground="#f1e7da",
    background="#1a1512",
    surface="#211b17",
    panel="#2d241e",
    dark=True,
    variables={
        "boost": "#31281f",
        "rule": "#55463a",
        "text": "#f1e7da",
        "text-muted": "#c3b29f",
        "text-disabled": "#a89683",
        "text-accent": "#f3bd78",
        "text-primary": "#f3bd78",
        "text-warning": "#ffcf70",
        "text-error": "#ffa99b",
        "text-success": "#a8cf8e",
        "primary-background": "#513828",
        "block-cursor-background": "#f0b264",
        "block-cursor-foreground": "#211b17",
        "input-cursor-background": "#f1e7da",
        "input-cursor-foreground": "#211b17",
        "input-selection-background": "#7a4a30",
        "scrollbar": "#55463a",
        "scrollbar-background": "#211b17",
        "scrollbar-hover": "#7a6554",
        "scrollbar-active": "#c3b29f",
        "markdown-h1-color": "#f3bd78",
        "markdown-h2-color": "#f3bd78",
        "footer-key-foreground": "#f3bd78",
        **inks(
            cloth="#d27a5f", cloth_shade="#a85841", cloth_seam="#4d2116", cloth_inside="#6b3324",
            edging="#e4c695", edging_shade="#b18d5b", mark="#7fd0c4", mark_shade="#3f8f86",
            body="#7d6b5c", body_tape="#a9f2e6", wood="#c8a06a", button="#3a1c12",
            accent="#f0b264", quiet="#c3b29f", strong="#ffe3bd",
        ),
    },
)  # fmt: skip

LIGHT = Theme(
    name="workshop-light",
    primary="#a8482f",
    secondary="#1c6864",
    accent="#8a3b12",
    warning="#7a4a00",
    error="#9c1f1f",
    success="#33581f",
    foreground="#2b211a",
    background="#fbf6ee",
    surface="#f7f0e5",
    panel="#eadecb",
    dark=False,
    variables={
        "boost": "#efe5d5",
        "rule": "#c9b498",
        "text": "#2b211a",
        "text-muted": "#5a4b3f",
        "text-disabled": "#6d5d50",
        "text-accent": "#8a3b12",
        "text-primary": "#8a3b12",
        "text-warning": "#7a4a00",
        "text-error": "#9c1f1f",
        "text-success": "#33581f",
        "primary-background": "#f1d5b6",
        "block-cursor-background": "#8a3b12",
        "block-cursor-foreground": "#fff8ee",
        "input-cursor-background": "#2b211a",
        "input-cursor-foreground": "#fbf6ee",
        "input-selection-background": "#e6b98a",
        "scrollbar": "#c9b498",
        "scrollbar-background": "#f7f0e5",
        "scrollbar-hover": "#a8906f",
        "scrollbar-active": "#5a4b3f",
        "markdown-h1-color": "#8a3b12",
        "markdown-h2-color": "#8a3b12",
        "footer-key-foreground": "#8a3b12",
        **inks(
            cloth="#cb7156", cloth_shade="#94432e", cloth_seam="#551f12", cloth_inside="#74331f",
            edging="#a67b41", edging_shade="#7f5c2a", mark="#2f8d82", mark_shade="#115049",
            body="#998371", body_tape="#063a37", wood="#86673a", button="#fbf6ee",
            accent="#8a3b12", quiet="#5a4b3f", strong="#6e2a14",
        ),
    },
)  # fmt: skip

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
        "rule": "#9a9a9a",
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
        **inks(
            cloth="#ffffff", cloth_shade="#8c8c8c", cloth_seam="#000000", cloth_inside="#3a3a3a",
            edging="#ffe14d", edging_shade="#8a7a20", mark="#7fe7ff", mark_shade="#2d7f94",
            body="#c4c4c4", body_tape="#0b3fbf", wood="#ffc266", button="#000000",
            accent="#ffe14d", quiet="#ffffff", strong="#ffffff",
        ),
    },
)  # fmt: skip

ALL = (DARK, LIGHT, CONTRAST)

WITHOUT_COLOURS = {name: "ansi_default" for name in DARK.variables if name.startswith("ink-")} | {
    "rule": "ansi_default"
}
"""What stands in for our own variables in a theme that is not ours: that of a terminal without colours."""
