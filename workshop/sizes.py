"""Every size of one design: the same garment planned for each body of a table, or of a list.

A column is what ``plan()`` says of that body, to the stitch; nothing is scaled from another size. Lengths that the
knitter gave for one body keep their relation to it. Method and proofs: tests/test_sizes.py.
"""

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import fields, replace
from math import isfinite
from typing import Literal

from workshop.core.notes import Notes
from workshop.core.plan import Plan
from workshop.core.remarks import Check
from workshop.core.wearer.body import Wearer, curve_working, resolve
from workshop.core.wearer.fit import target_measurements
from workshop.planned import plan
from workshop.project import Body, BodyTable, Grading, GradingBody, Project, ReferenceGarment
from workshop.records import record
from workshop.tables import bodies
from workshop.tables.trade_rules import YOUNG, for_child

Rule = Literal["by the body", "same difference", "same part", "the same", "by hand"]
"""How a length that was given for one body is found for another."""

BaseIs = Literal["planned", "nearest", "chosen"]
"""What the base size is to the body that was planned; ``chosen`` where its chest isn't known."""


@record
class GradingRule:
    """A length that the knitter gave, and how it is found for the other sizes."""

    length: str
    """Its key in the garment."""
    others: Rule | None
    """How it is found for the sizes for which none was typed; None where it was given for no other size."""
    given_cm: float | None
    by_hand: tuple[tuple[str, float], ...] = ()
    """The sizes for which it was typed, in their order, with their cm."""

    @property
    def rule(self) -> Rule:
        """How it is found; by hand as soon as it is for one size."""
        return "by hand" if self.by_hand or self.others is None else self.others


@record
class NotUsed:
    """What the file says of grading and can't mean: the usual rule counts instead."""

    key: str
    said: str
    why: Literal["no length", "no rule", "no size"]


@record
class Sized:
    """One size: its project, and the plan of it."""

    size: str
    project: Project
    plan: Plan

    @property
    def refused(self) -> tuple[Check, ...]:
        """What stops it from being knitted so; nothing where it can be, and where an answer is all that is missing."""
        return () if self.plan.made.pieces else tuple(c for c in self.plan.checks if c.level == "stop")


@record
class Sizes:
    """All sizes of a design, in the order of their table."""

    table: BodyTable | None
    """None for a list of own bodies."""
    base_size: str
    sizes: tuple[Sized, ...]
    rules: tuple[GradingRule, ...]
    base_is: BaseIs
    not_used: tuple[NotUsed, ...] = ()

    @property
    def made(self) -> tuple[Sized, ...]:
        """Those that can be knitted."""
        return tuple(one for one in self.sizes if one.plan.made.pieces)


class NoSuchSize(ValueError):
    """A table or a size that there is not; one line says which there are."""


@record
class Design:
    """What is graded: its sizes by name, none of them planned yet."""

    table: BodyTable | None
    """None for a list of own bodies."""
    base_size: str
    names: tuple[str, ...]
    rules: tuple[GradingRule, ...]
    not_used: tuple[NotUsed, ...]
    bodies: Mapping[str, Body]
    graded: "_Graded"
    base_is: BaseIs

    def size(self, name: str) -> Sized:
        """One size, planned."""
        project = self.graded.for_body(name, self.bodies[name])
        return Sized(name, project, plan(project))

    def sizes(self, planned: Iterable[Sized]) -> Sizes:
        """All its sizes, once they are planned."""
        return Sizes(self.table, self.base_size, tuple(planned), self.rules, self.base_is, self.not_used)


def design_of(project: Project, table: BodyTable | None = None, wanted: Sequence[str] = ()) -> Design:
    """A design in the sizes of a table, its own, or in those of its list of bodies. Raises NoSuchSize.

    What is knitted of one of them is no part of the design.
    """
    project = replace(project, knitting=(), taken=())
    own = project.grading.body if table is None else ()
    if own:
        found = {name: _plain(body, project) for name, body in zip(project.grading.names, own, strict=True)}
        base = _nearest(found, project)
    else:
        table = table or nearest_table(project)
        found = {size: Body(source="table", table=table, size=size) for size in bodies.sizes(table)}
        base = base_size(table, project)
    names = {name.casefold(): name for name in found}
    unknown = [size for size in wanted if size.casefold() not in names]
    if unknown:
        raise NoSuchSize(f"'{unknown[0]}' isn't a size here. The sizes are {', '.join(found)}")
    chosen = {names[size.casefold()] for size in wanted} or set(found)
    graded = _Graded(project, found[base])
    in_order = tuple(name for name in found if name in chosen)
    base_is = _base_is(None if own else table, project)
    not_used, rules = tuple(_not_used(project.grading, found)), tuple(graded.rules(in_order))
    return Design(None if own else table, base, in_order, rules, not_used, found, graded, base_is)


