"""The core that the README shows, made by hand as it says, is judged."""

import hashlib
import re
from pathlib import Path

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
