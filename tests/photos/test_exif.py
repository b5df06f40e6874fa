"""The entries that are read, those that lie, and the small block that is written."""

import struct
from dataclasses import replace
from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from inspect_app.photos.exif import Exif, read_exif, small_exif

from .made import entry, exif, tiff

HALF_PAST = datetime(2026, 11, 22, 14, 5, 33)


def block(**what: object) -> bytes:
    return exif(**what).removeprefix(b"Exif\0\0")  # type: ignore[arg-type]


def changed(text: bytes) -> Exif:
    """A block whose time of change, behind its only entry, is this text."""
    return read_exif(tiff(entry(0x0132, 2, len(text), struct.pack("<I", 26))) + text)


def test_what_another_program_wrote_is_read() -> None:
    assert read_exif(block(orientation=6, captured="2026:11:22 14:05:33")) == Exif(6, "", HALF_PAST, False)
    assert read_exif(block(located=True)).located


@pytest.mark.parametrize("order", ["<", ">"])
def test_both_orders_of_bytes(order: str) -> None:
    found = read_exif(tiff(entry(0x0112, 3, 1, struct.pack(f"{order}H", 8), order), order=order))
    assert found.orientation == 8


def test_the_time_of_change_counts_where_no_time_of_capture_stands() -> None:
    assert changed(b"2026:11:22 14:05:33\0").captured == HALF_PAST


NO_TIMES = (
    b"0000:00:00 00:00:00", b"    :  :     :  :  ", b"2026:13:01 10:00:00", b"2026:02:30 10:00:00",
    b"1970:01:01 00:00:00", b"1989:12:31 23:59:59", b"2101:01:01 00:00:00", b"2026:11:22 24:00:00",
    b"2026-11-22T14:05:33", b"yesterday, I think.", b"\xff\xfe\xfd\xfc\xfb", b"\0\0\0\0\0",
)  # fmt: skip


@pytest.mark.parametrize("text", NO_TIMES)
def test_a_time_that_is_none_is_not_taken(text: bytes) -> None:
    assert changed(text + b"\0").captured is None


@pytest.mark.parametrize("text", [b"1990:01:01 00:00:00\0", b"2100:12:31 23:59:59\0"])
def test_the_first_and_the_last_year(text: bytes) -> None:
    assert changed(text).captured is not None


@pytest.mark.parametrize("broken", [b"", b"II*\0", b"what is this", tiff()[:9], tiff()[:4] + b"\xff" * 4])
def test_a_broken_block_says_nothing(broken: bytes) -> None:
    assert read_exif(broken) == Exif()


def test_directories_that_point_at_themselves_end() -> None:
    around = entry(0x8769, 4, 1, struct.pack("<I", 8)), entry(0x8825, 4, 1, struct.pack("<I", 8))
    assert read_exif(tiff(*around)) == Exif()


def test_an_entry_that_says_it_is_huge_is_not_there() -> None:
    assert read_exif(tiff(entry(0x0132, 2, 0xFFFFFFFF, struct.pack("<I", 8)))) == Exif()


def test_an_empty_location_is_none() -> None:
    to_gps = entry(0x8825, 4, 1, struct.pack("<I", 26))
    version = struct.pack("<H", 1) + entry(0, 1, 4, b"\x02\x03\0\0")
    zeros = struct.pack("<H", 1) + entry(2, 5, 3, struct.pack("<I", 44)) + bytes(28)
    assert not read_exif(tiff(to_gps) + version).located
    assert not read_exif(tiff(to_gps) + zeros).located
    assert read_exif(tiff(to_gps) + zeros[:-1] + b"\x01").located


def test_a_location_in_xmp_is_one() -> None:
    assert read_exif(b"", b"<exif:GPSLatitude>52</exif:GPSLatitude>").located
    assert not read_exif(b"", b"<dc:title>52</dc:title>").located


moments = st.none() | st.datetimes(datetime(1990, 1, 1), datetime(2100, 12, 31)).map(
    lambda moment: moment.replace(microsecond=0)
)


@given(st.integers(1, 8), moments)
def test_what_is_written_is_read_again_here_and_elsewhere(
    orientation: int, captured: datetime | None
) -> None:
    wanted = Exif(orientation, "", captured, False)
    written = small_exif(replace(wanted, located=True, claimed=""))
    assert read_exif(written) == wanted
    other = Image.Exif()
    other.load(b"Exif\0\0" + written if written else b"")
    assert other.get(0x0112, 1) == orientation
    text = other.get_ifd(0x8769).get(0x9003) if written else None
    assert text == (captured.strftime("%Y:%m:%d %H:%M:%S") if captured else None)


@given(st.binary(max_size=200))
def test_bytes_of_any_kind_are_read_without_an_error(noise: bytes) -> None:
    for start in (b"II*\0\x08\0\0\0", b"MM\0*\0\0\0\x08"):
        assert 1 <= read_exif(start + noise).orientation <= 8
