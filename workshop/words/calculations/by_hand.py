"""Where the figures of a formula are to be found, for those who work with a pencil."""

from collections.abc import Iterable

from workshop.core.cloth.yarn import GEOMETRY_RANGE, WEIGHED_RANGE
from workshop.project import Project
from workshop.tables.fibres import all_fibres
from workshop.tables.trade_rules import k_value, rows_to_stitch, rule, window_cm
from workshop.units import plain_number
from workshop.words.phrase import worded

EVIDENT = frozenset(
    (
        *("meters of a ball", "grams of a ball", "one ball", "planned width", "meters", "swatch grams"),
        *("body", "finished", "finished length", "garment", "rows per 10 cm", "stitches per 10 cm", "neck to cuff"),
    )
)
"""Figures that are answers of the sheet, or stand a line above, under the very name."""

FOUND = {
    "share 1": "% of each fiber, from the ball band (add a third fiber the same way)",
    "all shares": "100, if the blend is complete",
    "sizes for your knitting": "1 if you knit tightly, -1 if you knit loosely, otherwise 0",
    "meters in 100 g": "from the line above",
    "stitches per inch": "the larger count for the yarn's weight, over one inch, rounded up to a whole number",
    "edge stitches": "those of both edges together",
    "all counted": "the counts of all places, added up",
    "all centimeters": "the distances of all places, added up",
    "width of the swatch": "washed, lying flat",
    "grams per square cm": "weight of the swatch ÷ (its width × its length), or worked out from gauge and yarn",
    "length of the body": "from shoulder to hem, as you want it (step 6)",
    "before": "before washing: stitches per {10 cm} for the width, rows per {10 cm} for the length",
    "after": "the same after washing (for the length when hung, if you plan from hung counts)",
    "ease": "for the fit you chose, from the table above, or your own figure",
    "length factor": "1 + change in length ÷ 100",
    "lowest": "what the table gives for that size",
    "smaller girth": "the two sizes in the table on either side of your chest: their chests, and their values",
    "girth": "your chest, or for a full bust the high bust + {5 cm} if that is less",
    "edging as knitted": "rows of the hem (or cuff) ÷ rows per {10 cm} × {window}",
    "finished chest": "the chest you want, from step 5",
    "width of the back": "between the armholes; for a drop shoulder, half the finished chest",
    "sleeve": "the finished sleeve, from the line above",
    "cap": "the height of the cap, 0 for a straight sleeve",
    "its width": "the width you want, from step 5 or your own",
    "its length": "the length you want, from step 5 or your own (a hem or a cuff as deep as you like)",
    "width of the body": "half the finished chest",
    "finished width": "twice the armhole depth at the top of a straight sleeve, the wrist you want at the cuff",
    "seam stitches": "2, one for each side of the seam (none in the round)",
    "level stitches": "those bound off in the middle of the back neck and the front neck, together",
    "shaped edges": "the slopes on both sides of the middle, front and back (draw them to size and measure along them)",
    "edging rows": "rows of the hem or the cuff",
    "edging rows per 10 cm": "from a swatch of the edging, or if there's none, the rows of the plain fabric",
    "rows": "all rows of that section (for a swatch, with its borders)",
    "stitches": "all stitches across, without seam stitches (around the body, those of back and front)",
    "stitches of all pieces": "from the table above",
    "swatch stitches": "cast on, edges included",
    "swatch rows": "knitted, borders included",
    "swatches": "the yarn for all swatches, from step 2",
    "amount": "the yarn to buy, from the line above",
}
"""In words of ours; ``{window}`` is what a gauge is counted over."""

UNTOLD = frozenset({"share 2", "sizes 2", "larger girth", "smaller value", "larger value", "highest"})
"""Figures that are told of with another one of the same formula."""


def found_of(names: Iterable[str], project: Project) -> tuple[str, ...]:
    """One line for each figure that does not explain itself, by its name in formulas in cm.

    Raises KeyError for a figure that nobody has explained.
    """
    lines = []
    for name in names:
        if name not in EVIDENT | UNTOLD:
            lines.append(f"{_plain(name, project)}: {worded(_told(name, project), project)}")
    return tuple(lines)


PAIRS = {
    "share 1": "share",
    "sizes 1": "sizes",
    "smaller girth": "smaller and larger girth and value",
    "lowest": "lowest and highest",
}
"""Figures that are told of under one name."""


def _plain(name: str, project: Project) -> str:
    shown = PAIRS.get(name, name)
    if project.units == "in":
        shown = (
            shown.replace("per 10 cm", "per 4 in").replace("square cm", "square inch").replace("centimeters", "inches")
        )
    return worded(shown, project)


def _told(name: str, project: Project) -> str:
    window = window_cm("cm") if project.units == "cm" else 4
    if name == "sizes 1":
        return f"how many needle sizes that fiber changes: {_sizes_of_fibres()}"
    if name == "usual stitches per 10 cm":
        middle = "halfway between the two counts for the yarn's weight"
        return middle if project.units == "cm" else f"{middle}, × 1.016, because they are over a little less than 4 in"
    if name == "rows to a stitch":
        return f"{plain_number(rows_to_stitch())} for relaxed plain fabric (Munden), while other fabrics differ"
    if name == "length of a stitch":
        kw = k_value("kw")
        return f"{plain_number(kw * window)} ÷ usual stitches per {{10 cm}} (Munden, for wool)"
    if name == "meters in 100 g" and project.units == "in":
        return "yards in 100 g, from the line above, × 0.9144"
    if name == "seams and ends":
        return f"{plain_number(1 + rule('seams_and_ends'))}, which adds a little for seams and ends"
    if name == "range":
        return f"{plain_number(WEIGHED_RANGE)} if the swatch was weighed, otherwise {plain_number(GEOMETRY_RANGE)}"
    return FOUND[name].replace("{window}", plain_number(window))


def _sizes_of_fibres() -> str:
    """Fibres by the number of needle sizes that they move the start: "-2 superwash wool; -1 alpaca, silk"."""
    by_size: dict[float, list[str]] = {}
    for fibre in all_fibres():
        if fibre.id != "other":
            by_size.setdefault(sum(fibre.start_sizes) / 2, []).append(fibre.name)
    return "; ".join(f"{plain_number(size)} {', '.join(names)}" for size, names in sorted(by_size.items()))
