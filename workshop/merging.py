"""Two windows on one project: what each of them answered, put together; pure, over projects.

The project as both last read it, mine and theirs. What only one of them changed is taken from that one, what both
changed alike is no question, and what both changed otherwise is told by its key.
"""

from dataclasses import MISSING, fields, replace
from typing import TypeGuard

from workshop import saves
from workshop.project import Project
from workshop.records import record
from workshop.toml_text import Toml

QUIET = ("last_step", "agreed", "steps", "drafts")
"""What is no answer: where both changed it, mine is taken without asking."""

KNITTED = ("knitting", "taken", "weighing", "log", "measured")
"""What happened at the needles: no answers, and facts. Of one piece what was said last counts; all else is kept."""


@record
class Merged:
    """Both windows in one project. ``contested`` are the keys that both answered otherwise; there mine stands."""

    project: Project
    contested: tuple[str, ...]


def merged(base: Project, mine: Project, theirs: Project) -> Merged:
    """Mine and theirs put together, in view of what both began with."""
    contested: list[str] = []
    began, here, there = (_keyed(saves.to_data(p)) for p in (base, mine, theirs))
    together = _merge_tables(began, here, there, "", contested)
    together |= _knitted(began, here, there)
    try:
        return Merged(saves.from_data(_plain(together)), tuple(contested))
    except saves.WrongKey as error:  # each is sound, and both at once are not
        return Merged(mine, (error.key,))


def changed_keys(before: Project, after: Project) -> tuple[str, ...]:
    """The keys of the answers in which two projects differ, as a save names them; what is no answer is left out."""
    found: list[str] = []
    _differences(_keyed(saves.to_data(before)), _keyed(saves.to_data(after)), "", found)
    return tuple(found)


def differ(before: Project, after: Project) -> bool:
    """Whether two projects differ in an answer or in what was knitted."""
    return any(getattr(before, t) != getattr(after, t) for t in KNITTED) or bool(changed_keys(before, after))


class _Gone:
    """A key that is not there."""


GONE = _Gone()


def _merge(base: object, mine: object, theirs: object, key: str, contested: list[str]) -> object:
    if _same(mine, theirs) or _same(theirs, base):
        return mine
    if _same(mine, base):
        return theirs
    if _is_table(mine, key) and _is_table(theirs, key):
        return _merge_tables(base if isinstance(base, dict) else {}, mine, theirs, key, contested)
    if key.partition(".")[0] not in (*QUIET, *KNITTED):
        contested.append(key)
    return mine


def _knitted(base: Toml, mine: Toml, theirs: Toml) -> Toml:
    """What both windows know of the knitting: rows are never added up, for mine is what was said last."""
    whole: Toml = {}
    for table in KNITTED:
        began, here, there = (data.get(table, []) for data in (base, mine, theirs))
        if table == "knitting":
            found = {item["piece"]: item for item in there}
            found |= {item["piece"]: item for item in here if item not in began or item["piece"] not in found}
            gone = {item["piece"] for item in began} - {item["piece"] for item in here}
            items = [item for name, item in found.items() if name not in gone]
        else:
            old, mine_too = set(map(repr, began)), set(map(repr, here))
            kept = [item for item in there if repr(item) in mine_too or repr(item) not in old]
            known = old.union(map(repr, kept))
            items = kept + [item for item in here if repr(item) not in known]
        if items:
            whole[table] = items
    return whole


def with_knitting_of(answers: Project, knitted: Project) -> Project:
    """The answers of one project and what was knitted in another: an earlier version brings back no rows."""
    return replace(answers, **{table: getattr(knitted, table) for table in KNITTED})


def _merge_tables(base: Toml, mine: Toml, theirs: Toml, key: str, contested: list[str]) -> Toml:
    whole: Toml = {}
    for name in dict.fromkeys((*mine, *theirs)):
        three = (base.get(name, GONE), mine.get(name, GONE), theirs.get(name, GONE))
        whole[name] = _merge(*three, _named(key, name), contested)
    return {name: value for name, value in whole.items() if value is not GONE}


def _is_table(value: object, key: str) -> TypeGuard[Toml]:
    """Whether something is looked into; a count and its distance are one answer."""
    return isinstance(value, dict) and not (key.startswith("reading.") and "count" in value)


def _same(one: object, other: object) -> bool:
    return one is other if GONE in (one, other) else type(one) is type(other) and one == other


def _differences(before: object, after: object, key: str, found: list[str]) -> None:
    if _same(before, after) or key in (*QUIET, *KNITTED):
        return
    if _is_table(before, key) and _is_table(after, key):
        for name in dict.fromkeys((*before, *after)):
            _differences(before.get(name, GONE), after.get(name, GONE), _named(key, name), found)
    else:
        found.append(key)


def _named(key: str, name: str) -> str:
    """The key of a part, as questions name it: a count by its place, ``reading.A.washed.rows.2``."""
    if key.startswith("swatch.") and key.endswith(".reading"):
        return f"reading.{key.removeprefix('swatch.').removesuffix('.reading')}.{name}"
    return f"{key}.{name}" if key else name


# ── lists of tables by what names their items ────────────────────────────────────────────────────────


TABLES = tuple(f.name for f in fields(Project) if f.default_factory is not MISSING and f.name != "extra")


def _keyed(data: Toml) -> Toml:
    """The data of a project with yarns, swatches and counts by name, so that each is compared with itself."""
    out = {**{table: {} for table in TABLES}, **data}
    for table in ("yarn", "swatch", "stitch_pattern"):
        out[table] = {item["id"]: dict(item) for item in data.get(table, ())}
    for swatch in out["swatch"].values():
        swatch["reading"] = _by_place(swatch.get("reading", []))
    return out


def _by_place(readings: list[Toml]) -> Toml:
    """Counts by state, direction and place; see :meth:`workshop.project.Swatch.places`."""
    found: Toml = {}
    free: dict[str, int] = {}  # the first place that may be free
    for numbered in (True, False):
        for reading in readings:
            if ("place" in reading) is numbered:
                way = f"{reading['state']}.{reading['along']}"
                place = reading.get("place") or free.get(way, 1)
                while f"{way}.{place}" in found:
                    place += 1
                if not numbered:
                    free[way] = place + 1
                found[f"{way}.{place}"] = {k: v for k, v in reading.items() if k != "place"}
    return found


def _plain(data: Toml) -> Toml:
    """Back to lists."""
    out = dict(data)
    out["swatch"] = {name: {**s, "reading": _in_order(s.get("reading", {}))} for name, s in out["swatch"].items()}
    for table in ("yarn", "swatch", "stitch_pattern"):
        out[table] = list(out[table].values())
    return out


def _in_order(readings: Toml) -> list[Toml]:
    """Counts in the order of their places, with the place where the order does not tell it."""
    ways: dict[str, dict[int, Toml]] = {}
    for name, reading in readings.items():
        way, _, place = name.rpartition(".")
        ways.setdefault(way, {})[int(place)] = reading
    out = []
    for places in ways.values():
        told = sorted(places) == list(range(1, len(places) + 1))
        out += [{**places[n]} if told else {**places[n], "place": n} for n in sorted(places)]
    return out
