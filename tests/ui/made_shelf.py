"""A shelf of made answers, one folder each, for pages whose every word a test must choose."""

from collections.abc import Callable, Iterable
from pathlib import Path

from inspect_app.model.answer import Answer
from inspect_app.model.fit_answer import FitAnswer
from inspect_app.model.problems import Problems
from inspect_app.pictures.plan import Plan
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.limits_told import LimitsTold
from inspect_app.store.rack import row_judged
from inspect_app.ui.shelf import RackRow, Slot, fault, log_fault
from tests.support import pump_book

TellLimits = Callable[[Path | None], LimitsTold]
CheckFits = Callable[[Path], FitAnswer]


class MadeShelf:
    """What the pages ask of a shelf to show a core, answered from `folder` by the functions given."""

    def __init__(
        self,
        folder: Path,
        judge_folder: Callable[[Path], Answer],
        lay_out: Callable[[Path], Plan] | None = None,
        check_fits: CheckFits | None = None,
        tell_limits: TellLimits | None = None,
    ) -> None:
        self.folder = folder
        self._judge_folder = judge_folder
        self._lay_out = lay_out
        self._check_fits = check_fits
        self._tell_limits = tell_limits

    @property
    def book(self) -> Rulebook:
        return pump_book()

    def close(self) -> None:
        return

    def judge_again(self, rows: Iterable[RackRow]) -> None:
        assert not any(True for _ in rows), "rows of made cores are always fresh"

    def list(self) -> tuple[Slot, ...]:
        return tuple(self._slot(path) for path in sorted(self.folder.iterdir()))

    def rows(self) -> tuple[RackRow, ...]:
        return tuple(_row(slot) for slot in self.list())

    def titles(self) -> dict[str, str]:
        return {row.id: row.title for row in self.rows()}

    def get(self, core_id: str) -> Slot | None:
        path = self.folder / core_id
        return self._slot(path) if core_id in {found.name for found in self.folder.iterdir()} else None

    def fits(self, core_id: str) -> FitAnswer | None:
        return self._check_fits(self.folder / core_id) if self._check_fits else None

    def limits(self, core_id: str | None = None) -> LimitsTold | None:
        if self._tell_limits is None:
            return None
        return self._tell_limits(self.folder / core_id if core_id else None)

    def _slot(self, path: Path) -> Slot:
        try:
            answer = self._judge_folder(path)
            return Slot(answer.core.id, answer, None, self._lay_out(path) if self._lay_out else None)
        except Problems as problems:
            return Slot(path.name, None, str(problems))
        except Exception as error:
            log_fault(path.name, error)
            return Slot(path.name, None, fault(error))


def _row(slot: Slot) -> RackRow:
    if slot.answer is None:
        return RackRow(slot.id, slot.id, "bench", 1, fresh=True, judged=True, problem=slot.problem)
    core = slot.answer.core
    return row_judged(RackRow(slot.id, core.title, core.stage, 1, fresh=False), slot.answer)
