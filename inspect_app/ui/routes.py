"""The server's own routes: the Answer of a core, the core as a zip, papers, photos, the page of pairing."""

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from inspect_app.ui import core_zip, pair_page, paper_routes, photo_routes, shelf

_FRESH = {"Cache-Control": "no-store"}


def answer_json(request: Request) -> Response:
    """Serve the Answer of the core with this id; 404 for an unknown one, 422 for one with a problem."""
    core_id = request.path_params["core_id"]
    slot = shelf.current().get(core_id)
    if slot is None:
        words = f'No core here has the id "{core_id}". The rack lists those there are.'
        return JSONResponse({"problem": words}, status_code=404, headers=_FRESH)
    if slot.answer is None:
        return JSONResponse({"problem": slot.problem}, status_code=422, headers=_FRESH)
    return Response(slot.answer.model_dump_json(), media_type="application/json", headers=_FRESH)


ROUTES = [
    Route("/answer/{core_id}.json", answer_json, methods=["GET"]),
    *photo_routes.ROUTES,
    *core_zip.ROUTES,
    *paper_routes.ROUTES,
    Route(pair_page.PATH, pair_page.pair, methods=["GET", "POST"]),
]
