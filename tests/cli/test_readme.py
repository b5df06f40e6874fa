"""The core that the README shows, made by hand as it says, is judged."""

import hashlib
import re
from pathlib import Path

from inspect_app.bundle.sheet_file import read_sheet

README = Path(__file__).parents[2] / "README.md"


def test_the_core_of_the_readme_is_judged(run, tmp_path) -> None:
    sheet, core = re.findall(r"```json\n(.*?)```", README.read_text("utf-8"), re.DOTALL)
    (tmp_path / "sheet.json").write_text(sheet, "utf-8")
    digest = hashlib.sha256((tmp_path / "sheet.json").read_bytes()).hexdigest()
    (tmp_path / "core.json").write_text(core.replace("SHA256", digest), "utf-8")
    done = run("judge", tmp_path)
    assert (done.code, done.err) == (0, "")
    assert done.out.startswith("The one from the barn (barn-1): Not judged\n")
    assert "sleeve at" in done.out


def test_the_sheet_of_the_readme_is_the_same_as_csv(run, tmp_path) -> None:
    text = README.read_text("utf-8")
    for form in ("json", "csv"):
        first = re.findall(rf"```{form}\n(.*?)```", text, re.DOTALL)[0]
        (tmp_path / f"sheet.{form}").write_text(first, "utf-8")
    assert read_sheet(tmp_path / "sheet.csv") == read_sheet(tmp_path / "sheet.json")
    assert run("sheet", tmp_path / "sheet.csv").code == 0
