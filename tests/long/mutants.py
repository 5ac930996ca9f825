"""Saves that were damaged by chance, through every reader: no exception, no long wait, no file written over."""

import io
import random
import re
import shutil
import tempfile
import tomllib
from collections import Counter
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from time import process_time

from tests.factory import pullover
from workshop import ask, saves
from workshop.cli import main
from workshop.planned import plan
from workshop.project import Body, Colour, Fit, Project, ReferenceGarment, Stripe
from workshop.session import opened
from workshop.telling import heard

README = Path(__file__).parents[2] / "saves" / "README.md"
SLOW_SECONDS = 2.0


def whole() -> list[str]:
    """Sound files that hold every table and key of the description of the format between them."""
    described = README.read_text("utf-8").partition("```toml\n")[2].partition("```")[0]
    described = described.replace('fibre = "e3b0c44298fc"', 'fibre = "tension=e3b0c442"')
    more = "".join(f"{name} = {cm}\n" for name, cm in LENGTHS.items())
    described = re.sub(r"(chest_cm = 92\.0).*\n.*\n", rf"\1\n{more}", described)
    garment = pullover(
        body=Body(source="garment", table="men"), reference_garment=ReferenceGarment(50.0, 18.0, 10.0, 60.0, 20.0, 75.0)
    )
    eased = pullover(fit=Fit("loose", 8.0, 5.0, 6.0, 7.0, 4.0))
    return [
        described,
        saves.dumps(garment),
        saves.dumps(eased),
        saves.dumps(begun(pullover())),
        saves.dumps(begun(striped())),
        *(p.read_text("utf-8") for p in demos()),
    ]


def striped() -> Project:
    """A project in stripes, for which a sleeve keeps where they were begun."""
    colours, stripes = (Colour("a", "white"), Colour("b", "blue")), (Stripe(4, "a"), Stripe(2, "b"))
    return pullover(garment=replace(pullover().garment, colour=colours, stripe=stripes))


def begun(project: Project) -> Project:
    """A project at the needles: rows, a slip, counts, a way taken, weighings, a log."""
    for text in ("60", "count 26 over 12, 26.25 over 12, 26 over 12", "rows 35 over 12, 35 over 12, 34.75 over 12"):
        project = heard(plan(project), text, date(2026, 3, 1)).project
    for text in (
        "take rows-anew",
        "done 3",
        "stitches 109",
        "left 500, pieces 60",
        "note calm",
        "piece left sleeve",
        "both",
        "40",
    ):
        project = heard(plan(project), text, date(2026, 3, 2)).project
    return project


LENGTHS = {
    "high_bust_cm": 88.0, "waist_cm": 76.0, "hip_cm": 98.0, "cross_back_cm": 38.0, "back_waist_cm": 42.0, "upper_arm_cm": 29.0,
    "wrist_cm": 16.0, "armhole_depth_cm": 19.0, "sleeve_underarm_cm": 44.0, "neck_to_cuff_cm": 75.0, "neck_cm": 36.0, "head_cm": 56.0,
}  # fmt: skip


def demos() -> list[Path]:
    """The demos that travel with the workshop."""
    return sorted(saves.demo_folder().glob("*.toml"))


VALUES = (
    "0", "-1", "1", "1e9", "1e308", "nan", "inf", "-inf", "0.0001", "99999", "9" * 400, "0x" + "f" * 5000, '""', '"x"', '"\\u202e"',
    '"\\u001b[2J"', '"a\\nb"', "[]", "{}", "[[]]", "[1]", "{a=1}", "true", "1979-05-27", "07:32:00", '"' + "x" * 2000 + '"', "[" * 300 + "]" * 300,
    "1_000_000", "-1e8", "7", '"-5"', '"42"', '"back"', '"RS"', '"underarm"', '"left sleeve"', "[0]", "[-1, 3]", "[1, 2, 3]", '"2026-99-99"', '"garment"', '"own"', '"none"', '"boat"', '"hung"', '"A"', '"a"', "3", "12.5", "60.0", "200.0", '"abc=x"', "5",
)  # fmt: skip
"""What a value may be replaced by."""


def of_bytes(text: str, chance: random.Random) -> bytes:
    """Some bytes turned, cut out or put in."""
    data = bytearray(text.encode())
    for _ in range(chance.choice((1, 1, 2, 8))):
        if not data:  # all of it was cut out
            break
        at = chance.randrange(len(data))
        match chance.randrange(4):
            case 0:
                data[at] ^= 1 << chance.randrange(8)
            case 1:
                del data[at : at + chance.randrange(1, 40)]
            case 2:
                data[at:at] = bytes(chance.randrange(256) for _ in range(chance.randrange(1, 6)))
            case _:
                data = data[: max(1, at)] if chance.random() < 0.3 else data + data[at:]
    return bytes(data)


def of_lines(text: str, chance: random.Random) -> bytes:
    """Lines and words taken out, doubled or exchanged."""
    lines = text.splitlines()
    for _ in range(chance.choice((1, 1, 3))):
        one, other = (chance.randrange(len(lines)) for _ in range(2))
        match chance.randrange(4):
            case 0:
                lines[one], lines[other] = lines[other], lines[one]
            case 1:
                lines[one:one] = lines[other : other + chance.randrange(1, 12)]
            case 2:
                lines[one : one + 1] = []
            case _:
                lines[one] = lines[one].replace(
                    *(chance.choice(("=", "[", "]", '"', ".", "cm", "a", "_")) for _ in range(2))
                )
        lines = lines or ["x"]
    return "\n".join(lines).encode()


PAIR = re.compile(r"""(?P<key>[\w".]+) *= *(?P<value>"[^"\n]*"|[^\s,{}[\]"]+)""")
"""A key and its value, also within an inline table."""


