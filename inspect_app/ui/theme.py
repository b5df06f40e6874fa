"""The colours of the screens, light and dark, from the one set of tokens."""

from pathlib import Path
from typing import Literal

from inspect_app.pictures.tokens import DARK, LIGHT

ThemeType = Literal["light", "dark"]
Option = str | int | bool | list[dict[str, str]]

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


def streamlit_options() -> dict[str, Option]:
    """Return Streamlit's theme options, keyed as `st.App.run(config=...)` wants them."""
    options: dict[str, Option] = {
        "server.enableStaticServing": True,
        "theme.fontFaces": _font_faces(),
        "theme.font": "IBM Plex Sans, sans-serif",
        "theme.headingFont": "IBM Plex Sans Condensed, IBM Plex Sans, sans-serif",
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


def _font_faces() -> list[dict[str, str]]:
    """The fonts beside the main script, as Streamlit serves them from its folder `static`."""
    families = {"IBM Plex Sans": "IBMPlexSans", "IBM Plex Sans Condensed": "IBMPlexSansCondensed"}
    weights = {"400": "Regular", "500": "Medium", "600": "SemiBold"}
    return [
        {"family": family, "url": f"app/static/fonts/{file}-{name}.woff2", "weight": weight}
        for family, file in families.items()
        for weight, name in weights.items()
    ]


def style(kind: str | None) -> str:
    """Return the style sheet for one theme, within its tags; an unknown kind is drawn light."""
    tokens = TOKENS["dark" if kind == "dark" else "light"]
    variables = "".join(f"--ia-{name}: {colour};" for name, colour in tokens.items())
    return f"<style>:root {{{variables}}}\n{_SHEET}</style>"


_SHEET = Path(__file__).with_name("look.css").read_text(encoding="utf-8")
