"""A mark on a photo names a photo and a finding that are there, on the same piece."""

from typing import Any

import pytest

from inspect_app.model.evidence import Evidence, Finding, Photo, Region
from inspect_app.rulebook.check_regions import region_problems

COMMON: dict[str, Any] = {"who": "A.T.", "when": "2026-11-25", "stage": "bench"}
PHOTO = Photo(id="p1", piece="block", path="p.jpg", sha256="0" * 64, **COMMON)
FINDING = Finding(id="f1", piece="block", damage="crack", place="deck", strength="seen", **COMMON)


def region(**changes: Any) -> Region:
    fields = {"id": "g1", "piece": "block", "photo": "p1", "finding": "f1", "shape": "point"}
    return Region(**(fields | {"points": ((1, 1),)} | COMMON | changes))


def told(*items: Evidence) -> list[str]:
    return [str(problem) for problem in region_problems(items, lambda item: item.id)]


def test_a_mark_that_points_somewhere_is_sound() -> None:
    assert told(region(), PHOTO, FINDING) == []
    assert told(region(finding=None), PHOTO) == []


@pytest.mark.parametrize("photo", ["p2", "f1", ""])
def test_a_photo_that_is_not_there_is_told(photo: str) -> None:
    (said,) = told(region(photo=photo), PHOTO, FINDING)
    assert said == f'g1: "{photo}" is no photo of block. Name the id of a photo of the same piece.'


def test_a_finding_that_is_not_there_is_told() -> None:
    (said,) = told(region(finding="f2"), PHOTO, FINDING)
    assert said == 'g1: "f2" is no finding on block. Name the id of one on the same piece, or leave it out.'


def test_of_another_piece_both_are_told() -> None:
    assert len(told(region(piece="crankshaft"), PHOTO, FINDING)) == 2
