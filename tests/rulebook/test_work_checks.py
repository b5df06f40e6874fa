"""What the loader says of work that voids what it cannot reach, and of readings that rest on nothing."""

from pathlib import Path

import pytest

from tests.support import changed_pack, problems_of

LAP = 'clears = ["scoring"]\nvoids = ["score_depth"]'
GAP = 'id = "oil_gap"\ntitle = "gap between journal and bushing"\neach = ["journal"]\nworse = "above"'


def said(tmp_path: Path, old: str, new: str) -> list[str]:
    return [str(problem) for problem in problems_of(changed_pack(tmp_path, {old: new}))]


@pytest.mark.parametrize(
    ("voids", "reaches", "words"),
    [
        ('["rim"]', '["seal_face"]',
         'it voids "rim", and reaches no place where that is measured. '
         'Write "pocket.rim" to void it there all the same, or add pocket to reaches.'),
        ('["pocket.diameter"]', '["seal_face"]', None),
        ('["rim"]', '["seal_face", "pocket"]', None),
        ('["pocket.bore"]', '["seal_face"]', '"pocket.bore" is no quantity of this rulebook.'),
        ('["diameter", "pocket.diameter"]', '["pocket"]',
         'it voids "diameter" and "pocket.diameter". Write it once.'),
        ('["pocket.wear"]', '["pocket"]',
         'it voids "pocket.wear", which is computed: nothing is read of it. Void what it is computed from.'),
    ],
)  # fmt: skip
def test_a_void_that_can_never_take_effect_is_refused(
    tmp_path: Path, voids: str, reaches: str, words: str | None
) -> None:
    found = said(tmp_path, LAP, f'clears = ["scoring"]\nvoids = {voids}\nreaches = {reaches}')
    if words is None:
        assert found == []
    else:
        assert len(found) == 1
        assert "operation lap-face" in found[0]
        assert words in found[0]


@pytest.mark.parametrize(
    ("rests", "words"),
    [
        ("running_face.diameter", None),
        ("running_face", None),
        ("running_surface", '"running_surface" is no kind of place of this rulebook.'),
        ("running_face.width", '"running_face.width" is no quantity of this rulebook.'),
        ("journal.diameter",
         '"journal.diameter" is a place of its own part, shaft. Let the operations of shaft void it.'),
    ],
)  # fmt: skip
def test_what_a_reading_rests_on_is_a_place_of_another_part(
    tmp_path: Path, rests: str, words: str | None
) -> None:
    found = said(tmp_path, GAP, f'{GAP}\nrests_on = ["{rests}"]')
    if words is None:
        assert found == []
    else:
        assert len(found) == 1
        assert "quantity journal.oil_gap, rests_on" in found[0]
        assert words in found[0]


def test_a_computed_figure_rests_on_its_own_readings(tmp_path: Path) -> None:
    old = 'calc = { name = "wear", of = "diameter" }'
    found = said(tmp_path, old, f'{old}\nrests_on = ["flange"]')
    assert found
    assert all("it is computed, so it rests on its own readings" in text for text in found)
