"""The shelf: the cores of one folder, each with its Answer or the words of its problem.

This is the one module between the screens and the library: pages ask `current()`, and whoever starts
the server says how a folder is judged.
"""

import logging
import threading
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from inspect_app.model.answer import Answer
from inspect_app.model.fit_answer import FitAnswer
from inspect_app.model.problems import Problems
from inspect_app.pictures.plan import Plan
from inspect_app.rulebook.limits_told import LimitsTold

JudgeFolder = Callable[[Path], Answer]
LayOut = Callable[[Path], Plan]
CheckFits = Callable[[Path], FitAnswer]
TellLimits = Callable[[Path | None], LimitsTold]
_Seen = tuple[tuple[str, int, int], ...]
_log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Slot:
    """One core on the shelf: `answer`, or `problem` in words when the core cannot be judged.

    `plan` is what its map is drawn from, where whoever started the server can say it.

    `id` is the core's own id; of a core with a problem, the name of its folder.
    """

    id: str
    answer: Answer | None
    problem: str | None
    plan: Plan | None = None


class Shelf:
    """The cores in `folder`, one subfolder each, judged by `judge_folder` and again only when changed."""

    def __init__(
        self,
        folder: Path,
        judge_folder: JudgeFolder,
        lay_out: LayOut | None = None,
        check_fits: CheckFits | None = None,
        tell_limits: TellLimits | None = None,
    ) -> None:
        self.folder = folder
        self._judge_folder = judge_folder
        self._lay_out = lay_out
        self._check_fits = check_fits
        self._tell_limits = tell_limits
        self._fits: dict[Path, tuple[_Seen, FitAnswer]] = {}
        self._judged: dict[Path, tuple[_Seen, Slot]] = {}
        self._lock = threading.Lock()

    def list(self) -> tuple[Slot, ...]:
        """Return all cores in the order of their folder names; a broken one is there with its words."""
        with self._lock:
            folders = sorted(path for path in self.folder.glob("*") if path.is_dir() and path.name[0] != ".")
            self._judged = {path: self._fresh(path) for path in folders}
            return _without_twins([(path.name, slot) for path, (_, slot) in self._judged.items()])

    def get(self, core_id: str) -> Slot | None:
        """Return the core with this id, a judged one before a broken folder of that name, or None."""
        found = [slot for slot in self.list() if slot.id == core_id]
        return min(found, key=lambda slot: slot.answer is None, default=None)

    def fits(self, core_id: str) -> FitAnswer | None:
        """Return the fit check of a judged core, worked out when first asked for and when it changed.

        None for an unknown core, and where whoever started the server cannot check fits.
        """
        if self._check_fits is None:
            return None
        self.list()
        with self._lock:
            found = [
                (path, seen)
                for path, (seen, slot) in self._judged.items()
                if slot.id == core_id and slot.answer is not None
            ]
            if not found:
                return None
            path, seen = found[0]
            if path not in self._fits or self._fits[path][0] != seen:
                self._fits[path] = (seen, self._check_fits(path))
            return self._fits[path][1]

    def limits(self, core_id: str | None = None) -> LimitsTold | None:
        """Return the limits of the rules, and of a judged core those that count for it.

        None for an unknown core, and where whoever started the server cannot tell limits.
        """
        if self._tell_limits is None:
            return None
        if core_id is None:
            return self._tell_limits(None)
        self.list()
        with self._lock:
            judged = {slot.id: path for path, (_, slot) in self._judged.items() if slot.answer is not None}
        return self._tell_limits(judged[core_id]) if core_id in judged else None

    def _fresh(self, path: Path) -> tuple[_Seen, Slot]:
        seen = _fingerprint(path)
        before = self._judged.get(path)
        return before if before and before[0] == seen else (seen, self._judge(path))

    def _judge(self, path: Path) -> Slot:
        try:
            answer = self._judge_folder(path)
            plan = self._lay_out(path) if self._lay_out else None
        except Problems as problems:
            return Slot(path.name, None, str(problems))
        except OSError as error:
            return Slot(path.name, None, f"{path.name}: cannot be read ({error.strerror}).")
        except Exception as error:
            # One core that trips the program must not take the others from the rack.
            log_fault(path.name, error)
            return Slot(path.name, None, _fault(error))
        return Slot(answer.core.id, answer, None, plan)


def _fingerprint(folder: Path) -> _Seen:
    stats = ((path, path.stat()) for path in sorted(folder.rglob("*")) if path.is_file())
    return tuple((str(path.relative_to(folder)), stat.st_mtime_ns, stat.st_size) for path, stat in stats)


def log_fault(what: str, error: Exception) -> None:
    """Write one line about an error nobody expected: what failed, the error, the file and line."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    _log.error("%s: %r in %s, line %s", what, error, Path(last.filename).name, last.lineno)


def _fault(error: Exception) -> str:
    return (
        f"The program failed on this core ({type(error).__name__}); that is a fault of the program, not of "
        "your records. The window it runs in says where: report that line."
    )


def _without_twins(named: list[tuple[str, Slot]]) -> tuple[Slot, ...]:
    first: dict[str, str] = {}
    slots = []
    for name, slot in named:
        if slot.answer is not None and first.setdefault(slot.id, name) != name:
            words = f'Core "{slot.id}" is in the folder {first[slot.id]} already.'
            slot = Slot(name, None, f"{words} Give one of them another id.")
        slots.append(slot)
    return tuple(slots)


_current: Shelf | None = None


def use(shelf: Shelf) -> None:
    """Set the shelf that all pages and routes of this process show."""
    global _current
    _current = shelf


def current() -> Shelf:
    """Return the shelf of this process; `RuntimeError` before `use` was called."""
    if _current is None:
        raise RuntimeError("no shelf is set: start the app with `inspect-app serve`")
    return _current
