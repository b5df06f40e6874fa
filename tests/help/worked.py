"""Every number of the manual's worked examples, worked out by the program, under the words it stands beside.

The worked core is the demo core of the page. What the answer tells is taken from the answer; what it
keeps to itself (the doubt of one reading, the bar of a span) from the functions that made it.
"""

from functools import cache

from inspect_app.bundle import judge_folder
from inspect_app.bundle.folder import read_core
from inspect_app.closing.piece_state import PieceState
from inspect_app.closing.read_values import gauge_of, typed_size
from inspect_app.judge.present import states
from inspect_app.metrology.conformity import p_beyond
from inspect_app.metrology.estimate import Estimate, rectangular_u
from inspect_app.metrology.figure import Figure
from inspect_app.metrology.readings import COVERAGE, Value, difference_u, settle
from inspect_app.metrology.spread import Layout, chance_beyond, inside_threshold, threshold
from inspect_app.metrology.temperature import Coefficient, correction, correction_soaked
from inspect_app.model.answer import Answer, PartAnswer
from inspect_app.model.answer_figures import FigureShown, SizePlan
from inspect_app.model.evidence import Reading, standing
from inspect_app.model.frozen import BuildStandard
from inspect_app.model.places import Place
from inspect_app.rulebook.engine import Engine
from inspect_app.rulebook.forms_quantities import QuantityForm
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped

CORE = "brackwater-four"
BORE = Place("bore", "2")
INCH = 25.4
WARM_C = 31.0
"""The temperature of the page's what-if; the readings of the core itself name none."""

Numbers = dict[str, float]


@cache
def answer() -> Answer:
    return judge_folder(shipped("demo_cores") / CORE, engine().book)


@cache
def engine() -> Engine:
    return Engine(load_rulebook(shipped("rules")), read_core(shipped("demo_cores") / CORE).sheet)


@cache
def block_state() -> PieceState:
    core = read_core(shipped("demo_cores") / CORE).core
    return states(core, engine(), tuple(standing(core.evidence)))[0]["block"]


def block() -> PartAnswer:
    return next(part for part in answer().parts if part.position == "block")


def readings() -> list[Reading]:
    """The diameters read in the bore, in the order of the core's file."""
    core = read_core(shipped("demo_cores") / CORE).core
    return [e for e in core.evidence if isinstance(e, Reading) and e.place == str(BORE) and e.setting]


def shown(quantity: str) -> FigureShown:
    return next(f for f in block().figures if f.quantity == quantity and f.place == str(BORE))


def plan() -> SizePlan:
    return block().size_plans[0]


def of_the_reading() -> Numbers:
    first, form = readings()[0], engine().book.gauges["dial bore gauge"]
    assert (first.setting, first.value, form.division) == ("3.4370 in", "+68", "0.0001 in")
    return {
        "Setting": 3.4370,
        "Dial, top, across": 68,
        "One division": 0.0001,
        "Size": typed_size(first, engine(), "bore") / INCH,
    }


def divisions() -> dict[str, list[float]]:
    """By station, what the dial showed across and along."""
    found: dict[str, list[float]] = {}
    for item in readings():
        found.setdefault(item.station, []).append(float(item.value))
    return found


def value(reading: Reading, typed: float) -> Value:
    gauge = gauge_of(reading, engine(), "length")
    return Value(typed, gauge.own, gauge.common, "one", (f"{typed}",))


def of_the_doubt() -> Numbers:
    one, other = (value(item, 0.0) for item in readings()[:2])
    return {
        "Own": one.own / INCH,
        "Common": one.common / INCH,
        "One size": one.u / INCH,
        "Difference of two, one session": difference_u(one, other) / INCH,
    }


def of_the_warmth() -> Numbers:
    book, size = engine().book, typed_size(readings()[0], engine(), "bore")
    metals = (engine().material("block") or "", book.gauges["dial bore gauge"].material or "")
    part, gauge = (Coefficient(*book.materials[name].expansion) for name in metals)
    doubt = rectangular_u(book.pack.thermometer_half_width)
    warm = Estimate(WARM_C, doubt)
    apart = correction(size, part, gauge, warm, Estimate(20.0))
    soaked = correction_soaked(size, part, gauge, warm)
    return {
        "Too large by, gauge kept at 20\u00a0°C": apart.value / INCH,
        "Its standard uncertainty, gauge kept at 20\u00a0°C": apart.u / INCH,
        "Too large by, soaked together": soaked.value / INCH,
        "Its standard uncertainty, soaked together": soaked.u / INCH,
    }


def of_the_repeats() -> Numbers:
    first = readings()[0]
    typed = typed_size(first, engine(), "bore")
    one, other, far = (value(first, typed + more * 0.00254) for more in (0, 1, 3))
    (settled,) = settle([one, other])
    assert len(settle([one, far])) == 2, "three divisions apart are a conflict"
    return {
        "Two readings agree up to": COVERAGE * difference_u(one, other) / INCH,
        "+68 and +69 settle at": settled.value / INCH,
        "Own of the settled value": settled.own / INCH,
        "Common of the settled value": settled.common / INCH,
    }


