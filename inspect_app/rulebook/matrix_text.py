"""The matrices of a rulebook in plain text: a line per part, or the whole tables with their reasons."""

from collections.abc import Iterator
from itertools import count, product
from string import ascii_lowercase

from .book import Rulebook
from .matrix import Cell, Matrix, damage_matrix, figure_matrix

EMPTY = "--"
LEGEND = (
    "A number in a table is how many rules, ladders and couplings speak there; a letter is the reason",
    f"why none does, written out below the table; {EMPTY} is an empty cell, which wants a rule or a reason.",
)
_WIDTH = 4
_STEP = "|".rjust(_WIDTH)


def summary(book: Rulebook) -> Iterator[str]:
    """One line per part: how many cells of its two matrices are ruled, reasoned and empty."""
    for part in book.parts.values():
        damage, figures = damage_matrix(book, part), figure_matrix(book, part)
        text = f"{part.title}: places x damage words {_counts(damage)}"
        yield f"{text}; quantities x ways {_counts(figures)}." if figures.rows else f"{text}; no quantities."


def _counts(matrix: Matrix) -> str:
    ruled = sum(cell in matrix.ruled for cell in matrix.cells)
    empty = len(matrix.empty)
    return f"{ruled} ruled, {len(matrix.cells) - ruled - empty} with a reason, {empty} empty"


def tables(book: Rulebook) -> Iterator[str]:
    """The lines of all tables, each part's two, with the reasons below each table."""
    yield from LEGEND
    for part in book.parts.values():
        yield from _table(book, f"{part.title}: place x damage word", damage_matrix(book, part))
        figures = figure_matrix(book, part)
        if figures.rows:
            yield from _table(book, f"{part.title}: quantity x way", figures)


def _table(book: Rulebook, title: str, matrix: Matrix) -> Iterator[str]:
    marks = _marks(matrix)
    wide = max(map(len, matrix.rows))
    yield ""
    yield title
    yield ""
    for number, column in enumerate(matrix.columns):
        yield " " * wide + _STEP * number + column.rjust(_WIDTH - 1 + len(column))
    for row in matrix.rows:
        cells = (_mark(matrix, marks, (row, column)) for column in matrix.columns)
        yield row.ljust(wide) + "".join(cell.rjust(_WIDTH) for cell in cells)
    yield ""
    for reason, letter in marks.items():
        yield f"{letter.rjust(_WIDTH)}  {book.unruled[reason].why} [{reason}]"


def _marks(matrix: Matrix) -> dict[str, str]:
    """A letter for each reason, in the order of the rules' files: a to z, then aa, ab and so on."""
    names = ("".join(letters) for length in count(1) for letters in product(ascii_lowercase, repeat=length))
    return dict(zip(dict.fromkeys(matrix.reasons.values()), names, strict=False))


def _mark(matrix: Matrix, marks: dict[str, str], cell: Cell) -> str:
    if cell in matrix.ruled:
        return str(len(matrix.ruled[cell]))
    return marks[matrix.reasons[cell]] if cell in matrix.reasons else EMPTY
