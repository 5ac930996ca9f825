"""Which cautions belong to a project."""

from workshop.core.cloth.fibre import YarnView
from workshop.core.wearer.body import Wearer
from workshop.tables.trade_rules import CautionText, cautions


def cautions_for(
    wearer: Wearer, yarns: tuple[YarnView, ...], knitting: bool, *, stranded: bool = False
) -> tuple[CautionText, ...]:
    """The cautions that apply: to a child, to the fibres, and to the knitter once there is work to do.

    ``stranded``: whether there are loops of yarn inside the garment.
    """
    applies: set[str] = {"knitter"} if knitting else set()
    if wearer.table in ("babies", "children", "youth"):
        applies.add(wearer.table)
    elif wearer.child:
        applies |= {"babies", "children"}
    if stranded and "babies" in applies:
        applies.add("babies in stranded fabric")
    for yarn in yarns:
        applies |= {share.fibre.family for share in yarn.shares}
        if any(s.fibre.felts for s in yarn.shares):
            applies.add("felts")
        if any(s.fibre.id in ("wool", "superwash wool") for s in yarn.shares):
            applies.add("wool")
    return tuple(c for c in cautions() if applies.intersection(c.applies))
