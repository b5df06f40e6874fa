"""A cylinder bore from above: hone, carbon and wear ridge, scores, rust with pits, and the deck around."""

import numpy as np

from . import blender as b
from .maps import lines, mix, noise, outline, pits, rust_colour, scratches, step
from .stage import Drawn, Shot, bench, lit, put_card, skin

DEEP, RIDGE = 138.0, 7.1
DECK = (340.0, 190.0)


def wall_maps(shot: Shot):
    """Colour, roughness, metal and relief of the wall, and what is drawn on it."""
    o, seed, r = shot.options, shot.seed * 100, shot.look.bore / 2
    ppm = 11.0
    shape = (int(DEEP * ppm), int(2 * np.pi * r * ppm))
    u, d = np.meshgrid((np.arange(shape[1]) + 0.5) / ppm, (np.arange(shape[0]) + 0.5) / ppm)
    u, d = u.astype(np.float32), d.astype(np.float32)
    broad, med = noise(shape, ppm, 40, seed=seed), noise(shape, ppm, 9, 2.0, seed=seed + 1)
    fine = noise(shape, ppm, 1.5, 1.6, seed=seed + 2)
    steep = np.radians(o.get("hone", 24))
    hone = sum(
        lines(u * np.sin(a) + d * np.cos(a), pitch, seed + 3 + k, peaky) * weight
        for k, (a, pitch, peaky, weight) in enumerate(
            (
                (steep, 0.115, 2.2, 1),
                (-steep, 0.115, 2.2, 1),
                (steep * 1.08, 0.32, 3.4, 0.45),
                (-steep * 0.95, 0.32, 3.4, 0.45),
            )
        )
    )
    thrust = 0.5 + 0.5 * np.cos(u / r - np.radians(95))
    worn = o.get("worn", 0.5)
    keep = step(0, 1, 0.95 - worn * thrust * step(4, 16, d) * step(80, 25, d) + 0.16 * med)
    below = step(RIDGE - 0.4, RIDGE + 0.4, d) if o.get("ridge", 0.1) else np.ones_like(d)
    travel = noise(shape, ppm, 30, 1.2, stretch=(0.03, 8), seed=seed + 8) * thrust * below
    height = 0.45 * hone * keep * below + 0.3 * travel + 0.05 * fine
    light, dark = shot.look.metal
    colour = mix(light, dark, step(-1, 1.6, broad + 0.4 * med))
    colour = (
        colour * (1 + 0.085 * np.clip(hone * keep * below, -3, 3) + 0.06 * np.clip(travel, -2, 2))[..., None]
    )
    rough = 0.36 + 0.07 * keep + 0.04 * med - 0.06 * thrust * below
    metal = np.full(shape, 0.8, np.float32)
    varnish = step(0.1, 1.5, broad * 0.8 + med * 0.4 + 0.5 * step(120, 30, d)) * below * o.get("varnish", 0.5)
    colour = mix(colour, colour * np.array([0.86, 0.60, 0.34]), varnish)
    runs = step(0.9, 2.0, noise(shape, ppm, 14, 2.0, stretch=(1, 5), seed=seed + 9) + 0.35 * broad) * below
    rough, colour = rough - 0.17 * runs, colour * (1 - 0.22 * runs)[..., None]
    maps = [colour, rough, metal, height]
    if o.get("ridge", 0.1):
        carbon_and_lip(maps, d, med, fine, seed, o.get("carbon", 1.0))
    drawn = []
    for score in o.get("scores", ()):
        drawn.append(scored(maps, u, d, r, score, seed, ppm))
    if "rust" in o:
        drawn += rusted(maps, u, d, r, o["rust"], seed, ppm)
    return maps, drawn


