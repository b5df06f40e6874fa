"""Whatever is on it, a sheet is one page, with nothing outside its margins."""

import io
from typing import Any

import numpy as np
import pypdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from inspect_app.model.evidence import Finding
from inspect_app.papers import Paper, Subject
from tests.bench import paper as paper_bench

from .made import DAY, SHAFT, four, pages_of, part_of, photographed, sheet_of, subject, text_of, with_part

MARGIN = 18 / 25.4
TEXTS = {
    "long": "The shaft, of which much is said here " * 30,
    "one word": "W" * 1500,
    "hebrew": "גל הארכובה סדוק בפינה העמוסה ביותר שלו. " * 12,
    "accents": "Kœnig Ångström-Żółć, façade à Çanakkale: čeština; Ελλάδα Привет " * 6,
    "markup": '#let x = 1; *bold* _it_ $x^2$ @ref <a> \\ "q" `code` // c /* d */ #image("/etc/passwd") = H '
    * 5,
}


def loaded(text: str, photos: int, findings: int) -> Subject:
    """The cracked shaft with this text wherever a person or a rule can put one."""
    core, engine = four()
    core = photographed(core, photos, caption=text).model_copy(
        update={"title": text[:400] or "x", "use": text[:300]}
    )
    common: dict[str, Any] = {"who": text[:60].strip() or "x", "when": "2026-11-10", "stage": "bench"}
    more = tuple(
        Finding(
            id=f"more-{number}",
            piece=SHAFT,
            damage="score",
            place=f"main_journal {number % 5 + 1}/surface",
            strength="seen",
            extent=text[:200],
            **common,
        )
        for number in range(findings)
    )
    core = core.model_copy(update={"evidence": (*core.evidence, *more)})
    judged = subject(core=core)
    part = part_of(judged.answer)
    first, second, *rest = part.closed
    reasons = [
        second.model_copy(
            update={
                "rule": f"rule-{number}",
                "why": text[:300] or "w",
                "basis": text[:200] or "b",
                "evidence": (f"more-{number}",),
            }
        )
        for number in range(findings)
    ]
    closed = (first.model_copy(update={"plain": text, "why": text}), second, *rest, *reasons)
    part = part.model_copy(update={"closed": closed, "title": text[:200] or "x"})
    answer = with_part(judged.answer, part)
    answer = answer.model_copy(update={"core": answer.core.model_copy(update={"title": text[:400]})})
    return Subject(answer, core, engine, judged.picture, DAY)


def inside(paper: Paper) -> bool:
    """Whether the margins left and right are white on every page."""
    pages = [np.asarray(Image.open(io.BytesIO(page)).convert("L")) for page in paper.pages]
    side = int(MARGIN * pages[0].shape[1] / 8.5) - 4
    return all(page[:, :side].min() == 255 and page[:, -side:].min() == 255 for page in pages)


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS.keys())
@pytest.mark.parametrize(("photos", "findings"), [(0, 0), (6, 30)])
def test_a_sheet_is_one_page_inside_its_margins(text: str, photos: int, findings: int) -> None:
    paper = sheet_of(loaded(text, photos, findings), pages=True)
    assert len(pages_of(paper)) == 1
    assert inside(paper)
    said = text_of(paper)
    assert said.index("Customer") < said.index("page 1 of 1")
    assert "$360" in said
    assert "0.0061" in said


def test_what_is_left_out_is_counted() -> None:
    said = text_of(sheet_of(loaded(TEXTS["long"], 6, 30)))
    assert "more findings, in the record" in said
    assert "more reasons, in the record" in said
    assert "more photos, in the record" in said


def test_six_photos_stand_on_a_sheet_that_has_room_for_them() -> None:
    paper = paper_bench.whole()
    (page,) = pypdf.PdfReader(io.BytesIO(paper.pdf)).pages
    assert len(page.images) == 6
    assert "more photo" not in text_of(paper)


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.text(min_size=1, max_size=300), st.integers(0, 3), st.integers(0, 6))
def test_any_text_prints_on_one_page(text: str, photos: int, findings: int) -> None:
    assert len(pages_of(sheet_of(loaded(text, photos, findings)))) == 1
