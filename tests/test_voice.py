"""How the workshop speaks: one country's words at a time, no riddles, and sentences that can be read aloud.

Each source of texts is a case of its own, so that a failure names the place. Words are those of the table "terms";
what is banned was found by knitters who read the texts aloud. Lengths of sentences: common practice, no source.
"""

import json
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from itertools import cycle
from pathlib import Path
from statistics import median

import pytest

from tests.classroom import CLASS, DAY, project_of
from tests.factory import pullover, shaped
from workshop import lessons, saves
from workshop.commands.print import blank
from workshop.conversation import standing
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.plan import Plan, plan
from workshop.of_class.pupils import pupil_of
from workshop.prints import machine
from workshop.prints.class_page import class_page
from workshop.prints.document import summary
from workshop.prints.drawings import step_drawing
from workshop.prints.paper import markdown
from workshop.prints.plan_sheet import plan_sheet
from workshop.prints.work_sheet import filled_sheet
from workshop.progress import at_hand, progress
from workshop.project import STEPS, Project, Terms
from workshop.questions.steps import all_questions, fields, groups
from workshop.saves import Saved
from workshop.steps import steps
from workshop.tables import names, read
from workshop.tables.checks import check_text
from workshop.tables.fibres import all_fibres
from workshop.tables.glossary import words
from workshop.tables.trade_rules import cautions
from workshop.units import lengths_in
from workshop.words.answers.of_steps import answers
from workshop.words.before import before_knitting
from workshop.words.drawn import schematic_notes
from workshop.words.explained import explained
from workshop.words.instructions import finishing, instructions
from workshop.words.phrase import in_terms, in_terms_of, say_check, worded, working_lines

ROOT = Path(__file__).parents[1]

BANNED = re.compile(
    r"\b(?:cloths?|anew|mend(?:s|ed)?|fellows?|so many|so (?:deep|long|wide|many) (?:up|of)|hands (?:that )?change"
    r"|the doubt|truth 95|stitches that wait|waited|go(?:es)? on one by one|off its|as (?:worn|knitted) lie"
    r"|wants (?:a|the|to)|may stay open|left open|taken out|take (?:this|the) (?:\w+ ){1,3}out)\b",
    re.IGNORECASE,
)

US_ONLY = [t["us"] for kind in ("term", "form", "spelling") for t in read("terms")[kind]]
UK_ONLY = [t["uk"] for kind in ("term", "form", "spelling") for t in read("terms")[kind]] + [
    "darn",
    "darned",
    "darning",
]


def _any_of(forms: Iterable[str]) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, sorted(forms, key=len, reverse=True)))})s?\b", re.IGNORECASE)


OTHER_SET = {"us": _any_of(UK_ONLY), "uk": _any_of(US_ONLY)}
TERMS: tuple[Terms, ...] = ("us", "uk")


STEP_NAME = "Fibre"
"""The first of the seven steps, whose names are the same in both countries but for Gauge."""


@cache
def plans(terms: Terms) -> tuple[Plan, ...]:
    """The demos, one plan of each construction, and one that has only begun."""
    demos = [replace(s.project, terms=terms) for s in saves.list_saves(saves.demo_folder())]
    worked = cycle(("flat", "round"))
    made = [shaped(pullover(), construction=c, worked=next(worked)) for c in CONSTRUCTIONS]
    odd = [shaped(pullover(), construction="set-in", front="open", neckline="v", sleeve="none", worked="round")]
    return tuple(plan(replace(p, terms=terms)) for p in (*demos, *made, *odd, Project(title="", terms=terms)))


def without_own(text: str, project: Project) -> str:
    """A text without what the knitter wrote herself, which nobody rewords."""
    own = {project.title, project.notes, *(s.notes for s in project.swatch)}
    own |= {part for y in project.yarn for part in (y.name, y.care)}
    for word in sorted(filter(None, own), key=len, reverse=True):
        text = text.replace(word, "…").replace(word.capitalize(), "…")
    return text


# ── sources of texts, in the words of a country ──────────────────────────────────────────────────────


def _of_plans(say: Callable[[Plan], Iterable[str]]) -> Callable[[Terms], Iterator[str]]:
    def found(terms: Terms) -> Iterator[str]:
        for now in plans(terms):
            for text in say(now):
                yield without_own(text, now.project)

    return found


def _answers(now: Plan) -> Iterator[str]:
    for name in STEPS:
        yield from (line.text for line in answers(name, now))
    yield in_terms_of(at_hand(now), now.project)
    yield from (in_terms(s.because, now.project.terms) for s in progress(now))


