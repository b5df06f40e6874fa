"""Pairing by itself: the code, the session, its ends, and the live connections that hang on it."""

import re
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.model.problems import Problem, Problems
from inspect_app.store import create_shop_file
from inspect_app.ui.pair_code import GUESSES, LIFE, CodeDesk
from inspect_app.ui.pairing import EVERY, IDLE, LIFETIME, NotPaired, Pairing, digest_of
from inspect_app.ui.sessions import Paired, Sessions, SessionsInMemory
from inspect_app.ui.shop_sessions import ShopSessions

NOON = datetime(2031, 5, 4, 12, tzinfo=UTC)
MOMENT = timedelta(seconds=1)


class Clock:
    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> datetime:
        return self.now


class Unwritten(SessionsInMemory):
    """Sessions on a disk that may take nothing, or tell nothing."""

    writes = reads = True

    def add(self, paired: Paired) -> None:
        self._refuse(self.writes)
        super().add(paired)

    def find(self, token_sha256: str) -> Paired | None:
        self._refuse(self.reads)
        return super().find(token_sha256)

    def note_seen(self, token_sha256: str, when: datetime) -> None:
        self._refuse(self.writes)
        super().note_seen(token_sha256, when)

    def revoke(self, token_sha256: str, when: datetime) -> None:
        self._refuse(self.writes)
        super().revoke(token_sha256, when)

    def _refuse(self, works: bool) -> None:
        if not works:
            raise Problems([Problem("shop.sqlite", "the disk is full.", "Make room.")])


@pytest.fixture(params=["in memory", "in a shop file"])
def sessions(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Sessions]:
    if request.param == "in memory":
        yield SessionsInMemory()
        return
    with create_shop_file(tmp_path / "shop.sqlite") as shop:
        yield ShopSessions(shop)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def here(sessions: Sessions, clock: Clock) -> Pairing:
    return Pairing(sessions, 8501, now=clock)


def paired(here: Pairing, name: str = "B. Tester") -> str:
    """Pair a phone; the SHA-256 of its secret."""
    return digest_of(here.pair(here.make_code().text, name))


def test_the_code_begins_a_session_of_that_name(here: Pairing) -> None:
    digest = paired(here, "  B.\tTester\n ")
    assert here.phones() == (Paired(digest, "B. Tester", NOON, NOON, NOON + LIFETIME),)
    assert here.admitted(digest) == here.phones()[0]
    assert here.admitted(digest_of("another")) is None


def test_a_code_is_readable_and_the_secret_is_not_kept(here: Pairing, sessions: Sessions) -> None:
    code = here.make_code()
    assert re.fullmatch(r"[2-9A-HJKMNP-Z]{8}", code.text)
    assert code.grouped == f"{code.text[:4]} {code.text[4:]}"
    secret = here.pair(f" {code.text[:4].lower()}-{code.text[4:].lower()} ", "B")
    assert len(secret) >= 43, "256 bits"
    assert secret not in repr(sessions.all())


def test_a_code_serves_once(here: Pairing) -> None:
    code = here.make_code()
    here.pair(code.text, "B")
    assert here.code() is None
    with pytest.raises(NotPaired, match="The code does not count: it is mistyped, used already, older than"):
        here.pair(code.text, "C")


def test_of_many_at_once_one_is_paired(here: Pairing) -> None:
    code = here.make_code()
    start = threading.Barrier(8)

    def attempt(number: int) -> bool:
        start.wait()
        try:
            here.pair(code.text, f"phone {number}")
        except NotPaired:
            return False
        return True

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(attempt, range(8))) == 1
    assert len(here.phones()) == 1


@pytest.mark.parametrize(("after", "counts"), [(LIFE - MOMENT, True), (LIFE, False), (LIFE + MOMENT, False)])
def test_a_code_ends_after_its_life(here: Pairing, clock: Clock, after: timedelta, counts: bool) -> None:
    code = here.make_code()
    clock.now += after
    assert (here.code() is not None) == counts
    if counts:
        here.pair(code.text, "B")
    else:
        with pytest.raises(NotPaired):
            here.pair(code.text, "B")
    assert len(here.phones()) == counts


@pytest.mark.parametrize(("wrong", "counts"), [(GUESSES - 1, True), (GUESSES, False)])
def test_few_guesses_end_a_code(here: Pairing, wrong: int, counts: bool) -> None:
    code = here.make_code()
    for _ in range(wrong):
        with pytest.raises(NotPaired):
            here.pair("AAAA AAAA", "B")
    assert (here.code() is not None) == counts
    again = here.make_code()
    assert again.text != code.text
    here.pair(again.text, "B")


def test_a_new_code_ends_the_one_before_and_a_code_can_be_ended(here: Pairing) -> None:
    old, new = here.make_code(), here.make_code()
    with pytest.raises(NotPaired):
        here.pair(old.text, "B")
    here.end_code()
    with pytest.raises(NotPaired):
        here.pair(new.text, "B")


