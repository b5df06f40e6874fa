"""The scale card: a white card with a fiducial of 20 mm and a ruler."""

import cv2
import numpy as np

WIDE, HIGH, PPM = 64.0, 34.0, 20


def card(number: int):
    """Linear colour of the card, and in mm about its middle (y up) the corners of the mark."""
    w, h = int(WIDE * PPM), int(HIGH * PPM)
    ink = np.full((h, w), 255, np.uint8)
    marks = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    n = 20 * PPM // 6 * 6
    x0, y0 = 5 * PPM, int(3.5 * PPM)
    ink[y0 : y0 + n, x0 : x0 + n] = cv2.aruco.generateImageMarker(marks, number, n)
    foot = h - int(1.2 * PPM)
    for i in range(51):
        tick = (5.2 if i % 10 == 0 else 3.8 if i % 5 == 0 else 2.6) * PPM
        x = x0 + i * PPM
        left, right = int(x - 0.09 * PPM), int(x + 0.09 * PPM)
        cv2.rectangle(ink, (left, int(foot - tick)), (right, foot), 0, -1)
        if i % 10 == 0:
            at = (int(x - (0.5 if i < 10 else 1.1) * PPM), int(foot - tick - 0.35 * PPM))
            cv2.putText(ink, str(i), at, cv2.FONT_HERSHEY_SIMPLEX, PPM / 17, 0, PPM // 9, cv2.LINE_AA)
    cv2.putText(ink, "mm", (28 * PPM, 12 * PPM), cv2.FONT_HERSHEY_SIMPLEX, PPM / 9, 0, PPM // 6, cv2.LINE_AA)
    white = cv2.GaussianBlur(ink.astype(np.float32) / 255, (0, 0), 0.8)
    corners = np.array([[x0, y0], [x0 + n, y0], [x0 + n, y0 + n], [x0, y0 + n]]) / PPM
    return soiled(white, number), np.stack([corners[:, 0] - WIDE / 2, HIGH / 2 - corners[:, 1]], 1), n / PPM


def soiled(white, number):
    """The card after a month on a bench: yellowed, with thumb prints of oil."""
    rng = np.random.default_rng(number)
    cloud, print_ = (
        (field := cv2.GaussianBlur(rng.standard_normal(white.shape).astype(np.float32), (0, 0), s))
        / field.std()
        for s in (60, 22)
    )
    out = np.stack([0.035 + 0.72 * white * k for k in (1, 0.975, 0.91)], -1)
    out *= (1 - 0.05 * np.clip(cloud, -0.5, 2))[..., None]
    return out * (1 - 0.45 * np.clip(print_ - 1.5, 0, 1)[..., None] * np.array([0.7, 0.85, 1]))
