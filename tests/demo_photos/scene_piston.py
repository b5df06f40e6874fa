"""A piston upside up on the bench, seen from the thrust side: ring lands, skirt, scuffing."""

import numpy as np

from . import blender as b
from .maps import Array, mix, noise, outline, scratches, step
from .stage import Drawn, Shot, bench, bolt, lit, paper, put_card

PPM, TALL = 11.0, 78.0
SKIRT_TOP = 30.0
GROOVES = ((7.0, 1.8), (12.5, 1.8), (18.5, 4.2))


def profile_of(r: float) -> Array:
    """(radius, height) from the bottom of the ring belt to the top of the crown."""
    points = [(r - 0.1, TALL - SKIRT_TOP)]
    for top, wide in reversed(GROOVES):
        low, high, root = TALL - top - wide, TALL - top, r - 4.2
        points += [(r - 0.2, low), (root, low + 0.01), (root, high - 0.01), (r - 0.25, high)]
    return np.array([*points, (r - 0.3, TALL - 0.8), (r - 1.1, TALL)])


def belt(shot: Shot, r: float, seed: int) -> b.Material:
    """Lands and grooves: carbon at the top, brown below."""
    clean = shot.options.get("clean", False)
    metal = b.Material("belt", Metallic=0.95 if clean else 0.75, Roughness=0.27 if clean else 0.48)
    dark, tan, light = (0.032, 0.027, 0.024), (0.062, 0.052, 0.044), (0.17, 0.15, 0.13)
    if clean:
        dark, tan, light = (0.33, 0.315, 0.295), (0.52, 0.515, 0.505), (0.58, 0.575, 0.57)
    metal.mottled(3.5, [(0.30, dark), (0.52, tan), (0.74, light)], seed, 0.2).grainy(0.8, 0.04)
    return metal


def skirt_maps(shot: Shot, r: float):
    """The unrolled skirt, and what is drawn on it; the thrust side is at 270 degrees, towards the camera."""
    o, seed = shot.options, shot.seed * 100
    shape = (int((TALL - SKIRT_TOP) * PPM), int(2 * np.pi * r * PPM))
    angle, down = np.meshgrid(
        (np.arange(shape[1]) + 0.5) / shape[1] * 2 * np.pi, (np.arange(shape[0]) + 0.5) / PPM
    )
    angle, down = angle.astype(np.float32), down.astype(np.float32)
    away = (angle - np.radians(270)) * r
    broad, med = noise(shape, PPM, 30, seed=seed), noise(shape, PPM, 7, 2.0, seed=seed + 1)
    fine = noise(shape, PPM, 0.9, 1.5, seed=seed + 2)
    turned = np.sin(down * 2 * np.pi / 0.36 + 0.3 * broad)
    rub = np.exp(-((away / 21) ** 4)) * np.exp(-(((down - 24) / 21) ** 4))
    upright = noise(shape, PPM, 40, 1.3, stretch=(0.1, 14), seed=seed + 3)
    colour = mix((0.62, 0.62, 0.61), (0.48, 0.475, 0.46), step(-1.2, 1.4, broad + 0.4 * med))
    colour = colour * (1 + 0.05 * turned * (1 - 0.8 * rub) + 0.07 * upright * rub)[..., None]
    varnish = step(-0.2, 1.4, broad + 0.5 * med + 0.6 * step(30, 6, np.abs(np.abs(away) - 40))) * o.get(
        "varnish", 0.6
    )
    colour = mix(colour, colour * np.array([0.74, 0.58, 0.40]), varnish)
    rough = 0.37 - 0.08 * rub + 0.03 * np.clip(med, -2, 2)
    height = 0.5 * turned * (1 - 0.85 * rub) + 0.35 * upright * rub + 0.05 * fine
    metal = np.full(shape, 0.9, np.float32)
    upright_lines = scratches(shape, PPM, o.get("lines", 160), 9, seed + 4, np.pi / 2, 0.06) * rub
    hurt = upright_lines + 0.6 * scratches(shape, PPM, 70, 6, seed + 5)
    colour, height = colour * (1 - 0.35 * hurt)[..., None], height - 0.3 * hurt
    maps, drawn = [colour, rough, metal, height], []
    if "scuff" in o:
        drawn.append(scuffed(maps, away, down, (broad, med, fine), o["scuff"], r, seed))
    return maps, drawn