@given(st.text())
def test_no_other_text_is_the_code(typed: str) -> None:
    desk = CodeDesk()
    code = desk.make(NOON)
    plain = "".join(letter for letter in typed.upper() if letter.isalnum())
    assert desk.fits(typed, NOON) == (plain == code.text)


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("", "The name: it is empty. Write who uses this phone"),
        (" \t\n\x00", "The name: it is empty."),
        ("x" * 41, "The name: it has 41 characters, 40 at most are kept. Write a shorter one."),
    ],
)
def test_a_name_that_is_none_leaves_the_code(here: Pairing, name: str, told: str) -> None:
    code = here.make_code()
    with pytest.raises(NotPaired, match=re.escape(told)):
        here.pair(code.text, name)
    here.pair(code.text, "x" * 40)


def test_a_session_ends_after_its_lifetime_however_much_it_is_used(here: Pairing, clock: Clock) -> None:
    digest = paired(here)
    for _ in range(29):
        clock.now += timedelta(days=1)
        assert here.admitted(digest)
    clock.now = NOON + LIFETIME - MOMENT
    assert here.admitted(digest)
    clock.now = NOON + LIFETIME
    assert here.admitted(digest) is None
    assert here.phones() == ()


@pytest.mark.parametrize(("quiet", "counts"), [(IDLE - MOMENT, True), (IDLE, False)])
def test_a_session_ends_when_nothing_is_heard(
    here: Pairing, clock: Clock, quiet: timedelta, counts: bool
) -> None:
    digest = paired(here)
    clock.now += timedelta(days=2)
    assert here.admitted(digest)
    clock.now += quiet
    assert len(here.phones()) == counts
    assert (here.admitted(digest, heard=False) is not None) == counts
    assert (here.admitted(digest) is not None) == counts


def test_a_look_that_hears_nothing_keeps_nothing_alive(here: Pairing, clock: Clock) -> None:
    digest = paired(here)
    clock.now += timedelta(days=1)
    found = here.admitted(digest, heard=False)
    assert found is not None
    assert found.seen == NOON


def test_last_sight_is_written_once_a_minute(clock: Clock) -> None:
    written: list[datetime] = []

    class Counted(SessionsInMemory):
        def note_seen(self, token_sha256: str, when: datetime) -> None:
            written.append(when)
            super().note_seen(token_sha256, when)

    here = Pairing(Counted(), 8501, now=clock)
    digest = paired(here)
    for _ in range(150):
        clock.now += MOMENT
        assert here.admitted(digest)
    assert written == [NOON + EVERY, NOON + 2 * EVERY]


def test_a_session_outlives_the_program(sessions: Sessions, clock: Clock) -> None:
    digest = paired(Pairing(sessions, 8501, now=clock))
    assert Pairing(sessions, 8501, now=clock).admitted(digest)


def test_what_another_program_revokes_ends_within_a_minute(sessions: Sessions, clock: Clock) -> None:
    here, other = Pairing(sessions, 8501, now=clock), Pairing(sessions, 8502, now=clock)
    digest = paired(here)
    assert here.admitted(digest)
    other.revoke(digest)
    clock.now += EVERY
    assert here.admitted(digest) is None


def test_revoking_ends_a_session_and_closes_what_is_open(here: Pairing) -> None:
    digest, other = paired(here), paired(here, "C. Tester")
    closed: list[str] = []
    with here.open(digest, lambda: closed.append("one")), here.open(digest, lambda: closed.append("two")):
        with here.open(other, lambda: closed.append("other")):
            here.revoke(digest)
        assert sorted(closed) == ["one", "two"]
    assert here.admitted(digest) is None
    assert [phone.token_sha256 for phone in here.phones()] == [other]
    with here.open(digest, lambda: closed.append("late")):
        assert closed[-1] == "late"


def test_a_disk_that_takes_nothing_fails_no_request(clock: Clock, caplog: pytest.LogCaptureFixture) -> None:
    kept = Unwritten()
    here = Pairing(kept, 8501, now=clock)
    digest = paired(here)
    kept.writes = False
    for _ in range(8):
        clock.now += timedelta(days=1)
        assert here.admitted(digest), "what could not be written counts all the same"
    assert "last seen could not be kept: shop.sqlite: the disk is full." in caplog.text


def test_a_revocation_that_cannot_be_written_holds_until_the_program_ends(clock: Clock) -> None:
    kept = Unwritten()
    here = Pairing(kept, 8501, now=clock)
    digest = paired(here)
    kept.writes = False
    with pytest.raises(Problems, match="the disk is full"):
        here.revoke(digest)
    assert here.admitted(digest) is None
    assert here.phones() == ()


def test_a_disk_that_takes_nothing_pairs_nobody_and_leaves_the_code(clock: Clock) -> None:
    kept = Unwritten()
    kept.writes = False
    here = Pairing(kept, 8501, now=clock)
    code = here.make_code()
    with pytest.raises(Problems, match="the disk is full"):
        here.pair(code.text, "B")
    kept.writes = True
    assert here.admitted(digest_of(here.pair(code.text, "B")))