def sizes_of(project: Project, table: BodyTable | None = None, wanted: Sequence[str] = ()) -> Sizes:
    """All sizes of a design, or those that are wanted. Raises NoSuchSize."""
    design = design_of(project, table, wanted)
    return design.sizes(map(design.size, design.names))


def sizes_named(said: str, names: Iterable[str]) -> list[str]:
    """The sizes of a text with commas between them; a name may have commas of its own, so the longest is taken."""
    known, parts, found = {name.casefold() for name in names}, said.split(","), []
    while parts:
        begins = (",".join(parts[:many]).strip() for many in range(len(parts), 0, -1))
        name = next((begin for begin in begins if begin.casefold() in known), parts[0].strip())
        found += [name] if name else []
        parts = parts[name.count(",") + 1 :]
    return found


def _plain(body: GradingBody, project: Project) -> Body:
    """A body of the list as that of a project; what the list leaves blank comes from its table, or the project's."""
    figures = {f.name: getattr(body, f.name) for f in fields(Body)}
    return Body(**{**figures, "source": "own", "table": body.table or project.body.table})


def nearest_table(project: Project) -> BodyTable:
    """The table of a design: its own; else by its chest, and by the head where a child's could be a baby's."""
    if project.body.table is not None:
        return project.body.table
    wearer = resolve(project.body, Notes())
    chest, head = wearer.cm("chest"), wearer.cm("head")
    if chest is None:
        return "women"
    if not for_child(project.body):
        return "women"
    return min(YOUNG, key=lambda table: _distance(table, chest, head))


def _distance(table: BodyTable, chest_cm: float, head_cm: float | None) -> float:
    """How far the nearest size of a table is from a chest and a head, in cm."""
    best = min((abs(cell.middle_cm - chest_cm) for cell in bodies.cells(table, "chest").values()), default=1e9)
    heads = [abs(cell.middle_cm - head_cm) for _, cell in bodies.heads(table)] if head_cm else []
    return best + min(heads, default=0.0)


