"""On paper: the finished plan and the work sheets, as Markdown and as one HTML file."""

import json
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from hypothesis import given

from tests.core.test_garments import projects
from tests.factory import pullover, readings, shaped, swatch
from tests.test_prints import NASTY
from workshop import saves
from workshop.core.making.counts import edging_rule
from workshop.core.making.necklines import crew_back, crew_front
from workshop.core.plan import plan
from workshop.core.plan_mark import plan_mark
from workshop.prints import machine, paper
from workshop.prints import plan_sheet as plan_paper
from workshop.prints.blank_sheet import BY_HAND, NECK, blank_sheet
from workshop.prints.blocks import Document, Grid, Items, Paragraph, RowBoxes, Sums, Table
from workshop.prints.dated import today
from workshop.prints.document import summary
from workshop.prints.formulas import general, put_in
from workshop.prints.plan_sheet import plan_sheet
from workshop.prints.work_sheet import NOT_ON_PAPER, filled_sheet, not_for_a_pencil
from workshop.project import Body, Design, FibrePart, Project, Stripe
from workshop.questions import fibre
from workshop.questions import swatch as swatches
from workshop.questions.steps import fields
from workshop.tables.fibres import all_fibres, by_name
from workshop.words.calculations.by_step import step_of_working
from workshop.words.calculations.in_inches import working_in
from workshop.words.drawn import schematic_notes
from workshop.words.instructions import instructions
from workshop.words.phrase import figured, in_terms, rounding_words, valued

DEMOS = [pytest.param(s.project, id=s.path.stem) for s in saves.list_saves(saves.demo_folder())]
LAYOUT = swatches.add_swatches(fibre.add_yarn(Project(body=Body(source="own"))), "a", (4.0, 4.5, 5.0))


def sheets(project: Project) -> dict[str, Document]:
    now = plan(project)
    return {"plan": plan_sheet(now), "filled": filled_sheet(now), "blank": blank_sheet(plan(pullover()), LAYOUT)}


# ── the finished plan ────────────────────────────────────────────────────────────────────────────────


def boxes(sheet: Document) -> dict[str, list[RowBoxes]]:
    return {s.heading: [b for b in s.blocks if isinstance(b, RowBoxes)] for s in sheet.sections}


@given(projects())
def test_every_row_of_every_piece_has_exactly_one_box(project):
    """Counted against the ledger, not against the words."""
    now = plan(project)
    sheet = plan_sheet(now)
    found = boxes(sheet)
    for piece in now.made.pieces:
        title = next((w.title for w in instructions(now) if w.piece is piece), None)
        if title is None:  # the right one of two alike
            assert piece.name.startswith("right ")
            continue
        for label in ("1st", "2nd") if "two alike" in title else ("",):
            boxed = [r for b in found[title] if b.label == label for r in b.rows]
            assert sorted(boxed) == [r.row for r in piece.rows], (piece.name, label)
        shaped_rows = {r.row for r in piece.rows if r.events}
        assert {r for b in found[title] for r in b.marked} == shaped_rows


def test_what_the_drawing_measures_differently_is_said_below_it_on_paper_too():
    striped = shaped(
        pullover(), construction="raglan-from-hem", worked="round", stripe=(Stripe(2, "a"), Stripe(3, "b"))
    )
    now = plan(striped)
    below = next(s for s in plan_sheet(now).sections if s.heading == "Schematic").blocks[1:]

    assert [block.text for block in below] == list(schematic_notes(now))
    assert any("raglan lines" in t for t in schematic_notes(now))


def test_two_sleeves_have_two_sets_of_boxes():
    labels = [b.label for b in boxes(plan_sheet(plan(pullover())))["Sleeves (make two alike)"]]

    assert labels.count("1st") == labels.count("2nd") > 0


