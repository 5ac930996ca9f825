"""Hand-built row ledgers of garments, of our own invention: one for each way in which pieces can grow."""

from collections.abc import Iterable

from workshop.core.making import roles
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Ledger, Piece

CLOTH = Cloth(20.0, 28.0, edging_rows_per_10cm=30.0)


def other(edge: str) -> str:
    return "left" if edge == "right" else "right"


def hem(ledger: Ledger, rows: int = 20, add: int = 0) -> None:
    ledger.work(rows, "rib-2x2")
    if add:
        ledger.shape("stockinette", Event("increase" if add > 0 else "decrease", "across", abs(add)))


def both_bound(ledger: Ledger, stitches: int) -> None:
    """Bound off at the beginnings of two rows; the first of them is a right-side row."""
    ledger.work(1 - ledger.next_row % 2, "stockinette")
    ledger.shape("stockinette", Event("bind-off", ledger.begins, stitches))
    ledger.shape("stockinette", Event("bind-off", other(ledger.begins), stitches))


def both_less(ledger: Ledger, times: int, every: int = 2) -> None:
    for _ in range(times):
        ledger.shape("stockinette", Event("decrease", "both", 1))
        ledger.work(every - 1, "stockinette")


def divided(
    ledger: Ledger,
    centre: int,
    decreases: Iterable[int],
    rows: int,
    steps: tuple[int, ...] = (),
    slope: str = "bind-off",
    raglan_from: int | None = None,
) -> list[Piece]:
    """Divide at the neck; ``rows`` above the dividing row; shoulder steps in the last rows."""
    ledger.work(1 - ledger.next_row % 2, "stockinette")
    side = (ledger.stitches - centre) // 2
    first, last = ledger.begins, other(ledger.begins)
    middle = [Event("bind-off", "centre", centre)] if centre else []
    ledger.shape("stockinette", Event("hold", first, side), *middle, Event("hold", last, side))
    whole = ledger.piece()
    return [whole, *(_side(whole, e, side, list(decreases), rows, steps, slope, raglan_from) for e in (last, first))]


def _side(whole, edge, stitches, decreases, rows, steps, slope, raglan_from) -> Piece:
    part = Ledger(roles.SHOULDER, "flat", stitches, edge, whole, whole.begins, whole.edge_stitches)
    neck = f"neck-{edge}"
    at_begin = edge == whole.begins
    first_step = rows - 2 * len(steps) + (1 if slope == "bind-off" else 0)
    for row in range(1, rows + 1):
        events = []
        k, between = divmod(row - (1 if at_begin else 2), 2)
        if not between and 0 <= k < len(decreases):
            events.append(Event("bind-off" if decreases[k] > 1 else "decrease", neck, decreases[k]))
        k, between = divmod(row - first_step - (0 if at_begin else 1), 2)
        if steps and not between and 0 <= k < len(steps):
            n = steps[k] if slope == "bind-off" else sum(steps[: k + 1])
            events.append(Event(slope, edge, n))
        if raglan_from is not None and row >= raglan_from and (row - raglan_from) % 2 == 0 and part.stitches > 3:
            events.append(Event("decrease", edge, 1))
        part.shape("stockinette", *events)
    return part.piece()


def set_in(slope: str = "bind-off", *, dart: bool = False, waist: bool = True) -> list[Piece]:
    """Set-in sleeves, shaped waist, crew neck, sloped shoulders; a bust dart in the front if wanted."""
    pieces: list[Piece] = []
    for role, begins in ((roles.BACK, "right"), (roles.FRONT, "left")):
        ledger = Ledger(role, "flat", 102, begins=begins, edge_stitches=1)
        hem(ledger)
        if waist:
            both_less(ledger, 4, 6)
            ledger.work(8, "stockinette")
            for _ in range(4):
                ledger.shape("stockinette", Event("increase", "both", 1))
                ledger.work(5, "stockinette")
        ledger.work(96 - len(ledger.rows), "stockinette")
        if dart and role is roles.FRONT:
            for unworked in (6, 12, 18):
                ledger.shape("stockinette", Event("short-row", "right", unworked, "dart"))
                ledger.shape("stockinette", Event("short-row", "left", unworked, "dart"))
        ledger.work(8, "stockinette")
        ledger.mark("underarm")
        both_bound(ledger, 5)
        both_bound(ledger, 2)
        both_less(ledger, 5)
        if role is roles.BACK:
            ledger.work(36, "stockinette")
            pieces += divided(ledger, 26, (4, 2), 9, (8, 8), slope)
        else:
            ledger.work(20, "stockinette")
            pieces += divided(ledger, 12, (3, 2, 2, 1, 1, 1, 1), 25, (8, 8), slope)
    return pieces + [cap_sleeve(side) for side in ("left", "right")]


