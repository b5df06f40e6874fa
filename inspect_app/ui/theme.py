"""The colours of the screens, light and dark, from the one set of tokens."""

from pathlib import Path
from typing import Literal

from inspect_app.pictures.tokens import DARK, LIGHT

ThemeType = Literal["light", "dark"]

TOKENS: dict[ThemeType, dict[str, str]] = {"light": LIGHT.colours(), "dark": DARK.colours()}

_STREAMLIT_NAMES = {
    "backgroundColor": "paper",
    "secondaryBackgroundColor": "panel",
    "textColor": "ink",
    "primaryColor": "accent",
    "linkColor": "accent",
    "borderColor": "rule",
    "dataframeBorderColor": "rule",
    "dataframeHeaderBackgroundColor": "panel",
}


def streamlit_options() -> dict[str, str | int | bool]:
    """Return Streamlit's theme options, keyed as `st.App.run(config=...)` wants them."""
    options: dict[str, str | int | bool] = {
        "theme.baseFontSize": 17,
        "theme.baseRadius": "none",
        "theme.buttonRadius": "none",
        "theme.showWidgetBorder": True,
        "theme.linkUnderline": True,
        "theme.paddingTop": "0.5rem",
        "theme.paddingBottom": "2rem",
    }
    for kind, tokens in TOKENS.items():
        options |= {f"theme.{kind}.{name}": tokens[token] for name, token in _STREAMLIT_NAMES.items()}
    return options


def style(kind: str | None) -> str:
    """Return the style sheet for one theme, within its tags; an unknown kind is drawn light."""
    tokens = TOKENS["dark" if kind == "dark" else "light"]
    variables = "".join(f"--ia-{name}: {colour};" for name, colour in tokens.items())
    return f"<style>:root {{{variables}}}\n{_SHEET}</style>"


_SHEET = Path(__file__).with_name("look.css").read_text(encoding="utf-8")
