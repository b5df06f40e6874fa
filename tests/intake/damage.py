"""Sound inputs damaged at random: in their bytes, or in their data where they are JSON."""

import copy
import json
from collections.abc import Iterator
from typing import Any

from hypothesis import strategies as st

TOKENS = (
    b"\x00", b"\xff\xfe", b'"', b"}", b"[[", b",", b";", b"\n", b"\r", b"\t", b"=", b"#", b"'''", b"\\u0000",
    b"1e999", b"-1", b"NaN", b"9" * 400, b"../../x", b"<b>", "\u202e\u05d0".encode(), b"null", b"[]", b"{}",
    b" in", b" mm", b" lightyear", b"0.0000000001 in", b"after 9", b"\xf0\x9f\x94\xa7",
)  # fmt: skip

ODD: tuple[Any, ...] = (
    None, True, -1, 0, 10**30, 1e308, float("nan"), float("inf"), "", " ", "\x00", "x" * 10_000,
    "\u202e<b>*y*", "../../etc/passwd", [], {}, [None], [[]], {"id": 1}, "1e999 in", "-3 in", "3 kg",
    "after 99", "2026-13-45", "bore 999", "*", "/", "block",
)  # fmt: skip

_edits = st.lists(
    st.tuples(
        st.sampled_from(["set", "drop", "double", "put", "end"]),
        st.floats(0, 1, exclude_max=True),
        st.integers(0, 255),
    ),
    min_size=1,
    max_size=6,
)


def in_bytes(data: bytes) -> st.SearchStrategy[bytes]:
    """The bytes with a few of them changed, taken out, doubled, cut off, or a hostile token put between."""
    return _edits.map(lambda edits: _edited(data, edits))


def _edited(data: bytes, edits: list[tuple[str, float, int]]) -> bytes:
    for what, share, value in edits:
        at = int(share * len(data))
        match what:
            case "set":
                data = data[:at] + bytes((value,)) + data[at + 1 :]
            case "drop":
                data = data[:at] + data[at + value + 1 :]
            case "double":
                data = data[: at + value] + data[at:]
            case "put":
                data = data[:at] + TOKENS[value % len(TOKENS)] + data[at:]
            case _:
                data = data[: at + 1]
    return data


_leaf_edits = st.lists(
    st.tuples(
        st.sampled_from(["odd", "gone", "renamed", "twice", "swapped"]),
        st.floats(0, 1, exclude_max=True),
        st.floats(0, 1, exclude_max=True),
    ),
    min_size=1,
    max_size=4,
)


def in_data(text: bytes) -> st.SearchStrategy[bytes]:
    """JSON that stays JSON: values made odd, keys gone or renamed, entries twice or one for another."""
    data = json.loads(text)
    return _leaf_edits.map(lambda edits: json.dumps(_changed(copy.deepcopy(data), edits)).encode())


def _changed(data: Any, edits: list[tuple[str, float, float]]) -> Any:
    for what, share, other in edits:
        spots = list(_spots(data))
        if not spots:
            break
        holder, key = spots[int(share * len(spots))]
        match what:
            case "odd":
                holder[key] = ODD[int(other * len(ODD))]
            case "gone":
                del holder[key]
            case "renamed" if isinstance(holder, dict):
                holder[f"{key}x"] = holder.pop(key)
            case "twice" if isinstance(holder, list):
                holder.append(copy.deepcopy(holder[key]))
            case _:
                from_holder, from_key = spots[int(other * len(spots))]
                holder[key] = copy.deepcopy(from_holder[from_key])
    return data


def _spots(data: Any) -> Iterator[tuple[Any, Any]]:
    """Every place of a value: its holder and its key there."""
    entries = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in list(entries):
        yield data, key
        yield from _spots(value)
