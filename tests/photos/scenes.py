"""Scenes as a phone might see them, in grey, 2048 by 1536 px; blurred, moved, in little light, with noise."""

from collections.abc import Callable

import cv2
import numpy as np
from numpy.typing import NDArray

from inspect_app.photos.cv import Picture, as_jpeg, decoded

WIDTH, HEIGHT = 2048, 1536
Grey = NDArray[np.float32]
Scene = Callable[[np.random.Generator], Grey]


def clutter(random: np.random.Generator) -> Grey:
    """Things of every size on top of each other."""
    grey = np.full((HEIGHT, WIDTH), 120, np.float32)
    for _ in range(2500):
        radius = 1 / (1 / 6 + random.random() * (1 / 300 - 1 / 6))
        centre = int(random.integers(WIDTH)), int(random.integers(HEIGHT))
        axes = int(radius), int(radius * random.uniform(0.4, 1))
        tilt, tone = float(random.uniform(0, 180)), float(random.uniform(40, 210))
        cv2.ellipse(grey, centre, axes, tilt, 0, 360, tone, -1, cv2.LINE_AA)
    return grey


def casting(random: np.random.Generator) -> Grey:
    """A skin of every roughness with pits."""
    grey = np.full((HEIGHT, WIDTH), 125, np.float32)
    for step in (1, 2, 4, 8, 16, 32, 64):
        layer = random.normal(0, 6 * step**0.6, (HEIGHT // step, WIDTH // step)).astype(np.float32)
        grey += cv2.resize(layer, (WIDTH, HEIGHT), interpolation=cv2.INTER_CUBIC)
    for _ in range(30):
        centre = int(random.integers(WIDTH)), int(random.integers(HEIGHT))
        cv2.circle(grey, centre, int(random.integers(3, 30)), 40, -1, cv2.LINE_AA)
    return grey


def bore(random: np.random.Generator) -> Grey:
    """Smooth walls, few edges."""
    down, across = np.mgrid[:HEIGHT, :WIDTH]
    down, across = down - HEIGHT / 2, across - WIDTH / 2
    distance = np.hypot(across, down)
    grey = (90 + 70 * np.cos(2 * np.arctan2(down, across))).astype(np.float32)
    grey[distance > 600], grey[distance > 900] = 160, 70
    for _ in range(8):
        axes = (int(random.integers(200, 590)),) * 2
        start, end, tone = (float(random.uniform(*ends)) for ends in ((0, 180), (180, 360), (40, 200)))
        cv2.ellipse(grey, (WIDTH // 2, HEIGHT // 2), axes, 0, start, end, tone, 2, cv2.LINE_AA)
    return grey


SCENES: dict[str, Scene] = {scene.__name__: scene for scene in (clutter, casting, bore)}


def defocused(grey: Grey, radius: float) -> Grey:
    """Spread over discs of this radius, in pixels of the size at which hints are measured (half of here)."""
    half = int(2 * radius) + 1
    down, across = np.mgrid[-half : half + 1, -half : half + 1]
    disc = np.clip(2 * radius + 0.5 - np.hypot(across, down), 0, 1)
    return cv2.filter2D(grey, -1, (disc / disc.sum()).astype(np.float32)).astype(np.float32)


def moved(grey: Grey, length: int) -> Grey:
    """Spread along a slanting line of this length, in the same pixels."""
    line = np.zeros((2 * length + 3,) * 2, np.float32)
    cv2.line(line, (1, length // 2), (2 * length + 1, 2 * length - length // 2), 1, 1, cv2.LINE_AA)
    return cv2.filter2D(grey, -1, line / line.sum()).astype(np.float32)


def taken(grey: Grey, random: np.random.Generator, light: float = 1, noise: float = 2) -> Picture:
    """The scene in so much light with a sensor's noise, written as JPEG and read again."""
    lit = cv2.GaussianBlur(grey, (0, 0), 0.8) * light
    lit = lit + random.normal(0, noise, lit.shape) * np.sqrt(np.clip(lit, 10, None) / 128)
    colours = cv2.cvtColor(np.clip(lit, 0, 255).astype(np.uint8), cv2.COLOR_GRAY2BGR)
    found = decoded(as_jpeg(np.asarray(colours, np.uint8), 88))
    assert found is not None
    return found
