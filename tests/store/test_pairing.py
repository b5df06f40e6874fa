"""Paired phones in the shop file: kept through a restart, revoked for good, and never in the way."""

import shutil
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy.exc import IntegrityError

from inspect_app.store import (
    DiskFull,
    PairedPhone,
    ReadOnly,
    ShopFile,
    add_paired,
    back_up,
    create_shop_file,
    find_paired,
    note_seen,
    open_shop_file,
    paired_phones,
    restore,
    revoke_paired,
)

from .test_read_only import without_rights

NOON = datetime(2031, 5, 4, 12, tzinfo=UTC)
PHONE = PairedPhone("ab" * 32, "B. Tester", NOON, NOON, NOON + timedelta(days=30))
OTHER = replace(PHONE, token_sha256="cd" * 32, name="C. Tester", made=NOON + timedelta(seconds=1))


def test_a_paired_phone_is_found_again_after_a_restart(shop: ShopFile) -> None:
    add_paired(shop, PHONE)
    shop.close()
    with open_shop_file(shop.path) as again:
        assert find_paired(again, PHONE.token_sha256) == PHONE
        assert find_paired(again, OTHER.token_sha256) is None


def test_phones_are_listed_as_they_came_without_the_revoked(shop: ShopFile) -> None:
    add_paired(shop, OTHER)
    add_paired(shop, PHONE)
    assert paired_phones(shop) == (PHONE, OTHER)
    revoke_paired(shop, PHONE.token_sha256, NOON)
    revoke_paired(shop, "unknown", NOON)
    assert find_paired(shop, PHONE.token_sha256) is None
    assert paired_phones(shop) == (OTHER,)


def test_the_same_secret_is_not_kept_twice(shop: ShopFile) -> None:
    add_paired(shop, PHONE)
    revoke_paired(shop, PHONE.token_sha256, NOON)
    with pytest.raises(IntegrityError):
        add_paired(shop, PHONE)
    assert find_paired(shop, PHONE.token_sha256) is None


def test_the_time_last_seen_only_goes_forward(shop: ShopFile) -> None:
    add_paired(shop, PHONE)
    later = NOON + timedelta(minutes=5)
    note_seen(shop, PHONE.token_sha256, later)
    note_seen(shop, PHONE.token_sha256, NOON)
    assert find_paired(shop, PHONE.token_sha256) == replace(PHONE, seen=later)


def test_a_file_that_cannot_be_written_lists_its_phones_still(open_folder: Path) -> None:
    path = open_folder / "shop.sqlite"
    with create_shop_file(path) as shop:
        add_paired(shop, PHONE)
    path.chmod(0o444)
    with without_rights(), open_shop_file(path) as shop:
        assert paired_phones(shop) == (PHONE,)
        for write in (
            lambda: add_paired(shop, OTHER),
            lambda: note_seen(shop, PHONE.token_sha256, NOON + timedelta(hours=1)),
            lambda: revoke_paired(shop, PHONE.token_sha256, NOON),
        ):
            with pytest.raises(ReadOnly):
                write()


def test_a_full_disk_is_told_and_leaves_the_phones(small_disk: Path) -> None:
    with create_shop_file(small_disk / "shop.sqlite") as shop:
        add_paired(shop, PHONE)
        (small_disk / "filler").write_bytes(b"x" * shutil.disk_usage(small_disk).free)
        big = replace(OTHER, name="x" * 500_000)
        with pytest.raises(DiskFull):
            add_paired(shop, big)
        assert paired_phones(shop) == (PHONE,)


def test_a_restored_backup_lets_no_phone_in(shop: ShopFile, tmp_path: Path) -> None:
    add_paired(shop, PHONE)
    back_up(shop, tmp_path / "backup.sqlite")
    revoke_paired(shop, PHONE.token_sha256, NOON)
    shop.close()
    restore(tmp_path / "backup.sqlite", shop.path)
    with open_shop_file(shop.path) as restored:
        assert paired_phones(restored) == ()
    with open_shop_file(tmp_path / "backup.sqlite") as backup:
        assert paired_phones(backup) == (PHONE,), "the backup stays as it is"