def test_the_finished_plan_has_all_that_one_knits_from():
    now = plan(pullover())
    text = paper.markdown(plan_sheet(now), now)

    for part in ("At a glance", "Schematic", "Finished measurements", "Yarn", "Care", "Back", "Finishing", "Cautions"):
        assert f"## {part}" in text
    assert "| Needles | 4 mm (wood); 3.5 mm for hem, cuffs and bands |" in text
    assert "Pullover with drop shoulders, knitted flat, in pieces to sew. Crew neck, long sleeves" in text
    assert "| Rows | 28 per 10 cm, washed | 28 per 10 cm, likely 27½ to 28½ |" in text
    assert "- [ ] Cast on 102 stitches" in text
    assert "neck 17 cm" in text.split("## Schematic")[1].split("##")[0]
    assert "How every number was worked out" not in text


def test_a_plan_under_way_says_first_what_is_open():
    part_way = next(p.values[0] for p in DEMOS if p.id == "lemon-grove-top")
    asking = pullover(body=replace(pullover().body, cross_back_cm=50.0))

    assert plan_sheet(plan(part_way)).sections[0].heading == "Progress"
    assert plan_sheet(plan(asking)).sections[0].heading == "Progress"
    assert plan_sheet(plan(pullover())).sections[0].heading == "At a glance"


@pytest.mark.parametrize("neckline", ["crew", "v", "scoop"])
@pytest.mark.parametrize("construction", ["set-in", "raglan-from-hem", "raglan-from-neck"])
def test_what_happens_at_the_same_time_is_also_told_row_by_row(construction, neckline):
    now = plan(shaped(pullover(), construction=construction, neckline=neckline))
    merged = 0
    for section in plan_sheet(now).sections:
        together = [
            (i, b.items[0])
            for i, b in enumerate(section.blocks)
            if isinstance(b, Items) and "the next" in b.items[0] and plan_paper.TOGETHER.search(b.items[0])
        ]
        for at, line in together:
            table = next(b for b in section.blocks[at:] if isinstance(b, Table))
            first, last = (int(x) for x in re.match(r"R\w+ (\d+) to (\d+)", line).groups())
            rows = [int(row) for row, _, _ in table.rows]
            assert rows == sorted(rows)
            assert first <= rows[0] <= rows[-1] <= last
            assert f"{table.rows[-1][2]} stitches" in line
            merged += 1
    assert merged or (construction, neckline) not in {("raglan-from-neck", "v"), ("raglan-from-neck", "crew")}


# ── work sheets ──────────────────────────────────────────────────────────────────────────────────────


def lines_of(sheet: Document) -> list[str]:
    out: list[str] = []
    for section in sheet.sections:
        for block in section.blocks:
            if isinstance(block, Items):
                out += block.items
            elif isinstance(block, Paragraph):
                out.append(block.text)
    return out


@pytest.mark.parametrize("project", DEMOS)
def test_the_filled_sheet_has_every_answer_and_every_formula(project):
    now = plan(project)
    sheet = filled_sheet(now)
    lines = lines_of(sheet)
    cells = {cell for s in sheet.sections for b in s.blocks if isinstance(b, Grid) for row in b.rows for cell in row}

    for name in ("fibre", "swatch", "gauge", "wash", "measure", "shape"):
        for field in fields(name, project):
            assert field.shown(project) in cells | {""} or field.question in NOT_ON_PAPER, field.key
    rows = [(sums.formula, row) for sums in sums_of(sheet) for row in sums.grid.rows]
    for working in now.workings:
        shown = working_in(working, project.units)
        if not_for_a_pencil(working):
            numbers = put_in(shown.formula, {f.name: figured(f) for f in shown.figures})
            assert any(f"{shown.label}: {numbers} = {valued(shown.value, shown.unit)}" in line for line in lines)
        else:
            row = next(
                r
                for formula, r in rows
                if formula == in_terms(general(shown.formula), project.terms)
                and r[0].startswith(in_terms(shown.label, project.terms))
            )
            for figure in shown.figures:
                assert any(cell and figured(figure).startswith(cell) for cell in row[1:]), (working.key, figure.name)
            assert any(cell and valued(shown.value, shown.unit).startswith(cell) for cell in row[1:]), working.key
        for figure in working.figures:
            assert figure.name not in put_in(working.formula, {f.name: "▁" for f in working.figures}), figure.name


