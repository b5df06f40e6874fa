"""What a picture truly shows: drawn damage and cards, in mm and in pixels of the picture, as JSON."""

import json
import re
from pathlib import Path

import numpy as np

from .stage import Card, Drawn, Shot

SIZE = (1280, 960)
CONVENTION = "x right, y down, z forward; pixels count from the corner of the picture"


def project(points, matrices):
    """Pixels and distance (mm) of points of the scene."""
    k, rotation, shift = matrices
    seen = rotation @ np.atleast_2d(points).T + shift[:, None]
    flat = k @ seen
    return (flat[:2] / flat[2]).T, seen[2]


def written(shot: Shot, matrices, drawn: list[Drawn], cards: list[Card], sha256: str) -> dict:
    """The truth of one picture."""
    k, rotation, shift = (np.round(m, 6).tolist() for m in matrices)

    def entry(one: Drawn) -> dict:
        pixels, away = project(one.points, matrices)
        return {
            "what": one.what,
            "shape": one.shape,
            "sizes": one.sizes,
            "points_mm": np.round(one.points, 3).tolist(),
            "points_px": np.round(pixels, 1).tolist(),
            "distance_mm": [round(float(away.min()), 1), round(float(away.max()), 1)],
        }

    def lies(one: Card) -> dict:
        pixels, away = project(one.corners, matrices)
        return {
            "number": one.number,
            "side_mm": round(one.side, 3),
            "plane": one.plane,
            "whole": bool((pixels > 0).all() and (pixels < SIZE).all()),
            "corners_mm": np.round(one.corners, 3).tolist(),
            "corners_px": np.round(pixels, 1).tolist(),
            "distance_mm": [round(float(away.min()), 1), round(float(away.max()), 1)],
        }

    return {
        "photo": f"demo_cores/{shot.core}/photos/{shot.name}.jpg",
        "sha256": sha256,
        "made": "rendered by a computer; it shows no real engine",
        "shows": shot.shows,
        "scene": shot.scene,
        "seed": shot.seed,
        "taken": shot.taken,
        "spoilt_by": sorted(set(shot.phone) & {"shake", "dark"}),
        "size_px": list(SIZE),
        "camera": {"K": k, "R": rotation, "t_mm": shift, "convention": CONVENTION},
        "drawn": [entry(one) for one in drawn],
        "cards": [lies(one) for one in cards],
    }


def save(path: Path, truth: dict) -> None:
    """Write it, numbers that belong together on one line."""
    text = re.sub(
        r"\[\s*(-?[\d.][^\[\]\"]*?)\s*\]",
        lambda numbers: f"[{' '.join(numbers[1].split())}]",
        json.dumps(truth, indent=1),
    )
    path.write_text(text + "\n", encoding="utf-8")
