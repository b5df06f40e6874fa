"""Find Debian's Chromium for the browser tests; without one they fail with the command to type."""

import os
import shutil

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]


def chromium_path() -> str:
    """Return the program `$CHROMIUM` names, else `chromium` on PATH; raises with what to type."""
    named = os.environ.get("CHROMIUM")
    found = shutil.which(named or "chromium")
    if found:
        return found
    if named:
        raise FileNotFoundError(f'CHROMIUM names "{named}", which is not a program. Correct it, or unset it.')
    raise FileNotFoundError(
        "The browser tests need Chromium. Type: apt-get update && apt-get install -y chromium "
        "(or set CHROMIUM to the program of one that is there)."
    )
