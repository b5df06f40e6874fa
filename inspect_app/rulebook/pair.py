"""Three-valued logic as a pair of boolean arrays: what must hold, and what may hold.

met = must; open = may and not must; not met = not may. For drawn cores, where the truth is known,
both halves are the same array and the second is never computed twice.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Bools = NDArray[np.bool_]


class Pair(NamedTuple):
    """`must` implies `may`; shape [places] for a real core, [places, draws] for drawn ones."""

    must: Bools
    may: Bools

    @classmethod
    def known(cls, truth: Bools) -> "Pair":
        """A pair without doubt."""
        return cls(truth, truth)

    def __and__(self, other: "Pair") -> "Pair":
        must = self.must & other.must
        return Pair(must, must if self.sure and other.sure else self.may & other.may)

    def __or__(self, other: "Pair") -> "Pair":
        must = self.must | other.must
        return Pair(must, must if self.sure and other.sure else self.may | other.may)

    def __invert__(self) -> "Pair":
        must = ~self.may
        return Pair(must, must if self.sure else ~self.must)

    @property
    def sure(self) -> bool:
        """Whether both halves are one array."""
        return self.must is self.may

    def any_place(self) -> "Pair":
        """Whether it holds at some place: the place axis shrinks to 1."""
        must = _any(self.must)
        return Pair(must, must if self.sure else _any(self.may))


def _any(places: Bools) -> Bools:
    return np.asarray(places.any(axis=0, keepdims=True))