def _instructions(now: Plan) -> Iterator[str]:
    yield from before_knitting(now)
    for piece in instructions(now):
        yield from (piece.title, piece.measures, *piece.lines)
    yield from finishing(now)
    yield from schematic_notes(now)


def _workings(now: Plan) -> Iterator[str]:
    for working in now.workings:
        yield from working_lines(working, now.project)


def _pictures(now: Plan) -> Iterator[str]:
    for name in STEPS:
        yield from step_drawing(name, now)


def _checks(terms: Terms) -> Iterator[str]:
    for code, entry in read("checks").items():
        variants = [f"{code}.{name}" for name, value in entry.items() if isinstance(value, dict)]
        for name in ((code,) if "text" in entry else ()) + tuple(variants):
            told = check_text(name)
            yield in_terms(lengths_in(told.whole, "cm"), terms)
            yield from (in_terms(way, terms) for way in told.ways)
    for now in plans(terms):
        yield from (without_own(say_check(c, now.project), now.project) for c in now.checks)


def _tables(terms: Terms) -> Iterator[str]:
    for fibre in all_fibres():
        yield from (in_terms(f"{text}.", terms) for text in (fibre.wear, fibre.wash, fibre.watch))
    for measure in read("measuring")["measure"]:
        yield from (in_terms(text, terms) for text in (measure["name"], measure["how_to"]))
    yield from (c.text for c in cautions())
    for name in names():
        if name not in ("terms", "glossary", "checks"):
            yield from (in_terms(text, terms) for text in _texts_in(read(name)))


def _texts_in(entry: object) -> Iterator[str]:
    """All texts of a table but those of its sources."""
    if isinstance(entry, Mapping):
        for key, value in entry.items():
            yield from _texts_in(value) if key not in ("sources", "source", "also", "id") else ()
    elif isinstance(entry, list):
        yield from (text for value in entry for text in _texts_in(value))
    elif isinstance(entry, str):
        yield entry


def _steps(terms: Terms) -> Iterator[str]:
    for about in steps():
        yield from (in_terms(about.title, terms), in_terms(about.what, terms))


def _questions(terms: Terms) -> Iterator[str]:
    for now in plans(terms):
        project = now.project
        for name in STEPS:
            for field in fields(name, project):
                if field.question.key == "terms":  # names the words of both countries
                    continue
                yield without_own(in_terms_of(field.label, project), project)
                yield worded(field.question.told(project), project)
                options = getattr(field.question.kind, "options", None)
                yield from (in_terms(o.label, terms) for o in (options(project) if options else ()))
            yield from (in_terms_of(g.title, project) for g in groups(name, project))
    yield from (worded(q.why, replace(Project(), terms=terms)) for q in all_questions() if q.key != "terms")


def _lessons(terms: Terms) -> Iterator[str]:
    for name in STEPS:
        told = lessons.lesson(name)
        yield in_terms(f"{told.title}\n\n{told.text}", terms)


def _glossary(terms: Terms) -> Iterator[str]:
    for word in words():
        yield from (word.called(terms), in_terms(word.means, terms))
        yield from (re.sub(r" \((?:US|UK): [^)]*\)", "", text) for text in explained(word.called(terms), terms))


def _blank(terms: Terms) -> Iterator[str]:
    document, model = blank(plan(Project(terms=terms)))
    yield markdown(document, model)


def _readme(terms: Terms) -> Iterator[str]:
    yield in_terms((ROOT / "README.md").read_text("utf-8"), terms)


def _standing(now: Plan) -> Iterator[str]:
    for name in STEPS:
        yield from (line.text for line in standing(name, now, back_again=True))


def _class(terms: Terms) -> Iterator[str]:
    found = [Saved(Path(f"{i.name}.toml"), replace(project_of(i), terms=terms)) for i in CLASS]
    yield markdown(class_page([pupil_of(saved, DAY) for saved in found], "Class"))


SOURCES: dict[str, Callable[[Terms], Iterable[str]]] = {
    "answers": _of_plans(_answers),
    "instructions": _of_plans(_instructions),
    "workings": _of_plans(_workings),
    "pictures": _of_plans(_pictures),
    "checks": _checks,
    "tables": _tables,
    "steps": _steps,
    "standing": _of_plans(_standing),
    "questions": _questions,
    "lessons": _lessons,
    "glossary": _glossary,
    "README": _readme,
    "summary": _of_plans(lambda now: [markdown(summary(now, workings=True), now)]),
    "plan sheet": _of_plans(lambda now: [markdown(plan_sheet(now), now)]),
    "filled sheet": _of_plans(lambda now: [markdown(filled_sheet(now), now)]),
    "blank sheet": _blank,
    "class page": _class,
}
"""By the place where a knitter meets them."""


