"""The rules that the screens judge by, and the shop's own entries among them, changed all or nothing."""

import threading
from collections.abc import Callable
from pathlib import Path

from inspect_app.model.frozen import Frozen
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.shop_rules import drop_entry, file_of, put_back, put_entry


class RulesInUse:
    """The rulebook that `load` reads, which includes the shop's own `folder`."""

    def __init__(self, load: Callable[[], Rulebook], folder: Path) -> None:
        self._load = load
        self._lock = threading.Lock()
        self.folder = folder
        self.book = load()

    def reload(self) -> None:
        """Read the rules again; Problems leave those in use."""
        self.book = self._load()

    def change(self, table: str, entries: tuple[Frozen, ...], drop: str) -> None:
        """Write entries, drop the one with this id, and take it into use: all or nothing.

        Raises Problems, and leaves file and rules as they were, where the whole rulebook does not bear it.
        """
        with self._lock:
            before = file_of(self.folder, table)
            try:
                for entry in entries:
                    put_entry(self.folder, table, entry)
                if drop:
                    drop_entry(self.folder, table, drop)
                self.reload()
            except Exception:
                put_back(self.folder, table, before)
                raise