def cap_sleeve(side: str) -> Piece:
    ledger = Ledger(roles.SLEEVE, "flat", 46, side, edge_stitches=1)
    hem(ledger, 18)
    for _ in range(10):
        ledger.work(7, "stockinette")
        ledger.shape("stockinette", Event("increase", "both", 1))
    ledger.work(12, "stockinette")
    both_bound(ledger, 5)
    both_bound(ledger, 2)
    both_less(ledger, 3)
    both_less(ledger, 4, 4)
    both_less(ledger, 5)
    both_bound(ledger, 2)
    both_bound(ledger, 3)
    return ledger.piece()


def divided_sleeve() -> list[Piece]:
    """A sleeve in the round whose cap is a piece of its own."""
    lower = Ledger(roles.SLEEVE, "round", 44, "left")
    hem(lower, 18)
    for _ in range(10):
        lower.work(7, "stockinette")
        lower.shape("stockinette", Event("increase", "both", 1))
    lower.work(10, "stockinette")
    lower.mark("cap")
    whole = lower.piece()
    cap = Ledger(roles.CAP, "flat", 64, "left", whole)
    both_bound(cap, 4)
    both_less(cap, 16)
    both_bound(cap, 3)
    return [whole, cap.piece()]


def open_front(worked: str = "pieces") -> list[Piece]:
    """An open front with a V neck, in pieces or the body in one piece to the underarm."""
    pieces: list[Piece] = []
    body, whole = Ledger(roles.BODY, "flat", 196), None
    if worked == "one piece":
        hem(body, add=4)
        body.work(30, "stockinette")
        for _ in range(3):
            body.shape("stockinette", Event("decrease", "both", 2))
            body.work(7, "stockinette")
        body.work(28, "stockinette")
        body.mark("divide")
        pieces.append(whole := body.piece())
    for role, outer, begins, cast_on in (
        (roles.BACK, None, "right", 94),
        (roles.FRONT, "left", "left", 47),
        (roles.FRONT, "right", "left", 47),
    ):
        ledger = Ledger(role, "flat", cast_on, outer, whole, begins, 0 if whole else 1)
        if not whole:
            hem(ledger)
            ledger.work(84, "stockinette")
            ledger.mark("underarm")
        if not outer:
            both_bound(ledger, 4)
            both_less(ledger, 5)
            ledger.work(30, "stockinette")
            pieces += divided(ledger, 26, (2, 1), 11, (7, 7))
            continue
        ledger.work(1 - ledger.next_row % 2, "stockinette")
        start = ledger.next_row
        for i in range(1, 57):
            events = []
            if i == (1 if outer == begins else 2):
                events.append(Event("bind-off", outer, 4))
            if i in (3, 5, 7, 9, 11):
                events.append(Event("decrease", outer, 1))
            if i % 3 == 0 and i <= 48:
                events.append(Event("decrease", f"neck-{outer}", 1))
            if i in ((53, 55) if outer == begins else (54, 56)):
                events.append(Event("bind-off", outer, 7))
            ledger.shape("stockinette", *events)
        assert ledger.next_row == start + 56
        pieces.append(ledger.piece())
    return pieces


def raglan_flat() -> list[Piece]:
    """A raglan from the hem in four flat pieces, crew neck in the front."""
    pieces: list[Piece] = []
    for role, begins in ((roles.BACK, "right"), (roles.FRONT, "left")):
        ledger = Ledger(role, "flat", 102, begins=begins, edge_stitches=1)
        hem(ledger)
        ledger.work(84, "stockinette")
        ledger.mark("underarm")
        both_bound(ledger, 5)
        if role is roles.BACK:
            both_less(ledger, 30)
            pieces.append(ledger.piece())
        else:
            both_less(ledger, 23)
            pieces += divided(ledger, 14, (3, 2, 1, 1), 14, raglan_from=1)
    for side in ("left", "right"):
        ledger = Ledger(roles.SLEEVE, "flat", 46, side, edge_stitches=1)
        hem(ledger, 18)
        for _ in range(11):
            ledger.work(7, "stockinette")
            ledger.shape("stockinette", Event("increase", "both", 1))
        ledger.work(12, "stockinette")
        both_bound(ledger, 5)
        both_less(ledger, 24)
        pieces.append(ledger.piece())
    return pieces


def round_sleeve(side: str, underarm: int, edge: int = 44, increases: int = 11) -> Piece:
    ledger = Ledger(roles.SLEEVE, "round", edge, side)
    hem(ledger, 18)
    for _ in range(increases):
        ledger.work(7, "stockinette")
        ledger.shape("stockinette", Event("increase", "both", 1))
    ledger.work(11, "stockinette")
    ledger.shape("stockinette", Event("hold", "underarm", underarm))
    return ledger.piece()


def round_body(underarm: int) -> Piece:
    body = Ledger(roles.BODY, "round", 180)
    hem(body, add=20)
    body.work(90, "stockinette")
    body.shape("stockinette", Event("hold", "underarm", 2 * underarm))
    return body.piece()