def carbon_and_lip(maps, d, med, fine, seed, amount) -> None:
    """Carbon above the top of ring travel and the polished lip of the ridge below it."""
    colour, rough, metal, height = maps
    edge = RIDGE - 0.2 + 0.35 * noise(d.shape, 11.0, 12, 1.6, seed=seed + 10)[:1]
    carbon = step(0.8, 2.2, d + 0.5 * med) * (1 - step(edge - 0.15, edge + 0.2, d)) * amount
    carbon = carbon * (0.82 + 0.18 * step(-1.3, 0.9, med + 0.7 * fine))
    soot = mix((0.026, 0.021, 0.017), (0.085, 0.056, 0.036), step(0.3, 1.9, fine))
    colour = mix(colour, soot, carbon)
    rough, metal = mix(rough, 0.62 + 0.08 * fine, carbon), metal * (1 - 0.95 * carbon)
    height = height + carbon * (0.8 * fine + 0.8 * med)
    lip = np.exp(-(((d - RIDGE - 0.25) / 0.42) ** 2))
    colour = mix(colour, (0.62, 0.60, 0.56), 0.85 * lip)
    maps[:] = [colour, mix(rough, np.float32(0.15), 0.8 * lip), np.maximum(metal, lip), height]


def scored(maps, u, d, r, score, seed, ppm) -> Drawn:
    """A groove down the wall: (angle in degrees, from depth, to depth, width in mm)."""
    colour, rough, metal, height = maps
    angle, top, foot, width = score
    rng = np.random.default_rng(seed + int(angle))
    sway = 0.35 * noise(d.shape, ppm, 30, 2.0, seed=seed + 20)[:, :1]
    groove = np.zeros_like(d)
    for k in range(9):
        at = np.radians(angle) * r + sway + (0 if k == 0 else rng.normal(0, 1.1))
        wide = width if k == 0 else width * rng.uniform(0.15, 0.4)
        a, z = (top, foot) if k == 0 else np.sort(rng.uniform(top, foot, 2))
        ends = step(a, a + 3, d) * step(z, z - 6, d)
        groove = np.maximum(groove, np.exp(-(((u - at) / (wide / 2)) ** 2)) * ends * (1 if k == 0 else 0.6))
    near = (
        np.exp(-(((u - np.radians(angle) * r - sway) / 2.6) ** 2))
        * step(top - 2, top + 6, d)
        * step(foot + 3, foot - 8, d)
    )
    colour = mix(colour, colour * 1.25, 0.5 * near)
    colour = mix(colour, (0.055, 0.045, 0.04), 0.9 * groove)
    maps[:] = [colour, mix(rough, np.float32(0.5), groove), metal, height - 4 * groove - 0.4 * near]
    depth = np.linspace(top, foot, 12)
    across = np.radians(angle) * r + np.interp(depth, d[:, 0], sway[:, 0])
    return Drawn(
        "score", "crack_line", on_wall(across, depth, r), {"length_mm": foot - top, "width_mm": width}
    )


def rusted(maps, u, d, r, patch, seed, ppm) -> list[Drawn]:
    """A patch of rust with pits: (angle in degrees, depth, half width, half height, number of pits)."""
    colour, rough, metal, height = maps
    angle, deep, wide, high, count = patch
    shape = d.shape
    away = np.hypot((u - np.radians(angle) * r) / wide, (d - deep) / high)
    field = 1.05 - away + 0.24 * noise(shape, ppm, 14, 2.0, seed=seed + 30)
    field = field + 0.085 * noise(shape, ppm, 2.5, 1.6, seed=seed + 31)
    field = np.where(d > RIDGE + 0.6, field, -1)
    rust, fine = field > 0.12, noise(shape, ppm, 0.8, 1.4, seed=seed + 32)
    depth, pit, placed = pits(np.where(field > 0.3, field, 0), ppm, count, 0.62, seed + 33)
    cover = rust * (0.72 + 0.28 * step(0.12, 0.34, field))
    stain = step(-0.35, 0.12, field) * ~rust
    tint = mix(rust_colour(shape, ppm, seed + 35), (0.035, 0.018, 0.012), 0.85 * pit)
    colour = mix(colour, colour * np.array([0.95, 0.62, 0.34]), 0.75 * stain)
    streak = step(0.3, 1.6, noise(shape, ppm, 10, 1.8, stretch=(0.6, 9), seed=seed + 37))
    streak = (
        streak
        * step(deep - 8, deep + 14, d)
        * step(130, 70, d)
        * np.exp(-(((u - np.radians(angle) * r) / (0.75 * wide)) ** 2))
    )
    colour = mix(mix(colour, (0.27, 0.13, 0.055), 0.5 * streak * ~rust), tint, cover)
    maps[:] = [
        colour,
        mix(rough, 0.82 + 0.05 * fine, cover),
        metal * (1 - 0.97 * cover) * (1 - 0.5 * streak * ~rust),
        height * (1 - 0.8 * cover) + cover * 1.1 * fine - 6 * depth,
    ]
    area = float(rust.sum() / ppm**2)
    sizes = {"area_mm2": round(area, 1), "share_of_wall": round(float(rust.mean()), 4), "pits": len(placed)}
    sizes["pit_radius_mm"] = [round(p[2], 2) for p in placed]
    rings = outline(rust, ppm)[:1]
    return [Drawn("rust", "polygon", on_wall(ring[:, 0], ring[:, 1], r), sizes) for ring in rings]


