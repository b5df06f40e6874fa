"""Invented answers for the tests of the screens: each field has a value a screen must show."""

import json
from pathlib import Path
from typing import Any

from inspect_app.model import answer as a
from inspect_app.model import answer_figures as af
from inspect_app.model.problems import Problem, Problems

NASTY = '<img src=x onerror="alert(1)"> **bold** & co'


def spread(likely: float, share: float = 0.2) -> a.Spread:
    """A triangle of ±`share` around `likely`."""
    low, high = likely * (1 - share), likely * (1 + share)
    return a.Spread(low=low, likely=likely, high=high, mean=(low + likely + high) / 3)


def closed(**changes: Any) -> a.Closed:
    """A reason with a figure past its limit."""
    fields: dict[str, Any] = {
        "closes": "mains.polish",
        "rule": "taper-past-polish",
        "why": "Taper of main journal 2 is past what polishing takes out.",
        "plain": "The journal is worn to a cone; polishing cannot make it round and straight again.",
        "basis": "common practice",
        "hard": False,
        "place": "main_journal 2",
        "evidence": ("r14", "r15"),
        "measured": a.Measured(value=0.0007, unit="in", u=0.0001),
        "limit": a.LimitShown(value=0.0005, unit="in"),
        "limit_from": "pack",
        "margin": 0.0002,
        "p_beyond": 0.977,
    }
    return a.Closed(**(fields | changes))


def part(**changes: Any) -> a.PartAnswer:
    """A part kept as it is; `changes` replace fields."""
    fields: dict[str, Any] = dict.fromkeys(("fork", "old_piece", "kind"))
    fields |= dict.fromkeys(
        ("ways", "former", "options", "closed", "forced_by", "close_calls", "open_points"), ()
    )
    fields |= {
        "part": "sump",
        "position": "sump",
        "title": "Sump",
        "piece": "p7",
        "verdict": "reuse",
        "grounds": "money",
        "source": "own",
        "standing": "settled",
        "cost": spread(0),
    }
    return a.PartAnswer(**(fields | changes))


def crankshaft() -> a.PartAnswer:
    """A part replaced, with a crack that closes it, a former piece and options."""
    crack = closed(
        closes="own",
        rule="crack-in-journal-fillet",
        why="Crack in the fillet of rod journal 2: the journal cannot be ground past it.",
        plain="It can break in service, and no machining removes the crack.",
        hard=True,
        place="rod_journal 2/fillet/front",
        evidence=("f3",),
        **dict.fromkeys(("measured", "limit", "limit_from", "margin", "p_beyond")),
    )
    return part(
        part="crankshaft",
        position="crankshaft",
        title="Crankshaft",
        piece="p2",
        verdict="replace",
        grounds="evidence",
        source="used",
        kind="cast",
        cost=spread(240),
        closed=(closed(), crack),
        old_piece=a.OldPiece(piece="p2", fate="scrap", value=9),
        former=(a.Former(piece="p1", closed=("own",)),),
        options=(
            a.Option(source="used", kind="cast", ways=(), state="proven", cost=spread(240)),
            a.Option(source="new", ways=(), state="proven", cost=None),
        ),
    )


def figure(**changes: Any) -> af.FigureShown:
    """A taper past its limit; `changes` replace fields."""
    fields: dict[str, Any] = {
        "quantity": "taper",
        "title": "taper (two-point)",
        "place": "bore 1",
        "measured": a.Measured(value=0.0051, unit="in", u=0.0001),
        "worse": "above",
        "limit": a.LimitShown(value=0.0005, unit="in"),
        "limit_from": "maker",
        "decision": "simple",
        "p_beyond": 1.0,
        "state": "beyond",
    }
    return af.FigureShown(**(fields | changes))