def joined(body: Piece, sleeves: list[Piece]) -> Ledger:
    yoke = Ledger(roles.YOKE, "round", body.bound_off, parent=body)
    yoke.shape("stockinette", *(Event("join", s.side, s.bound_off) for s in sleeves))
    return yoke


def round_yoke() -> list[Piece]:
    """A round yoke from the hem: three decrease rounds; short rows raise the back neck."""
    sleeves = [round_sleeve(n, 16) for n in ("left", "right")]
    body = round_body(16)
    yoke = joined(body, sleeves)
    yoke.work(30, "stockinette")
    for left_over in (0.75, 2 / 3, 0.6):
        yoke.shape("stockinette", Event("decrease", "across", yoke.stitches - round(yoke.stitches * left_over)))
        yoke.work(13, "stockinette")
    for waiting in (20, 26, 32):
        yoke.shape("stockinette", Event("short-row", "across", waiting, "raised back"))
    yoke.work(1, "stockinette")
    return [body, *sleeves, yoke.piece(), band(90)]


def raglan_round() -> list[Piece]:
    """A raglan in the round from the hem; the front neck opens, and the rest is worked flat."""
    sleeves = [round_sleeve(n, 12) for n in ("left", "right")]
    body = round_body(12)
    yoke = joined(body, sleeves)
    for _ in range(16):
        yoke.shape("stockinette", Event("decrease", "across", 8))
        yoke.work(1, "stockinette")
    yoke.work(1 - yoke.next_row % 2, "stockinette")
    yoke.shape("stockinette", Event("bind-off", "centre", 14))
    lower = yoke.piece()
    upper = Ledger(roles.UPPER_YOKE, "flat", yoke.stitches, parent=lower)
    for i in range(1, 17):
        events = []
        if i % 2 == 0:
            events.append(Event("decrease", "across", 8))
        if i in (2, 4, 6):
            events += [Event("decrease", "neck-left", 2), Event("decrease", "neck-right", 2)]
        upper.shape("stockinette", *events)
    return [body, *sleeves, lower, upper.piece(), band(100)]


def from_the_neck() -> list[Piece]:
    """A raglan from the neck: flat until the front neck closes, then round; body and sleeves go on downwards."""
    top = Ledger(roles.YOKE_TOP, "flat", 58)
    for i in range(1, 15):
        events = []
        if i % 2:
            events.append(Event("increase", "across", 8))
            events += [Event("increase", "neck-left", 1), Event("increase", "neck-right", 1)] if i > 3 else []
        top.shape("stockinette", *events)
    top.shape("stockinette", Event("cast-on", "centre", 18))
    above = top.piece()
    yoke = Ledger(roles.YOKE, "round", top.stitches, parent=above)
    for _ in range(18):
        yoke.shape("stockinette", Event("increase", "across", 8))
        yoke.work(1, "stockinette")
    yoke.shape("stockinette", Event("hold", "left", 62), Event("hold", "right", 62))
    yoke = yoke.piece()
    body = Ledger(roles.BODY, "round", yoke.bound_off, parent=yoke)
    body.shape("stockinette", Event("cast-on", "underarm", 24))
    body.work(20, "stockinette")
    for _ in range(4):
        body.shape("stockinette", Event("decrease", "both", 2))
        body.work(5, "stockinette")
    body.work(10, "stockinette")
    for _ in range(4):
        body.shape("stockinette", Event("increase", "both", 2))
        body.work(5, "stockinette")
    body.work(20, "rib-2x2")
    pieces = [above, yoke, body.piece()]
    for side in ("left", "right"):
        sleeve = Ledger(roles.SLEEVE, "round", 62, side, yoke)
        sleeve.shape("stockinette", Event("cast-on", "underarm", 12))
        sleeve.work(12, "stockinette")
        for _ in range(12):
            sleeve.shape("stockinette", Event("decrease", "both", 1))
            sleeve.work(6, "stockinette")
        sleeve.shape("stockinette", Event("decrease", "across", 6))
        sleeve.work(18, "rib-2x2")
        pieces.append(sleeve.piece())
    return pieces


def band(stitches: int) -> Piece:
    ledger = Ledger(roles.NECKBAND, "round", 0)
    ledger.shape("rib-2x2", Event("pick-up", "across", stitches))
    ledger.work(7, "rib-2x2")
    return ledger.piece()


GARMENTS = {
    "set-in": set_in,
    "set-in, short rows": lambda: set_in("short-row"),
    "set-in, dart": lambda: set_in(dart=True),
    "sleeve with a cap apart": divided_sleeve,
    "open front": open_front,
    "open front, body in one piece": lambda: open_front("one piece"),
    "raglan, flat": raglan_flat,
    "raglan, round": raglan_round,
    "round yoke": round_yoke,
    "raglan from the neck": from_the_neck,
}