def of_the_spans() -> Numbers:
    own, taper, oval = value(readings()[0], 0).own, shown("taper"), shown("out_of_round")
    assert taper.limit is not None
    limit, layout = taper.limit.value, Layout(3, 2)
    at = divisions()
    across, along = ([at[s][d] for s in ("top", "middle", "bottom")] for d in (0, 1))
    bars = {rate: threshold(layout, own, limit * INCH, rate) for rate in (0.5, 0.05)}
    wider = chance_beyond(limit * INCH, layout, own, limit * INCH)
    inside = inside_threshold(layout, own, limit * INCH, 0.05)
    assert isinstance(wider, float)
    assert isinstance(inside, float)
    return {
        "Taper, across": (max(across) - min(across)) / 1e4,
        "Taper, along": (max(along) - min(along)) / 1e4,
        "Taper": taper.measured.value,
        "Out-of-round, top": abs(at["top"][0] - at["top"][1]) / 1e4,
        "Out-of-round, middle": abs(at["middle"][0] - at["middle"][1]) / 1e4,
        "Out-of-round, bottom": abs(at["bottom"][0] - at["bottom"][1]) / 1e4,
        "Out-of-round": oval.measured.value,
        "Limit of taper": limit,
        "Limit of out-of-round": oval.limit.value if oval.limit else 0,
        "A bore at its limit reads past the limit itself": 100 * (1 - wider),
        "Bar of a simple decision": _number(bars[0.5]) / INCH,
        "Bar of a guarded decision": _number(bars[0.05]) / INCH,
        "Guarded, proven inside below": inside / INCH,
        "Share of bores at the limit that read less than ours": 100 * (taper.p_beyond or 0),
    }


def _number(found: object) -> float:
    assert isinstance(found, float)
    return found


def of_the_wear() -> Numbers:
    worn = shown("wear")
    figures = block_state().scene.figures
    base = engine().book.quantities[("diameter", "bore")]
    assert worn.limit is not None
    return {
        "Largest size": typed_size(readings()[0], engine(), "bore") / INCH,
        "Unworn size": figures.unworn(base, BORE).lo / INCH,
        "Wear": worn.measured.value,
        "Its standard uncertainty": worn.measured.u,
        "Limit of wear": worn.limit.value,
        "Chance beyond": 100 * (worn.p_beyond or 0),
    }


def of_the_decision() -> Numbers:
    """What the chance would be of other amounts of wear, with the doubt of this one."""
    worn = shown("wear")
    assert worn.limit is not None
    limit, u = worn.limit.value, worn.measured.u
    return {f"{read:.4f} in": 100 * p_beyond(read, u, limit, "above") for read in WOULD_BE}


WOULD_BE = (0.0027, 0.0029, 0.0030, 0.0031, 0.0033)


def of_the_rules() -> Numbers:
    found = [reason for reason in block().closed if reason.place == str(BORE) and reason.margin is not None]
    return {f"`{reason.rule}`": reason.margin or 0 for reason in found}


def of_the_clean_up() -> Numbers:
    need = next(need for need in plan().needs if need.place == str(BORE))
    terms = block_state().scene.figures.clean_up_terms(clean_up_form(), BORE)
    step, worn, depth = (term for term in terms if isinstance(term, Figure))
    return {
        "Present step": step.lo / INCH,
        "Wear": worn.lo / INCH,
        "Depth of the score": depth.lo / INCH,
        "Stock for finishing": terms[3] / INCH,
        "Clean-up at k = 1": need.low or 0,
        "Clean-up at k = 1.5": need.usual or 0,
        "Clean-up at k = 2": need.high or 0,
        "Next listed size": float((need.next_size or "0 in").split()[0]),
    }


def clean_up_form() -> QuantityForm:
    return engine().book.quantities[("clean_up", "bore")]


def of_the_wall() -> Numbers:
    keep = next(c for c in engine().book.parts["block"].concern if c.id == "bores").keep
    assert keep is not None
    step = block_state().scene.figures.step("diameter", BORE)
    wall = engine().limit("wall", "bore", answer().core.build_standard)
    assert wall is not None
    return {
        "Wall that 0.020 in takes off a side": keep.loses * (0.020 - step.lo / INCH),
        "Least wall": wall.value / INCH,
    }


def of_the_plan() -> Numbers:
    found = plan()
    need = next(change for change in found.flips if change.of == "need")
    assert found.runner_up is not None
    return {
        "Best": float((found.best.size or "0").split()[0]),
        "Its cost, mean": found.cost.mean,
        "Next best": float((found.runner_up.size or "0").split()[0]),
        "It costs more by": found.costs_more or 0,
        f"Flips if {need.what} needs more by": need.by,
    }


def needs() -> dict[str, list[float]]:
    return {need.place: [need.low or 0, need.usual or 0, need.high or 0] for need in plan().needs}


def of_the_standards() -> dict[str, list[float]]:
    """By row of the page's table: what counts to run, to freshen, to rebuild."""
    standards: tuple[BuildStandard, ...] = ("run", "freshen", "rebuild")
    rows = {
        "Taper of a bore": ("taper", "bore"),
        "Wear of a bore": ("wear", "bore"),
        "Out-of-round of a main journal": ("out_of_round", "main_journal"),
    }
    found: dict[str, list[float]] = {}
    for title, (quantity, kind) in rows.items():
        limits = [engine().limit(quantity, kind, standard) for standard in standards]
        found[title] = [limit.value / INCH for limit in limits if limit]
    return found
