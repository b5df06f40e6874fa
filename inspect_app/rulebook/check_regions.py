"""Checks of marks on photos: each names a photo and a finding that the core holds, of the same piece."""

from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

from inspect_app.model.evidence import Evidence, Finding, OnPiece, Photo, Region
from inspect_app.model.problems import Problem

_Item = TypeVar("_Item", bound=OnPiece)


def region_problems(items: Iterable[Evidence], spot: Callable[[Evidence], str]) -> Iterator[Problem]:
    """A problem for each photo or finding that a region names and nobody has; `spot` says where."""
    items = tuple(items)
    photos, findings = _by_id(items, Photo), _by_id(items, Finding)
    for region in items:
        if not isinstance(region, Region):
            continue
        photo, finding = photos.get(region.photo), findings.get(region.finding or "")
        if photo is None or photo.piece != region.piece:
            what = f'"{region.photo}" is no photo of {region.piece}.'
            yield Problem(spot(region), what, "Name the id of a photo of the same piece.")
        if region.finding is not None and (finding is None or finding.piece != region.piece):
            what = f'"{region.finding}" is no finding on {region.piece}.'
            yield Problem(spot(region), what, "Name the id of one on the same piece, or leave it out.")


def _by_id(items: tuple[Evidence, ...], kind: type[_Item]) -> dict[str, _Item]:
    return {item.id: item for item in items if isinstance(item, kind)}
