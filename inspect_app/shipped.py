"""Where the shipped rules and demo cores lie: beside the package in a checkout, inside it in a wheel."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped(name: str) -> Path:
    """The folder "rules" or "demo_cores" that came with the program; raises FileNotFoundError."""
    for folder in (_PACKAGE / "_data" / name, _PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the program was installed without its folder {name}")
