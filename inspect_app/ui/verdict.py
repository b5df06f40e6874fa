"""The Verdict: the answer about one core, its money, and every part with the reasons."""

from collections import Counter
from urllib.parse import quote

from inspect_app.model.answer import Answer
from inspect_app.pictures.plan import Plan
from inspect_app.ui import blocks, drawings, money_view, parts_view, words
from inspect_app.ui.choice import chosen_core
from inspect_app.ui.markup import Html, lines, tag


def page() -> None:
    """Draw the page for the core named by `?core=ID`, else for the first on the shelf."""
    slot = chosen_core()
    if slot is not None and slot.answer is not None:
        _draw(slot.answer, slot.plan)


def _draw(answer: Answer, plan: Plan | None) -> None:
    core = answer.core
    waits = words.sentence(f"waits for: {core.waits_for}") if core.waits_for else ""
    told = lines(core.why, money_view.hope(answer), waits, *core.notes)
    said = tag("div", blocks.heading(words.core_verdict(core)), told)
    money = tag("div", money_view.choices(answer))
    blocks.show(
        tag(
            "div",
            blocks.title_block(answer, "Verdict"),
            tag("div", said, money, cls="ia-two"),
            blocks.section(_parts_counted(answer)),
            drawings.map_place(plan),
            parts_view.parts(answer),
            blocks.section("Bill"),
            money_view.bill(answer),
            lines(_to_the_fits(core.id)),
            cls="ia-page",
        )
    )
    drawings.show(drawings.drawings(answer, plan, drawings.ground()))


def _to_the_fits(core_id: str) -> Html:
    return tag("a", "Fit check of this core", href=f"/fits?core={quote(core_id, safe='')}")


def _parts_counted(answer: Answer) -> str:
    counts = Counter(words.verdict(part.verdict) for part in answer.parts)
    order = (*words.VERDICTS.values(), words.NOT_JUDGED)
    counted = ", ".join(f"{counts[name]} {name.lower()}" for name in order if counts[name])
    return f"Parts: {counted}" if counted else "Parts: none"