@cache
def said(source: str, terms: Terms) -> tuple[str, ...]:
    """The texts of a source, each once; without names of the workshop and of commands, and places for figures."""
    return tuple(
        dict.fromkeys(
            re.sub(r"workshop tables \w+|jumper[ -]workshop|sweater \(or jumper\)|\{\w+\}", "…", text, flags=re.I)
            for text in SOURCES[source](terms)
        )
    )


def around(found: re.Match[str]) -> str:
    """What was found, with what is around it."""
    return " ".join(found.string[max(0, found.start() - 60) : found.end() + 40].split())


@pytest.mark.parametrize("terms", TERMS)
@pytest.mark.parametrize("source", SOURCES)
def test_no_word_is_of_the_other_country(source, terms):
    found = [
        around(m) for text in said(source, terms) for m in OTHER_SET[terms].finditer(text) if m.group() != STEP_NAME
    ]

    assert not found, "\n".join(dict.fromkeys(found))


@pytest.mark.parametrize("source", SOURCES)
def test_no_sentence_is_a_riddle(source):
    found = [around(m) for text in said(source, "us") for m in BANNED.finditer(text)]

    assert not found, "\n".join(dict.fromkeys(found))


# ── how long sentences are ───────────────────────────────────────────────────────────────────────────

LONGEST, USUAL = 30, 14
"""Words of any sentence, and of the middle one of a source."""

NO_PROSE = re.compile(
    r"^\s*(?:\||=|#|<|exactly |with .*=|source: |(?:\[ \] )?(?:Row|Round|Short row)s? \d|At the same time: "
    r"|(?:\[ \] )?\d+ (?:across|along|around|at|up|down) )|[÷×√☐]|https?:"
)
"""Formulas and figures, tables, headings, and rows of an instruction."""


def sentences(text: str) -> Iterator[str]:
    """The sentences of a text in Markdown; what is drawn, worked out or listed in a table left out."""
    text = re.sub(r"```.*?```|~~~.*?~~~|`[^`]*`", "…", text, flags=re.DOTALL)
    text = re.sub(r"(?m)^\*\*\\= .*\n\n.*$", "", text)  # a formula, and what its figures are
    for paragraph in re.split(r"\n\s*\n|\n(?=\s*[-*|] )|\n(?=\s*(?:=|with |source: |exactly ))", text):
        told = re.sub(r"^\s*(?:[-*]|\d+\.) ", "", paragraph).strip()
        if not NO_PROSE.search(told):
            yield from re.split(r"(?<=[.!?])[)\"']?\s+(?=[\"'(*]?[A-Z0-9{])|\s\|\s", " ".join(told.split()))


def length(sentence: str) -> int:
    """Words of a sentence."""
    return sum(bool(re.search(r"\w", word)) for word in sentence.split())


PROSE = [s for s in SOURCES if s not in ("workings", "pictures")]


@pytest.mark.parametrize("source", PROSE)
def test_sentences_can_be_read_aloud_in_one_breath(source):
    found = {s: length(s) for text in said(source, "us") for s in sentences(text)}
    long = [f"{n}: {s}" for s, n in found.items() if n > LONGEST]

    assert not long, "\n".join(long)
    assert median([n for n in found.values() if n > 1]) <= USUAL


# ── two countries ────────────────────────────────────────────────────────────────────────────────────


def test_terms_keep_capitals_and_plurals_and_are_turned_once():
    text = "Gauges, sweaters and bound-off stitches. Finishing: weave in the ends, in gray or in a color."
    uk = "Tensions, jumpers and cast-off stitches. Making up: sew in the ends, in grey or in a colour."

    assert in_terms(text, "uk") == uk
    assert in_terms(uk, "uk") == uk
    assert in_terms(text, "us") == text


def test_a_single_word_of_the_knitters_own_is_not_reworded():
    base = pullover(terms="uk")
    project = replace(base, yarn=(replace(base.yarn[0], name="Gray"),))

    assert in_terms_of("Gray, for a sweater in gray", project) == "Gray, for a jumper in grey"
    assert in_terms_of("Grayish", project) == "Grayish"


def test_the_step_gauge_is_shown_as_tension_and_kept_as_gauge():
    now = plan(pullover(terms="uk"))

    assert [in_terms(about.title, "uk") for about in steps() if about.name == "gauge"] == ["Tension"]
    assert "gauge" in [s["name"] for s in json.loads(machine.dumps(now))["steps"]]
    assert "÷ tension ×" in " ".join(
        working_lines(now.working("swatches.A.washed.stitches_per_10cm_u95_percent"), now.project)
    )
