"""One module per construction: each takes a :class:`GarmentSpec` and gives a :class:`Garment`, or raises Stopped."""

from collections.abc import Mapping
from importlib import import_module
from typing import Literal

from workshop.core.calculation import Rounding
from workshop.core.constructions import construction
from workshop.core.making.bands import Bands, EdgePart
from workshop.core.making.centre_panels import CentrePanel
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import Edge, Role
from workshop.core.making.yoke_bands import BandWish
from workshop.core.necklines import Neckline
from workshop.core.notes import Notes
from workshop.core.wearer.body import Wearer
from workshop.core.wearer.fit import Targets
from workshop.project import Darts, Edging, FabricFit, Front, Project, Shoulder, SleeveLength, Waist
from workshop.records import record


@record
class GarmentSpec:
    """Everything that a construction needs to know, in washed cm: measurements, gauge and the answers it goes by."""

    project: Project
    cloth: Cloth
    targets: Targets
    wearer: Wearer
    notes: Notes
    """Where its workings and checks are kept."""
    construction: str
    worked: Literal["flat", "round"]
    front: Front
    neckline: Neckline
    sleeve: SleeveLength
    hem: Edging
    hem_cm: float
    cuff_cm: float
    band_cm: float
    waist: Waist
    shoulder: Shoulder
    sleeve_cm: float | None = None
    bust_darts: Darts = "no"
    back_repeat: Rounding | None = None
    """What the stitches of the back are rounded to so that a stitch pattern has whole repeats; None: as always."""
    fit: FabricFit | None = None
    """How the repeats of its stitch pattern come out on its width."""
    panels: tuple[CentrePanel, ...] = ()
    """Panels of other stitch patterns up the middle of its pieces."""
    yoke_bands: tuple[BandWish, ...] = ()
    """Bands of stitch patterns round a yoke, from the join up."""

    @property
    def bands(self) -> Bands:
        """Its bands; the buttonholes are on the wearer's right for women and children, on the left for men."""
        holes_on: Edge = "left" if self.wearer.table == "men" else "right"
        head_cm = (self.wearer.cm("head") or 0.0) if self.front == "closed" else 0.0
        return Bands(self.cloth, self.hem, self.band_cm, self.wearer.child, holes_on, self.notes, head_cm)

    @property
    def own_neck(self) -> bool:
        """Whether the width of the neck was given, not proposed."""
        return self.project.garment.neck_width_cm is not None

    @property
    def own_arm(self) -> bool:
        """Whether the width of the sleeve was given, not proposed."""
        fit, garment = self.project.fit, self.project.reference_garment
        return fit.upper_arm_ease_cm is not None or garment.upper_arm_width_cm is not None


SeamKind = Literal["side", "sleeve", "shoulder", "raglan front", "raglan back", "armhole", "underarm"]
"""Which seam it is: by what is sewn to what."""


@record
class Seam:
    """Two edges that must meet: by rows where both are worked in rows, else by length."""

    a: str
    b: str
    a_rows: int | None = None
    b_rows: int | None = None
    a_cm: float | None = None
    b_cm: float | None = None
    kind: SeamKind | None = None
    side: Edge | None = None
    """As worn."""
    stitches: tuple[int, int] | None = None
    """Stitches of both edges, where they are knitted and differ."""

    @property
    def difference_percent(self) -> float:
        """How much longer edge a is than edge b, in per cent of b; 100 where there is no edge b."""
        if self.a_rows is not None and self.b_rows is not None:
            return _longer_percent(self.a_rows, self.b_rows)
        assert self.a_cm is not None
        assert self.b_cm is not None
        return _longer_percent(self.a_cm, self.b_cm)


def _longer_percent(one: float, other: float) -> float:
    return 100 * (one / other - 1) if other else 100.0 * bool(one)


def of_rows(a: str, b: str, rows: int, kind: SeamKind, side: Edge) -> Seam:
    """A seam of two edges that have so many rows each."""
    return Seam(a, b, a_rows=rows, b_rows=rows, kind=kind, side=side)


def of_cm(a: str, b: str, cm: float, kind: SeamKind, side: Edge) -> Seam:
    """A seam of two edges that are so long each."""
    return Seam(a, b, a_cm=cm, b_cm=cm, kind=kind, side=side)


@record
class Garment:
    """A garment, row by row. ``finished_cm`` is worked out again from the counts."""

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    finished_cm: Mapping[str, float]
    fit: FabricFit | None = None
    """How the repeats of its stitch pattern come out on its width, where it has one."""
    panels: tuple[CentrePanel, ...] = ()
    """Panels up the middle of its pieces."""
    armhole: EdgePart | None = None
    """The edge that a band is picked up along where it has no sleeves, as planned."""

    def first(self, role: Role) -> Piece | None:
        """The first piece of a role, or None."""
        return next((p for p in self.pieces if p.role == role), None)

    def growing_from(self, piece: Piece) -> list[Piece]:
        """The pieces that go on where this one ends."""
        return [p for p in self.pieces if p.parent is piece]


def build(spec: GarmentSpec) -> Garment:
    """Make the garment in its construction. Raises Stopped where a check says that it cannot be made."""
    module = import_module(f"{__name__}.{construction(spec.construction).module}")
    made: Garment = module.build(spec)
    return made
