"""Surfaces as arrays in millimetres: noise, tool marks, scratches, rust, pits, cracks.

Damage is drawn here first and only lit by the renderer, so its extent is known exactly. Arrays have
row 0 at the top; `ppm` is pixels per millimetre.
"""

import cv2
import numpy as np
from scipy import fft

Array = np.ndarray


def noise(shape, ppm, feature, beta=2.2, stretch=(1.0, 1.0), seed=0) -> Array:
    """Periodic noise of zero mean and unit spread; `feature` is its largest detail in mm."""
    h, w = shape
    rng = np.random.default_rng(seed)
    fy = np.fft.fftfreq(h).astype(np.float32)[:, None] * ppm * stretch[1]
    fx = np.fft.rfftfreq(w).astype(np.float32)[None, :] * ppm * stretch[0]
    f = np.hypot(fx, fy)
    lowest = 1.0 / feature
    gain = (1.0 / (lowest**2 + f * f) ** (beta / 2)).astype(np.float32)
    gain[f < lowest * 0.35] *= 0.15
    gain[0, 0] = 0
    spectrum = fft.rfft2(rng.standard_normal((h, w), dtype=np.float32)) * gain
    out = fft.irfft2(spectrum, s=(h, w)).astype(np.float32)
    return out / (out.std() + 1e-9)


def step(low, high, x) -> Array:
    """Smooth step from 0 at `low` to 1 at `high`."""
    t = np.clip((x - low) / (high - low), 0, 1)
    return t * t * (3 - 2 * t)


def mix(a, b, t) -> Array:
    """`a` where t is 0, `b` where it is 1; a colour may stand for a map of it."""
    t = np.asarray(t, np.float32)
    if t.ndim == 2 and (np.ndim(a) in (1, 3) or np.ndim(b) in (1, 3)):
        t = t[..., None]
    return np.asarray(a, np.float32) * (1 - t) + np.asarray(b, np.float32) * t


def coordinates(width, height, ppm):
    """Millimetres of the pixel centres about the middle, y upwards."""
    w, h = int(width * ppm), int(height * ppm)
    x = (np.arange(w) + 0.5) / ppm - width / 2
    y = height / 2 - (np.arange(h) + 0.5) / ppm
    return np.meshgrid(x.astype(np.float32), y.astype(np.float32))


def lines(distance, pitch, seed, peaky=2.5) -> Array:
    """Tool marks: noise along `distance` (mm) that changes every `pitch`."""
    rng = np.random.default_rng(seed)
    low = float(distance.min())
    v = rng.standard_normal(int((float(distance.max()) - low) / pitch) + 4).astype(np.float32)
    v = np.sign(v) * np.abs(v) ** peaky
    i = (distance - low) / pitch
    k = i.astype(np.int32)
    return v[k] * (1 - (i - k)) + v[k + 1] * (i - k)


def scratches(shape, ppm, count, length, seed, angle=0.0, spread=np.pi) -> Array:
    """Scratches of about `length` mm, at `angle` give or take `spread`."""
    rng = np.random.default_rng(seed)
    out = np.zeros(shape, np.float32)
    for _ in range(count):
        along = rng.lognormal(np.log(length), 0.6) * ppm * np.linspace(0, 1, 10)
        a = angle + rng.uniform(-spread, spread) + rng.normal(0, 0.02) * along / ppm
        x = rng.uniform(0, shape[1]) + np.cos(a) * along
        y = rng.uniform(0, shape[0]) + np.sin(a) * along
        points = np.stack([x, y], 1).astype(np.int32).reshape(-1, 1, 2)
        cv2.polylines(out, [points], False, float(rng.uniform(0.25, 1)), 1)
    return cv2.GaussianBlur(out, (0, 0), 0.6)


def rust_colour(shape, ppm, seed) -> Array:
    """Linear colour of old and fresh rust, mixed."""
    coarse, fine = noise(shape, ppm, 6, 2.0, seed=seed), noise(shape, ppm, 1.2, 1.8, seed=seed + 1)
    out = mix(np.array([0.245, 0.098, 0.036]), np.array([0.085, 0.036, 0.020]), step(-0.8, 1.2, coarse))
    out = mix(out, np.array([0.40, 0.20, 0.085]), 0.75 * step(0.6, 1.9, fine))
    return out * (1 + 0.16 * np.clip(fine, -2, 2)[..., None])


