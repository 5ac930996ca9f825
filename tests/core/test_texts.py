"""What the core says, kept as readable text: every working of a demo plan, and every check of odd projects.

A change of wording or of a number shows up here as a diff to read. ``--snapshot-update`` rewrites.
"""

from dataclasses import replace

import pytest

from tests.factory import pullover, readings, shaped, swatch
from workshop import saves
from workshop.core.plan import plan
from workshop.project import Body, Design, FibrePart, Fit, ReferenceGarment, Swatch, Yarn
from workshop.words.phrase import say_check, working_lines

DEMOS = {s.path.stem: s.project for s in saves.list_saves(saves.demo_folder())}


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_every_working_of_the_demos(name, screens):
    now = plan(DEMOS[name])
    text = "\n".join(f"[{w.key}]\n" + "\n".join(working_lines(w, now.project)) for w in now.workings) + "\n"

    assert text == screens(name=f"workings-{name}")


def washed(*found, **changes):
    """A project whose only swatch has these readings."""
    return pullover(swatch=(replace(swatch(), reading=found),), **changes)


def hung(rows: float, stitches: float | None = None):
    across = readings("hung", "stitches", stitches, stitches) if stitches else ()
    return pullover(
        swatch=(replace(swatch(), reading=(*swatch().reading, *readings("hung", "rows", rows, rows, rows), *across)),),
        design=Design("A", "hung"),
    )


