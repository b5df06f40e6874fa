"""Ladders, couplings and prices: the cheapest joint choice, its verdicts and forks, and the Answer."""

from .answer import judge

__all__ = ["judge"]