def test_figures_are_put_into_a_formula_whole():
    """A name that is part of another one, and figures that look like names, stay apart."""
    formula = "width ÷ finished width × rows per 10 cm ÷ 10"
    figures = {"width": "4 cm", "finished width": "100 cm", "rows per 10 cm": "28 rows"}

    assert put_in(formula, figures) == "4 cm ÷ 100 cm × 28 rows ÷ 10"
    assert put_in("1 + 1", {}) == "1 + 1"


def cells_of(sheet: Document) -> list[str]:
    grids = [
        b.grid if isinstance(b, Sums) else b for s in sheet.sections for b in s.blocks if isinstance(b, Grid | Sums)
    ]
    return [cell for grid in grids for row in grid.rows for cell in row[1:]]


def sums_of(sheet: Document) -> list[Sums]:
    return [b for s in sheet.sections for b in s.blocks if isinstance(b, Sums)]


def test_the_blank_sheet_has_no_figure_of_anyone():
    model = plan(pullover(title="Secret", yarn=(replace(pullover().yarn[0], name="Secret yarn"),)))
    sheet = blank_sheet(model, LAYOUT)

    assert "Secret" not in paper.markdown(sheet)
    assert set(cells_of(sheet)) == {"", "over ______ cm", "______ ÷ ______ × 10 = ______"}
    for sums in sums_of(sheet):  # what is left are the constants of the formula
        numbers = set(re.findall(r"\d+(?:\.\d+)?", re.sub("(share|sizes) .", "", sums.formula)))
        assert numbers <= {"1", "2", "2.54", "4", "10", "100", "100000", "6.2832"}, sums.formula


def of_any(formula: str) -> str:
    """A formula of one blend for any, of one length for any."""
    formula = re.sub(r"(share|sizes) (\d) \([^)]*\)", r"\1 \2", formula)
    formula = re.sub(r"^[a-z ]+ × rows per 10 cm ÷ 10$", "its length × rows per 10 cm ÷ 10", formula)
    return re.sub(r"^[a-z ]+ × stitches per 10 cm ÷ 10$", "its width × stitches per 10 cm ÷ 10", formula)


def test_the_blank_sheet_asks_every_question_and_shows_every_formula_that_can_be_done_by_hand():
    model = plan(pullover())
    sheet = blank_sheet(model, LAYOUT)
    text = "\n".join(r[0] for s in sheet.sections for b in s.blocks if isinstance(b, Grid) for r in b.rows)

    for name in ("fibre", "swatch", "gauge", "wash", "measure", "shape"):
        for field in fields(name, LAYOUT):
            assert field.label in text or field.question in NOT_ON_PAPER
    known = {s.formula: s for s in sums_of(sheet)}
    for working in model.workings:
        if (
            "√" not in working.formula
            and "margin of error" not in working.formula
            and not working.key.startswith(("gauge.", "target.shoulder_drop"))
        ):
            sums = known[of_any(working.formula)]
            rows = " ".join([sums.name, *(row[0] for row in sums.grid.rows), *sums.grid.head])
            said = re.sub(
                r",? (off needles|washed|(before|after) washing|based on the chest|from the table)$|:.*",
                "",
                working.label,
            )
            each = re.sub(r"[Ss]watch A\b", "each swatch", said).casefold()
            beside = re.sub(r"[Ss]watch A, ", "", said).casefold()
            assert said in rows or (each in rows.casefold()) or (beside in rows.casefold() and "Swatch A" in rows), said
            assert not working.rounding or rounding_words(working.rounded_to) in sums.told + rows
    assert {step_of_working(w.key) for w in model.workings} == {
        "fibre",
        "swatch",
        "gauge",
        "wash",
        "measure",
        "shape",
        "summary",
    }


