"""The routes for photos: one takes a photo in, one serves it by its id, small, large or as it came."""

import json
from typing import cast

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from inspect_app import photos
from inspect_app.model.problems import Problems
from inspect_app.photos import LARGEST_FILE
from inspect_app.ui import photo_intake, shelf
from inspect_app.ui.photo_intake import LARGE, SMALL, Sent

ORIGINAL = "original"
_LONGEST_NAME = 200
_FRESH = {"Cache-Control": "no-store"}
_KEPT = "private, max-age=31536000, immutable"


async def take_photo(request: Request) -> Response:
    """Take in the one photo that is the body, of the core in the path.

    Query: `position`, `state`, `who`, `name`. Answers as JSON: `said` with 200, `problem` with 404 for an
    unknown core, 413 for more than 40 MB, 422 for what is not taken, 503 where it cannot be kept.
    """
    data = await _body(request)
    if data is None:
        said = f"the file has more than {LARGEST_FILE / 1e6:.0f} MB. Save it as JPEG and send that."
        return _problem(413, said)
    return await run_in_threadpool(_take, request, data)


async def _body(request: Request) -> bytes | None:
    """The body, or None as soon as it is more than a photo can have."""
    told = request.headers.get("content-length", "")
    if told.isdecimal() and int(told) > LARGEST_FILE:
        return None
    data = bytearray()
    async for chunk in request.stream():
        data += chunk
        if len(data) > LARGEST_FILE:
            return None
    return bytes(data)


def _take(request: Request, data: bytes) -> Response:
    core_id, asked = request.path_params["core_id"], request.query_params
    slot = shelf.current().get(core_id)
    if slot is None:
        return _problem(404, f'No core here has the id "{core_id}". The rack lists those there are.')
    if slot.answer is None or slot.held is None:
        return _problem(422, f"The core cannot be judged, so nothing is entered. {slot.problem}")
    name = asked.get("name", "photo")[:_LONGEST_NAME]
    sent = Sent(asked.get("position", ""), asked.get("state", ""), asked.get("who", ""), name)
    try:
        photo, said = photo_intake.take(slot, sent, data)
    except Problems as problems:
        return _problem(422 if type(problems) is Problems else 503, str(problems))
    return JSONResponse({"photo": photo.id, "said": said}, headers=_FRESH)


def _problem(status: int, said: str) -> Response:
    return JSONResponse({"problem": said}, status_code=status, headers=_FRESH)


def serve_photo(request: Request) -> Response:
    """Serve the photo with this id of this core: `small` and `large` upright as JPEG, `original` as it came.

    404 in words for an unknown core, photo or size; 422 for one that cannot be read as a picture.
    """
    asked = request.path_params
    sha256 = shelf.current().sha256_of(asked["core_id"], asked["photo_id"])
    if sha256 is None or asked["size"] not in (SMALL, LARGE, ORIGINAL):
        return PlainTextResponse("There is no such photo here. Load the page of the part again.", 404, _FRESH)
    etag = f'"{sha256[:32]}-{asked["size"]}"'
    headers = {"ETag": etag, "Cache-Control": _KEPT, "X-Content-Type-Options": "nosniff"}
    if request.headers.get("if-none-match") == etag:
        return Response(status_code=304, headers=headers)
    try:
        content, media_type = _content(asked["core_id"], asked["photo_id"], sha256, asked["size"])
    except Problems as problems:
        return PlainTextResponse(str(problems), 422, _FRESH)
    return Response(content, media_type=media_type, headers=headers)


def _content(core_id: str, photo_id: str, sha256: str, size: str) -> tuple[bytes, str]:
    preview = photo_intake.preview(core_id, photo_id, sha256, SMALL if size == ORIGINAL else size)
    if size != ORIGINAL:
        return preview.content, photos.PREVIEW_TYPE
    media_type = cast(str, json.loads(preview.about)["media_type"])
    return shelf.current().picture(core_id, photo_id), media_type


ROUTES = [
    Route("/photos/{core_id}", take_photo, methods=["POST"]),
    Route("/photo/{core_id}/{photo_id:path}/{size}", serve_photo, methods=["GET"]),
]