ODD = {
    "one place": washed(*readings("washed", "stitches", 20), *readings("washed", "rows", 28)),
    "two places": washed(*readings("washed", "stitches", 20, 20.25), *readings("washed", "rows", 28, 28.5)),
    "swapped": washed(*readings("washed", "stitches", 28, 28), *readings("washed", "rows", 20, 20)),
    "per inch": washed(*readings("off needles", "stitches", 5), *readings("off needles", "rows", 7)),
    "inches": washed(*readings("off needles", "stitches", 20, over_cm=4.0)),
    "far": washed(*readings("off needles", "stitches", 90)),
    "one off": washed(*readings("off needles", "rows", 28, 28, 30)),
    "short window": washed(*readings("washed", "stitches", 10, over_cm=5.0), *readings("washed", "rows", 14, over_cm=5.0)),
    "dry only": washed(*readings("off needles", "stitches", 20), *readings("off needles", "rows", 28)),
    "much shorter": pullover(swatch=(swatch(20.0, 28.0, washed_rows=34.0),)),
    "hung": hung(26.0),
    "hung and narrower": hung(26.0, 21.0),
    "sagging": pullover(yarn=(replace(pullover().yarn[0], fibres=(FibrePart("superwash wool", 100.0),)),)),
    "wide swatch": pullover(swatch=(swatch(15.0, 21.0),)),
    "narrow swatch": pullover(swatch=(swatch(26.0, 35.0),)),
    "no such yarn": pullover(swatch=(replace(swatch(), yarn="z", needle_mm=4.2),)),
    "plastic": pullover(
        yarn=(replace(pullover().yarn[0], fibres=(FibrePart("acrylic", 100.0),)),),
        swatch=(replace(swatch(), needle_material="plastic"),),
    ),
    "odd blend": pullover(yarn=(Yarn("a", "Odd", "medium", (FibrePart("milkweed", 90.0),), 100.0, 420.0),)),
    "swatch gone": pullover(design=Design("Z", "washed")),
    "round from flat": shaped(pullover(), worked="round"),
    "rib swatched": pullover(
        swatch=(
            swatch(),
            Swatch("R", "a", 3.5, stitch="k2-p2-rib", reading=(*readings("off needles", "rows", 36, 36), *readings("washed", "rows", 32, 32))),
        )
    ),
    "too short": shaped(pullover(), length_cm=26.0),
    "deep neck": shaped(pullover(), worked="round", neck_depth_cm=30.0),
    "wide neck": shaped(pullover(), neck_width_cm=45.0),
    "small neck": shaped(pullover(), neck_width_cm=8.0, neck_depth_cm=2.0),
    "steep sleeve": shaped(pullover(swatch=(swatch(20.0, 22.0),)), sleeve_cm=15.0, cuff_cm=5.0),
    "no sleeve": shaped(pullover(), sleeve_cm=5.0),
    "ring with a V": shaped(pullover(), construction="round-yoke", neckline="v"),
    "yoke, no sleeve": shaped(pullover(), construction="raglan-from-hem", sleeve="none", neckline="boat"),
    "cut boat": shaped(pullover(), front="open", neckline="boat"),
    "flat yoke": shaped(pullover(), construction="round-yoke", front="open"),
    "waist": shaped(pullover(), construction="set-in", waist="shaped", length_cm=54.0),
    "square and wide": shaped(pullover(fit=Fit(chest_ease_cm=25.0, ease="standard")), construction="square-armhole"),
    "set in and wide": shaped(pullover(fit=Fit(chest_ease_cm=40.0, ease="standard")), construction="set-in"),
    "darts": shaped(pullover(body=Body(source="own", table="women", chest_cm=110.0, high_bust_cm=98.0)), bust_darts="yes"),
    "darts in one": shaped(pullover(body=Body(source="own", table="women", chest_cm=110.0, high_bust_cm=98.0)), bust_darts="yes", worked="round", front="open"),
    "odd body": pullover(body=Body(source="own", table="women", size="XXM", chest_cm=92.0, cross_back_cm=50.0, wrist_cm=30.0, upper_arm_cm=14.0, armhole_depth_cm=40.0, hip_cm=70.0, waist_cm=95.0, sleeve_underarm_cm=60.0, high_bust_cm=80.0)),
    "inches body": pullover(body=Body(source="own", table="men", chest_cm=40.0)),
    "wide hips": pullover(body=Body(source="own", table="women", size="M", chest_cm=92.0, hip_cm=112.0, back_waist_cm=43.0)),
    "too tight": pullover(fit=Fit(chest_ease_cm=-15.0)),
    "fits": pullover(reference_garment=ReferenceGarment(50.0, 18.0, 10.0, 60.0, 22.0, 75.0)),
    "weighed with its bowl": pullover(swatch=(replace(swatch(), grams=48.0),)),
    "chosen and not counted": pullover(swatch=(swatch(), Swatch("B", "a", 4.5)), design=Design("B", "washed")),
    "slip of the pen": pullover(yarn=(Yarn("a", "Odd", "medium", (FibrePart("wol", 100.0),), 100.0, 200.0),)),
    "a child in a coat": shaped(pullover(body=Body(source="table", table="children", size="6")), length_cm=101.6),
    "inches for cm": shaped(pullover(), length_cm=24.0),
    "baby": pullover(body=Body(source="table", table="babies", size="6 months")),
}  # fmt: skip


def test_every_check_of_odd_projects(screens):
    lines = []
    for name, project in ODD.items():
        lines.append(f"== {name}")
        for check in plan(project).checks:
            lines.append(f"{check.level} [{check.code}] {check.step} {check.question}: {say_check(check, project)}")
            lines.append(f"    name: {check.name}")

    assert "\n".join(lines) + "\n" == screens(name="checks")


def test_gauges_and_ranges_of_odd_swatches(screens):
    """Workings of gauges from one, two and three places, from unequal windows, and hung."""
    lines = []
    for name in ("one place", "two places", "one off", "hung", "hung and narrower", "rib swatched", "much shorter"):
        now = plan(ODD[name])
        lines.append(f"== {name}")
        for working in now.workings:
            if working.key.startswith(("swatches", "gauge", "wash")):
                lines += [f"[{working.key}]", *working_lines(working, now.project)]

    assert "\n".join(lines) + "\n" == screens(name="workings-odd-swatches")