def on_wall(u, d, r):
    """Points of the wall: u along its circumference, d below the deck."""
    return np.stack([r * np.cos(u / r), r * np.sin(u / r), -np.asarray(d, float)], 1)


HOLES = {
    "four": [(0, 60, 5.5), (0, -60, 5.5), (98, 60, 5.5), (-98, 60, 5.5), (98, -60, 5.5), (-98, -60, 5.5)]
    + [(x, y, 3.4) for x in (27, -27, 71, -71) for y in (54, -54)],
    "vee": [(0, 64, 7), (-34, 56, 4.5), (34, 56, 4.5), (104, 64, 7), (-104, 64, 7)]
    + [(x, -62, 4.2) for x in (-104, -70, -20, 20, 70, 104)],
}
BOLTS = {
    "four": [(49, 68), (-49, 68), (49, -68), (-49, -68)],
    "vee": [(52, 62), (-52, 62), (52, -58), (-52, -58), (0, -78)],
}


def deck(shot: Shot, layout: str, pitch: float) -> None:
    """The deck with its holes, gasket marks and stains."""
    seed, r, ppm = shot.seed * 100 + 50, shot.look.bore / 2, 7
    x, y = np.meshgrid(*((np.arange(int(s * ppm)) + 0.5) / ppm - s / 2 for s in DECK))
    x, y = x.astype(np.float32), -y.astype(np.float32)
    shape = x.shape
    broad, med = noise(shape, ppm, 45, 2.1, seed=seed), noise(shape, ppm, 8, 2.0, seed=seed + 1)
    fine = noise(shape, ppm, 1.0, 1.5, seed=seed + 2)
    arc = x - np.sqrt(np.clip(130**2 - (y - 8) ** 2, 1, None))
    mill = lines(arc, 0.3, seed + 3, 1.4) + 0.7 * np.sin(arc * 2 * np.pi / 1.7)
    hurt = scratches(shape, ppm, 800, 9, seed + 4)
    light, dark = (np.array(c) * 0.62 for c in shot.look.metal)
    colour = mix(light, dark, step(-1.2, 1.5, broad + 0.6 * med))
    colour = colour * (1 + 0.07 * np.clip(mill, -2, 2) + 0.06 * fine + 0.45 * hurt)[..., None]
    rough, metal = 0.37 + 0.05 * med, np.full(shape, 0.97, np.float32)
    around = np.min([np.hypot(x - a, y) for a in (-pitch, 0, pitch)], 0)
    ring = step(r + 2, r + 2.6, around + 0.15 * med) * step(r + 7.4, r + 6.4, around + 0.2 * med)
    colour = mix(colour, colour * np.array([0.5, 0.44, 0.38]), ring * (0.55 + 0.35 * step(-0.5, 1, med)))
    left = step(
        1.5, 1.8, broad * 0.9 + med * 0.5 + 0.3 * fine + 0.5 * step(3.2, 1.2, np.abs(around - r - 10))
    )
    left = left * step(r + 7, r + 8, around)
    colour = mix(colour, mix((0.045, 0.045, 0.048), (0.12, 0.115, 0.11), step(-1, 1.5, fine)), 0.9 * left)
    holes = HOLES[layout]
    wet = np.min([np.hypot(x - a, y - c) - q for a, c, q in holes], 0)
    rust = step(6.5, 0, wet + 1.6 * med + broad) * step(-0.9, 0.8, fine + med)
    colour = mix(colour, rust_colour(shape, ppm, seed + 6), 0.85 * rust)
    oil = step(0.6, 1.4, noise(shape, ppm, 34, 2.6, seed=seed + 8)) * (1 - left)
    colour = colour * (1 - 0.28 * oil)[..., None]
    rough = mix(mix(rough - 0.2 * oil, 0.8, left), 0.8, rust)
    relief = (0.55 * mill + 0.35 * fine - 1.2 * hurt) * (1 - left) + left * (1.4 + 0.8 * fine)
    surface = (
        b.Material("deck").on_plane(*DECK).maps(colour, rough, metal * (1 - left) * (1 - rust), relief, 0.02)
    )
    cut = [b.circle(a, 0, r + 0.1, 200) for a in (-pitch, 0, pitch)]
    cut += [b.circle(a, c, q, 40, 0.05, i) for i, (a, c, q) in enumerate(holes)]
    cut += [b.circle(a, c, 6.2, 48) for a, c in BOLTS[layout]]
    b.plate("deck", b.rounded(-168, -84, 168, 84, 6), cut, 9, 0.35, surface)
    cast = skin(shot.look)
    for a, c, q in holes:
        tube = b.turned("hole", [(q + 0.6, -60), (q + 0.9, -8), (q + 0.2, -3)], cast, 40, inward=True)
        b.move(tube, (a, c, 0))
    thread = b.Material("thread", Metallic=0.9, Roughness=0.4, Base_Color=(0.16, 0.14, 0.12, 1))
    cutting = [(5.1 + 0.55 * (abs((i % 4) - 2) / 2), -42 + 0.44 * i) for i in range(91)] + [(6.3, -0.9)]
    for a, c in BOLTS[layout]:
        b.move(b.turned("thread", cutting, thread, 40, inward=True), (a, c, 0))
    sides = [b.circle(a, 0, r + 4, 64) for a in (-pitch, 0, pitch)]
    b.plate("sides", b.rounded(-167, -83, 167, 83, 5), sides, 125, 1, cast, -9.2)


