"""From a clean render to what a phone writes: lens, noise, sharpening, JPEG with its time and no place."""

import cv2
import numpy as np
from PIL import Image

TAKEN, OFFSET, EXIF_BLOCK, ORIENTATION = 0x9003, 0x9011, 0x8769, 0x0112


def lens(a, seed):
    """Darker corners, bloom, a trace of colour at edges, and now and then a greasy lens."""
    h, w = a.shape[:2]
    rng = np.random.default_rng(seed)
    y, x = np.mgrid[:h, :w]
    r = np.hypot((x - w / 2) / (w / 2), (y - h / 2) / (h / 2)) / 1.414
    a = a * (1 - 0.20 * r**2.2)[..., None]
    bright = np.clip(a - 0.82, 0, None)
    a = a + 0.35 * cv2.GaussianBlur(bright, (0, 0), w / 130)
    a = a + rng.uniform(0.15, 0.4) * cv2.GaussianBlur(bright, (0, 0), w / 40)
    for channel, scale in ((0, 1.0006), (2, 0.9994)):
        warp = np.float32([[scale, 0, (1 - scale) * w / 2], [0, scale, (1 - scale) * h / 2]])
        a[..., channel] = cv2.warpAffine(a[..., channel], warp, (w, h), borderMode=cv2.BORDER_REFLECT)
    return a


def shaken(a, pixels, angle):
    """Moved while the shutter was open."""
    size = int(pixels) * 2 + 1
    path = np.zeros((size, size), np.float32)
    c, end = size // 2, np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle))]) * pixels / 2
    mid = np.array([c + end[1] * 0.35, c - end[0] * 0.35])
    points = np.array([c - end, mid, c + end]).round().astype(np.int32).reshape(-1, 1, 2)
    cv2.polylines(path, [points], False, 1.0, 2, cv2.LINE_AA)
    return cv2.filter2D(
        a, -1, cv2.GaussianBlur(path, (0, 0), 1.2) / path.sum(), borderType=cv2.BORDER_REFLECT
    )


def grain(a, seed, strength):
    """Noise that is stronger where it is dark and clotted as a phone leaves it, then sharpening."""
    h, w = a.shape[:2]
    rng = np.random.default_rng(seed)
    light = np.clip(a.mean(-1, keepdims=True), 0, 1)
    spread = strength * (0.55 + 0.9 * np.sqrt(light) * (1 - 0.6 * light))
    fine = rng.standard_normal((h, w, 1)) * 0.8 + rng.standard_normal((h, w, 3)) * 0.45
    fine = cv2.GaussianBlur(fine.astype(np.float32), (0, 0), 0.6) * 1.6
    clots = cv2.GaussianBlur(rng.standard_normal((h, w, 3)).astype(np.float32), (0, 0), 2.2) * 0.7
    patchy = cv2.GaussianBlur(rng.standard_normal((h, w)).astype(np.float32), (0, 0), 24)
    a = a + spread * (fine + clots) * (1 + 0.25 * patchy / patchy.std())[..., None]
    return a + 0.55 * (a - cv2.GaussianBlur(a, (0, 0), 1.1))


def develop(source, to, seed, taken, warm=(1.035, 1.0, 0.92), shake=0.0, dark=0.0, noise=0.010, quality=80):
    """Read a 16-bit PNG, write the JPEG. `taken` is "2026:11:09 10:42:05"; `dark` is in stops."""
    a = cv2.imread(str(source), cv2.IMREAD_UNCHANGED)[..., 2::-1].astype(np.float32) / 65535
    a = a * np.array(warm, np.float32)
    if dark:
        a = np.clip(a, 0, 1) ** (1 + 0.22 * dark) * 0.5 ** (0.75 * dark)
    a = lens(a, seed)
    if shake:
        a = shaken(a, shake, 37 + 31 * (seed % 5))
    a = grain(cv2.GaussianBlur(a, (0, 0), 0.45), seed, noise * (1 + dark))
    exif = Image.Exif()
    exif[ORIENTATION] = 1
    exif[EXIF_BLOCK] = {TAKEN: taken, OFFSET: "+00:00"}
    picture = Image.fromarray((np.clip(a, 0, 1) * 255 + 0.5).astype(np.uint8))
    picture.save(to, "JPEG", quality=quality, subsampling="4:2:0", exif=exif.tobytes())
