"""Money in words, as screens, drawings and the sentences of an answer all write it."""

_SYMBOLS = {"USD": "$", "EUR": "€", "GBP": "£"}
_MINUS, _HARD_SPACE = "\u2212", "\u00a0"


def money(amount: float, currency: str) -> str:
    """Say an amount as a whole number of the currency: 1830.4 -> "$1,830"; cents only below 1."""
    size = abs(amount)
    digits = f"{size:,.2f}" if 0.005 <= size < 0.995 else f"{size:,.0f}"
    symbol = _SYMBOLS.get(currency, f"{currency}{_HARD_SPACE}")
    sign = _MINUS if amount < 0 and digits != "0" else ""
    return f"{sign}{symbol}{digits}"
