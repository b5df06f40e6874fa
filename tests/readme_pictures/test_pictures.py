"""The pictures of the README are there, small, described, and each one that the script takes."""

import io
import re
from pathlib import Path

import pytest
from PIL import Image

from .__main__ import smaller
from .shots import AT_MOST, FOLDER, SHOTS

README = Path(__file__).parents[2] / "README.md"
PICTURE = re.compile(r'<img src="([^"]+)" alt="([^"]*)" width="\d+%">')


def test_the_readme_shows_what_the_script_takes_and_nothing_else() -> None:
    shown = [source for source, _ in PICTURE.findall(README.read_text("utf-8"))]
    assert len(shown) == README.read_text("utf-8").count("<img ")
    taken = {(FOLDER / shot.file).relative_to(README.parent).as_posix() for shot in SHOTS}
    assert sorted(shown) == sorted(taken)
    assert {file.name for file in FOLDER.iterdir()} == {shot.file for shot in SHOTS}


@pytest.mark.parametrize("shot", SHOTS, ids=[shot.file for shot in SHOTS])
def test_a_picture_is_small_and_as_large_as_its_window(shot) -> None:
    file = FOLDER / shot.file
    assert file.stat().st_size <= AT_MOST
    with Image.open(file) as picture:
        picture.load()
        assert picture.width <= shot.size[0] * shot.scale
        assert min(picture.size) >= 700, "too small to read"


def test_every_picture_is_told_in_words() -> None:
    told = [words for _, words in PICTURE.findall(README.read_text("utf-8"))]
    assert all(40 <= len(words) <= 200 for words in told), told
    assert len(set(told)) == len(SHOTS)


@pytest.mark.parametrize("suffix", [".png", ".jpg"])
def test_a_picture_that_cannot_be_made_small_enough_is_refused(
    suffix: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    noise = io.BytesIO()
    Image.effect_noise((300, 300), 90).save(noise, "PNG")
    made = smaller(noise.getvalue(), suffix)
    assert Image.open(io.BytesIO(made)).size == (300, 300)
    monkeypatch.setattr("tests.readme_pictures.__main__.AT_MOST", 1000)
    with pytest.raises(ValueError, match="does not fit into 1,000 bytes"):
        smaller(noise.getvalue(), suffix)
