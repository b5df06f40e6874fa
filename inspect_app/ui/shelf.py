"""The shelf: what the screens see and change of the shop file, and nothing else of it.

This is the one module between the screens and the store. Pages ask `current()`; whoever starts the
server says with `use` which shop file and rules it shows. A core that was loaded is kept in memory until
its evidence, its record or the rules change.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from inspect_app import store
from inspect_app.judge import fit_check
from inspect_app.model.answer import Answer
from inspect_app.model.core import Core
from inspect_app.model.evidence import Evidence, Photo
from inspect_app.model.fit_answer import FitAnswer
from inspect_app.model.frozen import Frozen
from inspect_app.model.problems import Problems
from inspect_app.model.sheet import EngineSheet
from inspect_app.pictures.plan import Plan, plan_of
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.limits_told import LimitsTold, limits_told, usual_limits
from inspect_app.rulebook.shop_rules import folder_beside
from inspect_app.store import Counted, Draft, Family, HeldCore, Imported, PhotoHeld, Preview, RackRow, Record
from inspect_app.ui.again import Again
from inspect_app.ui.faults import fault, log_fault
from inspect_app.ui.rules_in_use import RulesInUse

__all__ = [
    "Counted",
    "Draft",
    "Family",
    "HeldCore",
    "Imported",
    "PhotoHeld",
    "Preview",
    "RackRow",
    "Record",
    "Shelf",
    "Slot",
    "current",
    "fault",
    "log_fault",
    "use",
]

IN_MEMORY = 24


@dataclass(frozen=True)
class Slot:
    """One core: `answer`, or `problem` in words when it cannot be judged.

    `plan` is what its map is drawn from. `held` is the core with its sheet and evidence, and `engine` the
    rules bound to that sheet: what entries are made with. They are None only where the core cannot be read.
    """

    id: str
    answer: Answer | None
    problem: str | None
    plan: Plan | None = None
    held: HeldCore | None = None
    engine: Engine | None = None


class Shelf:
    """The cores of one shop file, judged by the rules that `load_rules` reads.

    The shop's own entries stand in `rules_folder`, which `load_rules` reads too. What writes raises
    Problems in words, of which `store` has kinds of its own (ReadOnly, DiskFull, Busy); nothing
    is written then.
    """

    def __init__(
        self, shop: store.ShopFile, load_rules: Callable[[], Rulebook], rules_folder: Path | None = None
    ) -> None:
        self.shop = shop
        self._rules = RulesInUse(load_rules, rules_folder or folder_beside(shop.path))
        self._slots: OrderedDict[str, tuple[object, Slot]] = OrderedDict()
        self._lock = threading.Lock()
        self._again = Again(self._judge_row, self._state)

    def close(self) -> None:
        """End what works beside the screens; the shop file stays open."""
        self._again.stop()

    @property
    def book(self) -> Rulebook:
        """The rules in use."""
        return self._rules.book

    @property
    def rules_folder(self) -> Path:
        """Where the shop's own entries stand."""
        return self._rules.folder

    def reload_rules(self) -> None:
        """Read the rules again, as after a change of the shop's own; Problems leave those in use."""
        self._rules.reload()

    def change_rules(self, table: str, *entries: Frozen, drop: str = "") -> None:
        """Write entries of the shop's own, drop the one with this id, and take it into use: all or nothing.

        Raises Problems, and leaves file and rules as they were, where the whole rulebook does not bear it.
        """
        self._rules.change(table, entries, drop)

    def rows(self) -> tuple[RackRow, ...]:
        """Every core by id as last judged, without judging any; what is not `fresh` wants `judge_again`."""
        return tuple(map(self._again.known, store.rack(self.shop, self.book)))

    def titles(self) -> dict[str, str]:
        """The title of every core by its id, in order; no judgement is read."""
        return store.titles(self.shop)

    def judge_again(self, rows: Iterable[RackRow]) -> None:
        """Have the cores of those rows judged that are not fresh, in this order, away from the screens."""
        self._again.want(rows)

    def families(self) -> tuple[Family, ...]:
        """The engine sheets that cores here have, one for each family."""
        return store.families(self.shop)

    def sheet_files(self) -> tuple[Path, ...]:
        """The files of engine sheets in the folder `sheets` beside the shop file, by name."""
        folder = self.shop.path.parent / "sheets"
        return tuple(sorted((*folder.glob("*.csv"), *folder.glob("*.json"))))

    def take_in(self, bundle: Path, who: str) -> Imported:
        """Bring in a core's folder or zip: all of it or nothing. Raises Problems with everything wrong."""
        return store.import_bundle(self.shop, self.book, bundle, who)

    def write_zip(self, core_id: str, target: Path) -> None:
        """Write a core as a zip that `take_in` reads back without loss. Raises Problems."""
        store.export_core_zip(self.shop, core_id, target)

    def get(self, core_id: str) -> Slot | None:
        """The core with this id, judged by all that is known now; None if there is none."""
        book = self.book
        standing = store.standing_of(self.shop, core_id)
        if standing is None:
            return None
        key = (standing, _rules(book))
        with self._lock:
            kept = self._slots.get(core_id)
        if kept is not None and kept[0] == key:
            return kept[1]
        slot = self._slot(core_id, book)
        with self._lock:
            self._slots[core_id] = (key, slot)
            self._slots.move_to_end(core_id)
            while len(self._slots) > IN_MEMORY:
                self._slots.popitem(last=False)
        return slot

    def fits(self, core_id: str) -> FitAnswer | None:
        """The fit check of a judged core; None for any other."""
        slot = self.get(core_id)
        if slot is None or slot.answer is None or slot.held is None or slot.engine is None:
            return None
        return fit_check(slot.held.core, slot.engine)

    def limits(self, core_id: str | None = None) -> LimitsTold | None:
        """The limits of the rules, and of a core those that count for it; None for an unknown core."""
        if core_id is None:
            return LimitsTold(usual_limits(self.book))
        slot = self.get(core_id)
        if slot is None or slot.held is None or slot.engine is None:
            return None
        return limits_told(slot.engine, slot.held.core.build_standard)

    def add(self, core_id: str, items: Sequence[Evidence], pictures: Iterable[bytes] = ()) -> int:
        """Write evidence, with the bytes of photos among it, all or nothing; the revision after it."""
        return store.add_evidence(self.shop, self.book, core_id, items, pictures)

    def begin(self, core: Core, sheet: EngineSheet, who: str) -> None:
        """Begin a core."""
        store.add_core(self.shop, self.book, core, sheet, who)

    def revise(self, core: Core, sheet: EngineSheet, who: str, seen: Sequence[int]) -> tuple[int, ...]:
        """Change the record or the sheet of a core that was `held` with the records `seen`.

        Two numbers come back where somebody else has changed it since: both stand until one is settled on.
        """
        return store.revise_core(self.shop, self.book, core, sheet, who, seen)

    def records(self, core_id: str) -> tuple[Record, ...]:
        """Every record ever written of a core, oldest first."""
        return store.records_of(self.shop, core_id)

    def cores_of_sheet(self, sheet_id: str) -> tuple[str, ...]:
        """The cores whose standing record has an engine sheet of this id."""
        return store.cores_of_sheet(self.shop, sheet_id)

    def photos(self, core_id: str) -> tuple[PhotoHeld, ...]:
        """Every photo of a core in the order they came, withdrawn ones too; no bytes are read."""
        return store.photos_of(self.shop, core_id)

    def picture(self, core_id: str, photo_id: str) -> bytes:
        """The original bytes of a photo. Raises Problems for an unknown one."""
        return store.picture_of(self.shop, core_id, photo_id)

    def sha256_of(self, core_id: str, photo_id: str) -> str | None:
        """The SHA-256 of a photo's bytes; None if the core has no such photo."""
        return store.sha256_of(self.shop, core_id, photo_id)

    def add_photo(self, core_id: str, photo: Photo, picture: bytes, previews: dict[str, Preview]) -> int:
        """Write a photo; the revision after it. A preview that cannot be kept is made anew when shown."""
        revision = store.add_photo(self.shop, self.book, core_id, photo, picture)
        with suppress(Problems):
            for name, preview in previews.items():
                store.keep_preview(self.shop, photo.sha256, name, preview)
        return revision

    def preview(self, sha256: str, name: str) -> Preview | None:
        """What was made from the photo with this SHA-256 under a name; None if it was not made yet."""
        return store.preview_of(self.shop, sha256, name)

    def keep_preview(self, sha256: str, name: str, preview: Preview) -> None:
        """Keep what was made from a photo."""
        store.keep_preview(self.shop, sha256, name, preview)

    def previews_about(self, core_id: str, name: str) -> dict[str, str]:
        """What is known of the previews of this name, by the SHA-256 of their photos."""
        return store.previews_about(self.shop, core_id, name)

    def drafts(self, core_id: str, photo_id: str | None = None) -> tuple[Draft, ...]:
        """The marks that are being drawn on a photo, or on all of a core, of every session."""
        return store.drafts_of(self.shop, core_id, photo_id)

    def save_draft(
        self, core_id: str, photo_id: str, session: str, revision: int, marks: Sequence[store.Mark]
    ) -> bool:
        """Keep the whole list of marks; False if what is kept is as new or newer."""
        return store.save_draft(self.shop, core_id, photo_id, session, revision, marks)

    def confirm_draft(
        self,
        core_id: str,
        photo_id: str,
        session: str,
        items: Sequence[Evidence],
        left: Sequence[store.Mark] = (),
    ) -> int:
        """Write the evidence that marks of a draft have become and keep those `left`, both or neither."""
        return store.confirm_draft(self.shop, self.book, core_id, photo_id, session, items, left)

    def _state(self, row: RackRow) -> Hashable:
        return row.record, row.records, row.revision, _rules(self.book)

    def _judge_row(self, row: RackRow) -> RackRow:
        try:
            return store.row_judged(row, store.judge_core(self.shop, self.book, row.id))
        except Problems as problems:
            return replace(row, fresh=True, judged=True, problem=str(problems))
        except Exception as error:
            log_fault(row.id, error)
            return replace(row, fresh=True, judged=True, problem=fault(error))

    def _slot(self, core_id: str, book: Rulebook) -> Slot:
        held: HeldCore | None = None
        engine: Engine | None = None
        try:
            held = store.load_core(self.shop, core_id)
            engine = Engine(book, held.sheet)
            answer = store.judge_core(self.shop, book, core_id)
            return Slot(core_id, answer, None, plan_of(engine), held, engine)
        except Problems as problems:
            return Slot(core_id, None, str(problems), None, held, engine)
        except Exception as error:
            # One core that trips the program must not take the others from the rack.
            log_fault(core_id, error)
            return Slot(core_id, None, fault(error), None, held, engine)


def _rules(book: Rulebook) -> Hashable:
    return book.sha256, book.prices_sha256, tuple(one.sha256 for one in book.overlays)


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