def test_a_formula_of_the_blank_sheet_has_a_row_for_each_result_and_a_column_for_each_figure():
    sheet = blank_sheet(plan(pullover()), LAYOUT)
    cast_on = next(s for s in sums_of(sheet) if "edge stitches" in s.formula)

    head = ("", "planned width", "÷ 2.54 × stitches per inch", "+ edge stitches", "= stitches", "rounded")
    assert cast_on.grid.head == head
    assert (cast_on.name, [row[0] for row in cast_on.grid.rows]) == ("Cast-on for each swatch", ["A", "B", "C"])
    for sums in sums_of(sheet):
        assert len({len(row) for row in sums.grid.rows} | {len(sums.grid.head)}) == 1
        heads = [name for name in sums.grid.head[1:] if not name.startswith(("=", "rounded", "Swatch"))]
        assert all(name in sums.formula for name in heads)
        assert not sums.spelled or " ".join(heads) == sums.formula  # read across, they are the formula


@pytest.mark.parametrize("width", range(24, 60, 2))
def test_the_neck_of_the_blank_sheet_is_the_one_that_is_planned(width):
    """Sums in words against the shaping of the core; both are common practice, no source."""
    front, back = crew_front(width, width), crew_back(width, width)
    sums = " ".join(NECK)

    assert "neck ______ × 0.4" in sums
    assert front.centre == pytest.approx(0.4 * width, abs=1)
    assert (
        "If that's 10 or more, bind off 3, then 2, then 2. If it's 7 to 9, bind off 3, then 2. Decrease the rest"
        in sums
    )
    side = (width - front.centre) // 2
    first = [3, 2, 2] if side >= 10 else [3, 2]
    assert [t.stitches for t in front.decreases] == first + [1] * (side - sum(first))
    assert "neck ______ − 12" in sums
    assert back.centre == width - 12
    assert "bind off 4, then 2" in sums
    assert [t.stitches for t in back.decreases] == [4, 2]


def test_the_ribs_of_the_blank_sheet_are_those_that_are_planned():
    sums = " ".join(BY_HAND)
    for rib, said in (
        ("rib-2x2", "k2, p2: a multiple of 4 plus 2"),
        ("rib-1x1", "k1, p1: a multiple of 2 plus 1"),
    ):
        rule = edging_rule(rib, "flat")
        assert said in sums
        assert said.endswith(f"multiple of {rule.multiple} plus {rule.remainder}")


def test_the_weight_to_hang_is_worked_out_before_the_counts_of_the_hung_cloth():
    superwash = replace(pullover().yarn[0], fibres=(FibrePart("superwash wool", 100.0),))
    model, layout = plan(pullover(yarn=(superwash,))), replace(LAYOUT, design=Design(state="hung"))
    text = paper.markdown(blank_sheet(model, layout))

    assert text.index("Weight to hang on") < text.index("Count, hung for a day") < text.index("Rows per 10 cm, hung")
    assert text.index("Back, hem to neck") < text.index("stitches of all pieces ×")


@pytest.mark.parametrize("units", ["cm", "in"])
def test_the_blank_sheet_says_where_every_figure_comes_from(units):
    """A figure that nobody explained raises."""
    made = plan(pullover())
    text = paper.markdown(blank_sheet(made, replace(LAYOUT, units=units)))

    window, stitch = {"cm": ("10 cm", "42"), "in": ("4 in", "16.8")}[units]
    assert f"length of a stitch: {stitch} ÷ usual stitches per {window} (Munden, for wool)" in text
    assert "twice the armhole depth at the top of a straight sleeve" in text
    eases = {"cm": "| standard | 8 cm | 5 cm | 4 cm |", "in": "| standard | 3⅛ in | 2 in | 1⅝ in |"}
    assert eases[units] in text  # as the workshop takes them, to the eighth
    assert ("yards in 100 g, from the line above, × 0.9144" in text) is (units == "in")


def test_the_fibres_of_the_blank_sheet_are_those_of_the_table():
    text = paper.markdown(blank_sheet(plan(pullover()), LAYOUT))
    named = dict(
        re.findall(
            r"(-?\d) ((?:[a-z]+(?: wool)?(?:, )?)+);", text.split("that fiber changes: ")[1].split("; all")[0] + ";"
        )
    )

    for size, names in named.items():
        for name in filter(None, names.split(", ")):
            assert sum(by_name()[name].start_sizes) / 2 == float(size)
    assert len([n for names in named.values() for n in names.split(", ")]) == len(all_fibres()) - 1  # "other"


