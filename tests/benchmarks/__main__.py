"""``python -m tests.benchmarks [WORD ...]``: the table, or only the cases that have one of the words in their names."""

import argparse
import os
import platform
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from statistics import median

from tests.benchmarks.terminal import COMPILED, ROOT, Terminal
from tests.classroom import CLASS, write_class
from tests.factory import pullover, shaped, swatch
from workshop import saves
from workshop.core.plan import plan
from workshop.tables import bodies

DEMO = ROOT / "saves" / "demo" / "harbour-pullover.toml"
NAMES = ("Fiber", "Swatch", "Gauge", "Wash", "Measure", "Shape", "Summary")
SHELL = {
    "demo": ("Harbour pullover", *NAMES, "Help", "Quit"),
    "open": ("Knitwear workshop", "Start a new", "Help", "Quit"),
}
FURNISHED = {"demo": "PgUp/PgDn scroll", "open": "saved in"}
"""What is written last: until then a busy machine may be silent for long."""
CTRL_R, CTRL_N, UP, DOWN, LEFT = "\x12", "\x0e", "\x1b[A", "\x1b[B", "\x1b[D"


@contextmanager
def folder_of(count: int) -> Iterator[dict[str, str]]:
    """An environment with so many saves."""
    with tempfile.TemporaryDirectory() as made:
        project = saves.load(DEMO)
        for i in range(count):
            (Path(made) / f"saved-{i}.toml").write_text(saves.dumps(replace(project, title=f"Jumper {i}")), "utf-8")
        yield {"WORKSHOP_SAVES": made, "WORKSHOP_SETTINGS": str(Path(made) / "none")}


def tidy(environment: dict[str, str]) -> None:
    """The demo leaves its copy; the next one begins as this one did."""
    for copy in Path(environment["WORKSHOP_SAVES"]).glob("demo-*.toml"):
        copy.unlink()


def smallest() -> float:
    """Seconds until the smallest app shows its text."""
    one = Terminal("-m", "tests.benchmarks.smallest")
    shown = one.until("hi there")
    one.leave()
    return shown


def row(case: str, ratios: list[float], at_most: float, more: str = "") -> None:
    now = median(ratios)
    says = "ok" if now <= at_most else "ABOVE"
    print(
        f"| {case:<44} | {now:5.2f} | {at_most:5.2f} | {min(ratios):5.2f} to {max(ratios):5.2f} | {says:5} | {more}",
        flush=True,
    )


def opening(command: str, count: int, rounds: int) -> None:
    """First paint and last byte of the app."""
    firsts, lasts, least, first_ms = [], [], [], []
    with folder_of(count) as environment:
        for turn in range(rounds + 1):
            measure = smallest()
            one = Terminal("-m", "workshop", command, **environment)
            first = one.until(*SHELL[command])
            last = max(one.until(FURNISHED[command]), one.until_quiet())
            assert one.leave() == 0
            tidy(environment)
            if turn:  # the first time is not counted: files are read from the disk and compiled
                firsts.append(first / measure)
                lasts.append(last / measure)
                least.append(measure * 1000)
                first_ms.append(first * 1000)
    called = {"demo": "the demo", "open": "start screen"}[command]
    row(f"{called}, {count} saves: first paint", firsts, 1.4, f"{median(first_ms):.0f} ms of {median(least):.0f}")
    row(f"{called}, {count} saves: last byte", lasts, 2.5)


def walking(rounds: int) -> None:
    """Back through all steps, and some keys on the way."""
    moves: dict[str, list[float]] = {}
    sent: dict[str, list[int]] = {}
    keys = {name: ([], []) for name in ("first typed character", "typed character", "arrow to the next question")}
    with folder_of(0) as environment:
        for turn in range(rounds + 1):
            measure = smallest()
            one = Terminal("-m", "workshop", "demo", **environment)
            one.until(*SHELL["demo"], FURNISHED["demo"])
            one.until_quiet()

            def took(key: str, one: Terminal = one, measure: float = measure) -> tuple[float, int]:
                one.press(key)
                return one.until_quiet() / measure, one.written

            for name in reversed(NAMES[:-1]):
                ratio, count = took(CTRL_R)
                if turn:
                    moves.setdefault(name, []).append(ratio)
                    sent.setdefault(name, []).append(count)
                if name == "Gauge":
                    tried = [("first typed character", "2"), ("typed character", "3"), ("typed character", "4")]
                    tried += [("arrow to the next question", DOWN), ("arrow to the next question", UP)]
                    for case, key in tried:
                        ratio, count = took(key)
                        if turn:
                            keys[case][0].append(ratio)
                            keys[case][1].append(count)
            assert one.leave() == 0
            tidy(environment)
    for name, ratios in moves.items():
        row(f"move to {name}: last byte", ratios, 0.7, f"{median(sent[name]) / 1000:.0f} kB")
    for case, (ratios, counts) in keys.items():
        row(case, ratios, 0.2, f"{median(counts) / 1000:.1f} kB")


def run(*arguments: str, **environment: str) -> float:
    """Seconds that a whole process takes."""
    shell = {**os.environ, **COMPILED, "PYTHONPATH": str(ROOT), **environment}
    began = time.perf_counter()
    subprocess.run([sys.executable, *arguments], stdout=subprocess.DEVNULL, cwd=ROOT, env=shell, check=False)
    return time.perf_counter() - began