def build(shot: Shot):
    """The scene; returns the camera, what is drawn, and the cards."""
    o, look = shot.options, shot.look
    r, layout = look.bore / 2, o.get("layout", "four")
    pitch = look.bore + 12
    (colour, rough, metal, height), drawn = wall_maps(shot)
    wall = b.Material("wall").on_uv().maps(colour, rough, metal, height, 0.045)
    wear = o.get("ridge", 0.1)
    profile = [
        (r + 0.05, -DEEP),
        (r + wear / 2, -60),
        (r + wear, -12),
        (r + wear, -RIDGE - 0.3),
        (r, -RIDGE + 0.2),
    ]
    profile += [(r, 0.0)]
    b.turned("wall", profile, wall, 400, inward=True)
    plain = b.Material("other wall", Metallic=0.8, Roughness=0.38, Base_Color=(*look.metal[1], 1))
    for a in (-pitch, pitch):
        b.move(b.turned("other wall", profile, plain, 200, inward=True), (a, 0, 0))
    deck(shot, layout, pitch)
    dark = skin(look, 3)
    for a in (-pitch / 2, pitch / 2):
        b.move(b.plate("web", b.rounded(-9, -60, 9, 60, 3), [], 60, 2, dark), (a, 0, -170))
    bench(look.bench, -215, shot.seed + 7)
    cards = []
    if "card" in o:
        cards.append(put_card(7, (*o["card"], 0.0), o.get("card_yaw", 5.0), "the top face of the block"))
    b.lamp((330, 120, -90), (0, 0, -190), 160, 60, (1, 0.85, 0.7))
    b.lamp((-330, -60, -120), (0, 0, -190), 160, 45, (0.85, 0.92, 1))
    hand = o.get("hand", ((-42, -40, 150), (14, 36, -42), 14, 24))
    return lit(shot, hand), drawn, cards