def profile(place: str = "bore 2", **changes: Any) -> af.Profile:
    """A bore read at two of three stations, in inches, with the size it is to be cut to."""
    read = {("top", "across"): 3.4437, ("top", "along"): 3.4417, ("middle", "across"): 3.4409}
    stations, directions = ("top", "middle", "bottom"), ("across", "along")
    fields: dict[str, Any] = {
        "place": place,
        "quantity": "diameter",
        "body": "hole",
        "unit": "in",
        "stations": stations,
        "directions": directions,
        "points": tuple(
            af.ProfilePoint(station=s, direction=d, value=read.get((s, d)))
            for s in stations
            for d in directions
        ),
        "unworn": 3.4370,
        "cut_to": 3.4567,
        "cut_name": "0.020 in",
    }
    return af.Profile(**(fields | changes))


def need(place: str, low: float, usual: float, high: float, **changes: Any) -> af.SizeNeed:
    """What one place needs; the sum is told for the usual factor."""
    shown = "0.0001 + 1.5 x 0.0067 + 2 x 0.001 + 0.003 = 0.01515 in"
    fields: dict[str, Any] = {"next_size": "0.020 in", "shown": shown, "left": None}
    return af.SizeNeed(place=place, low=low, usual=usual, high=high, **(fields | changes))


def bored(size: str = "0.020 in", **changes: Any) -> af.WayTaken:
    """All bores cut to one size."""
    return af.WayTaken(concern="bores", way="bore", size=size, **changes)


def size_plan(**changes: Any) -> af.SizePlan:
    """Four bores to one size, with the next best and what would change it."""
    fields: dict[str, Any] = {
        "concern": "bores",
        "unit": "in",
        "needs": (
            need("bore 1", 0.0092, 0.01225, 0.0153),
            need("bore 2", 0.0118, 0.01515, 0.0185),
            need("bore 3", 0.0096, 0.0128, 0.016),
            need("bore 4", 0.009, 0.01195, 0.0149),
        ),
        "best": bored(),
        "cost": spread(160),
        "decided_by": "bore 2",
        "left_over": ("0.030 in", "0.040 in"),
        "runner_up": bored("0.030 in"),
        "costs_more": 12.0,
        "why_not": None,
        "flips": (af.SizeChange(of="need", what="bore 2", by=0.0082, at=0.02, then=bored("0.030 in")),),
    }
    return af.SizePlan(**(fields | changes))


def block() -> a.PartAnswer:
    """A part reconditioned, provisional on a pressure test, with a close call."""
    return part(
        part="block",
        position="block",
        title="Block",
        piece="p1",
        verdict="recondition",
        standing="provisional",
        cost=spread(260),
        ways=(a.WayTaken(concern="bores", way="bore", size="0.020", except_at=("bore 3",)),),
        fork=a.Fork(
            if_=(a.ForkIf(what="pressure test", place="jacket", answer="holds"),),
            else_=a.ForkElse(verdict="replace", source="used", cost=spread(510)),
        ),
        old_piece=a.OldPiece(piece="p1", fate="keep", value=0),
        close_calls=(
            a.CloseCall(
                rule="deck-flatness",
                place="deck",
                measured=a.Measured(value=0.0041, unit="in", u=0.0004),
                limit=a.LimitShown(value=0.004, unit="in"),
                p_beyond=0.6,
            ),
        ),
        open_points=(a.OpenPoint(what="pressure test", place="jacket", needed_for=("own",)),),
        figures=(
            figure(),
            figure(place="bore 2", measured=a.Measured(value=0.0063, unit="in", u=0.0002, bound="at_least")),
            figure(quantity="clean_up", title="clean-up size", limit=None, limit_from=None, state="no limit"),
        ),
        profiles=(profile("bore 1"), profile("bore 2")),
        size_plans=(size_plan(),),
        options=(
            a.Option(
                source="own",
                ways=(a.WayTaken(concern="bores", way="bore", size="0.020"),),
                state="open",
                cost=spread(260),
                forces=(
                    a.Forced(position="piston_set", choice="new", why="bored cylinders need the new size"),
                ),
            ),
        ),
    )


