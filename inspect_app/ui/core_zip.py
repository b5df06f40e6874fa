"""The route by which a core goes out as a zip that any shop file takes in again."""

import shutil
import tempfile
from pathlib import Path

from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import FileResponse, PlainTextResponse, Response
from starlette.routing import Route

from inspect_app.model.problems import Problems
from inspect_app.ui import shelf

_FRESH = {"Cache-Control": "no-store"}


def address(core_id: str) -> str:
    """Where a core is fetched as a zip; ids of cores need no quoting."""
    return f"/export/{core_id}.zip"


def export_zip(request: Request) -> Response:
    """Serve a core with all its files as a zip under its id; 404 for an unknown one, 503 if it fails."""
    core_id = request.path_params["core_id"]
    cores = shelf.current()
    if cores.get(core_id) is None:
        words = "No core here has this id. The rack lists those there are."
        return PlainTextResponse(words, status_code=404, headers=_FRESH)
    folder = Path(tempfile.mkdtemp(prefix="core-out-"))
    try:
        cores.write_zip(core_id, folder / "core.zip")
    except Problems as problems:
        shutil.rmtree(folder, ignore_errors=True)
        return PlainTextResponse(str(problems), status_code=503, headers=_FRESH)
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    return FileResponse(
        folder / "core.zip",
        media_type="application/zip",
        filename=f"{core_id}.zip",
        headers=_FRESH,
        background=BackgroundTask(shutil.rmtree, folder, ignore_errors=True),
    )


ROUTES = [Route("/export/{core_id}.zip", export_zip, methods=["GET"])]
