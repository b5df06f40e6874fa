import hashlib

from inspect_app.shipped import fonts

FONTS = fonts()
DIGESTS = {
    "IBMPlexSans-Bold.woff2": "fa7130d854a660b39a7fc9e6e0f2dc23dba5f1346e2adea3e1fe37b6d884133d",
    "IBMPlexSans-Medium.woff2": "5660f8a658f8bb50dbc005232f885eadffd2bc1c235c4f6fbb63469d1f9cde6d",
    "IBMPlexSans-Regular.woff2": "ba711a3085ff9f27440b6b9c4550cfc47c97bf36591d5da958b975bb3add8c1a",
    "IBMPlexSans-SemiBold.woff2": "f78048030eab62e860efa39a0df79e2e5581bf122eb95b9bc42c0b8a4988d205",
    "IBMPlexSansCondensed-Bold.woff2": "e1481c7a925b4bfb31bcbff09182b43d5f1c1eab7834a2b6ac51ac75b8c3f9a1",
    "IBMPlexSansCondensed-Medium.woff2": "eb93da02ace70c39e4c4e811b8b02dd5f5d4804d186202d6668bea60d22f57d0",
    "IBMPlexSansCondensed-Regular.woff2": "a71a56e516751883cb7877112d39f9c13b92c2dc15caaf00277b7f9d941d673a",
    "IBMPlexSansCondensed-SemiBold.woff2": "385a082a1eac88343eab01fb6746be04b7175dacaf4550b17dee76ea0f78126d",
    "IBMPlexSansHebrew-Bold.woff2": "4a2181ea6604ad78e1e46806b8f83a31c072d2495d8b274ea41fdad212727cd4",
    "IBMPlexSansHebrew-Regular.woff2": "9e56b8035b123978d479e50c6fcccaebc462888dc49902d8572f7869210a077e",
}


def test_the_fonts_are_there_unmodified() -> None:
    """Their licence reserves the name: a changed file would have to be called otherwise."""
    found = {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in FONTS.glob("*.woff2")}
    assert found == DIGESTS


def test_the_licence_lies_beside_them() -> None:
    assert "SIL OPEN FONT LICENSE Version 1.1" in (FONTS / "LICENSE.txt").read_text(encoding="utf-8")
    notice = (FONTS / "NOTICE").read_text(encoding="utf-8")
    for said in ("SIL Open Font License, Version 1.1", "unmodified", "1.1.0", "2.0.0", "Copyright (c) 2017"):
        assert said in notice
