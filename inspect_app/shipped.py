"""Where the shipped rules, demo cores and manual lie: in a checkout beside the package, in a wheel inside."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped(name: str) -> Path:
    """The folder "rules" or "demo_cores" that came with the program; raises FileNotFoundError."""
    for folder in (_PACKAGE / "_data" / name, _PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the program was installed without its folder {name}")


def manual_page(name: str) -> Path:
    """The page of the manual with this name, without its ending; raises FileNotFoundError for any other."""
    pages = {page.stem: page for page in (_PACKAGE / "help").glob("*.md")}
    if name not in pages:
        raise FileNotFoundError(f'the manual has no page "{name}"; it has {", ".join(sorted(pages))}')
    return pages[name]


def fonts() -> Path:
    """The folder of the fonts, as woff2, that screens and papers share."""
    return _PACKAGE / "ui" / "static" / "fonts"
