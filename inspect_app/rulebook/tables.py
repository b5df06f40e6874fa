"""How large the joint decision gets: variables, the tables over them, and the order of elimination."""

from collections.abc import Iterable, Mapping
from math import prod

LARGEST_TABLE = 512


def elimination_order(
    domains: Mapping[str, int], scopes: Iterable[frozenset[str]]
) -> tuple[list[str], int, frozenset[str]]:
    """Order in which to eliminate, the entries of the largest table met, and its variables.

    Always the variable whose table is smallest now, ties by name, so that the order is the same
    on every machine.
    """
    neighbours: dict[str, set[str]] = {name: set() for name in domains}
    for scope in scopes:
        for name in scope:
            neighbours[name] |= scope - {name}
    order: list[str] = []
    largest, at = 0, frozenset[str]()
    while neighbours:
        name = min(neighbours, key=lambda v: (prod(domains[n] for n in neighbours[v]) * domains[v], v))
        around = neighbours.pop(name)
        size = prod(domains[n] for n in around) * domains[name]
        if size > largest:
            largest, at = size, frozenset(around | {name})
        for other in around:
            neighbours[other] |= around - {other}
            neighbours[other].discard(name)
        order.append(name)
    return order, largest, at
