"""An open shop file in a folder of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from inspect_app.store import ShopFile, create_shop_file


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[ShopFile]:
    with create_shop_file(tmp_path / "shop.sqlite", wait_s=0.2) as opened:
        yield opened
