"""What is said and logged of an error that nobody expected."""

import logging
import traceback
from pathlib import Path

_log = logging.getLogger(__name__)


def log_fault(what: str, error: Exception) -> None:
    """Write one line about an error nobody expected: what failed, the error, the file and line."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    _log.error("%s: %r in %s, line %s", what, error, Path(last.filename).name, last.lineno)


def fault(error: Exception) -> str:
    """The words for a core on which the program fails."""
    return (
        f"The program failed on this core ({type(error).__name__}); that is a fault of the program, not of "
        "your records. The window it runs in says where: report that line."
    )
