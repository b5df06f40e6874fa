"""Rules on which places of a set may be done otherwise together, for `size_plan`."""

from collections.abc import Callable, Sequence
from itertools import combinations, pairwise

Rule = Callable[[frozenset[int]], bool]
"""Whether these places (counted from 0) may be exceptions together; the empty set is asked too."""


def at_most(count: int) -> Rule:
    """The rule that so many places may be exceptions, none of them barred by another.

    >>> at_most(1)(frozenset({2})), at_most(1)(frozenset({1, 2}))
    (True, False)
    """
    return lambda places: len(places) <= count


def no_two_neighbours(order: Sequence[Sequence[int]]) -> Rule:
    """The rule that no two places next to each other in a row of `order` are exceptions together.

    >>> rule = no_two_neighbours([[0, 2, 4], [1, 3, 5]])
    >>> rule(frozenset({0, 2})), rule(frozenset({0, 1}))
    (False, True)
    """
    pairs = {frozenset(pair) for row in order for pair in pairwise(row)}
    return lambda places: not any(frozenset(two) in pairs for two in combinations(places, 2))


def all_of(*rules: Rule) -> Rule:
    """The rule that every one of `rules` allows the places.

    >>> all_of(at_most(2), no_two_neighbours([[0, 1, 2]]))(frozenset({0, 2}))
    True
    """
    return lambda places: all(rule(places) for rule in rules)
