"""The colours of the screens, light and dark, told once to Streamlit and once to the style sheet."""

from pathlib import Path
from typing import Literal

ThemeType = Literal["light", "dark"]

TOKENS: dict[ThemeType, dict[str, str]] = {
    "light": {
        "paper": "#FBFCFB",
        "panel": "#EFF2F1",
        "ink": "#17222B",
        "soft": "#4F5D66",
        "accent": "#1B5563",
        "rule": "#C3CCCB",
        "reuse": "#A6D2EE",
        "recondition": "#F8DC98",
        "replace": "#D693B8",
    },
    "dark": {
        "paper": "#141A1E",
        "panel": "#1D252A",
        "ink": "#E6EBEA",
        "soft": "#A7B3B8",
        "accent": "#86C5D1",
        "rule": "#46535A",
        "reuse": "#174A6C",
        "recondition": "#7E5A0A",
        "replace": "#97567E",
    },
}

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
