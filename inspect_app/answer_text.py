"""An Answer as text for the terminal: a table of positions, then what is missing and the bill."""

from collections.abc import Iterator

from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.ui import words

_HEAD = ("Position", "Verdict", "Ways", "Cost", "Because", "Missing")


def answer_text(answer: Answer) -> str:
    """The whole answer for a reader, lines joined by newlines."""
    return "\n".join(_lines(answer))


def _lines(answer: Answer) -> Iterator[str]:
    core = answer.core
    built = words.BUILD_STANDARDS[core.build_standard].lower()
    yield f"{core.title} ({core.id}): {words.core_verdict(core)}"
    yield core.why
    last = f", last {core.evidence.last}" if core.evidence.last else ""
    stage = words.STAGES[core.stage].lower()
    yield f"Built to: {built}. Stage: {stage}. Evidence: {core.evidence.count} items{last}."
    yield ""
    yield from _table([_HEAD, *(_row(part) for part in answer.parts)])
    yield ""
    if core.not_judged:
        yield f"Not judged, costed at the cheapest way left: {', '.join(core.not_judged)}."
    yield from core.notes
    yield from _bill(answer)


def _row(part: PartAnswer) -> tuple[str, ...]:
    verdict = words.part_verdict(part)
    if part.verdict == "replace" and part.source:
        verdict += f", {words.source(part.source, part.kind)}"
    taken = "; ".join(words.way(way) for way in part.ways)
    cost = "" if part.cost is None else f"{part.cost.mean:,.0f}"
    return part.position, verdict, taken, cost, words.because(part), " ".join(words.open_points(part))


def _table(rows: list[tuple[str, ...]]) -> Iterator[str]:
    """Columns padded to their widest cell, the last as it is; the cost to the right."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEAD) - 1)]
    for number, row in enumerate(rows):
        cells = [
            cell.rjust(width) if name == "Cost" else cell.ljust(width)
            for cell, width, name in zip(row, widths, _HEAD, strict=False)
        ]
        yield "  ".join([*cells, row[-1]]).rstrip()
        if number == 0:
            yield "  ".join("-" * width for width in [*widths, len(_HEAD[-1])])


def _bill(answer: Answer) -> Iterator[str]:
    yield f"Bill, {answer.currency} ({answer.prices.title}, {answer.prices.date}):"
    for line in answer.bill:
        yield f"  {line.mean:>10,.2f}  {line.quantity:g} x {line.line}"
    cost = answer.core.cost
    ends = f"all low {cost.low:,.0f}, all high {cost.high:,.0f}"
    yield f"  {cost.mean:>10,.2f}  in all, on average ({ends})"
