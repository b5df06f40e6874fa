"""Judging again, away from the screens: one worker takes the cores whose rows are not fresh, in turn.

The worker starts when something is wanted and ends when nothing is. What it found is kept in memory too,
so that a row is right where the shop file cannot be written, and a core on which the program fails is
tried once for each state it is in.
"""

import threading
from collections.abc import Callable, Hashable, Iterable
from typing import Generic, Protocol, TypeVar

PAUSE_S = 0.005
"""Between two cores, so that pages get their turn."""


class _Row(Protocol):
    @property
    def id(self) -> str: ...

    @property
    def fresh(self) -> bool: ...


Row = TypeVar("Row", bound=_Row)


class Again(Generic[Row]):
    """`judge` makes the fresh row of a core, raising nothing; `state` is all that its judgement rests on."""

    def __init__(self, judge: Callable[[Row], Row], state: Callable[[Row], Hashable]) -> None:
        self._judge, self._state = judge, state
        self._wanted: list[Row] = []
        self._known: dict[str, tuple[Hashable, Row]] = {}
        self._lock = threading.Lock()
        self._stopped = threading.Event()
        self._worker: threading.Thread | None = None

    def known(self, row: Row) -> Row:
        """The row itself, or what judging the core in this very state came to."""
        found = None if row.fresh else self._known.get(row.id)
        return found[1] if found is not None and found[0] == self._state(row) else row

    def want(self, rows: Iterable[Row]) -> None:
        """Have the cores of rows that are not fresh judged, in this order, before any wanted earlier."""
        wanted = {row.id: row for row in rows if not self.known(row).fresh}
        with self._lock:
            if self._stopped.is_set():
                return
            self._wanted = [*wanted.values(), *(row for row in self._wanted if row.id not in wanted)]
            if self._wanted and self._worker is None:
                self._worker = threading.Thread(target=self._work, name="judging again", daemon=True)
                self._worker.start()

    def stop(self) -> None:
        """End the worker after the core in its hands; nothing more is judged."""
        with self._lock:
            self._stopped.set()
            worker = self._worker
        if worker is not None:
            worker.join()

    def _work(self) -> None:
        while (row := self._next()) is not None:
            state = self._state(row)
            if not self.known(row).fresh:
                self._known[row.id] = (state, self._judge(row))
            self._stopped.wait(PAUSE_S)

    def _next(self) -> Row | None:
        with self._lock:
            if self._wanted and not self._stopped.is_set():
                return self._wanted.pop(0)
            self._worker = None
            return None