def test_sheets_speak_the_terms_of_the_knitter():
    uk = replace(LAYOUT, terms="uk", units="in", needle_names="uk")
    text = paper.markdown(blank_sheet(plan(pullover()), uk))

    assert "cast off" in text.casefold()
    assert not re.search(r"\b(gauge|bind off|stockinette)\b", text.replace("US (bind off, gauge)", ""))


# ── HTML ─────────────────────────────────────────────────────────────────────────────────────────────

INSIDE = {
    "html": {"head", "body"}, "head": {"meta", "title", "style"}, "body": {"h1", "p", "section"},
    "section": {"h2", "p", "ul", "table", "svg", "pre", "div"}, "div": {"p", "table", "div", "ul"}, "ul": {"li"}, "li": {"span"}, "p": {"span", "b", "i", "br"},
    "h2": {"small"}, "th": {"small"}, "td": {"small"},
    "table": {"thead", "tbody"}, "thead": {"tr"}, "tbody": {"tr"}, "tr": {"th", "td"},
    "svg": {"title", "rect", "polygon", "polyline", "path", "line", "text", "g"}, "g": {"text", "line", "polygon", "path"},
}  # fmt: skip
"""What may stand in what (HTML living standard, for the few elements that are used)."""

VOID = {"meta", "br"}
SVG_EMPTY = {"rect", "polygon", "polyline", "path", "line"}