def crooked(start, end, count, wander, seed, roughness=1.2) -> Array:
    """A line that wanders from `start` to `end` (mm), by halving and displacing."""
    rng = np.random.default_rng(seed)
    points, wander_now = np.array([start, end], float), wander
    while len(points) < count:
        middle, along = (points[1:] + points[:-1]) / 2, points[1:] - points[:-1]
        across = np.stack([-along[:, 1], along[:, 0]], 1)
        across /= np.linalg.norm(along, axis=1)[:, None] + 1e-9
        middle += across * rng.normal(0, wander_now, (len(middle), 1))
        merged = np.empty((len(points) + len(middle), 2))
        merged[0::2], merged[1::2] = points, middle
        points = merged
        wander_now /= 2 ** (roughness - 0.25)
    return points


def draw(onto, pixels, widths) -> None:
    """A line of varying width (pixels), to a sixteenth of a pixel."""
    for p, q, width in zip(pixels[:-1], pixels[1:], widths, strict=False):
        a, b = (tuple(round(float(v) * 16) for v in end) for end in (p, q))
        cv2.line(onto, a, b, 1.0, max(1, round(float(width))), cv2.LINE_AA, 4)


def length(points) -> float:
    """Length of a line through points, in their unit."""
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def outline(mask, ppm, keep=14, join=1.5) -> list[Array]:
    """Outlines of the patches of a mask, largest first, in map mm (x right, y down), simplified.

    Gaps up to `join` mm are closed first, as a person would draw round the whole.
    """
    reach = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * int(join * ppm / 2) + 1,) * 2)
    closed = cv2.morphologyEx(mask.astype(np.uint8), cv2.MORPH_CLOSE, reach)
    calm = cv2.GaussianBlur(closed.astype(np.float32), (0, 0), join * ppm / 2) > 0.5
    found, _ = cv2.findContours(calm.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    found = sorted(found, key=cv2.contourArea, reverse=True)
    out = []
    for contour in found[:4]:
        slack = 2.0
        simple = cv2.approxPolyDP(contour, slack, True)
        while len(simple) > keep:
            slack *= 1.1
            simple = cv2.approxPolyDP(contour, slack, True)
        out.append((simple[:, 0, :].astype(float) + 0.5) / ppm)
    return out


def pits(field, ppm, count, radius, seed):
    """Round pits where `field` allows: depth map (0 to 1), mask, and their centres and radii in mm."""
    rng = np.random.default_rng(seed)
    depth, mask = np.zeros_like(field), np.zeros_like(field)
    where = np.argwhere(field > 0)
    placed: list[tuple[float, float, float]] = []
    wobble = 0.22 * noise(field.shape, ppm, 0.9, 1.8, seed=seed + 1)
    for _ in range(count * 60):
        if len(placed) == count or not len(where):
            break
        row, column = where[rng.integers(len(where))]
        x, y, r = column / ppm, row / ppm, float(np.clip(rng.lognormal(np.log(radius), 0.42), 0.25, 2.5))
        if any(np.hypot(x - a, y - b) < r + c + 0.3 for a, b, c in placed):
            continue
        placed.append((x, y, r))
        rows = slice(max(0, int((y - 2 * r) * ppm)), int((y + 2 * r) * ppm) + 1)
        columns = slice(max(0, int((x - 2 * r) * ppm)), int((x + 2 * r) * ppm) + 1)
        yy, xx = np.mgrid[
            rows.start : min(rows.stop, field.shape[0]), columns.start : min(columns.stop, field.shape[1])
        ]
        q = np.hypot(xx / ppm - x, yy / ppm - y) / r + wobble[rows, columns]
        mask[rows, columns] = np.maximum(mask[rows, columns], step(1.08, 0.85, q))
        depth[rows, columns] = np.maximum(depth[rows, columns], np.clip(1 - q**2, 0, 1) * min(1, r / 0.8))
    return depth, mask, placed