def scuffed(maps, away, down, noises, asked, r, seed) -> Drawn:
    """Aluminium torn and smeared up and down: (offset mm, half width, from, to)."""
    colour, rough, metal, height = maps
    _, med, fine = noises
    offset, wide, top, foot = asked
    streak = noise(down.shape, PPM, 26, 1.1, stretch=(0.16, 10), seed=seed + 20)
    coarse = noise(down.shape, PPM, 50, 1.6, stretch=(0.3, 7), seed=seed + 21)
    inside = (
        1.05 - ((away - offset) / wide) ** 2 * 0.9 - ((down - (top + foot) / 2) / ((foot - top) / 2)) ** 4
    )
    field = inside + 0.30 * coarse + 0.22 * streak + 0.08 * med
    torn = step(0.15, 0.45, field)
    tint = mix((0.62, 0.61, 0.59), (0.24, 0.23, 0.215), step(-0.5, 1.1, streak + 0.35 * fine + 0.2 * med))
    tint = mix(tint, (0.045, 0.04, 0.036), 0.5 * step(1.2, 2.1, streak + 0.5 * med))
    edge = step(-0.35, 0.15, field) * (1 - torn)
    colour = mix(colour, colour * 0.72, 0.7 * edge)
    maps[:] = [
        mix(colour, tint, 0.95 * torn),
        mix(rough, 0.44 + 0.12 * np.clip(streak, -1, 1), torn),
        metal,
        height * (1 - torn) + torn * (2.4 * streak + 0.5 * fine),
    ]
    patch = field > 0.25
    ring = outline(patch, PPM, 12)[0]
    turn = ring[:, 0] / r
    points = np.stack([r * np.cos(turn), r * np.sin(turn), TALL - SKIRT_TOP - ring[:, 1]], 1)
    sizes = {"area_mm2": round(float(patch.sum() / PPM**2), 1), "height_mm": foot - top}
    return Drawn("scuff", "polygon", points, sizes)


def build(shot: Shot):
    """The scene; returns the camera, what is drawn, and the cards."""
    o, look, seed = shot.options, shot.look, shot.seed * 100
    r = look.bore / 2 - 0.05
    maps, drawn = skirt_maps(shot, r)
    skirt = b.Material("skirt").on_uv().maps(*maps[:3], maps[3], 0.02)
    angles = np.linspace(0, 2 * np.pi, 360, endpoint=False)
    from_pin = np.abs((angles + np.pi / 2) % np.pi - np.pi / 2)
    relief = -1.6 * np.exp(-((from_pin / 0.36) ** 6))
    high = TALL - SKIRT_TOP
    shape = [(r - 0.02, 0.0), (r, 6.0), (r, high - 5), (r - 0.05, high)]
    b.swept("skirt", shape, angles, relief, skirt, sharp=60)
    b.swept("inside", [(r - 5, 0.0), (r - 5, high)], angles, relief, skirt, inward=True, sharp=60)
    b.swept("rim", [(r - 5, 0.0), (r - 0.02, 0.0)], angles, relief, skirt)
    b.turned("belt", profile_of(r), belt(shot, r, seed), 360, sharp=25)
    clean = o.get("clean", False)
    crown = b.Material("crown", Metallic=0.85 if clean else 0.2, Roughness=0.42 if clean else 0.75)
    stops = [(0.32, (0.022, 0.018, 0.015)), (0.55, (0.06, 0.05, 0.042)), (0.72, (0.145, 0.125, 0.105))]
    if clean:
        stops = [(0.28, (0.13, 0.115, 0.10)), (0.5, (0.36, 0.35, 0.335)), (0.72, (0.5, 0.49, 0.48))]
    crown.mottled(7, stops, seed, 0.2).grainy(0.9, 0.07 if clean else 0.25)
    b.turned("crown", [(r - 1.1, TALL), (r * 0.6, TALL + 0.02), (0.01, TALL + 0.02)], crown, 200)
    if o.get("rings", True):
        steel = b.Material("ring", Metallic=1.0, Roughness=0.2, Base_Color=(0.56, 0.55, 0.53, 1))
        for top, wide in GROOVES[: o.get("rings", 3)]:
            low, up = TALL - top - wide + 0.12, TALL - top - 0.12
            out = r + o.get("proud", 0.5)
            b.turned("ring", [(r - 3.5, low), (out, low), (out, up), (r - 3.5, up)], steel, 360, sharp=30)
    bench(look.bench, -0.5, shot.seed + 7)
    paper(-0.4, seed + 60, o.get("yaw", 12.0))
    cards = []
    if "card" in o:
        cards.append(put_card(11, (*o["card"], 0.0), o.get("card_yaw", 8), "the bench beside the piston"))
    for at in o.get("bolts", ()):
        bolt(*at[:2], 0.0, at[2])
    return lit(shot, o.get("hand", ((-150, -190, 120), (0, -20, 40), 90, 9)), 0.8), drawn, cards
