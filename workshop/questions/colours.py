"""Questions about colours: which there are, stripes, and bands round a yoke; of the Shape step."""

import re

from workshop.core.constructions import construction
from workshop.core.fabric.patterns import PLAIN
from workshop.project import Band, Colour, Project, Stripe
from workshop.questions import Question
from workshop.questions.kinds import Choice, Option
from workshop.questions.patterns import fabrics
from workshop.records import record
from workshop.units import NotUnderstood, shown, tidy

MOST_COLOURS, MOST_STRIPES, MOST_BANDS = 12, 24, 6
MOST_ROWS = 200
"""Rows of one stripe."""
LETTERS = "abcdefghijklmnopqrstuvwxyz"


def _parts(text: str, signs: str, write: str) -> list[str]:
    """What stands between any of the signs. Raises NotUnderstood, with what to write, where nothing does."""
    parts = [part.strip() for part in re.split(f"[{signs}\n]", tidy(text)) if part.strip()]
    if not parts:
        raise NotUnderstood(f"nothing was typed. Write {write}")
    return parts


@record
class Colours:
    """Colours, each with a letter of its own: "a chalk white, b sea blue". Without letters they get a, b, c."""

    def read(self, text: str, project: Project) -> tuple[Colour, ...]:
        """The colours. Raises NotUnderstood."""
        parts = _parts(text, ",;/", f"for example {self.example(project)}")
        if len(parts) > MOST_COLOURS:
            raise NotUnderstood(f"that's {len(parts)} colors. Use at most {MOST_COLOURS}")
        found = self._named(parts, project)
        twice = next((c.id for c in found if sum(c.id == other.id for other in found) > 1), None)
        if twice:
            raise NotUnderstood(f"the letter {shown(twice)} is used twice. Each color needs its own letter")
        long = next((c.name for c in found if len(c.name) > 40 or not all(map(str.isprintable, c.name))), None)
        if long:
            raise NotUnderstood(f"'{shown(long)}' is too long a name. Use at most 40 characters")
        return found

    def _named(self, parts: list[str], project: Project) -> tuple[Colour, ...]:
        """Each colour with its letter; where none has one, with the first letters."""
        lettered = [re.fullmatch(r"([^\W\d_])(?:\s+(.*))?", part) for part in parts]
        if not any(lettered):
            return tuple(Colour(letter, part) for letter, part in zip(LETTERS, parts, strict=False))
        odd = next((part for part, m in zip(parts, lettered, strict=True) if not m), None)
        if odd is not None:
            raise NotUnderstood(f"'{shown(odd)}' has no letter before it. Type something like {self.example(project)}")
        return tuple(Colour(m[1].casefold(), m[2] or "") for m in lettered if m)

    def show(self, value: tuple[Colour, ...], project: Project) -> str:
        """Letters with their names."""
        return ", ".join(f"{c.id} {c.name}".strip() for c in value)

    def example(self, project: Project) -> str:
        """Two colours."""
        return "a chalk white, b sea blue"


@record
class Stripes:
    """Stripes from the edging up, each with its rows and its colour: "4 a, 2 b"."""

    def read(self, text: str, project: Project) -> tuple[Stripe, ...]:
        """The stripes; a colour by its letter or its name. Raises NotUnderstood."""
        parts = _parts(text, ",;/", f"for example {self.example(project)}")
        if len(parts) > MOST_STRIPES:
            raise NotUnderstood(f"that's {len(parts)} stripes. Use at most {MOST_STRIPES}, because stripes repeat")
        return tuple(self._stripe(part, project) for part in parts)

    def _stripe(self, text: str, project: Project) -> Stripe:
        found = re.fullmatch(r"(?i)(\d{1,4})\s*(?:rows?|rounds?)?\s*(?:of|in)?\s*(\D.*)", text)
        if not found:
            raise NotUnderstood(
                f"'{shown(text)}' isn't a number of rows and a color. Type something like {self.example(project)}"
            )
        rows, called = int(found[1]), found[2].strip().casefold()
        if not 1 <= rows <= MOST_ROWS:
            raise NotUnderstood(f"{rows} rows looks wrong: it should be 1 to {MOST_ROWS}")
        by_name = {c.name.casefold(): c.id for c in project.garment.colour if c.name}
        named = called if len(called) == 1 else by_name.get(called, "")
        if not named.isalpha():
            known = "; ".join(f"{c.id} {c.name}".strip() for c in project.garment.colour)
            raise NotUnderstood(
                f"no color is called '{shown(called)}'. {f'Your colors are {known}' if known else 'Use a letter'}"
            )
        return Stripe(rows, named)

    def show(self, value: tuple[Stripe, ...], project: Project) -> str:
        """Rows and letters."""
        return ", ".join(f"{s.rows} {s.colour}" for s in value)

    def example(self, project: Project) -> str:
        """Two stripes."""
        return "4 a, 2 b"


@record
class Bands:
    """Stitch patterns from the join of body and sleeves up, with / between them: "waves / little hearts"."""

    def read(self, text: str, project: Project) -> tuple[Band, ...]:
        """The bands; each as the list of fabrics has it. Raises NotUnderstood."""
        parts = _parts(text, ";/", "the names of patterns with / between them")
        if len(parts) > MOST_BANDS:
            raise NotUnderstood(f"that's {len(parts)} bands. Use at most {MOST_BANDS}")
        return tuple(Band(str(_PATTERNS.read(part, project))) for part in parts)

    def show(self, value: tuple[Band, ...], project: Project) -> str:
        """Names, or ids where a name has a sign that parts two of them."""
        told = (_PATTERNS.show(b.id, project) for b in value)
        return " / ".join(b.id if re.search(r"[/;]", name) else name for b, name in zip(value, told, strict=True))

    def example(self, project: Project) -> str:
        """Two that come along."""
        return "waffle stitch / seed stitch"


def _for_bands(project: Project) -> tuple[Option, ...]:
    return tuple(o for o in fabrics(project) if o.value != PLAIN)


_PATTERNS = Choice(_for_bands)

COLOURS = Question(
    key="garment.colour",
    step="shape",
    asks="Colors",
    kind=Colours(),
    hint="a letter and a name for each color, the main color first, for example 'a chalk white, b sea blue'. "
    "Leave blank for one color",
    why="In charts and stripes, a color goes by its letter. The plan says how much yarn you need in each color.",
)

STRIPES = Question(
    key="garment.stripe",
    step="shape",
    asks="Stripes",
    kind=Stripes(),
    hint="from the edging up, the number of rows in each stripe and its color letter: 4 a, 2 b. The stripes repeat "
    "to the top. Optional",
    why="The stripes run across the body and sleeves, and meet where a sleeve joins the body.",
)

BANDS = Question(
    key="garment.band",
    step="shape",
    asks="Bands around the yoke",
    kind=Bands(),
    hint="names of patterns from the Swatch step, the lowest band first, with / between them. Optional",
    why="A yoke band is worked once from its chart, between two decrease rounds. The workshop looks for stitch counts "
    "that "
    "fit whole repeats.",
    when=lambda p: construction(p.garment.construction).in_rings,
)

QUESTIONS = (COLOURS, STRIPES, BANDS)
