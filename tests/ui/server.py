"""A server process of its own for the tests: the real `serve` over made cores."""

import sys
from pathlib import Path

from inspect_app.ui.serve import serve
from tests.pictures.support import plan
from tests.ui.made import judge_made
from tests.ui.made_fits import check_made
from tests.ui.made_shelf import MadeShelf

if __name__ == "__main__":
    made = MadeShelf(Path(sys.argv[1]), judge_made, lambda folder: plan("inline 4"), check_made)
    serve(made)  # type: ignore[arg-type]
