"""Row numbers that can be read at arm's length: digits of five lines, drawn in blocks."""

DIGITS = {
    "0": "### #.# #.# #.# ###",
    "1": ".#. ##. .#. .#. ###",
    "2": "### ..# ### #.. ###",
    "3": "### ..# .## ..# ###",
    "4": "#.# #.# ### ..# ..#",
    "5": "### #.. ### ..# ###",
    "6": "### #.. ### #.# ###",
    "7": "### ..# ..# .#. .#.",
    "8": "### #.# ### #.# ###",
    "9": "### #.# ### ..# ###",
}
"""Three by five places each, line by line."""

LINES = 5


def large(number: int, *, plain: bool = False) -> tuple[str, ...]:
    """A number as five lines; ``plain`` for terminals with plain characters only."""
    full = "##" if plain else "██"
    digits = [DIGITS[digit].split() for digit in str(abs(number))]
    drawn = ("  ".join(d[line] for d in digits) for line in range(LINES))
    return tuple(line.replace("#", full).replace(".", "  ").rstrip() for line in drawn)
