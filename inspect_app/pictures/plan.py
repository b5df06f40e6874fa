"""What the map of a machine is drawn from: its bays, banks, stations and positions, taken from the sheet."""

from dataclasses import dataclass
from pathlib import Path

from inspect_app.bundle import read_core
from inspect_app.pictures.banks import banks_of
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.engine import Engine, Position
from inspect_app.rulebook.forms_parts import PartForm
from inspect_app.rulebook.forms_shapes import BoxShape, MapForm, PanShape, ShaftShape, ShapeForm, SlabShape


@dataclass(frozen=True)
class Spot:
    """Where a shape is drawn: a bank and the slots of it, counted from the front."""

    bank: int
    slots: tuple[int, ...]


@dataclass(frozen=True)
class Seat:
    """One position of the machine; without spots it is listed, not drawn."""

    position: str
    title: str
    label: str
    shape: ShapeForm | None = None
    spots: tuple[Spot, ...] = ()


@dataclass(frozen=True)
class Plan:
    """The machine laid out along one line: `rows` holds the bays of each bank from the front.

    `angles` are those of the throws; `notes` say what the drawing had to assume. No rows: nothing to draw.
    """

    seats: tuple[Seat, ...]
    rows: tuple[tuple[str, ...], ...] = ()
    banks: tuple[str, ...] = ()
    stations: tuple[str, ...] = ()
    ends: tuple[str, str] = ("front", "rear")
    angles: tuple[float, ...] = ()
    throw: float = 0
    vee: float = 0
    notes: tuple[str, ...] = ()

    @property
    def is_vee(self) -> bool:
        """Whether there are two banks, drawn on both sides of the line."""
        return len(self.rows) == 2

    @property
    def drawn(self) -> tuple[Seat, ...]:
        """The seats on the map, in the order they are drawn over each other."""
        seats = [seat for seat in self.seats if seat.shape and seat.spots]
        return tuple(sorted(seats, key=lambda seat: seat.shape.layer if seat.shape else 0))

    @property
    def listed(self) -> tuple[Seat, ...]:
        """The seats that no shape draws."""
        return tuple(seat for seat in self.seats if not (seat.shape and seat.spots))


def plan_of(engine: Engine) -> Plan:
    """Lay out the machine of a sheet by the map and the shapes of its rule pack."""
    form = engine.book.pack.map
    if form is None:
        return Plan(tuple(_listed(engine, position) for position in engine.positions.values()))
    banks = banks_of(engine, form)
    rows = banks.rows
    signed = (f"{form.station_sign}{name}" for name in engine.indices(form.stations))
    return Plan(
        seats=tuple(_seat(engine, form, position, rows) for position in engine.positions.values()),
        rows=rows,
        banks=_bank_names(engine, form),
        stations=tuple(signed),
        ends=form.ends,
        angles=_angles(form, len(rows[0]), len(rows)),
        throw=form.throw,
        vee=banks.vee,
        notes=banks.notes,
    )


def plan_of_folder(folder: Path, book: Rulebook) -> Plan:
    """Lay out the machine whose core lies in a folder. Raises Problems with everything wrong in it."""
    return plan_of(Engine(book, read_core(folder).sheet))


def _listed(engine: Engine, position: Position) -> Seat:
    return Seat(position.id, position.title, engine.book.parts[position.part].title)


def _bank_names(engine: Engine, form: MapForm) -> tuple[str, ...]:
    names = engine.indices(form.banks)
    return tuple(f"{name} bank" if form.banks in engine.sheet.names else f"bank {name}" for name in names)


def _angles(form: MapForm, bays: int, banks: int) -> tuple[float, ...]:
    row = next((p for p in form.phase if (p.bays, p.banks) == (bays, banks)), None)
    if row and len(row.angles) == bays:
        return row.angles
    return tuple(360 * number / bays for number in range(bays))


def _seat(engine: Engine, form: MapForm, position: Position, rows: tuple[tuple[str, ...], ...]) -> Seat:
    part = engine.book.parts[position.part]
    shape = part.shape
    if shape is None or (len(rows) == 2 and isinstance(shape, PanShape | BoxShape)):
        return _listed(engine, position)
    spots = _spots(engine, form, part, position.index, rows)
    return Seat(position.id, position.title, shape.label or part.title, shape, spots)


def _spots(
    engine: Engine, form: MapForm, part: PartForm, index: str, rows: tuple[tuple[str, ...], ...]
) -> tuple[Spot, ...]:
    whole = tuple(range(len(rows[0])))
    if part.positions is None:
        once = isinstance(part.shape, ShaftShape)
        return tuple(Spot(bank, whole) for bank in range(1 if once else len(rows)))
    if part.positions == form.bays:
        return tuple(Spot(bank, (row.index(index),)) for bank, row in enumerate(rows) if index in row)
    if part.positions == form.banks and isinstance(part.shape, SlabShape):
        names = engine.indices(form.banks)
        at, count = names.index(index), len(names)
        if len(rows) == 2:
            return (Spot(at, whole),)
        share = tuple(slot for slot in whole if slot * count // len(whole) == at)
        return (Spot(0, share),) if share else ()
    return ()
