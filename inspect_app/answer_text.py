"""An Answer as text for the terminal: a table of positions, then what is missing and the bill."""

import textwrap
from collections.abc import Iterator
from itertools import zip_longest

from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.ui import figures, size_words, words

_HEAD = ("Position", "Verdict", "Ways", "Cost", "Because", "Missing")
_WIDTHS = (17, 18, 22, 6, 30, 32)


def answer_text(answer: Answer) -> str:
    """The whole answer for a reader, lines joined by newlines."""
    return "\n".join(_lines(answer))


def _lines(answer: Answer) -> Iterator[str]:
    core = answer.core
    built = words.BUILD_STANDARDS[core.build_standard].lower()
    yield f"{core.title} ({core.id}): {words.core_verdict(core)}"
    yield core.why
    if core.waits_for:
        yield words.sentence(f"waits for: {core.waits_for}")
    last = f", last {core.evidence.last}" if core.evidence.last else ""
    stage = words.STAGES[core.stage].lower()
    yield f"Built to: {built}. Stage: {stage}. Evidence: {core.evidence.count} items{last}."
    yield ""
    yield from _table([_HEAD, *(_row(part) for part in answer.parts)])
    yield "Cost is the mean of low, likely and high."
    yield ""
    if core.not_judged:
        named = words.places(core.not_judged)
        yield f"Not judged, and in the total at the cheapest way not closed: {named}."
    yield from core.notes
    yield from _sizes(answer)
    yield from _left_out(answer)
    yield from _half_known(answer)
    yield from _bill(answer)


def _row(part: PartAnswer) -> tuple[str, ...]:
    verdict = words.part_verdict(part)
    if part.verdict == "replace" and part.source:
        verdict += f", {words.source(part.source, part.kind)}"
    taken = words.ways(part.ways)
    cost = "" if part.cost is None else f"{part.cost.mean:,.0f}"
    missing = " ".join(words.open_points(part))
    said_once = part.verdict is None and missing
    because = "" if said_once else words.because(part)
    return part.position, verdict, taken, cost, because, missing


def _table(rows: list[tuple[str, ...]]) -> Iterator[str]:
    """Cells wrapped to the widths of their columns, rows set apart by a rule."""
    rule = "  ".join("-" * width for width in _WIDTHS)
    for row in rows:
        cells = [textwrap.wrap(cell, width) or [""] for cell, width in zip(row, _WIDTHS, strict=True)]
        for line in zip_longest(*cells, fillvalue=""):
            yield _line(line)
        yield rule


def _line(cells: tuple[str, ...]) -> str:
    """One line of a row; the cost stands to the right of its column."""
    padded = [
        cell.rjust(width) if name == "Cost" else cell.ljust(width)
        for cell, width, name in zip(cells, _WIDTHS, _HEAD, strict=True)
    ]
    return "  ".join(padded).rstrip()


def _sizes(answer: Answer) -> Iterator[str]:
    """The plan of each set of sizes, in full."""
    for part in answer.parts:
        for plan in part.size_plans:
            yield f"{part.title}, {words.plain(plan.concern)}: {size_words.heading(plan)}."
            for line in size_words.told(plan, answer.currency):
                yield textwrap.fill(line, sum(_WIDTHS), initial_indent="  ", subsequent_indent="    ")
            yield ""


def _left_out(answer: Answer) -> Iterator[str]:
    """Looks and tests that were made and do not count, each with why."""
    found = [f"  {part.title}: {words.left_out(one)}" for part in answer.parts for one in part.left_out]
    if found:
        yield "Does not count:"
        yield from found
        yield ""


def _half_known(answer: Answer) -> Iterator[str]:
    """Figures of which something is not read, beside the limit that they can still pass."""
    found = [
        f"  {part.title}, {words.place(figure.place)}, {figure.title}: "
        f"{figures.against(figure.measured, figure.limit)}"
        for part in answer.parts
        for figure in part.figures
        if figure.measured.bound != "exact" and figure.limit is not None
    ]
    if found:
        yield "Not all is read, so that these can still move:"
        yield from found
        yield ""


def _bill(answer: Answer) -> Iterator[str]:
    yield f"Bill, {answer.currency} ({answer.prices.title}, {answer.prices.date}):"
    for line in answer.bill:
        yield f"  {line.mean:>10,.2f}  {line.quantity:g} x {line.line}"
    cost = answer.core.cost
    low, high = (figures.money(end, answer.currency) for end in (cost.low, cost.high))
    ends = f"all low {low}, all high {high}"
    yield f"  {cost.mean:>10,.2f}  in all, on average ({ends})"
