"""A shop file in a folder of its own, a folder into which every user may look, and a small disk."""

import shutil
import subprocess
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


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 2 MB in memory. Only root may mount one; one test of a full disk needs nobody's leave."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = shutil.which("mount")
    command = [mount or "mount", "-t", "tmpfs", "-o", "size=2m,mode=0777", "tmpfs", str(folder)]
    if mount is None or subprocess.run(command, capture_output=True, check=False).returncode:
        pytest.skip("no disk can be mounted here")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)
