"""Evidence: what somebody saw, read, tested, was told or decided. Append-only.

Each item hangs on a piece in a state. `supersedes` names the item that this one corrects; a
withdrawal hides one. Nothing is overwritten: both stay in the core.
"""

from collections import Counter
from collections.abc import Iterable
from datetime import datetime
from typing import Annotated, Literal

from pydantic import Field, FiniteFloat, field_validator, model_validator

from .frozen import Frozen, Stage
from .pieces import AS_FOUND, state_rank

Strength = Literal["suspected", "seen", "confirmed"]


class Item(Frozen):
    """What every piece of evidence carries. `when` is an ISO date or date and time."""

    id: str = Field(min_length=1)
    who: str = Field(min_length=1)
    when: str
    stage: Stage
    supersedes: str | None = None
    note: str = ""

    @field_validator("when")
    @classmethod
    def _iso(cls, value: str) -> str:
        try:
            datetime.fromisoformat(value)
        except ValueError:
            raise ValueError("not a date. Write it as 2026-11-22 or 2026-11-22T14:05") from None
        return value


class OnPiece(Item):
    """Evidence about one piece in one state (as_found, washed, "after 1")."""

    piece: str
    state: str = AS_FOUND

    @field_validator("state")
    @classmethod
    def _known_state(cls, value: str) -> str:
        state_rank(value)
        return value


UNANSWERED = ("not looked", "cannot tell")
"""Answers to a yard check that leave its question open."""


class Sign(OnPiece):
    """A yard check and its answer; "not looked" and "cannot tell" are answers."""

    kind: Literal["sign"] = "sign"
    sign: str
    answer: str


class Look(OnPiece):
    """Somebody looked by this method: what it can show there and nobody reported was not seen."""

    kind: Literal["look"] = "look"
    places: tuple[str, ...] = Field(min_length=1)
    method: str = "eye"
    lit: bool = True


class Finding(OnPiece):
    """A damage word at a place. `confirmed` names the test that confirmed it."""

    kind: Literal["finding"] = "finding"
    damage: str
    place: str
    strength: Strength
    test: str | None = None
    extent: str = ""

    @model_validator(mode="after")
    def _confirmed_by(self) -> "Finding":
        if self.strength == "confirmed" and self.test is None:
            raise ValueError('"confirmed" needs the id of the test that confirmed it, in "test"')
        return self


class Reading(OnPiece):
    """One size as typed. With `setting`, a signed value counts divisions of the gauge from it.

    `conditions`: how it was assembled. Without temperatures part and gauge were soaked together near
    20 degrees; with that of the part alone, soaked together at it ("31 C" or "88 F").
    """

    kind: Literal["reading"] = "reading"
    quantity: str
    place: str
    station: str = ""
    direction: str = ""
    value: str
    unit: str
    setting: str | None = None
    gauge: str | None = None
    session: str = ""
    conditions: tuple[str, ...] = ()
    part_temperature: str | None = None
    gauge_temperature: str | None = None
    as_meant: bool = False

    @property
    def slot(self) -> tuple[str, str]:
        """Station and direction: where on the place it was read."""
        return (self.station, self.direction)


class Test(OnPiece):
    """A test, the places it covered, and its outcome; it speaks for nothing else."""

    __test__ = False
    kind: Literal["test"] = "test"
    method: str
    places: tuple[str, ...] = Field(min_length=1)
    outcome: Literal["nothing_found", "found", "cannot_tell"]
    by: str = ""


class Photo(OnPiece):
    """A picture file of the core's folder, by its path and the SHA-256 of its bytes."""

    kind: Literal["photo"] = "photo"
    path: str
    sha256: str = Field(pattern="^[0-9a-f]{64}$")
    captured: str = ""
    caption: str = ""


class Region(OnPiece):
    """A marked shape on a photo, in original pixels, for a finding."""

    kind: Literal["region"] = "region"
    photo: str
    finding: str | None = None
    shape: Literal["rectangle", "ellipse", "polygon", "crack_line", "point", "scale_line"]
    points: tuple[tuple[FiniteFloat, FiniteFloat], ...] = Field(min_length=1)


class OutsideReport(OnPiece):
    """What the machine shop or the seller said. Without `grounds` it closes nothing."""

    kind: Literal["report"] = "report"
    says: str
    grounds: str = ""


class Decision(OnPiece):
    """A named person (`who`) overrules or waives a rule at a place, or records the customer's answer."""

    kind: Literal["decision"] = "decision"
    decision: Literal["overrule", "waive", "customer_answer"]
    rule: str | None = None
    place: str = "*"
    answer: Literal["do_it", "leave_it", "ask_me"] | None = None
    reason: str = Field(min_length=1)

    @model_validator(mode="after")
    def _complete(self) -> "Decision":
        wanted = "answer" if self.decision == "customer_answer" else "rule"
        if getattr(self, wanted) is None:
            raise ValueError(f'a decision "{self.decision}" needs "{wanted}"')
        return self


class BillPaid(OnPiece):
    """What an operation really cost, in the currency of the price book."""

    kind: Literal["bill"] = "bill"
    line: str
    amount: float = Field(ge=0, allow_inf_nan=False)


class Withdrawal(Item):
    """Hides one item, with a reason; it stays in the record, struck through."""

    kind: Literal["withdrawal"] = "withdrawal"
    of: str
    reason: str = Field(min_length=1)


Evidence = Annotated[
    Sign
    | Look
    | Finding
    | Reading
    | Test
    | Photo
    | Region
    | OutsideReport
    | Decision
    | BillPaid
    | Withdrawal,
    Field(discriminator="kind"),
]


def standing(items: tuple[Evidence, ...]) -> tuple[Evidence, ...]:
    """The items that count, withdrawals left out.

    An item counts while it is not withdrawn and every item in its line of corrections is: correcting
    a correction does not bring back the first, withdrawing it does. In a circle, which the check of a
    core refuses, none counts.
    """
    by_id = {item.id: item for item in items}
    waiting = Counter(target for item in by_id.values() if (target := _aims_at(item)) is not None)
    withdrawn, corrected, counting = set[str](), set[str](), set[str]()
    ready = [item for item in by_id.values() if not waiting[item.id]]
    while ready:
        item = ready.pop()
        if item.id not in withdrawn and item.id not in corrected:
            counting.add(item.id)
        target = _aims_at(item)
        if target is None:
            continue
        if isinstance(item, Withdrawal):
            if item.id in counting:
                withdrawn.add(target)
        elif item.id not in withdrawn or item.id in corrected:
            corrected.add(target)
        waiting[target] -= 1
        if not waiting[target] and target in by_id:
            ready.append(by_id[target])
    return tuple(i for i in items if i.id in counting and not isinstance(i, Withdrawal))


def first_ids(items: Iterable[Evidence]) -> dict[str, str]:
    """Of each item the id of the one that its corrections go back to; its own where it corrects none."""
    corrects = {item.id: item.supersedes for item in items}
    found = {}
    for start in corrects:
        seen, at = {start}, start
        while (older := corrects.get(at)) in corrects and older not in seen:
            assert older is not None
            seen.add(older)
            at = older
        found[start] = at
    return found


def _aims_at(item: Evidence) -> str | None:
    return item.of if isinstance(item, Withdrawal) else item.supersedes
