"""The routes for papers: one serves the PDF of a paper that the answer offers, one its pages as pictures."""

import json
import threading
from collections import OrderedDict
from datetime import date
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from inspect_app.model.evidence import Photo
from inspect_app.model.problems import Problem, Problems
from inspect_app.papers import Offer, Paper, Picture, Subject, offers, print_paper
from inspect_app.ui import photo_intake, shelf
from inspect_app.ui.photo_intake import LARGE
from inspect_app.ui.shelf import Slot

IN_MEMORY = 12
_FRESH = {"Cache-Control": "no-store"}
_kept: OrderedDict[tuple[str, str], tuple[Slot, date, Paper]] = OrderedDict()
_keeping = threading.Lock()


def address(core_id: str, offer: Offer) -> str:
    """Where the PDF of a paper is served."""
    return f"/paper/{quote(core_id, safe='')}/{offer.file_name}"


def page_address(core_id: str, offer: Offer, page: int, version: str) -> str:
    """Where a page, from 1, is served as a picture; `version` makes a browser ask for what has changed."""
    return f"/paper/{quote(core_id, safe='')}/{offer.name}/{page}.png?v={version}"


def paper_of(slot: Slot, offer: Offer) -> Paper:
    """The paper of today with its pages, made once while nothing it rests on changes. Raises Problems."""
    key, today = (slot.id, offer.name), date.today()
    with _keeping:
        found = _kept.get(key)
    if found is not None and found[0] is slot and found[1] == today:
        return found[2]
    if slot.answer is None or slot.held is None or slot.engine is None:
        what = "the evidence of this core is not here."
        raise Problems([Problem("The paper", what, "Serve a shop file that holds it.")])
    subject = Subject(slot.answer, slot.held.core, slot.engine, lambda photo: _picture(slot, photo), today)
    paper = print_paper(offer, subject, pages=True)
    with _keeping:
        _kept[key] = slot, today, paper
        _kept.move_to_end(key)
        while len(_kept) > IN_MEMORY:
            _kept.popitem(last=False)
    return paper


def _picture(slot: Slot, photo: Photo) -> Picture | None:
    try:
        preview = photo_intake.preview(slot.id, photo.id, photo.sha256, LARGE)
    except Problems:
        return None
    about = json.loads(preview.about)
    return Picture(preview.content, about["width"], about["height"])


def serve_pdf(request: Request) -> Response:
    """Serve a paper as a PDF to keep; in words: 404 for none of that name, 422 where it cannot be made."""
    paper = _asked(request)
    if isinstance(paper, Response):
        return paper
    name = f"{request.path_params['core_id']}--{request.path_params['name']}.pdf"
    headers = {**_FRESH, "Content-Disposition": f'attachment; filename="{name}"'}
    return Response(paper.pdf, media_type="application/pdf", headers=headers)


def serve_page(request: Request) -> Response:
    """Serve one page of a paper as PNG; 404 in words for one that it has not."""
    paper = _asked(request)
    if isinstance(paper, Response):
        return paper
    number = request.path_params["page"]
    if not number.isascii() or not number.isdecimal() or not 1 <= int(number) <= len(paper.pages):
        return _problem(404, f"The paper has {len(paper.pages)} page(s).")
    return Response(paper.pages[int(number) - 1], media_type="image/png", headers=_FRESH)


def _asked(request: Request) -> Paper | Response:
    slot = shelf.current().get(request.path_params["core_id"])
    if slot is None:
        return _problem(404, "No core here has this id. The rack lists those there are.")
    if slot.answer is None or slot.held is None or slot.engine is None:
        return _problem(422, f"The core cannot be judged, so it has no papers. {slot.problem or ''}".strip())
    found = (one for one in offers(slot.answer) if isinstance(one, Offer))
    offer = next((one for one in found if one.name == request.path_params["name"]), None)
    if offer is None:
        return _problem(404, "No such paper is offered as things stand. The Papers page says why.")
    try:
        return paper_of(slot, offer)
    except Problems as problems:
        return _problem(422, str(problems))


def _problem(status: int, said: str) -> Response:
    return PlainTextResponse(said, status_code=status, headers=_FRESH)


ROUTES = [
    Route("/paper/{core_id}/{name}.pdf", serve_pdf, methods=["GET"]),
    Route("/paper/{core_id}/{name}/{page}.png", serve_page, methods=["GET"]),
]
