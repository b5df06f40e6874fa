"""The answer about one core: what the judge says, in the one shape that screens, papers and JSON share.

Lengths in `measured`, `limit` and `margin` are in the unit named beside them; money is in the
currency of the price book. Keys may be added in later versions; a key never changes its meaning.
"""

from typing import Literal

from pydantic import ConfigDict, Field

from .answer_figures import FigureShown, LimitShown, Measured, Profile, SizePlan, WayTaken
from .frozen import (
    BuildStandard,
    CoreChoice,
    EntryKind,
    Frozen,
    LimitFrom,
    Source,
    Spread,
    Stage,
    Standing,
    Verdict,
    WayState,
)  # fmt: skip


class TotalCost(Spread):
    """The bill's total. `sum`: the ends add all lows and all highs; `sampled`: P10 and P90."""

    basis: Literal["sum", "sampled"] = "sum"


class OverlayUsed(Frozen):
    id: str
    sha256: str


class RulebookUsed(Frozen):
    version: str
    sha256: str
    overlays: tuple[OverlayUsed, ...] = ()


class PricesUsed(Frozen):
    title: str
    date: str
    sha256: str


class SheetUsed(Frozen):
    """The engine sheet: what it was typed from."""

    id: str
    title: str
    source: str


class FromShop(Frozen):
    """One of the shop's own entries that the answer rests on: who wrote it and when, where they said.

    `table` is "price", "gauge" or "rule", `overlay` the folder it stands in. Limits say whose they are
    themselves.
    """

    table: str
    id: str
    title: str
    overlay: str
    by: str = ""
    date: str = ""


class EvidenceCount(Frozen):
    """How many items count (corrections and withdrawals taken off), and when the last was made."""

    count: int
    last: str | None


class CoreAnswer(Frozen):
    """The verdict of the whole core; null while a part that decides it is not judged."""

    id: str
    title: str
    stage: Stage
    build_standard: BuildStandard
    evidence: EvidenceCount
    verdict: CoreChoice | None
    standing: Standing | None
    why: str
    waits_for: str | None
    not_judged: tuple[str, ...]
    cost: TotalCost
    notes: tuple[str, ...] = ()


class ChoiceValue(Frozen):
    """What one choice for the core leaves in hand; null where a figure it needs is not entered."""

    choice: CoreChoice
    value: Spread | None


class Closed(Frozen):
    """One reason why a way is closed: rule, place, evidence and, for figures, the margin.

    `margin` is how far the figure lies past its limit, in the unit of `measured`; `p_beyond` the
    probability, from 0 to 1, that the true value lies past it. `against` says what `limit` is: a
    limit, a listed size that the place does not clean up at, or the least metal that must remain.
    `limit_basis` is what the limit rests on: the sheet's source for the maker's, else the written basis.
    """

    closes: str
    rule: str
    why: str
    plain: str
    basis: str
    hard: bool
    place: str
    evidence: tuple[str, ...]
    measured: Measured | None = None
    limit: LimitShown | None = None
    limit_from: LimitFrom | None = None
    limit_basis: str = ""
    against: Literal["limit", "size", "metal left"] = "limit"
    margin: float | None = None
    p_beyond: float | None = None


class ForkIf(Frozen):
    """One thing still to be found out, and the answer under which the verdict stands.

    `positions` are those it is found out at; `because`, of another part, why this verdict turns on it.
    """

    what: str
    place: str
    answer: str
    positions: tuple[str, ...] = ()
    because: str = ""


class ForkElse(Frozen):
    """The verdict if everything the fork names turns out against it."""

    verdict: Verdict | None
    source: Source | None
    cost: Spread | None
    ways: tuple[WayTaken, ...] = ()


class Fork(Frozen):
    """What a provisional verdict turns on. JSON keys: `if` and `else`."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, serialize_by_alias=True)

    if_: tuple[ForkIf, ...] = Field(alias="if")
    else_: ForkElse = Field(alias="else")


class OldPiece(Frozen):
    """What becomes of the piece that sat there, and what that brings in."""

    piece: str
    fate: Literal["keep", "sell", "core_credit", "hand_back", "scrap"]
    value: float


class Former(Frozen):
    """A piece that sat in the position before, with the ways its evidence had closed."""

    piece: str
    closed: tuple[str, ...]


class Forced(Frozen):
    position: str
    choice: str
    why: str


class Option(Frozen):
    """A source, with the ways taken if the own piece stays; null cost where a price is missing."""

    source: Source
    kind: str | None = None
    ways: tuple[WayTaken, ...]
    state: WayState
    cost: Spread | None
    forces: tuple[Forced, ...] = ()


class CloseCall(Frozen):
    """A figure so near its limit that the more probable side decided, with 5 to 95 % beyond."""

    rule: str
    place: str
    measured: Measured
    limit: LimitShown
    p_beyond: float


class Entered(Frozen):
    """How and where something is entered: the kind of entry, the id that it takes, and the ids of places.

    `name` is the id of a method, quantity, damage word, report, sign, price, or of what a decision waives.
    """

    by: EntryKind
    name: str = ""
    places: tuple[str, ...] = ()


class OpenPoint(Frozen):
    """One missing item: what to do, at which places, and for which ways it is needed.

    `rules` are those that stay open without it; `enter` says how it is entered.
    """

    what: str
    place: str
    needed_for: tuple[str, ...]
    rules: tuple[str, ...] = ()
    enter: Entered | None = None


class LeftOut(Frozen):
    """A look or test of the piece that does not count, or not everywhere, and why."""

    evidence: str
    kind: Literal["look", "test"]
    who: str
    when: str
    places: tuple[str, ...]
    why: str


class PartAnswer(Frozen):
    """The answer for one position. Verdict, standing, fork and cost are null while not judged."""

    part: str
    position: str
    title: str
    piece: str
    verdict: Verdict | None
    grounds: Literal["evidence", "money", "coupling"] | None
    source: Source | None
    kind: str | None
    ways: tuple[WayTaken, ...]
    standing: Standing | None
    fork: Fork | None
    old_piece: OldPiece | None
    former: tuple[Former, ...]
    options: tuple[Option, ...]
    closed: tuple[Closed, ...]
    forced_by: tuple[Forced, ...]
    close_calls: tuple[CloseCall, ...]
    open_points: tuple[OpenPoint, ...]
    cost: Spread | None
    figures: tuple[FigureShown, ...] = ()
    profiles: tuple[Profile, ...] = ()
    size_plans: tuple[SizePlan, ...] = ()
    left_out: tuple[LeftOut, ...] = ()


class BillLine(Spread):
    """One line of the bill as a total over its quantity; `needed_by` lists positions.

    `price` is the id of the price taken.
    """

    line: str
    price: str = ""
    quantity: float
    days: float
    needed_by: tuple[str, ...]


class Answer(Frozen):
    """Everything the judge says about one core; `core.cost.mean` is the sum of the bill's means."""

    answer_version: Literal[1] = 1
    currency: str
    rulebook: RulebookUsed
    prices: PricesUsed
    core: CoreAnswer
    choices: tuple[ChoiceValue, ...]
    parts: tuple[PartAnswer, ...]
    bill: tuple[BillLine, ...]
    sheet: SheetUsed | None = None
    from_shop: tuple[FromShop, ...] = ()