def of_values(text: str, chance: random.Random) -> bytes:
    """The values of some keys replaced by others, each key as often as any other."""
    for _ in range(chance.choice((1, 1, 2, 5))):
        pairs = [m for m in PAIR.finditer(text) if m["key"] != "format"]
        if not pairs:
            break
        key = chance.choice(sorted({m["key"] for m in pairs}))
        at = chance.choice([m for m in pairs if m["key"] == key])
        text = f"{text[: at.start('value')]}{chance.choice(VALUES)}{text[at.end('value') :]}"
    return text.encode()


def of_items(text: str, chance: random.Random) -> bytes:
    """Tables of a list, or the lines of one, many times over, each under a name of its own."""
    parts = re.split(r"(?m)^(?=\[)|(?<=\},\n)", text)
    at = chance.choice([i for i, p in enumerate(parts) if p.startswith("[[") or p.endswith("},\n")])
    many = min(chance.choice((2, 30, 150, 1_000, 20_000)), 900_000 // len(parts[at]))
    named = re.compile(r"""(?m)^((?:id|name|piece) = "[^"\n]*)""")
    parts[at] = "".join(named.sub(rf"\g<1>{n}", parts[at]) for n in range(many))
    return "".join(parts).encode()


def _shown(*arguments: str) -> Callable[[Path], object]:
    return lambda path: main([a.format(path=path, folder=path.parent) for a in arguments])


def _goes_on(path: Path) -> None:
    """Opened and answered, on a copy."""
    copy = path.parent / "copy" / "copy.toml"
    copy.parent.mkdir(exist_ok=True)
    shutil.copy(path, copy)
    session = opened(copy)
    session.at("wash")
    session.save()
    assert session.fault or saves.load(copy)
    assert session.earlier() is not None


def _asked(path: Path) -> None:
    """The plain mode, in which a knitter only presses Enter; on a copy."""
    copy = path.parent / "copy" / "asked.toml"
    copy.parent.mkdir(exist_ok=True)
    shutil.copy(path, copy)
    ask.run(opened(copy), io.StringIO("\n" * 40), io.StringIO())


READERS: dict[str, Callable[[Path], object]] = {
    "list": _shown("list", "{folder}"),
    "check": _shown("check", "{path}"),
    "summary": _shown("summary", "--workings", "{path}"),
    "json": _shown("summary", "--json", "{path}"),
    "plan": _shown("print", "{path}", "--to", "{folder}/out.html", "--replace"),
    "svg": _shown("print", "{path}", "--to", "{folder}/out.svg", "--replace"),
    "sheet": _shown("print", "{path}", "--to", "{folder}/out.md", "--sheet", "filled", "--replace"),
    "class": _shown("class", "{folder}", "--to", "{folder}/class.html", "--replace"),
    "class json": _shown("class", "{folder}", "--json"),
    "earlier": _shown("earlier", "{path}"),
    "knit": _shown("knit", "{path}"),
    "knit json": _shown("knit", "{path}", "--json"),
    "sizes": _shown("sizes", "{path}", "--sizes", "S,XL"),
    "graded": _shown("sizes", "{path}", "--sizes", "S,XL", "--to", "{folder}/sizes.html", "--replace"),
    "hand-outs": _shown("print", "{folder}", "--to", "{folder}/prints", "--replace"),
    "ask": _asked,
    "session": _goes_on,
}
"""Whoever reads a save; a further one is one line."""


@dataclass(slots=True)
class Found:
    """What a run has found."""

    tried: int = 0
    sound: int = 0
    """Still TOML."""
    taken: int = 0
    """Still a project."""
    faults: list[str] = field(default_factory=list)
    slowest: tuple[float, str] = (0.0, "")
    kinds: Counter[str] = field(default_factory=Counter)


KINDS = (of_bytes, of_lines, of_values, of_values, of_values, of_items)


def run(tries: int, seed: int, keep: Path | None = None) -> Found:
    """Damage saves and read them. Files that make trouble are left in ``keep``."""
    chance, found, bases = random.Random(seed), Found(), whole()
    with tempfile.TemporaryDirectory() as name:
        for number in range(tries):
            folder = Path(name) / str(number)
            folder.mkdir()
            _try(folder, chance.choice(KINDS)(chance.choice(bases), chance), found)
            if keep and found.faults and found.faults[-1].startswith(f"{number}:"):
                shutil.copy(folder / "mutant.toml", keep / f"{seed}-{number}.toml")
            shutil.rmtree(folder)
    return found


def _try(folder: Path, data: bytes, found: Found) -> None:
    path, number = folder / "mutant.toml", found.tried
    path.write_bytes(data)
    found.tried += 1
    try:
        tomllib.loads(data.decode())
        found.sound += 1
    except (ValueError, RecursionError):
        pass
    for reader, read in READERS.items():
        began = process_time()
        out, err = io.StringIO(), io.StringIO()
        try:
            with redirect_stdout(out), redirect_stderr(err):
                code = read(path)
            found.taken += reader == "summary" and code == 0
        except saves.BadSave:
            pass
        except Exception as error:  # that is what is looked for
            found.faults.append(f"{number}: {reader}: {type(error).__name__}: {str(error)[:200]}")
        took = process_time() - began
        found.slowest = max(found.slowest, (took, f"{number}: {reader}"))
        if took > SLOW_SECONDS:
            found.faults.append(f"{number}: {reader}: took {took:.1f} s")
        if path.read_bytes() != data:
            found.faults.append(f"{number}: {reader}: has written over the file")
        if len(err.getvalue().splitlines()) > 1:
            found.faults.append(f"{number}: {reader}: said more than a line: {err.getvalue()[:200]!r}")
