"""Killed at any moment while it writes: nothing that it said was saved is lost, and nothing is half there."""

import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from inspect_app.store import check_shop_file, create_shop_file, load_core, open_shop_file, picture_of

from .pumps import begin
from .writing import picture

ROOT = Path(__file__).parents[2]


def writes_until_killed(path: Path, prefix: str, after_s: float) -> list[str]:
    """The ids that the writer said were saved before it was killed, that long after the first."""
    command = [sys.executable, "-m", "tests.store.writing", str(path), prefix]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout is not None
        said = [writer.stdout.readline()]
        time.sleep(after_s)
        writer.kill()
        said += writer.stdout.readlines()
    assert writer.returncode == -9
    whole = [line for line in said if line.endswith("\n")]
    return [name for line in whole for name in line.split()]


def loses_nothing(path: Path, rounds: int) -> None:
    moments, saved = random.Random(20261125), list[str]()
    with create_shop_file(path) as shop:
        begin(shop)
    for number in range(rounds):
        saved += writes_until_killed(path, f"round-{number}", moments.uniform(0, 0.15))
        with open_shop_file(path) as shop:
            assert check_shop_file(shop) == []
            held = {item.id: item for item in load_core(shop, "pump-1").core.evidence}
            assert set(saved) <= set(held)
            for name, item in held.items():
                if item.kind == "photo" and name.startswith(f"round-{number}-"):
                    assert picture_of(shop, "pump-1", name) == picture(name)
            halves = {name[:-2] for name in held if name.endswith("-a")}
            assert halves == {name[:-2] for name in held if name.endswith("-b")}, "both or neither"
    assert len(saved) >= rounds


def test_killed_while_it_writes_it_loses_nothing(tmp_path: Path) -> None:
    loses_nothing(tmp_path / "shop.sqlite", 5)


@pytest.mark.long
def test_killed_two_hundred_times_it_loses_nothing(tmp_path: Path) -> None:
    for series in range(20):
        loses_nothing(tmp_path / f"shop-{series}.sqlite", 10)
