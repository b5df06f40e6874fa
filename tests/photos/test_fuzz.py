"""Real files, changed at random: either a photo or words, never another error, never much time."""

from contextlib import suppress
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st

from inspect_app.model.problems import Problems
from inspect_app.photos import TakenIn, take_in, without_location

from .made import file_of, grainy, told_all


@cache
def files() -> tuple[bytes, ...]:
    told = tuple(told_all(kind) for kind in ("JPEG", "PNG", "WEBP", "HEIF"))
    clear = grainy(40, 30).convert("RGBA")
    clear.putalpha(90)
    kept = (
        file_of(clear, "WEBP", lossless=True),
        file_of(clear, "PNG"),
        file_of(grainy(64, 48), progressive=True),
    )
    return told + kept


changes = st.lists(
    st.tuples(
        st.sampled_from(["set", "flip", "drop", "double", "end"]),
        st.floats(0, 1, exclude_max=True),
        st.integers(0, 255),
        st.booleans(),
    ),
    min_size=1,
    max_size=8,
)


def changed(data: bytes, how: list[tuple[str, float, int, bool]]) -> bytes:
    """The file after each change at its place, or near its beginning, where most is decided."""
    for what, share, value, early in how:
        at = int(share * (min(len(data), 300) if early else len(data)))
        match what:
            case "set":
                data = data[:at] + bytes((value,)) + data[at + 1 :]
            case "flip":
                data = (
                    data[:at] + bytes(byte ^ (1 << value % 8) for byte in data[at : at + 1]) + data[at + 1 :]
                )
            case "drop":
                data = data[:at] + data[at + value + 1 :]
            case "double":
                data = data[: at + value] + data[at:]
            case _:
                data = data[: at + 1]
    return data


def check(number: int, how: list[tuple[str, float, int, bool]]) -> None:
    data = changed(files()[number], how)
    with suppress(Problems):
        taken = take_in(data, "a")
        assert isinstance(taken, TakenIn)
        assert min(taken.width, taken.height) >= 16
        again = take_in(without_location(data, "a"), "a")
        if taken.media_type in ("image/png", "image/heic"):
            assert again.large == taken.large, (
                "where the coded part is damaged the others decode as they like"
            )
        assert not again.located


def fuzz(examples: int) -> Any:
    quiet = [HealthCheck.too_slow, HealthCheck.data_too_large]
    return settings(max_examples=examples, deadline=2000, derandomize=True, suppress_health_check=quiet)


@fuzz(400)
@given(st.integers(0, 6), changes)
def test_changed_files_are_photos_or_have_words(number: int, how: list[tuple[str, float, int, bool]]) -> None:
    check(number, how)


@pytest.mark.long
@pytest.mark.parametrize("number", range(7))
def test_many_changed_files_are_photos_or_have_words(number: int) -> None:
    @seed(number)
    @settings(fuzz(4000), derandomize=False, database=None)
    @given(changes)
    def run(how: list[tuple[str, float, int, bool]]) -> None:
        check(number, how)

    run()


@given(
    st.binary(max_size=300),
    st.sampled_from([b"", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF\x99\0\0\0WEBP"]),
)
@settings(max_examples=200)
def test_noise_behind_a_true_beginning_has_words(noise: bytes, start: bytes) -> None:
    for function in (take_in, without_location):
        with pytest.raises(Problems):
            function(start + noise, "a")