def commands(rounds: int) -> None:
    """Commands that print, each beside the libraries that it cannot do without."""
    plain = "import argparse, dataclasses, json, pathlib, tomllib"
    cases = {
        "summary": ("import rich.console, rich.table, tomllib", ("summary", str(DEMO))),
        "check": (plain, ("check", str(DEMO))),
        "list": (plain, ("list", str(DEMO.parent))),
        "summary --json": (plain, ("summary", "--json", str(DEMO))),
    }
    for name, (imports, arguments) in cases.items():
        pairs = [(run("-c", imports), run("-m", "workshop", *arguments)) for _ in range(rounds + 1)][1:]
        took = f"{median(b for _, b in pairs) * 1000:.0f} ms of {median(a for a, _ in pairs) * 1000:.0f}"
        row(f"workshop {name}", [ours / measure for measure, ours in pairs], 1.6, took)


def classes(rounds: int) -> None:
    """A class of 50, 100 and 200 files from command to last byte, beside its libraries; and what a file more costs."""
    imports = "import argparse, dataclasses, json, pathlib, tomllib, rich.console, rich.table"
    took = {}
    for count in (50, 100, 200):
        with tempfile.TemporaryDirectory() as made:
            write_class(Path(made), [replace(CLASS[n % 24], name=f"{CLASS[n % 24].name}{n}") for n in range(count)])
            pairs = [(run("-c", imports), run("-m", "workshop", "class", made)) for _ in range(rounds + 1)][1:]
        took[count] = median(ours for _, ours in pairs)
        print(f"workshop class of {count}: {took[count]:.2f} s, {median(o / m for m, o in pairs):.1f} of its libraries")
    early, late = ((took[b] - took[a]) / (b - a) * 1000 for a, b in ((50, 100), (100, 200)))
    print(f"a file more costs {early:.1f} ms up to 100, {late:.1f} ms up to 200 (linear: the same); 200 in under 3 s")


def planning(rounds: int) -> None:
    """The largest plan among the demos, and the cost of a thousand."""
    projects = [saves.load(path) for path in sorted(DEMO.parent.glob("*.toml"))]

    def took(project: object) -> float:
        began = time.perf_counter()
        plan(project)
        return time.perf_counter() - began

    largest = max(projects, key=lambda p: median(took(p) for _ in range(5)))
    each = [took(largest) * 1000 for _ in range(1000)]
    print(f"plan() of {largest.title}: {median(each):.1f} ms (at most 10); ", end="")
    early, late = median(each[50:250]), median(each[-200:])
    print(f"the last 200 of 1,000 take {late / early:.2f} of what the first ones took")


def cpu(*arguments: str) -> float:
    """Seconds of CPU that a whole process takes."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    run(*arguments)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def sizes(rounds: int) -> None:
    """Nine sizes of the largest garment there is among our demos and shapes, from command to last byte."""
    garment = {"construction": "set-in", "neckline": "v", "worked": "flat", "length_cm": 80.0, "waist": "shaped"}
    fine = pullover(swatch=(swatch(34.0, 47.5),))
    with tempfile.TemporaryDirectory() as made:
        large = Path(made) / "large.toml"
        large.write_text(saves.dumps(shaped(fine, **garment)), "utf-8")
        names = bodies.sizes("women")
        for count in (1, 3, len(names)):
            some = ("sizes", str(large), "--sizes", ",".join(names[:count]))
            took = [cpu("-m", "workshop", *some) for _ in range(rounds + 1)][1:]
            print(f"sizes, {count} of the largest garment: {median(took):.2f} s of CPU (nine: at most 1.5)")
        page = str(Path(made) / "page.html")
        took = [cpu("-m", "workshop", *some, "--to", page, "--replace") for _ in range(rounds + 1)][1:]
        print(f"sizes, {len(names)} on paper, with one instruction: {median(took):.2f} s of CPU (at most 1.5)")


CASES: dict[str, Callable[[int], None]] = {
    **{
        f"{command} {count}": lambda rounds, command=command, count=count: opening(command, count, rounds)
        for command in ("demo", "open")
        for count in (0, 30, 300)
    },
    "walk": walking,
    "commands": commands,
    "plan": planning,
    "class": classes,
    "sizes": sizes,
}


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    words.add_argument("case", nargs="*", help=f"of {', '.join(CASES)}; without one all")
    words.add_argument("--rounds", type=int, default=7, help="pairs for each case")
    options = words.parse_args()
    model = next((x.partition(":")[2].strip() for x in _lines("/proc/cpuinfo") if x.startswith("model name")), "")
    print(f"{platform.system()}, {os.cpu_count()} cores {model}, Python {platform.python_version()}, ", end="")
    print(f"load {os.getloadavg()[0]:.1f}; medians of {options.rounds} pairs, terminal of 80 by 24")
    print("Walking and opening: times the first paint of the smallest Textual app. Commands: times their libraries.\n")
    print(f"| {'case':<44} |   now | most  | {'from':>5} to {'to':<5} |       |")
    for name, case in CASES.items():
        if not options.case or any(word in name for word in options.case):
            case(options.rounds)


def _lines(path: str) -> list[str]:
    return Path(path).read_text("utf-8").splitlines() if Path(path).exists() else []


if __name__ == "__main__":
    main()
