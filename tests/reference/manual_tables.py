"""Rows of US Army technical manuals (public domain), as printed: seen in the pages' own text unless noted.

Page numbers of the four-cylinder manual: 4-28 and 4-41 are read off the page, the others counted from it.

Each row: item, new range, wear limit, which side is worse. Numbers are the printed digits.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal


@dataclass(frozen=True)
class Row:
    """`limit` is "" where none is printed."""

    manual: str
    item: str
    low: str
    high: str
    limit: str
    worse: Literal["above", "below"]

    @property
    def numbers(self) -> tuple[Decimal, Decimal, Decimal]:
        return Decimal(self.low), Decimal(self.high), Decimal(self.limit)


FOUR_MM = "TM 10-3930-653-14&P"
"""Four cylinders, mm; pp. 4-18 to 4-41."""

SIX_INCH = "TM 9-2815-225-34&P"
"""Six cylinders, inch; App. F, whose columns run wear limit, new minimum, new maximum."""

LOADER = "TM 5-3895-346-14"
TRUCK = "TM 10-3930-243-34"
GENERATOR = "TM 5-6115-584-34"
PUMP = "TM 5-4320-300-14"

SOUND = (
    Row(FOUR_MM, "ring gap, top", "0.25", "0.40", "1.0", "above"),
    Row(FOUR_MM, "ring gap, second", "0.15", "0.30", "1.0", "above"),
    Row(FOUR_MM, "ring in groove, top", "0.040", "0.073", "0.1", "above"),
    Row(FOUR_MM, "ring in groove, oil", "0.03", "0.08", "0.2", "above"),
    Row(FOUR_MM, "main clearance", "0.020", "0.062", "0.1", "above"),
    Row(FOUR_MM, "crank end play", "0.05", "0.18", "0.2", "above"),
    Row(FOUR_MM, "rod side play", "0.17", "0.3", "0.4", "above"),
    Row(FOUR_MM, "rocker shaft clearance", "0.020", "0.054", "0.1", "above"),
    Row(FOUR_MM, "stem to guide, inlet", "0.028", "0.030", "0.10", "above"),
    Row(SIX_INCH, "liner bore", "5.4995", "5.501", "5.505", "above"),
    Row(SIX_INCH, "rod journal", "3.1235", "3.125", "3.122", "below"),
    Row(SIX_INCH, "main journal", "4.4985", "4.500", "4.4975", "below"),
    Row(SIX_INCH, "main bearing bore", "4.7485", "4.750", "4.7505", "above"),
    Row(SIX_INCH, "main shell", "0.123", "0.1238", "0.1215", "below"),
    Row(SIX_INCH, "main clearance", "0.0015", "0.005", "0.007", "above"),
    Row(SIX_INCH, "crank end clearance", "0.007", "0.017", "0.022", "above"),
    Row(SIX_INCH, "cam bushing", "2.4983", "2.5013", "2.5023", "above"),
    Row(LOADER, "rod clearance", "0.0015", "0.0045", "0.0060", "above"),
    Row(LOADER, "rod shell", "0.1245", "0.1250", "0.1230", "below"),
    Row(LOADER, "crank end play", "0.0040", "0.0110", "0.0180", "above"),
    Row(TRUCK, "main clearance", "0.0013", "0.0042", "0.006", "above"),
    Row(PUMP, "shell, standard", "0.1245", "0.1250", "0.1230", "below"),
    Row(PUMP, "shell, 0.010", "0.1295", "0.1300", "0.1280", "below"),
    Row(PUMP, "shell, 0.030", "0.1395", "0.1400", "0.1380", "below"),
)

INSIDE_ITS_NEW_RANGE = (
    Row(FOUR_MM, "rod clearance", "0.01", "0.066", "0.03", "above"),
    Row(GENERATOR, "pin clearance", "0.0005", "0.0025", "0.0003", "above"),
)
"""Misprints: the first lies inside the new range, the second below it where larger is worse."""

MIXED_COLUMN = ("1.0455", "0.002")
"""Both stand in one "maximum allowable wear limit" column of TM 5-6115-584-34, Table 1-2."""

TWINS_THAT_AGREE = (
    ("2.4780", "62.942"),
    ("3.4331", "87.20"),
    ("3.4350", "87.25"),
    ("0.0015", "0.0381"),
    ("3.125", "79.375"),
    ("0.020", "0.508"),
    ("0.0005", "0.0127"),
)
"""TM 10-3930-653-14&P; TM 5-4320-300-14, p. 6-45; TM 5-2815-241-34&P, pp. 2-215 and 2-216."""

TWINS_MISPRINTED = (("0.003", "0.76"), ("0.00015", "0.038"), ("0.003", "0.0076"), ("0.020", "0.568"))
"""TM 5-3895-369-14: 0.076 mm and 0.0015 in are meant; TM 5-2815-241-34&P, p. 2-216: 0.076 and 0.508 mm.
As the stored text of the pages reads: a scan may have added slips of its own."""

RANGE_MISPRINTED = ("74.915", "7.4935")
"""TM 9-6115-604-34, bore of a liner, inch."""
