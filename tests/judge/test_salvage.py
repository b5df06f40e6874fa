"""What becomes of the old piece: a cracked one earns no core credit."""

from inspect_app.model.evidence import Evidence

from . import six

EVERYTHING = six.looks_and_tests() + six.readings()


def cracked() -> list[Evidence]:
    kept = [item for item in EVERYTHING if item.id != "crack-crankshaft"]
    return kept + six.confirmed_crack("rod_journal 2/fillet/front")


def test_a_piece_that_evidence_closed_is_scrap_even_in_an_exchange() -> None:
    part = next(p for p in six.answer(cracked()).parts if p.position == "crankshaft")
    assert (part.verdict, part.grounds, part.source) == ("replace", "evidence", "exchange")
    assert part.old_piece is not None
    assert part.old_piece.fate == "scrap"


def test_a_piece_that_stays_is_kept() -> None:
    part = next(p for p in six.answer().parts if p.position == "crankshaft")
    assert part.old_piece is not None
    assert (part.old_piece.fate, part.old_piece.value) == ("keep", 0.0)
