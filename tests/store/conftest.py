"""A shop file in a folder of its own, and a folder into which every user may look."""

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from inspect_app.store import ShopFile, create_shop_file


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[ShopFile]:
    with create_shop_file(tmp_path / "shop.sqlite", wait_s=0.2) as opened:
        yield opened


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """Where users without rights get as far as the file itself, unlike in the folders of the tests."""
    folder = Path(tempfile.mkdtemp(prefix="shop-"))
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)
