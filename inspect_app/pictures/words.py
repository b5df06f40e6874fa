"""Words and figures that screens and drawings write alike: verdicts, whose limit, numbers, money."""

from typing import Literal

from inspect_app.metrology.display import GAUGE_PLACES as GAUGE_PLACES
from inspect_app.metrology.display import MINUS as MINUS
from inspect_app.metrology.display import number as number
from inspect_app.metrology.display import rounded as rounded
from inspect_app.metrology.display import signed as signed
from inspect_app.model.frozen import LimitFrom, Standing, Verdict
from inspect_app.model.money import money as money

Against = Literal["limit", "size", "metal left"]
Bound = Literal["exact", "at_least", "at_most"]

HARD_SPACE = "\u00a0"
NOT_JUDGED = "Not judged"
VERDICTS: dict[Verdict, str] = {
    "reuse": "Reuse",
    "recondition": "Recondition",
    "replace": "Replace",
    "scrap": "Scrap",
}
LIMITS_FROM: dict[LimitFrom, str] = {
    "maker": "the maker's limit",
    "shop": "the shop's limit",
    "pack": "the rule pack's limit",
}
AGAINST: dict[Against, str] = {"limit": "limit", "size": "size", "metal left": "least wall"}
VALUES: dict[Against, str] = {"limit": "read", "size": "needs", "metal left": "leaves"}
BOUNDS: dict[Bound, str] = {"exact": "", "at_least": "at least ", "at_most": "at most "}


def verdict(judged: Verdict | None) -> str:
    """Say a verdict without its standing: "Recondition"; null is "Not judged"."""
    return VERDICTS[judged] if judged else NOT_JUDGED


def verdict_standing(judged: Verdict | None, standing: Standing | None) -> str:
    """Say a verdict and how sure it is: "Recondition, provisional"."""
    return f"{verdict(judged)}, {standing}" if judged and standing else verdict(judged)
