"""Saves of older formats, brought up format by format over plain dictionaries; what has landed is never changed."""

from collections.abc import Callable, Mapping

from workshop.toml_text import Toml

PATTERN_IDS = {"rib-1x1": "k1-p1-rib", "rib-2x2": "k2-p2-rib", "pattern": "own-pattern"}
"""Stitches of format 1 that are called otherwise since; the others are called as before."""

RENAMED = {"fabric": "fabric_rating", "comfort": "knitting_rating"}
"""Keys of a swatch of format 1."""


def from_1_to_2(data: Toml) -> Toml:
    """Ratings and the garment that fits are called by what they are; a swatch names its stitch pattern by its id."""
    new = dict(data)
    if isinstance(swatches := data.get("swatch"), list):
        new["swatch"] = [_swatch_from_1(s) if isinstance(s, dict) else s for s in swatches]
    if "fitting_garment" in data:
        new["reference_garment"] = new.pop("fitting_garment")
    if isinstance(drafts := data.get("drafts"), dict):
        new["drafts"] = {_question_from_1(key): text for key, text in drafts.items()}
    if isinstance(agreed := data.get("agreed"), list):
        new["agreed"] = [" ".join(map(_question_from_1, a.split(" "))) if isinstance(a, str) else a for a in agreed]
    return new


def _swatch_from_1(swatch: Toml) -> Toml:
    new = {RENAMED.get(key, key): value for key, value in swatch.items()}
    if isinstance(stitch := swatch.get("stitch"), str):
        new["stitch"] = PATTERN_IDS.get(stitch, stitch)
    return new


def _question_from_1(key: str) -> str:
    """The key of a question, as drafts and agreements name it: ``swatch.A.fabric``, ``fitting_garment.length_cm``."""
    table, _, rest = key.partition(".")
    if table == "fitting_garment":
        return f"reference_garment.{rest}"
    item, _, name = rest.rpartition(".")
    return f"swatch.{item}.{RENAMED[name]}" if table == "swatch" and name in RENAMED else key


NEW_IN_3 = ("knitting", "taken", "weighing", "log", "measured")
"""What happens at the needles, from format 3 on."""


REPEAT = {"pattern_multiple": "multiple", "pattern_plus": "plus"}
"""Keys of a swatch of format 2 that a stitch pattern has since."""


def from_2_to_3(data: Toml) -> Toml:
    """A stitch pattern of the knitter's own is noted once, and swatches name it; the knitting is kept too.

    A key of a name of the knitting that a hand has put into an older file stays as ``own_...``.
    """
    data = {f"own_{key}" if key in NEW_IN_3 else key: value for key, value in data.items()}
    swatches = data.get("swatch")
    if not isinstance(swatches, list):
        return data
    patterns: list[object] = []
    named: dict[str, str] = {}
    new = {**data, "swatch": [_swatch_from_2(s, patterns, named) if isinstance(s, dict) else s for s in swatches]}
    if patterns:
        new["stitch_pattern"] = patterns
    if isinstance(drafts := data.get("drafts"), dict):
        moved = {key: _question_from_2(key, named) for key in drafts}
        new["drafts"] = {key: drafts[before] for before, key in moved.items() if key}
    return new


def _swatch_from_2(swatch: Toml, patterns: list[object], named: dict[str, str]) -> Toml:
    """A swatch of format 3; its pattern is added to ``patterns``, and its id to those that are ``named``."""
    new = {key: value for key, value in swatch.items() if key not in REPEAT}
    if swatch.get("stitch") != "own-pattern":
        return new
    repeat = {REPEAT[key]: value for key, value in swatch.items() if key in REPEAT}
    same = (n for n, p in enumerate(patterns, 1) if p == {"id": f"pattern-{n}", "name": f"pattern {n}", **repeat})
    number = next(same, None)
    if number is None:
        number = len(patterns) + 1
        patterns.append({"id": f"pattern-{number}", "name": f"pattern {number}", **repeat})
    new["stitch"] = named[str(swatch.get("id"))] = f"pattern-{number}"
    return new


def _question_from_2(key: str, named: Mapping[str, str]) -> str:
    """The key of a question of a swatch as it is now; empty for a repeat that is not asked for any more."""
    item, _, name = key.rpartition(".")
    if not key.startswith("swatch.") or name not in REPEAT:
        return key
    pattern = named.get(item.removeprefix("swatch."))
    return f"stitch_pattern.{pattern}.{REPEAT[name]}" if pattern else ""


def stockinette_as_such(data: Toml) -> Toml:
    """Knitted rows of stockinette, which files of format 3 called by its other country's name at first."""
    pieces = data.get("knitting")
    if not isinstance(pieces, list):
        return data
    named = [{**p, "worked": _runs_named(p["worked"])} if isinstance(p, dict) and "worked" in p else p for p in pieces]
    return {**data, "knitting": named}


def _runs_named(runs: object) -> object:
    if not isinstance(runs, list):
        return runs
    return [
        {**r, "fabric": "stockinette"} if isinstance(r, dict) and r.get("fabric") == "stocking" else r for r in runs
    ]


MIGRATIONS: Mapping[int, Callable[[Toml], Toml]] = {1: from_1_to_2, 2: from_2_to_3}
"""From format n to n + 1, over plain dictionaries; a step that has landed is never changed."""
