"""Invented fit checks for the tests of the page: each state, each kind of window, a change, an effect."""

from pathlib import Path
from typing import Any

from inspect_app.model import fit_answer as f
from inspect_app.model.answer import RulebookUsed
from inspect_app.model.answer_figures import LimitShown, Measured
from tests.ui.made import NASTY

WINDOW = f.FitWindow(low=0.0002, high=0.0022, unit="in", whose="maker")


def fit(state: f.FitState = "inside", **changes: Any) -> f.Fit:
    """A clearance in the middle of its window; `changes` replace fields."""
    fields: dict[str, Any] = {
        "fit": "clearance",
        "title": "Bearing clearance",
        "position": "block",
        "place": "main web 2",
        "state": state,
        "known_by": "measured",
        "measured": Measured(value=0.0012, unit="in", u=0.0001),
        "window": WINDOW,
        "position_percent": 50.0,
        "p_inside": 0.9999,
        "evidence": ("r1",),
    }
    return f.Fit(**(fields | changes))


def out() -> f.Fit:
    """One that is too wide, told from parts that are not of one size, with two things to change."""
    change = f.FitChange(
        what="main journal, diameter",
        way="larger",
        least=0.0008,
        to_middle=0.0018,
        unit="in",
        how="another shaft",
        by_cutting=False,
    )
    return fit(
        "out",
        place="main web 3",
        known_by="parts",
        measured=Measured(value=0.003, unit="in", u=0.0002),
        spread=(0.0025, 0.003),
        position_percent=140.0,
        p_inside=0.0001,
        says="Too wide: oil runs out.",
        changes=(change, change.model_copy(update={"what": "seat", "way": "smaller", "to_middle": None})),
    )


def unread(place: str, what: str = "measure it") -> f.Fit:
    return fit(
        "open",
        place=place,
        known_by=None,
        measured=None,
        position_percent=None,
        p_inside=None,
        missing=(f.FitMissing(what=what),),
        evidence=(),
    )


def fits(*items: f.Fit, **changes: Any) -> f.FitAnswer:
    """A fit check with these fits, else with one of each state."""
    usual = (
        out(),
        fit("close", place="main web 4", position_percent=99.0, p_inside=0.6),
        fit(),
        fit(
            title="Lash",
            place="chamber 1",
            set_to=LimitShown(value=0.008, unit="in"),
            window=WINDOW.model_copy(update={"whose": "pack", "basis": NASTY}),
        ),
        unread("main web 1"),
        unread("main web 5"),
    )
    volume = f.Effect(effect="swept", title="Swept volume", unit="cc", before=2200.0, after=2225.7)
    lacking = f.Effect(
        effect="ratio", title="Ratio", unit="dimensionless", before=None, after=None, missing=("stroke",)
    )
    fields: dict[str, Any] = {
        "id": "0417",
        "title": "0417 Brackwater Four",
        "stage": "fit_check",
        "build_standard": "rebuild",
        "rulebook": RulebookUsed(version="2026.1", sha256="0" * 64),
        "machine": "engine",
        "fits": items or usual,
        "effects": (volume, lacking),
    }
    return f.FitAnswer(**(fields | changes))


def check_made(folder: Path) -> f.FitAnswer:
    """The usual fit check, whatever the folder."""
    return fits(id=folder.name)