def pump() -> a.PartAnswer:
    """A part that nobody has looked at."""
    return part(
        part="oil_pump",
        position="oil_pump",
        title="Oil pump",
        verdict=None,
        grounds=None,
        source=None,
        standing=None,
        cost=None,
        open_points=(
            a.OpenPoint(what="look at the gears", place="gear *", needed_for=("own",)),
            a.OpenPoint(what="measure the end clearance", place="cover", needed_for=("own",)),
        ),
    )


def pistons() -> a.PartAnswer:
    """A part that a bored block replaces."""
    return part(
        part="piston_set",
        position="piston_set",
        title="Pistons and rings",
        verdict="replace",
        grounds="coupling",
        source="new",
        standing="provisional",
        cost=spread(312),
        forced_by=(
            a.Forced(
                position="block", choice="bores: bore to 0.020 in", why="Bored cylinders need the new size"
            ),
        ),
    )


def answer(core_id: str = "0417", **core: Any) -> a.Answer:
    """A core with one part of each kind; `core` replaces fields of its verdict."""
    fields: dict[str, Any] = {
        "id": core_id,
        "title": "0417 Brackwater Four",
        "stage": "bench",
        "build_standard": "rebuild",
        "evidence": a.EvidenceCount(count=63, last="2026-11-24"),
        "verdict": "build",
        "standing": "provisional",
        "why": "Built it leaves $520, in parts it brings $310.",
        "waits_for": "the pressure test of the jacket",
        "not_judged": ("oil_pump",),
        "cost": a.TotalCost(**spread(812).model_dump()),
        "notes": ("No price for the freight is entered.",),
    }
    return a.Answer(
        currency="USD",
        rulebook=a.RulebookUsed(version="2026.3", sha256="0" * 64),
        prices=a.PricesUsed(title="Autumn list", date="2026-10-01", sha256="1" * 64),
        core=a.CoreAnswer(**(fields | core)),
        choices=(
            a.ChoiceValue(choice="build", value=spread(520, 0.8)),
            a.ChoiceValue(choice="break", value=spread(310)),
            a.ChoiceValue(choice="let_go", value=None),
        ),
        parts=(block(), crankshaft(), pistons(), pump(), part()),
        bill=(
            a.BillLine(line="bore_to_size", quantity=4, days=2, needed_by=("block",), **_fields(260)),
            a.BillLine(line="used_crankshaft", quantity=1, days=0, needed_by=("crankshaft",), **_fields(240)),
            a.BillLine(line="piston_set", quantity=1, days=0, needed_by=("piston_set",), **_fields(312)),
        ),
    )


def _fields(likely: float) -> dict[str, Any]:
    return spread(likely).model_dump()


def put_core(shelf: Path, name: str, **core: Any) -> Path:
    """Write a folder whose core.json `judge_made` turns into `answer(**core)`."""
    folder = shelf / name
    folder.mkdir(parents=True)
    (folder / "core.json").write_text(json.dumps({"core_id": name} | core))
    return folder


def judge_made(folder: Path) -> a.Answer:
    """Stand in for the library: read the folder's core.json and answer, or say its problem."""
    fields = json.loads((folder / "core.json").read_text())
    if "problem" in fields:
        raise Problems(
            [Problem("core.json, title", fields["problem"], "Add it."), Problem("photos", "gone.", "")]
        )
    if "fault" in fields:
        raise KeyError(fields["fault"])
    if "no_word_for" in fields:
        fault = answer(fields["core_id"])
        return fault.model_copy(
            update={"core": fault.core.model_copy(update={"stage": fields["no_word_for"]})}
        )
    return answer(**fields)


def put_usual(shelf: Path) -> Path:
    """Write three judged cores and two that cannot be judged; return the shelf."""
    put_core(shelf, "0417")
    put_core(shelf, "0420", title="0420 Nasty " + NASTY, verdict=None, standing=None, waits_for=NASTY)
    put_core(
        shelf,
        "0431",
        title="0431 Harrow Six",
        verdict="break",
        standing="settled",
        waits_for=None,
        not_judged=(),
    )
    put_core(shelf, "0500-broken", problem="this key is missing.")
    put_core(shelf, "0501-fault", fault="bore 9")
    return shelf
