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
        """Every kind of place of the part."""
        return self._real.kinds()

    def finding(self, damage: str, kind: str, zone: Zone) -> Pair:
        """Where the drawn pieces have the damage; nothing is open."""
        return Pair.known(self._finding(damage, kind, zone))

    def figure(self, quantity: str, kind: str) -> NDArray[np.float64]:
        """True sizes [places, draws] in mm."""
        return self._figure(quantity, kind)

    def beyond(self, quantity: str, kind: str, threshold: Threshold | None, if_read: bool) -> Pair:
        """Where a true size lies past the bare threshold, or past its own limit for None, if it has one."""
        against = self._real.threshold(quantity, kind, threshold)
        truth = self._figure(quantity, kind)
        if against is None:
            return Pair.known(np.zeros(truth.shape, dtype=bool))
        beyond = truth > against.value if against.worse == "above" else truth < against.value
        return Pair.known(beyond & ~self._real.never_read(quantity, kind)[:, None] if if_read else beyond)

    def limited(self, quantity: str, kind: str) -> bool:
        """Whether anybody limits the figure: of drawn pieces as of the real one."""
        return self._real.limited(quantity, kind)

    def made_of(self, materials: tuple[str, ...], kind: str | None) -> Pair:
        """Of drawn pieces as of the real one; a material that nobody told is none of these."""
        return Pair.known(self._real.made_of(materials, kind).must[:, None])

    def test(self, method: str, kind: str | None, zone: Zone) -> Pair:
        """Where the drawn truth holds that the test finds something."""
        return Pair.known(self._event(f"test {method}", kind))

    def look(self, method: str, kind: str | None, zone: Zone) -> Pair:
        """Nowhere: what a look would show is drawn as findings."""
        return Pair.known(np.zeros_like(self._event(f"look {method}", kind)))

    def report(self, says: str) -> Pair:
        """In which draws the outside report holds."""
        return Pair.known(self._event(f"report {says}", None))

    def sign(self, sign: str, answer: str) -> Pair:
        """In which draws the sign is answered so."""
        return Pair.known(self._event(f"sign {sign} {answer}", None))
