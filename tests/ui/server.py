"""A server process of its own for the tests: the real `serve` over made cores."""

import sys
from pathlib import Path

from inspect_app.ui.serve import serve
from tests.pictures.support import plan
from tests.ui.made import judge_made
from tests.ui.made_fits import check_made

if __name__ == "__main__":
    serve(Path(sys.argv[1]), judge_made, lay_out=lambda folder: plan("inline 4"), check_fits=check_made)
