"""The headers every response carries: what a page may load, and that nobody may frame it."""

import base64
import hashlib
import re
from functools import cache
from pathlib import Path

import streamlit

# Streamlit's charts compile at run time and its styles are written into the page, hence the two
# "unsafe" words. Nothing is loaded from any other server: the yard often has no network, and what
# a person typed must never be able to fetch anything.
_POLICY = (
    "default-src 'self'; script-src 'self' 'unsafe-eval' blob:{hashes}; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data: blob:; media-src 'self' data: blob:; font-src 'self' data:; "
    "worker-src 'self' blob:; object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'"
)
Headers = tuple[tuple[bytes, bytes], ...]
_INLINE_SCRIPT = re.compile(rb"<script(?![^>]*\bsrc=)[^>]*>(.*?)</script>", re.DOTALL | re.IGNORECASE)


@cache
def headers() -> Headers:
    """Return names (lower case) and values of the headers that go out with every response."""
    index = Path(streamlit.__file__).parent / "static" / "index.html"
    page = index.read_bytes() if index.is_file() else b""
    return (
        (b"x-content-type-options", b"nosniff"),
        (b"referrer-policy", b"no-referrer"),
        (b"x-frame-options", b"DENY"),
        (b"content-security-policy", content_policy(page).encode()),
    )


def content_policy(page: bytes) -> str:
    """Return the policy that lets the inline scripts of `page` run, and no other inline script."""
    digests = (hashlib.sha256(script).digest() for script in _INLINE_SCRIPT.findall(page))
    hashes = (f" 'sha256-{base64.b64encode(digest).decode()}'" for digest in digests)
    return _POLICY.format(hashes="".join(hashes))
