"""Records: read-only dataclasses with slots that are made quickly.

``dataclass`` compiles methods of its own for every class, and a command makes 150 kinds of record before it can say a
word: that was half of its time (Python 3.11). Here ``dataclass`` compiles only what has to differ between them, which
is how they are filled; how records are compared, hashed and shown is written once. That they are read-only is for the
type checker to hold: a guard at run time cost a fifth of a command and a third of every plan.
"""

from dataclasses import Field, dataclass, field
from operator import attrgetter
from typing import TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def record(cls: type[T]) -> type[T]:
    """The class as ``dataclass(frozen=True, slots=True)`` makes it, its guard left to the type checker.

    ``field``, ``fields`` and ``replace`` know it.
    """
    made = dataclass(slots=True, eq=False, repr=False)(cls)
    kept: dict[str, Field[object]] = vars(made)["__dataclass_fields__"]
    shown = [name for name, one in kept.items() if one.repr]
    values = attrgetter("__class__", *(name for name, one in kept.items() if one.compare))

    def equal(self: T, other: object) -> bool:
        return values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented

    def hashed(self: T) -> int:
        return hash(values(self))

    def said(self: T) -> str:
        return f"{type(self).__qualname__}({', '.join(f'{name}={getattr(self, name)!r}' for name in shown)})"

    for name, method in (("__eq__", equal), ("__hash__", hashed), ("__repr__", said)):
        if name not in vars(cls):
            setattr(made, name, method)
    return made
