"""``workshop print``: a plan, a schematic or a work sheet as a file, or those of a whole class."""

import argparse
import sys
from dataclasses import replace
from typing import TYPE_CHECKING

from workshop.commands.shared import FAULT, FINE, Faulty, ending_of, file_meant, is_folder, session_on, written
from workshop.visible import in_one_line, shown_path

if TYPE_CHECKING:
    from workshop.core.plan import Plan
    from workshop.prints.blocks import Document


def run(options: argparse.Namespace) -> int:
    """Print a project, or a whole class."""
    if options.file is not None and is_folder(options.file):
        return _print_class(options)
    ending = ending_of(options.to, (".md", ".html") if options.sheet else (".md", ".html", ".svg", ".json"))
    plan = session_on(options.file).plan if options.file else None
    text = _printed(plan, options.sheet, ending)
    return written(text, options, file_meant(options.file) if options.file else None)


def _print_class(options: argparse.Namespace) -> int:
    """The plans and sheets of a whole class; a fault of one doesn't keep the others from theirs."""
    from workshop import saves
    from workshop.hand_outs import hand_outs

    if options.sheet:
        raise Faulty(f"{options.file}: a folder is printed as plans and filled sheets. Leave out --sheet")
    if options.to.suffix.lower() in (".md", ".html", ".svg", ".json") and not options.to.is_dir():
        raise Faulty(f"{options.to}: a class is printed into a folder. For a page for the wall use: class FOLDER --to")
    try:
        options.to.mkdir(exist_ok=True)
        many = len(saves.project_files(options.file, links=False))
    except OSError as error:
        raise Faulty(f"{error.filename}: {error.strerror or error}") from None
    done = {"printed": 0, "as before": 0, "fault": 0}
    for number, one in enumerate(hand_outs(options.file, options.to, replace=options.replace), 1):
        done[one.done] += 1
        count = f"{number} of {many}" if number <= many else "lessons"
        if one.done == "fault":
            print(f"workshop: {count}: {in_one_line(one.name)}: {in_one_line(one.why)}", file=sys.stderr, flush=True)
        else:
            print(f"{count}: {in_one_line(one.name)} {one.done}", flush=True)
    told = f"{done['printed']} printed, {done['as before']} as before, {done['fault']} not printed"
    print(f"{shown_path(options.to)}: {told}" if many else f"{shown_path(options.file)}: no projects")
    return FAULT if done["fault"] else FINE


def _printed(plan: "Plan | None", sheet: str | None, ending: str) -> str:
    """The text of a printed file. Without a plan, the blank work sheet."""
    from workshop.prints import machine, paper

    if plan is None or sheet == "blank":
        paged, plan = blank(plan)
    elif ending == ".svg":
        return paper.svg(plan)
    elif ending == ".json":
        return machine.dumps(plan, dated=True) + "\n"
    elif sheet == "filled":
        from workshop.prints.work_sheet import filled_sheet

        paged = filled_sheet(plan)
    else:
        from workshop.prints.plan_sheet import plan_sheet

        paged = plan_sheet(plan)
    return paper.markdown(paged, plan) if ending == ".md" else paper.html(paged, plan)


def blank(plan: "Plan | None") -> tuple["Document", "Plan"]:
    """A blank work sheet in the units and terms of a plan, made after the demo planned from its washed swatch."""
    from workshop import saves
    from workshop.planned import plan as worked_out
    from workshop.prints.blank_sheet import blank_sheet
    from workshop.project import Body, Design, FibrePart, Project
    from workshop.questions import fibre, swatch

    demo = saves.load(saves.demo_folder() / "harbour-pullover.toml")
    lying = tuple(replace(s, reading=tuple(r for r in s.reading if r.state != "hung")) for s in demo.swatch)
    blend = (FibrePart("superwash wool", 50.0), FibrePart("cotton", 50.0))
    yarn = tuple(replace(y, fibres=blend) for y in demo.yarn)
    model = worked_out(replace(demo, yarn=yarn, swatch=lying, design=Design(demo.design.swatch, "washed")))
    shown = plan.project if plan else Project()
    layout = Project(
        units=shown.units,
        terms=shown.terms,
        needle_names=shown.needle_names,
        body=Body(source="own", table="women"),
        design=Design(state="hung"),
    )
    layout = swatch.add_swatches(fibre.add_yarn(layout), "a", (4.0, 4.5, 5.0))
    return blank_sheet(model, layout), model
