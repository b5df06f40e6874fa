"""An engine sheet from what anybody can tell of an engine: counts by the pack's table, no size at all."""

from collections.abc import Iterator, Mapping

from inspect_app.model.problems import Problem
from inspect_app.model.sheet import EngineSheet

from .book import Rulebook
from .check_sheet import Spot, sheet_problems
from .forms_begin import BeginForm, LayoutForm
from .spots import spot

_LAYOUT = "layout"


def minimal_sheet(
    book: Rulebook,
    layout: LayoutForm,
    number: int,
    materials: Mapping[str, str],
    conventions: Mapping[str, str],
    name: tuple[str, str] = ("sheet", "Sheet"),
) -> EngineSheet:
    """The sheet of an engine of a layout with `number` of what the pack asks for; `name`: its id and title.

    `materials` by part, `conventions` by id. Raises KeyError for a number that the layout has no row for.
    """
    begin = book.pack.begin
    assert begin is not None
    rows = {row[begin.ask]: row for row in layout.counts}
    counts = rows[number]
    key = book.pack.map.layout if book.pack.map else _LAYOUT
    return EngineSheet(
        id=name[0],
        title=name[1],
        source="counts as usual for its layout; no manual was typed",
        counts=counts,
        names=layout.names,
        materials=dict(materials),
        conventions={key: layout.said.format_map(counts), **conventions},
    )


def begin_problems(book: Rulebook) -> Iterator[Problem]:
    """What is wrong with the pack's table for beginning a core: every sheet that it makes must be sound."""
    begin = book.pack.begin
    if begin is None:
        return
    here = f"{spot(book, 'pack', 'pack')}, begin"
    told = set[Problem]()
    for layout, number, materials in _made(begin):
        try:
            sheet = minimal_sheet(book, layout, number, materials, {})
        except (KeyError, ValueError, IndexError) as error:
            what = f"the words of this layout cannot be filled in ({error})."
            found = [Problem(f"{here}, layout {layout.id}", what, "Name counts in braces, each above 0.")]
        else:
            found = sheet_problems(book, sheet, _spot(f"{here}, layout {layout.id}"))
        yield from (problem for problem in found if problem not in told)
        told |= set(found)


def _spot(here: str) -> Spot:
    return lambda part, _: f"{here}, {part}"


def _made(begin: BeginForm) -> Iterator[tuple[LayoutForm, int, dict[str, str]]]:
    """Every layout and number, with materials so that each is in some sheet."""
    most = max((len(form.of) for form in begin.material), default=1)
    for layout in begin.layout:
        for row in layout.counts:
            for at in range(most):
                yield layout, row[begin.ask], {f.part: f.of[at % len(f.of)] for f in begin.material}
