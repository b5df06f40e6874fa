"""The page on which a phone is paired, and the words for one that is not: ours alone, with nothing typed.

They are all that somebody without a session sees, so they are served whole, without Streamlit, under a
policy that loads nothing.
"""

import base64
import hashlib
from pathlib import Path
from urllib.parse import parse_qs, quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response

from inspect_app.model.problems import Problems
from inspect_app.pictures.tokens import DARK, LIGHT
from inspect_app.ui import pairing, who
from inspect_app.ui.markup import EMPTY, Html, join, lines, tag
from inspect_app.ui.pairing import LIFETIME, NotPaired
from inspect_app.ui.policy import Headers

PATH = "/pair"
NOT_PAIRED = "This phone is not paired: ask the person at the shop's computer for a code."
NOT_KEPT = "The shop file could not be written, so this phone was not paired. The code still counts."
_LARGEST = 4096
_HERE = Path(__file__)
_COLOURS = {
    f"{ground.name}.{name}": colour for ground in (LIGHT, DARK) for name, colour in ground.colours().items()
}
_STYLE = _HERE.with_name("pair.css").read_text("utf-8") % _COLOURS
_SCRIPT = _HERE.with_name("pair.js").read_text("utf-8")
_FORM = Html(
    '<form method="post" action="/pair">'
    '<label>Code, as the shop\'s computer shows it<input name="code" required maxlength="40" '
    'autocomplete="off" autocapitalize="characters" spellcheck="false"></label>'
    '<label>Your name or initials<input name="who" required maxlength="40" autocomplete="off"></label>'
    "<button>Pair this phone</button></form>"
)


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


_POLICY = (
    f"default-src 'none'; style-src {_hash(_STYLE)}; script-src {_hash(_SCRIPT)}; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'"
)
HEADERS: Headers = (
    (b"x-content-type-options", b"nosniff"),
    # With "no-referrer" a browser sends the form with an Origin of "null".
    (b"referrer-policy", b"same-origin"),
    (b"x-frame-options", b"DENY"),
    (b"content-security-policy", _POLICY.encode()),
)


def refused(cookie: str | None = None) -> Response:
    """The answer to whoever has no session, with the way to one; the browser is to drop `cookie`."""
    links = (
        tag("p", tag("a", "Pair this phone", href=PATH)),
        # A browser keeps the cookie back when a link from elsewhere led here.
        tag("p", tag("a", "It was paired before: open the rack again", href="/")),
    )
    answer = _page(401, "Not paired", lines(NOT_PAIRED), *links)
    if cookie is not None:
        answer.delete_cookie(cookie, path="/", httponly=True, samesite="strict")
    return answer


def unreadable() -> Response:
    """The answer while the sessions cannot be read; the phone keeps its own."""
    said = "The shop file cannot be read just now, so nobody can tell whether this phone is paired."
    return _page(503, "Not now", lines(said, "Load this page again in a moment."))


def show(told: str = "", status: int = 200) -> Response:
    """The page with its form, under words that say why the last try failed."""
    words = tag("p", told, cls="refused", role="alert") if told else EMPTY
    script = Html(f"<script>{_SCRIPT}</script>")
    return _page(status, "Pair this phone", words, _FORM, script)


async def pair(request: Request) -> Response:
    """Serve the page; on a POST of its form begin a session, hand out its cookie and lead to the rack."""
    if request.method != "POST":
        return show()
    if not _from_our_page(request):
        words = "Only the form on this server's own page pairs a phone. Open /pair in a browser.\n"
        return PlainTextResponse(words, status_code=403)
    typed = await _typed(request)
    if typed is None:
        return show("What was sent is not the form of this page. Fill it in again.", 400)
    here = pairing.current()
    try:
        secret = await run_in_threadpool(here.pair, typed.get("code", ""), typed.get("who", ""))
    except NotPaired as why:
        return show(str(why), 403)
    except Problems:
        return show(NOT_KEPT, 503)
    answer = RedirectResponse("/", status_code=303, headers={"Cache-Control": "no-store"})
    secure = request.url.scheme == "https"
    life = int(LIFETIME.total_seconds())
    # Plain http, which is what a shop's own network has, cannot carry a Secure cookie.
    answer.set_cookie(
        here.cookie, secret, max_age=life, path="/", httponly=True, samesite="strict", secure=secure
    )
    name = quote(typed["who"].strip()[: who.LONGEST], safe="")
    answer.set_cookie(who.COOKIE, name, max_age=life, path="/", samesite="strict", secure=secure)
    return answer


def _from_our_page(request: Request) -> bool:
    origin = request.headers.get("origin", "").lower()
    return origin.partition("://")[2] == request.headers["host"].lower()


async def _typed(request: Request) -> dict[str, str] | None:
    if request.headers.get("content-type", "").partition(";")[0] != "application/x-www-form-urlencoded":
        return None
    body = b""
    async for piece in request.stream():
        body += piece
        if len(body) > _LARGEST:
            return None
    try:
        fields = parse_qs(body.decode("ascii"), max_num_fields=4, errors="strict")
    except ValueError:
        return None
    return {name: values[0] for name, values in fields.items()}


def _page(status: int, title: str, *pieces: Html) -> Response:
    head = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{title}</title><style>{_STYLE}</style></head><body>"
    )
    body = tag("main", tag("h1", title), join(*pieces))
    return HTMLResponse(f"{head}{body}</body></html>", status, {"Cache-Control": "no-store"})
