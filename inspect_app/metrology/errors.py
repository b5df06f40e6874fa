"""What a result inherits from each source of error, so that what two sizes share cancels between them.

An error is a signed standard uncertainty by the name of its independent source: the calibration of a
gauge in one session, or the doubt fresh in one reading. Sums of results add their errors source by
source; only then are the squares added (JCGM 100:2008, 5.1 and 5.2 for the correlated case; from memory).
"""

from collections.abc import Mapping
from math import fsum, sqrt

Errors = Mapping[str, float]
NO_ERRORS: Errors = {}


def combined(*terms: tuple[float, Errors]) -> Errors:
    """Errors of a sum of factor * result, source by source; sources that cancel are left out.

    First order. The names of sources must be the same only where the error is.

    >>> combined((1.0, {"setting": 0.002, "a": 0.001}), (-1.0, {"setting": 0.002, "b": 0.001}))
    {'a': 0.001, 'b': -0.001}
    """
    total: dict[str, float] = {}
    for factor, errors in terms:
        for source, amount in errors.items():
            total[source] = total.get(source, 0.0) + factor * amount
    return {source: amount for source, amount in total.items() if amount != 0}


def u_of(errors: Errors) -> float:
    """Standard uncertainty: the root of the sum of squares over independent sources, >= 0.

    >>> u_of({"setting": 0.003, "a": -0.004})
    0.005
    """
    return sqrt(fsum(amount**2 for amount in errors.values()))
