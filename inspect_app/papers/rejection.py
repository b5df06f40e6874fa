"""The data of the rejection sheet: one part, why it is not kept, the ways forward, room for an answer."""

from dataclasses import asdict, dataclass
from typing import Any

from inspect_app.model.answer import Answer, Closed, PartAnswer
from inspect_app.papers.findings import Grounds
from inspect_app.papers.measure import measure
from inspect_app.papers.subject import Subject
from inspect_app.papers.ways import closed_rows, ways_forward
from inspect_app.pictures.answer_words import BUILD_STANDARDS, FATES, rules_and_prices, sentence, strength
from inspect_app.pictures.item_words import when
from inspect_app.pictures.marks import swatch
from inspect_app.pictures.tokens import PAPER
from inspect_app.pictures.words import money, verdict
from inspect_app.rulebook.cautions import cautions_for

MARK, BAR = "verdict.svg", "limit.svg"


@dataclass(frozen=True)
class Sheet:
    """What the template reads as its data, and the pictures that the data name."""

    data: dict[str, Any]
    files: dict[str, bytes]


def rejection(subject: Subject, part: PartAnswer) -> Sheet:
    """The sheet of a part whose verdict, Replace or Scrap, is settled."""
    reasons = sorted(part.closed, key=strength, reverse=True)
    grounds = Grounds(subject, reasons)
    photos, files = grounds.photos()
    held = measure(subject, part, reasons)
    closed = closed_rows(subject, part)
    cautions = cautions_for(subject.engine.book, part.part, grounds.damage)
    mark = str(swatch(part.verdict, part.standing, PAPER)).encode("utf-8")
    data = {
        "title": _title(subject, part),
        "heading": _heading(part),
        "mark": MARK,
        "verdict": verdict(part.verdict),
        "standing": part.standing or "",
        "plain": _plain(subject, part, reasons),
        "photos": [asdict(photo) for photo in photos],
        "unshown": grounds.unshown,
        "findings": [asdict(found) for found in grounds.told()],
        "bar": BAR if held else "",
        "bar_title": held.title if held else "",
        "measured": held.said if held else "",
        "limit": held.limit if held else "",
        "besides": held is not None and held.besides,
        "closed_heading": _closed_heading(part),
        "closed": [[row.way, row.by, row.figure, row.basis] for row in closed],
        "ways": [asdict(way) for way in ways_forward(subject, part)],
        "old_piece": _old_piece(subject, part),
        "cautions": [[one.says, one.do] for one in cautions],
        "footer": _footer(subject.answer),
    }
    return Sheet(data, {MARK: mark, **({BAR: held.bar} if held else {}), **files})


def _title(subject: Subject, part: PartAnswer) -> list[list[str]]:
    core = subject.answer.core
    cells = [
        ["Core", core.title],
        ["Rejection", part.title],
        ["Built to", BUILD_STANDARDS[core.build_standard]],
        ["Date", when(subject.made.isoformat())],
    ]
    return [*cells, ["For", subject.core.use]] if subject.core.use else cells


def _heading(part: PartAnswer) -> str:
    # A title with a number or a name of its own takes no article.
    named = part.title if " " in part.position else f"The {part.title[:1].lower()}{part.title[1:]}"
    said = {
        "evidence": "cannot be used again",
        "money": "costs more to keep than to replace",
        "coupling": "does not go with the other work",
    }
    return f"{named} {said[part.grounds or 'evidence']}"


def _closed_heading(part: PartAnswer) -> str:
    if part.grounds == "money":
        return "Why no way to keep it is taken"
    return "Why this closes every way to keep it"


def _plain(subject: Subject, part: PartAnswer, reasons: list[Closed]) -> str:
    """The reason in plain words: what it means for whoever does not know the trade."""
    if part.grounds == "coupling":
        return " ".join(dict.fromkeys(sentence(forced.why) for forced in part.forced_by))
    if part.grounds == "money":
        return "It could be kept, but the work on it would cost more than another piece."
    said = reasons[0].plain if reasons else ""
    nowhere = "No other piece is to be had for what the engine is worth." if part.verdict == "scrap" else ""
    return " ".join(filter(None, (said, nowhere)))


def _old_piece(subject: Subject, part: PartAnswer) -> str:
    old = part.old_piece
    if old is None:
        return ""
    value = f", {money(old.value, subject.answer.currency)}" if old.value else ""
    days = subject.engine.book.pack.keep_old_days
    kept = (
        "" if days is None else f" It is kept for {days} day{'' if days == 1 else 's'} from the date above."
    )
    return f"The old piece: {FATES[old.fate]}{value}.{kept}"


def _footer(answer: Answer) -> str:
    count, last = answer.core.evidence.count, answer.core.evidence.last
    items = f"Evidence: {count} item{'' if count == 1 else 's'}" + (f", last {when(last)}" if last else "")
    made_by = f"Rules and prices: {rules_and_prices(answer)}."
    return f"{items}. {made_by} This sheet supports a decision; it certifies nothing."
