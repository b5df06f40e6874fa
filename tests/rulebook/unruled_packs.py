"""The pump's pack with one more rule or reason, or without some of its reasons."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.support import changed_pack

OF_COVER = """
[[rule]]
id = "more"
part = "cover"
{each}
when = [{when}]
closes = ["{closes}"]
why = "Words."
plain = "Words."
basis = "judgement"
  [[rule.example]]
  then = "open"
"""


@cache
def shipped_book() -> Rulebook:
    """The rules that come with the program."""
    return load_rulebook(shipped("rules"))


def of_cover(when: str, each: str = "", closes: str = "own") -> str:
    """One more rule of the pump's cover."""
    return OF_COVER.format(when=when, each=f'each = ["{each}"]' if each else "", closes=closes)


def reason(text: str, part: str = "cover") -> str:
    """One more written reason."""
    return f'[[unruled]]\nid = "more"\npart = "{part}"\nwhy = "Nothing runs on this face."\n{text}\n'


def without(*names: str) -> Callable[[Path], Path]:
    """The pump's pack without some of its reasons."""

    def build(tmp_path: Path) -> Path:
        folder = changed_pack(tmp_path)
        head, *entries = (folder / "unruled.toml").read_text().split("[[unruled]]")
        kept = [text for text in entries if not any(f'id = "{name}"' in text for name in names)]
        assert len(kept) == len(entries) - len(names)
        (folder / "unruled.toml").write_text("[[unruled]]".join([head, *kept]))
        return folder

    return build
