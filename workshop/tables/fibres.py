"""Fibres and how they behave."""

from difflib import get_close_matches
from functools import cache

from workshop.records import record
from workshop.tables import read


@record
class Fibre:
    """One fibre. Texts are written to be read by a beginner; flags drive the advice."""

    id: str
    name: str
    also: tuple[str, ...]
    family: str
    memory: str
    """How it springs back: "good", "fair" or "poor"."""
    drape: str
    """How softly plain knit of it falls: "little", "some" or "much"."""
    start_sizes: tuple[int, int]
    """Lowest and highest number of needle sizes from the usual start needle; negative is finer."""
    wear: str
    wash: str
    watch: str
    how: str
    grows: bool = False
    droops: bool = False
    shrinks_lengthwise: bool = False
    felts: bool = False
    machine_washable: bool = False
    squeaks_on_plastic: bool = False
    density_g_cm3: float | None = None
    gives_percent: float = 10.0
    """How far plain knit of it may be stretched in wear (from memory)."""

    @property
    def hang_test(self) -> bool:
        """Whether a washed swatch of it should be hung with a weight before its rows are trusted."""
        return self.grows or self.droops or self.memory == "poor"


@cache
def all_fibres() -> tuple[Fibre, ...]:
    """All fibres of the table."""
    plain = Fibre.__dataclass_fields__.keys() - {"also", "start_sizes"}
    return tuple(
        Fibre(also=tuple(f["also"]), start_sizes=(*f["start_sizes"],), **{k: v for k, v in f.items() if k in plain})
        for f in read("fibres")["fibre"]
    )


def nearest(name: str) -> str:
    """A fibre of the table that a mistyped name may have meant; empty where none comes near."""
    near = get_close_matches(name.casefold(), by_name(), n=1, cutoff=0.75)
    return by_name()[near[0]].id if near else ""


@cache
def by_name() -> dict[str, Fibre]:
    """Every name and other name, in lower case, with its fibre."""
    return {n.casefold(): f for f in all_fibres() for n in (f.id, f.name, *f.also)}


def fibre(name: str) -> Fibre:
    """The fibre of that name; "something else" where the table has none."""
    return by_name().get(name.casefold().strip(), by_name()["other"])