def base_size(table: BodyTable, project: Project) -> str:
    """The size of a table that is nearest to the project's own body; the middle one where that is not known."""
    if (planned := _planned_size(table, project)) is not None:
        return planned
    chest = resolve(project.body, Notes()).cm("chest")
    cells = bodies.cells(table, "chest")
    names = bodies.sizes(table)
    if chest is None or not cells:
        return names[len(names) // 2]
    return min(cells, key=lambda size: abs(cells[size].middle_cm - chest))


def _planned_size(table: BodyTable, project: Project) -> str | None:
    """The size of a table that the project's body has; None where it has another body."""
    return bodies.find_size(table, project.body.size) if project.body.table == table and project.body.size else None


def _base_is(table: BodyTable | None, project: Project) -> BaseIs:
    if table is not None and _planned_size(table, project) is not None:
        return "planned"
    return "chosen" if resolve(project.body, Notes()).cm("chest") is None else "nearest"


def _nearest(found: Mapping[str, Body], project: Project) -> str:
    chest = resolve(project.body, Notes()).cm("chest")
    girths = {name: body.chest_cm for name, body in found.items() if body.chest_cm is not None}
    if chest is None or not girths:
        return next(iter(found))
    return min(girths, key=lambda name: abs((girths[name] or 0.0) - chest))


# ── lengths that were given for one body ─────────────────────────────────────────────────────────────

GIVEN: tuple[tuple[str, Rule], ...] = (
    ("length_cm", "by the body"),
    ("sleeve_cm", "same part"),
    ("neck_width_cm", "same difference"),
    ("neck_depth_cm", "same difference"),
    ("hem_cm", "the same"),
    ("cuff_cm", "the same"),
    ("band_cm", "the same"),
)
"""Lengths of the garment, and how each follows the body where the knitter has said nothing else."""

RULES_OF: Mapping[str, tuple[Rule, ...]] = {
    name: (usual, "the same") if usual != "the same" else ("the same",) for name, usual in GIVEN
}
"""The rules that a length can follow, the usual one first."""

OFFERED = {"neck_width_cm": "neck_width", "neck_depth_cm": "front_neck_depth"}


@record
class _Graded:
    """A design with what its own body and that of the base size make of the lengths that were given."""

    project: Project
    base: Body

    def rules(self, sizes: Sequence[str]) -> Iterator[GradingRule]:
        """The lengths that were given, be it for one of these sizes only, each with its rule."""
        for name, usual in GIVEN:
            given = self._given(name)
            typed = tuple((size, cm) for size in sizes if (cm := self._by_hand(name, size)) is not None)
            if given is not None or typed:
                yield GradingRule(name, None if given is None else self._rule(name, usual), given, typed)

    def for_body(self, name: str, body: Body) -> Project:
        """The design for another body."""
        garment = self.project.garment
        length = {key: self._length(key, usual, name, body) for key, usual in GIVEN}
        new = replace(
            garment,
            length_cm=length["length_cm"],
            sleeve_cm=length["sleeve_cm"],
            neck_width_cm=length["neck_width_cm"],
            neck_depth_cm=length["neck_depth_cm"],
            hem_cm=length["hem_cm"],
            cuff_cm=length["cuff_cm"],
            band_cm=length["band_cm"],
        )
        fit = self.project.fit
        if self.project.reference_garment.chest_width_cm is not None and fit.ease is None and fit.chest_ease_cm is None:
            fit = replace(fit, chest_ease_cm=self._ease_of_reference())
        return replace(self.project, body=body, garment=new, fit=fit, reference_garment=ReferenceGarment())

    def _ease_of_reference(self) -> float:
        flat, chest = self.project.reference_garment.chest_width_cm, _wearer(self.base).cm("chest")
        return 2 * (flat or 0.0) - (chest or 0.0)

    def _given(self, name: str) -> float | None:
        own: float | None = getattr(self.project.garment, name)
        if own is None and name == "length_cm":
            return self.project.reference_garment.length_cm
        return own

    def _by_hand(self, name: str, size: str) -> float | None:
        cm = self.project.grading.by_hand(f"{name}.{size}")
        return cm if cm is not None and isfinite(cm) else None

    def _rule(self, name: str, usual: Rule) -> Rule:
        said = self.project.grading.rule.get(name)
        return next((rule for rule in RULES_OF[name] if rule == said), usual)

    def _length(self, name: str, usual: Rule, size: str, body: Body) -> float | None:
        """A length for another body; None where none was given for it, nor for the first."""
        hand, given = self._by_hand(name, size), self._given(name)
        if hand is not None or given is None:
            return hand
        rule = self._rule(name, usual)
        other, base = _wearer(body), _wearer(self.base)
        if rule == "by the body":
            return given + _to_waist(other) - _to_waist(base)
        if rule == "same part":
            here, there = other.cm("sleeve_underarm"), base.cm("sleeve_underarm")
            return given * here / there if here and there else given
        if rule == "same difference":
            return max(LEAST_CM, given + self._offered(name, body) - self._offered(name, self.base))
        return given

    def _offered(self, name: str, body: Body) -> float:
        """What would be offered for a length of this body."""
        garment = replace(self.project.garment, neck_width_cm=None, neck_depth_cm=None)
        project = replace(self.project, body=body, garment=garment, reference_garment=ReferenceGarment())
        targets = target_measurements(project, _wearer(body), Notes())
        return targets.finished.get(OFFERED[name], 0.0)


LEAST_CM = 1.0
"""A kept difference that would leave less than this on a small size is held here, and said."""


def _wearer(body: Body) -> Wearer:
    return resolve(body, Notes())


def _to_waist(wearer: Wearer) -> float:
    """From the highest point of the shoulder to the waist, in cm."""
    chest = wearer.cm("chest")
    drop = curve_working("shoulder_drop", "sizes.drop", chest).value if chest else 0.0
    return (wearer.cm("back_waist") or 0.0) + drop


# ── rules that the knitter changes ───────────────────────────────────────────────────────────────────


def _not_used(grading: Grading, sizes: Container[str]) -> Iterator[NotUsed]:
    """Rules of a file for lengths and sizes that there are not, and those that are neither a rule nor a length."""
    for key, said in grading.rule.items():
        length, dot, size = key.partition(".")
        if length not in RULES_OF:
            yield NotUsed(key, said, "no length")
        elif dot and size not in sizes:
            yield NotUsed(key, said, "no size")
        elif grading.by_hand(key) is None if dot else said not in RULES_OF[length]:
            yield NotUsed(key, said, "no rule")


def with_rule(project: Project, length: str, rule: Rule) -> Project:
    """The design with another rule for a length, in all sizes for which no length is given by hand."""
    return _with_rules(project, {**project.grading.rule, length: rule})


def with_length(project: Project, length: str, size: str, cm: float | None) -> Project:
    """The design with a length of its own for one size; None: by its rule again."""
    rules = {key: said for key, said in project.grading.rule.items() if key != f"{length}.{size}"}
    return _with_rules(project, rules if cm is None else {**rules, f"{length}.{size}": f"{cm:g}"})


def _with_rules(project: Project, rules: Mapping[str, str]) -> Project:
    return replace(project, grading=replace(project.grading, rule=rules))


def taken_out(one: Sized) -> Project:
    """One size as a project of its own: its body and its lengths, and no sizes beside it."""
    return replace(one.project, grading=Grading())
