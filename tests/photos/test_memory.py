"""The largest picture that is let through needs no more memory than is stated."""

import subprocess
import sys
from pathlib import Path

import cv2
import numpy as np
import pytest

MEASURE = """
import re, sys
from pathlib import Path
from inspect_app.photos import take_in
data = Path(sys.argv[1]).read_bytes()
taken = take_in(data, "huge")
peak = re.search(r"VmHWM:\\s+(\\d+) kB", Path("/proc/self/status").read_text())
print(taken.width, taken.height, int(peak[1]) // 1024)
"""


@pytest.mark.long
@pytest.mark.parametrize(
    ("ending", "channels", "most_mb"), [("jpg", 3, 250), ("png", 3, 850), ("png", 4, 850)]
)
def test_a_hundred_megapixels_stay_within_memory(
    ending: str, channels: int, most_mb: int, tmp_path: Path
) -> None:
    path = tmp_path / f"huge.{ending}"
    cv2.imwrite(str(path), np.full((10_000, 10_000, channels), 128, np.uint8))
    command = [sys.executable, "-c", MEASURE, str(path)]
    home = Path(__file__).parents[2]
    done = subprocess.run(command, cwd=home, capture_output=True, text=True, check=True, timeout=60)
    width, height, used_mb = map(int, done.stdout.split())
    assert (width, height) == (10_000, 10_000)
    assert used_mb <= most_mb
