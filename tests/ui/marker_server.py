"""A server for the tests of the marker: a drawn photo by a route, and a page that stores what arrives."""

from io import BytesIO
from pathlib import Path

import streamlit as st
from PIL import Image, ImageDraw
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from inspect_app.ui import theme
from inspect_app.ui.serve import free_port

SIZE = (1600, 1200)


def photo(_: Request) -> Response:
    picture = Image.new("RGB", SIZE, "#6b6258")
    pen = ImageDraw.Draw(picture)
    for x in range(0, SIZE[0], 100):
        pen.line((x, 0, x, SIZE[1]), fill="#8a7f70", width=3)
    for y in range(0, SIZE[1], 100):
        pen.line((0, y, SIZE[0], y), fill="#8a7f70", width=3)
    file = BytesIO()
    picture.save(file, "PNG")
    return Response(file.getvalue(), media_type="image/png", headers={"Cache-Control": "max-age=600"})


if __name__ == "__main__":
    port = free_port()
    app = st.App(Path(__file__).with_name("marker_page.py"), routes=[Route("/test-photo.png", photo)])
    print(f"http://localhost:{port}", flush=True)
    app.run(
        config={
            "server.address": "127.0.0.1",
            "server.port": port,
            "server.headless": True,
            "server.fileWatcherType": "none",
            "browser.gatherUsageStats": False,
            "client.toolbarMode": "minimal",
            "logger.hideWelcomeMessage": True,
            **theme.streamlit_options(),
        }
    )
