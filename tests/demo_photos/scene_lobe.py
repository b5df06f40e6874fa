"""Lobes and journals of a camshaft on the bench: polished, or with a nose that is pitted and worn."""

import mathutils
import numpy as np

from . import blender as b
from .maps import lines, mix, noise, outline, pits, scratches, step
from .stage import Drawn, Shot, bench, bolt, lit, put_card

PPM, WIDE, BASE, LIFT = 16.0, 15.0, 15.0, 6.6
ACROSS = mathutils.Matrix(((0, 0, 1, 0), (1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 0, 1)))
"""From the plane of a plate to one that stands across the shaft."""


def rise(angles):
    """Lift above the base circle at an angle from the nose (rad)."""
    away = np.abs((angles + np.pi) % (2 * np.pi) - np.pi)
    return LIFT * (1 - np.clip(away / 1.25, 0, 1) ** 2) ** 1.7


class Flank:
    """The unrolled lobe: the nose in the middle of the map, x across."""

    def __init__(self, shot: Shot):
        self.seed, self.options = shot.seed * 100, shot.options
        turn = np.linspace(0, 2 * np.pi, 2001)
        radius = BASE + rise(turn - np.pi)
        self.turn = turn
        step_long = np.hypot(np.diff(radius), radius[1:] * np.diff(turn))
        self.arc = np.r_[0, np.cumsum(step_long)]
        self.shape = (int(WIDE * PPM), int(self.arc[-1] * PPM))
        angle = (np.arange(self.shape[1]) + 0.5) / self.shape[1] * 2 * np.pi
        along = np.interp(angle, turn, self.arc)
        nose = np.interp(np.pi, turn, self.arc)
        self.s, self.v = (
            m.astype(np.float32) for m in np.meshgrid(along - nose, (np.arange(self.shape[0]) + 0.5) / PPM)
        )
        self.maps = self.ground(shot)

    def ground(self, shot: Shot):
        """A ground lobe with the track that the follower has polished."""
        shape, seed = self.shape, self.seed
        broad, med = noise(shape, PPM, 20, seed=seed), noise(shape, PPM, 4, 2.0, seed=seed + 1)
        fine = noise(shape, PPM, 0.7, 1.5, seed=seed + 2)
        self.noises = broad, med, fine
        track = np.exp(-(((self.v - WIDE / 2) / 5.6) ** 6))
        run = noise(shape, PPM, 30, 1.1, stretch=(10, 0.13), seed=seed + 3)
        grind = lines(self.v, 0.1, seed + 4, 1.6)
        light, dark = shot.look.metal
        colour = mix(np.array(light) * 0.85, np.array(dark) * 0.8, step(-1, 1.4, broad + 0.3 * med))
        colour = (
            mix(colour, np.array([0.55, 0.54, 0.52]), 0.6 * track)
            * (1 + 0.05 * np.clip(run, -2, 2))[..., None]
        )
        stain = step(0.4, 1.6, broad + 0.5 * med) * (1 - 0.7 * track)
        colour = mix(colour, colour * np.array([0.75, 0.52, 0.3]), 0.7 * stain)
        hurt = scratches(shape, PPM, 70, 4, seed + 5)
        rough = 0.33 - 0.14 * track + 0.04 * np.clip(med, -2, 2)
        height = 0.3 * grind * (1 - 0.6 * track) + 0.25 * run * track + 0.05 * fine - 0.5 * hurt
        return [colour * (1 - 0.3 * hurt)[..., None], rough, np.ones(shape, np.float32), height]

    def pitted(self) -> Drawn:
        """The nose broken up: pits that run together, a bright edge where the follower digs in."""
        colour, rough, metal, height = self.maps
        broad, med, fine = self.noises
        zone = 1 - (self.s / 10.5) ** 2 - ((self.v - WIDE * 0.60) / 6.2) ** 2
        field = 0.7 * zone + 0.34 * med + 0.14 * broad - 0.35
        depth, pit, placed = pits(np.where(zone > -0.2, zone + 0.3, 0), PPM, 46, 0.42, self.seed + 20)
        spall = step(0.0, 0.06, field)
        hurt = np.maximum(spall, pit)
        grey = mix((0.20, 0.19, 0.18), (0.06, 0.055, 0.05), step(-0.8, 1.2, fine + 0.4 * med))
        frost = step(-0.5, 0.2, field + 0.2 * zone)
        colour = mix(colour, (0.44, 0.42, 0.39), 0.5 * frost)
        colour = mix(colour, grey, 0.95 * hurt)
        self.maps = [
            colour,
            mix(rough + 0.12 * frost, 0.55 + 0.05 * fine, hurt),
            metal * (1 - 0.3 * hurt),
            height * (1 - hurt) - 5 * depth - 5 * spall + 1.3 * fine * spall,
        ]
        ring = outline(hurt > 0.5, PPM, 12, 1.5)[0]
        turn = ring[:, 0] * PPM / self.shape[1] * 2 * np.pi
        self.patch = turn, WIDE / 2 - ring[:, 1]
        area = round(float((hurt > 0.5).sum() / PPM**2), 1)
        return Drawn("pitting", "polygon", np.empty((0, 3)), {"area_mm2": area, "pits": len(placed)})

    def solid(self, nose_at, x):
        """The outlined patch as points of the scene; the nose stands at an angle, the lobe at x."""
        turn, across = self.patch
        radius = BASE + rise(turn - np.pi)
        at = turn - np.pi + nose_at
        return np.stack([across + x, radius * np.cos(at), radius * np.sin(at)], 1)


