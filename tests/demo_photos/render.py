"""Render the demo photos: `python -m tests.demo_photos.render NAME ... --work FOLDER`, all without a name."""

import argparse
import hashlib
import importlib
import time
from pathlib import Path

from . import blender, phone, truth
from .shots import SHOTS

HERE = Path(__file__).parent
ROOT = HERE.parent.parent


def build(shot, samples: int | None):
    """The scene of a picture, ready to render."""
    blender.begin(samples or shot.samples)
    return importlib.import_module(f".scene_{shot.scene}", __package__).build(shot)


def sketch(shot, work: Path) -> None:
    """A quarter of the size, to see the framing; writes nothing but a PNG into the work folder."""
    build(shot, 3)
    blender.bpy.context.scene.render.resolution_percentage = 25
    blender.render(str(work / f"sketch-{shot.name}.png"))


def make(shot, work: Path, samples: int | None, anew: bool) -> None:
    """Build, render and develop if `anew`, and write the truth beside."""
    began = time.process_time()
    seen_by, drawn, cards = build(shot, samples)
    matrices = blender.matrices(seen_by)
    prepared = time.process_time() - began
    photo = ROOT / "demo_cores" / shot.core / "photos" / f"{shot.name}.jpg"
    if anew:
        raw = work / f"{shot.name}.png"
        blender.render(str(raw))
        photo.parent.mkdir(parents=True, exist_ok=True)
        phone.develop(raw, photo, shot.seed, shot.taken, **shot.phone)
    found = hashlib.sha256(photo.read_bytes()).hexdigest()
    (HERE / "truth").mkdir(exist_ok=True)
    truth.save(HERE / "truth" / f"{shot.name}.json", truth.written(shot, matrices, drawn, cards, found))
    spent = time.process_time() - began
    print(f"{shot.name}: {photo.stat().st_size / 1000:.0f} kB, {prepared:.0f} + {spent - prepared:.0f} CPU s")


def main() -> None:
    """Read the command line and render one picture after another."""
    command = argparse.ArgumentParser(description=__doc__)
    command.add_argument("names", nargs="*")
    command.add_argument("--work", type=Path, required=True, help="folder for the renders before the phone")
    command.add_argument(
        "--samples", type=int, help="rays for each pixel, instead of the picture's own number"
    )
    command.add_argument("--sketch", action="store_true", help="only a small render, to see the framing")
    command.add_argument(
        "--truth", action="store_true", help="write only the truth again, of photos that are there"
    )
    asked = command.parse_args()
    asked.work.mkdir(parents=True, exist_ok=True)
    unknown = set(asked.names) - {shot.name for shot in SHOTS}
    if unknown:
        raise SystemExit(f"no picture is called {', '.join(sorted(unknown))}")
    for shot in SHOTS:
        if not asked.names or shot.name in asked.names:
            if asked.sketch:
                sketch(shot, asked.work)
            else:
                make(shot, asked.work, asked.samples, not asked.truth)


if __name__ == "__main__":
    main()
