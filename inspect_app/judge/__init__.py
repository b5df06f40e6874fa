"""Ladders, couplings and prices: the cheapest joint choice, its verdicts, forks and Answer; the fit check."""

from .answer import judge
from .fit_check import fit_check

__all__ = ["fit_check", "judge"]
