import pytest

from inspect_app.model.money import money
from inspect_app.pictures import words
from inspect_app.ui import figures
from tests.judge import six


@pytest.mark.parametrize(
    ("amount", "currency", "said"),
    [
        (1830.4, "USD", "$1,830"),
        (-120, "EUR", "−€120"),
        (0.004, "GBP", "£0"),
        (0.005, "GBP", "£0.01"),
        (0.99, "USD", "$0.99"),
        (0.995, "USD", "$1"),
        (12, "CHF", "CHF\u00a012"),
    ],
)
def test_money_is_said_in_one_way(amount: float, currency: str, said: str) -> None:
    assert money(amount, currency) == said
    assert words.money is figures.money is money


def test_the_core_says_its_money_as_the_screens_do() -> None:
    answer = six.answer()
    assert answer.core.why.endswith("In parts it brings $300. Letting it go leaves $0.")
    assert answer.currency not in answer.core.why