def lobe(x, nose_at, material, name="lobe") -> None:
    """One lobe across x, its nose at an angle about the shaft."""
    angles = np.linspace(0, 2 * np.pi, 360, endpoint=False)
    half = WIDE / 2
    profile = [(BASE - 0.5, -half), (BASE, -half + 0.5), (BASE, half - 0.5), (BASE - 0.5, half)]
    made = b.swept(name, profile, angles, rise(angles - np.pi), material, axis="x", sharp=35)
    b.move(made, (x, 0, 0))
    lean = nose_at - np.pi
    made.rotation_euler[0] = lean
    radius = BASE - 0.5 + rise(angles - np.pi)
    ring = np.stack([radius * np.cos(angles + lean), radius * np.sin(angles + lean)], 1)
    for side in (-1, 1):
        face = b.plate("side", ring, [], 0.4, 0.05, material)
        face.matrix_world = mathutils.Matrix.Translation(((x + side * (half - 0.2)) * b.MM, 0, 0)) @ ACROSS


def build(shot: Shot):
    """The scene; returns the camera, what is drawn, and the cards."""
    o, look = shot.options, shot.look
    flank = Flank(shot)
    drawn = []
    nose = np.radians(o.get("nose", 112))
    if o.get("pitted"):
        seen = flank.pitted()
        drawn.append(Drawn(seen.what, seen.shape, flank.solid(nose, 0.0), seen.sizes))
    colour, rough, metal, height = flank.maps
    hurt = b.Material("lobe", Coat_Roughness=0.05, Coat_Weight=o.get("oil", 0.35)).on_uv()
    hurt.maps(colour, rough, metal, height, 0.028)
    lobe(0.0, nose, hurt)
    fair = b.Material("fair lobe", Metallic=1.0, Roughness=0.27, Coat_Weight=0.3)
    fair.mottled(
        7, [(0.34, (0.20, 0.17, 0.13)), (0.55, (0.40, 0.385, 0.36)), (0.7, (0.5, 0.49, 0.47))], shot.seed
    )
    for x, turn in ((-33, 205), (34, 20), (-104, 90), (106, 300)):
        lobe(float(x), np.radians(turn), fair, "other lobe")
    raw = b.Material("core", Metallic=0.6, Roughness=0.5, Coat_Weight=0.3, Coat_Roughness=0.1)
    raw.mottled(
        10, [(0.32, (0.045, 0.036, 0.028)), (0.52, (0.12, 0.10, 0.085)), (0.7, (0.2, 0.16, 0.12))], shot.seed
    ).grainy(1.0, 0.25)
    b.turned("shaft", [(12.2, -180), (12.2, 180)], raw, 100, axis="x")
    bright = b.Material(
        "bearing", Metallic=1.0, Roughness=0.2, Base_Color=(0.48, 0.465, 0.44, 1), Coat_Weight=0.3
    )
    for x in (-69.0, 70.0):
        profile = [(12, -11), (22.6, -11), (23, -10.5), (23, 10.5), (22.6, 11), (12, 11)]
        b.move(b.turned("bearing", profile, bright, 200, axis="x", sharp=40), (x, 0, 0))
    foot = -23.5
    bench(look.bench, foot, shot.seed + 7)
    cards = []
    if "card" in o:
        cards.append(put_card(15, (*o["card"], foot), o.get("card_yaw", -4), "the bench below the camshaft"))
    for at in o.get("bolts", ()):
        bolt(*at[:2], foot, at[2])
    return lit(shot, o.get("hand", ((40, -120, 150), (0, 0, 8), 60, 1.8)), 0.75), drawn, cards
