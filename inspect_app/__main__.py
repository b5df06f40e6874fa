"""`python -m inspect_app` is `inspect-app`."""

import sys

from inspect_app.cli import main

sys.exit(main())
