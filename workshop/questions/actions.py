"""What a step can add or remove, declared once: the buttons of the app, and what the plain mode asks."""

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from workshop.project import MOST, Panel, Project, StitchPattern, Swatch, Yarn
from workshop.questions import fibre, panels, patterns, swatch
from workshop.records import record

Sizes = Mapping[str, Sequence[float]]
"""For each yarn of which the workshop would swatch, the needles to swatch it on, in mm."""


@record
class Action:
    """Something that a step can add or remove. ``name`` is its own; ``at`` the group of questions it belongs to."""

    name: str
    label: str
    do: Callable[[Project], Project]
    at: str = ""
    asks_first: str = ""
    """The question before something is lost; empty where nothing is."""


def actions(step: str, project: Project, sizes: Sizes) -> tuple[Action, ...]:
    """All that a step can add or remove now, in the order of the form."""
    if step == "fibre":
        return _of_yarns(project)
    if step == "shape":
        return _of_panels(project)
    return _of_swatches(project, sizes) if step == "swatch" else ()


def unswatched(project: Project, sizes: Sizes) -> tuple[Yarn, ...]:
    """Yarns that have no swatch yet and for which the needles to try are known."""
    there = {s.yarn for s in project.swatch}
    return tuple(y for y in project.yarn if y.id not in there and sizes.get(y.id))


def _of_yarns(project: Project) -> tuple[Action, ...]:
    """Every yarn can be removed; after the last, one more can be added."""
    found = []
    for yarn in project.yarn:
        swatches = [s.id for s in project.swatch if s.yarn == yarn.id]
        stay = (
            f" The swatches in this yarn ({', '.join(swatches)}) stay. You can choose another yarn for them."
            if swatches
            else ""
        )
        named = f"yarn {yarn.id}{f' ({yarn.name})' if yarn.name else ''}"
        first = f"Remove {named} and everything you entered for it?{stay}"
        out = partial(fibre.remove_yarn, yarn_id=yarn.id)
        found.append(Action(f"remove {yarn.id}", "Remove this yarn", out, f"yarn.{yarn.id}", first))
    if len(found) >= MOST[Yarn]:
        return tuple(found)
    label = "Add another yarn to compare" if found else "Add a yarn"
    return (*found, Action("add", label, fibre.add_yarn, found[-1].at if found else fibre.YOU))


def _of_panels(project: Project) -> tuple[Action, ...]:
    """Every panel can be removed; after the last, or after the fabric, one more can be added."""
    many = len(project.garment.panel)
    found = [
        Action(f"remove panel {n}", "Remove this panel", partial(panels.remove_panel, number=n), f"panel.{n}")
        for n in range(1, many + 1)
    ]
    if many >= MOST[Panel]:
        return tuple(found)
    label = "Add another panel" if found else "Add a panel up the middle"
    return (*found, Action("add panel", label, panels.add_panel, f"panel.{many}" if found else "fabric"))


def _of_swatches(project: Project, sizes: Sizes) -> tuple[Action, ...]:
    """Every swatch and pattern can be removed; below them three at once for a yarn that has none, and one more."""
    found = []
    for one in project.swatch:
        counts = len(one.reading)
        many = f"{counts} count{'' if counts == 1 else 's'}"
        lost = f" The swatch's {many} and notes go too." if counts else ""
        first = f"Remove swatch {one.id}?{lost} The other swatches keep their letters and marks."
        out = partial(swatch.remove_swatch, swatch_id=one.id)
        found.append(Action(f"remove {one.id}", "Remove this swatch", out, f"swatch.{one.id}", first))
    room = MOST[Swatch] - len(found)
    for yarn in unswatched(project, sizes):
        if len(sizes[yarn.id]) > room:
            continue
        named = f" of {yarn.name or yarn.id}" if len(project.yarn) > 1 else ""
        three = partial(swatch.add_swatches, yarn_id=yarn.id, needles_mm=sizes[yarn.id])
        found.append(Action(f"three {yarn.id}", f"Plan three swatches{named}", three))
    found += [Action("add", "Add a swatch", swatch.add_swatch)] if room else []
    for pattern in project.stitch_pattern:
        named = f"the pattern '{pattern.name or pattern.id}'"
        users = [s.id for s in project.swatch if s.stitch == pattern.id]
        stay = f" Its swatches ({', '.join(users)}) stay. You can choose another pattern for them." if users else ""
        plain = " The garment goes back to stockinette." if project.garment.fabric == pattern.id else ""
        plain += (
            " The panel in this pattern goes too." if any(p.id == pattern.id for p in project.garment.panel) else ""
        )
        out = partial(patterns.remove_pattern, pattern_id=pattern.id)
        where, first = f"stitch_pattern.{pattern.id}", f"Remove {named}?{stay}{plain}"
        found.append(Action(f"remove {pattern.id}", "Remove this pattern", out, where, first))
    if len(project.stitch_pattern) >= MOST[StitchPattern]:
        return tuple(found)
    return (*found, Action("add pattern", "Describe a pattern of your own", patterns.add_pattern))