class Valid(HTMLParser):
    """Holds the nesting of HTML and collects what could lead outside."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.seen: list[str] = []
        self.cells: list[int] = []

    def handle_starttag(self, tag, attrs):
        parent = self.open[-1] if self.open else ""
        assert tag == "html" or tag in INSIDE.get(parent, set()), f"{tag} in {parent}"
        names = [n for n, _ in attrs]
        assert len(names) == len(set(names)), tag
        assert not set(names) & {"href", "src", "srcset", "xlink:href", "onclick", "onload", "action", "data"}
        self.seen.append(tag)
        if tag == "tr":
            self.cells.append(0)
        if tag in ("th", "td"):
            self.cells[-1] += 1
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        assert tag in SVG_EMPTY | VOID, tag
        assert tag in INSIDE[self.open[-1]]

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def check(text: str) -> Valid:
    assert text.startswith("<!DOCTYPE html>\n")
    assert not re.search(r"url\(|@import|<script|<link|https?://(?!www\.w3\.org/2000/svg)", text)
    parser = Valid()
    parser.feed(text)
    parser.close()
    assert parser.open == []
    for needed in ("title", "h1", "style"):
        assert needed in parser.seen
    return parser


@given(projects())
def test_html_is_valid_and_leads_nowhere(project):
    now = plan(project)
    for sheet in (plan_sheet(now), summary(now, workings=True)):
        check(paper.html(sheet, now))


@pytest.mark.parametrize("project", [*DEMOS, pytest.param(Project(), id="empty")])
def test_html_of_every_sheet_is_valid(project):
    now = plan(project)
    for sheet in sheets(project).values():
        check(paper.html(sheet, now))


def test_html_keeps_what_the_knitter_typed_as_text():
    nasty = pullover(
        title=NASTY,
        yarn=(replace(pullover().yarn[0], name=NASTY, care=NASTY),),
        swatch=(replace(swatch(), notes=NASTY),),
    )
    now = plan(nasty)
    for name, sheet in sheets(nasty).items():
        text = paper.html(sheet, now)
        check(text)
        assert "<b>&amp; |" not in text
        assert name == "blank" or "&lt;b&gt;&amp;amp; |" in text
        assert r"\[K2\]" in paper.markdown(sheet, now) or name == "blank"


def test_paper_is_black_and_white_and_of_no_fixed_size():
    """It prints on A4 and on Letter: no size is named, and nothing is told by a colour."""
    style = paper.STYLE

    assert "size:" not in style.split("@page")[1].split("}")[0]
    colours = set(re.findall(r"#[0-9a-f]{3,6}", style))
    assert all(len(set(c[1:])) == 1 for c in colours), colours


def test_a_hung_plan_names_the_state_that_is_counted_from():
    across = readings("hung", "stitches", 20.0, 20.0)
    hung = replace(swatch(), reading=(*swatch().reading, *across, *readings("hung", "rows", 26.0, 26.0, 26.0)))
    now = plan(shaped(pullover(swatch=(hung,), design=Design("A", "hung"))))

    text = paper.markdown(plan_sheet(now), now)
    assert "| Stitches | 20 per 10 cm, washed |" in text  # it hangs no narrower than it lies
    assert "| Rows | 26 per 10 cm, hung |" in text


def test_every_print_bears_its_date_with_the_year_and_its_mark(monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(86400 * 365))
    now = plan(pullover())
    mark = plan_mark(now)
    prints = [paper.svg(now), *(form(sheet(now), now) for sheet in (plan_sheet, filled_sheet) for form in FORMS)]

    for text in prints:
        assert "January 1, 1971" in text.replace(r"\.", ".")
        assert mark in text
    for form in FORMS:
        assert "January 1, 1971" in form(blank_sheet(now, LAYOUT), now)
    assert json.loads(machine.dumps(now, dated=True))["printed_on"] == "1971-01-01"


FORMS = (paper.html, paper.markdown)


@pytest.mark.parametrize("said", ["", "soon", "-5", "9" * 40, "²"])
def test_a_date_that_is_none_gives_that_of_today(monkeypatch, said):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", said)

    assert today().year >= 2026


def test_every_page_has_its_number_and_a_title_cannot_end_the_style():
    now = plan(pullover(title='x"; } </style><script>'))
    text = paper.html(plan_sheet(now), now)

    assert 'content: "Page " counter(page) " of " counter(pages)' in text
    assert text.count("</style>") == 1
    assert "<script" not in text
    assert r"@bottom-left { content: \"x\22 \3b " in text.replace('"x', r"\"x")


FONT_PT, LINE_MM, LETTERS_IN_A_COLUMN, ROW_MM, COLUMN_MM, PAGES = 10, 4.0, 56, 6.3, 2 * 255, 5.2
"""Letters of 10 pt, boxes for a pencil, what the two columns of a Letter page hold, and how many of such full pages make
six with what stays empty above a table that is not parted. Seen in a browser, where 5.3 make seven."""


def height_mm(sheet: Document) -> float:
    """About how much of a column a sheet takes; a wide table takes both columns."""
    total = 0.0
    for section in sheet.sections:
        total += 14
        for block in section.blocks:
            match block:
                case Paragraph(text):
                    total += 2 * LINE_MM * (1 + len(text) // (2 * LETTERS_IN_A_COLUMN))
                case Items(items):
                    total += sum(LINE_MM * (1 + len(i) // LETTERS_IN_A_COLUMN) for i in items)
                case Sums(grid=grid):
                    total += 4 * LINE_MM + ROW_MM * len(grid.rows) * (2 if len(grid.head) > 7 else 1)
                case Table(head, rows):
                    wide = 2 if len(head) > 2 else 1
                    total += LINE_MM + sum(wide * max(ROW_MM, LINE_MM * (1 + len(r[0]) // 38)) for r in rows)
    return total


@pytest.mark.parametrize("units", ["cm", "in"])
@pytest.mark.parametrize("terms", ["us", "uk"])
def test_the_blank_sheet_is_no_longer_than_six_pages(units, terms):
    """An estimate; README.md here says how to count the pages that a browser prints."""
    sheet = blank_sheet(plan(pullover()), replace(LAYOUT, units=units, terms=terms))

    assert height_mm(sheet) <= PAGES * COLUMN_MM
    assert sheet.in_columns
    assert f"font: {FONT_PT}pt" in paper.IN_COLUMNS
    assert f"table.grid td {{ height: {ROW_MM:g}mm; }}" in paper.IN_COLUMNS
