"""A drawn scene: the truth of many drawn pieces at once, asked by the same compiled rules.

Whoever draws fills `truth`; a figure is compared with the bare limit, without z and without gauge
uncertainty, since the draw already is the truth given the readings.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from inspect_app.rulebook.conditions import Threshold
from inspect_app.rulebook.pair import Bools, Pair

from .scene import RealScene

Zone = tuple[str, ...]


class DrawnScene:
    """`draws` drawn truths for one piece.

    `finding_truth(damage, kind, zone)` and `event_truth(name, kind)` return booleans,
    `figure_truth(quantity, kind)` sizes in mm, all [places, draws]; `event` covers tests, reports
    and signs, whose name is "test method", "report word" or "sign id answer".
    """

    def __init__(
        self,
        real: RealScene,
        finding_truth: Callable[[str, str, Zone], Bools],
        figure_truth: Callable[[str, str], NDArray[np.float64]],
        event_truth: Callable[[str, str | None], Bools],
    ) -> None:
        self._real = real
        self._finding = finding_truth
        self._figure = figure_truth
        self._event = event_truth

    def kinds(self) -> tuple[str, ...]:
        return self._real.kinds()

    def finding(self, damage: str, kind: str, zone: Zone) -> Pair:
        return Pair.known(self._finding(damage, kind, zone))

    def figure(self, quantity: str, kind: str) -> NDArray[np.float64]:
        """True sizes [places, draws] in mm."""
        return self._figure(quantity, kind)

    def beyond(self, quantity: str, kind: str, threshold: Threshold | None, if_read: bool) -> Pair:
        against = self._real.threshold(quantity, kind, threshold)
        truth = self._figure(quantity, kind)
        if against is None:
            return Pair.known(np.zeros(truth.shape, dtype=bool))
        beyond = truth > against.value if against.worse == "above" else truth < against.value
        return Pair.known(beyond & ~self._real.untouched(quantity, kind)[:, None] if if_read else beyond)

    def test(self, method: str, kind: str | None, zone: Zone) -> Pair:
        return Pair.known(self._event(f"test {method}", kind))

    def look(self, method: str, kind: str | None, zone: Zone) -> Pair:
        return Pair.known(np.zeros_like(self._event(f"look {method}", kind)))

    def report(self, says: str) -> Pair:
        return Pair.known(self._event(f"report {says}", None))

    def sign(self, sign: str, answer: str) -> Pair:
        return Pair.known(self._event(f"sign {sign} {answer}", None))
