"""Killed at any moment while it writes: nothing that it said was saved is lost, and nothing is half there."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import pytest

from inspect_app.store import check_shop_file, create_shop_file, load_core, open_shop_file, picture_of

from .pumps import begin
from .writing import picture

ROOT = Path(__file__).parents[2]
Writer = subprocess.Popen[str]


@pytest.fixture
def writer() -> Iterator[Writer]:
    command = [sys.executable, "-m", "tests.store.writing"]
    with subprocess.Popen(
        command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as started:
        yield started


def pipes(writer: Writer) -> tuple[IO[str], IO[str]]:
    assert writer.stdin is not None
    assert writer.stdout is not None
    return writer.stdin, writer.stdout


def writes_until_killed(
    writer: Writer, path: Path, prefix: str, after_s: float, after_first: bool
) -> list[str]:
    """The ids that were said to be saved by a process, killed so long after it began or saved first."""
    asked, said = pipes(writer)
    asked.write(f"{path}\t{prefix}\n")
    asked.flush()
    word, number = said.readline().split()
    assert word == "process"
    saved = said.readline().split()[1:] if after_first else []
    time.sleep(after_s)
    os.kill(int(number), signal.SIGKILL)
    for line in said:
        word, *rest = line.split()
        if word == "ended":
            assert rest == ["-9"]
            break
        saved += rest
    return saved


def loses_nothing(writer: Writer, path: Path, rounds: int) -> None:
    moments, saved = random.Random(f"{path.name} {rounds}"), list[str]()
    with create_shop_file(path) as shop:
        begin(shop)
    for number in range(rounds):
        after_s, after_first = moments.uniform(0, 0.2), number % 2 == 0
        saved += writes_until_killed(writer, path, f"round-{number}", after_s, after_first)
        with open_shop_file(path) as shop:
            assert check_shop_file(shop) == []
            held = {item.id: item for item in load_core(shop, "pump-1").core.evidence}
            assert set(saved) <= set(held)
            for name, item in held.items():
                if item.kind == "photo" and name.startswith(f"round-{number}-"):
                    assert picture_of(shop, "pump-1", name) == picture(name)
            halves = {name[:-2] for name in held if name.endswith("-a")}
            assert halves == {name[:-2] for name in held if name.endswith("-b")}, "both or neither"
    assert len(saved) >= rounds / 2, "there was something to lose"


def test_killed_while_it_writes_it_loses_nothing(writer: Writer, tmp_path: Path) -> None:
    loses_nothing(writer, tmp_path / "shop.sqlite", 5)


@pytest.mark.long
def test_killed_two_hundred_times_it_loses_nothing(writer: Writer, tmp_path: Path) -> None:
    for series in range(20):
        loses_nothing(writer, tmp_path / f"shop-{series}.sqlite", 10)
