"""A journal of a crankshaft between its webs: sound, scored and blued, or cracked in the fillet."""

import bpy
import cv2
import mathutils
import numpy as np
from scipy.spatial import ConvexHull

from . import blender as b
from .maps import crooked, draw, length, lines, mix, noise, scratches, step
from .stage import Drawn, Shot, bench, block_of_wood, bolt, lit, put_card

FILLET, HALF = 3.0, 14.0
PPM = 14.0


def profile_of(r, half, fillet, land):
    """(radius, x) from the left web over both fillets to the right one."""
    turn = np.radians(np.linspace(0, 90, 12))
    left = [(land + 1, -half - 2.2), (land + 0.4, -half - 0.4), (land, -half)]
    left += [(r + fillet - fillet * np.sin(p), -(half - fillet) - fillet * np.cos(p)) for p in turn]
    middle = [(r, x) for x in np.linspace(-(half - fillet), half - fillet, 7)[1:-1]]
    return np.array(left + middle + [(q, -x) for q, x in left[::-1]])


class Skin:
    """The unrolled surface of one journal: arc s along the profile, angle round it."""

    def __init__(self, shot: Shot, r: float, half: float = HALF):
        self.r, self.half = r, half
        self.profile = profile_of(r, half, FILLET, r + 8)
        self.s = np.r_[0, np.cumsum(np.linalg.norm(np.diff(self.profile, axis=0), axis=1))]
        self.long = self.s[-1]
        self.shape = (int(self.long * PPM), int(2 * np.pi * r * PPM))
        angle = (np.arange(self.shape[1]) + 0.5) / self.shape[1] * 2 * np.pi
        along = self.long - (np.arange(self.shape[0]) + 0.5) / PPM
        self.angle, self.along = (m.astype(np.float32) for m in np.meshgrid(angle, along))
        self.x = np.interp(along, self.s, self.profile[:, 1])[:, None]
        self.left, self.inner = self.s[3], self.s[14]
        self.on = step(self.inner - 0.15, self.inner + 0.15, self.along)
        self.on = self.on * step(self.long - self.inner + 0.15, self.long - self.inner - 0.15, self.along)

    def solid(self, points):
        """(angle x r, s) as points of the scene."""
        turn = points[:, 0] / self.r
        radius, x = (np.interp(points[:, 1], self.s, self.profile[:, i]) for i in (0, 1))
        return np.stack([x, radius * np.cos(turn), radius * np.sin(turn)], 1)

    def pixels(self, points, times=2):
        """(angle x r, s) as pixels of the map."""
        across = points[:, 0] * self.shape[1] / (2 * np.pi * self.r)
        return np.stack([across, (self.long - points[:, 1]) * PPM], 1) * times


def surface(shot: Shot, skin: Skin):
    """Ground steel with its wear: [colour, rough, metal, height], the noises used again."""
    o, seed, shape = shot.options, shot.seed * 100, skin.shape
    broad, med = noise(shape, PPM, 25, seed=seed), noise(shape, PPM, 6, 2.0, seed=seed + 1)
    fine = noise(shape, PPM, 0.8, 1.5, seed=seed + 2)
    grind = lines(skin.along, 0.08, seed + 3, 1.6) * (0.4 + 0.6 * skin.on)
    run = noise(shape, PPM, 40, 1.0, stretch=(14, 0.12), seed=seed + 4)
    rings = np.clip(
        noise(shape, PPM, 60, 1.3, stretch=(5, 0.12), seed=seed + 5) - o.get("rings_from", 1.9), 0, 2
    )
    handled = scratches(shape, PPM, 180, 5, seed=seed + 6)
    light, dark = (np.array(c) * 1.12 for c in shot.look.metal)
    colour = mix(light, dark, step(-1, 1.5, broad + 0.3 * run))
    straw = np.exp(-(((skin.x - 3) / 6) ** 2)) * step(-1.2, 1.2, broad) * skin.on
    colour = mix(colour, colour * np.array([1.0, 0.86, 0.62]), 0.4 * straw)
    colour = colour * (1 - 0.3 * np.clip(rings, 0, 1) * skin.on)[..., None]
    rough = 0.18 + 0.05 * np.clip(run, -1.5, 1.5) + 0.03 * np.clip(med, -2, 2) + 0.1 * (1 - skin.on)
    edge = (skin.along < skin.left + 0.2) | (skin.along > skin.long - skin.left - 0.2)
    rough = np.where(edge, 0.33, rough)
    height = 0.16 * grind + 0.22 * run - 0.8 * rings * skin.on - 0.35 * handled + 0.05 * fine
    metal = np.ones(shape, np.float32)
    near = np.minimum(np.abs(skin.along - skin.left - 1.6), np.abs(skin.along - skin.long + skin.left + 1.6))
    grime = np.exp(-((near / 1.1) ** 2)) * step(-0.9, 1.6, med + 0.6 * broad) * o.get("grime", 1.0)
    if "crack" in o:
        wiped = np.abs(skin.angle - np.radians(np.mean(o["crack"][:2])))
        grime = grime * np.where(skin.along < skin.long / 2, 1 - 0.85 * step(1.2, 0.5, wiped), 1)
    colour = mix(colour, (0.085, 0.058, 0.035), 0.55 * grime)
    return [colour, rough + 0.16 * grime, metal * (1 - 0.5 * grime), height], (broad, med, fine, run)


def oil_hole(maps, skin: Skin, degrees: float) -> None:
    """The hole the oil comes through, with its countersink."""
    colour, rough, metal, height = maps
    away = np.hypot((skin.angle - np.radians(degrees)) * skin.r, skin.along - skin.long / 2 - 3)
    hole = step(2.75, 2.55, away)
    sink = step(5.0, 4.7, away) * (1 - hole)
    height = height - np.clip(5.0 - away, 0, 2.3) * 22 * (away < 5)
    colour = mix(mix(colour, (0.012, 0.010, 0.009), hole), (0.6, 0.58, 0.55), 0.8 * sink)
    maps[:] = [colour, mix(rough, np.float32(0.7), hole), metal * (1 - hole), height]


def cracked(maps, skin: Skin, med, asked, seed) -> Drawn:
    """A crack along the left fillet: (from angle, to angle, width in mm)."""
    colour, rough, metal, height = maps
    start, end, wide = np.radians(asked[0]), np.radians(asked[1]), asked[2]
    ends = ((start * skin.r, skin.left + 3.2), (end * skin.r, skin.left + 3.7))
    path = crooked(*ends, 130, 0.9, seed + 20, 1.15)
    rng = np.random.default_rng(seed + 21)
    widths = (
        wide * np.sin(np.linspace(0.12, np.pi - 0.12, len(path))) ** 0.5 * rng.uniform(0.75, 1.25, len(path))
    )
    ink = np.zeros((skin.shape[0] * 2, skin.shape[1] * 2), np.float32)
    draw(ink, skin.pixels(path), widths * PPM * 2)
    twig = crooked(path[70], path[70] + np.array([2.6, 0.9]), 20, 0.25, seed + 22)
    draw(ink, skin.pixels(twig), np.full(len(twig), 0.1 * PPM * 2))
    crack = cv2.resize(ink, skin.shape[::-1], interpolation=cv2.INTER_AREA)
    bleed = cv2.GaussianBlur(crack, (0, 0), 0.34 * PPM)
    bleed = bleed / bleed.max() * step(-1.6, 0.3, med)
    colour = mix(
        mix(colour, (0.12, 0.075, 0.04), 0.75 * bleed), (0.006, 0.005, 0.004), np.clip(crack * 1.3, 0, 1)
    )
    maps[:] = [colour, mix(rough, np.float32(0.8), crack), metal * (1 - crack), height - 3.5 * crack]
    solid = skin.solid(path)
    sizes = {"length_mm": round(length(solid), 2), "width_mm": round(float(widths.max()), 2)}
    return Drawn("crack", "crack_line", solid[:: len(solid) // 10], sizes)


def blued(maps, skin: Skin, noises, seed) -> list[Drawn]:
    """Run hot and dry: score all round, blue in the middle, straw towards the webs, smeared metal."""
    colour, rough, metal, height = maps
    broad, med, fine, _ = noises
    heat = np.exp(-((skin.x / 9.5) ** 4)) * (0.75 + 0.25 * step(-1.2, 1.0, broad + 0.4 * med))
    straw = np.exp(-((skin.x / 13.5) ** 6))
    colour = mix(colour, (0.42, 0.27, 0.12), 0.7 * straw)
    colour = mix(colour, (0.20, 0.085, 0.16), step(0.25, 0.6, heat) * 0.85)
    colour = mix(colour, (0.035, 0.065, 0.19), step(0.5, 0.9, heat) * 0.92)
    deep = np.clip(noise(skin.shape, PPM, 80, 1.5, stretch=(20, 0.16), seed=seed + 30) - 0.4, 0, 2) * skin.on
    smear = step(1.0, 1.5, noise(skin.shape, PPM, 14, 1.7, stretch=(4, 0.8), seed=seed + 31)) * skin.on
    colour = mix(colour, (0.03, 0.028, 0.03), 0.75 * np.clip(deep, 0, 1))
    colour = mix(colour, (0.36, 0.33, 0.29), 0.75 * smear)
    maps[:] = [
        colour,
        rough + 0.12 * np.clip(deep, 0, 1) + 0.2 * smear + 0.05 * heat,
        metal,
        height - 1.6 * deep + smear * (0.8 + 0.6 * fine),
    ]
    out = []
    for what, reach, sizes in (
        ("score", 10.5, {"all_round": True, "width_mm": 21.0}),
        ("heat colour", 8.0, {"all_round": True, "width_mm": 16.0}),
    ):
        ring = [
            (a, skin.long / 2 + k)
            for k, turn in ((-reach, 1), (reach, -1))
            for a in np.linspace(62, 148, 7)[::turn]
        ]
        points = np.array(ring) * np.array([np.radians(1) * skin.r, 1])
        out.append(Drawn(what, "polygon", skin.solid(points), sizes))
    return out


def oiled(skin: Skin, med, seed):
    """A film of oil with drops: relief, and where it is."""
    film = step(-0.1, 0.9, noise(skin.shape, PPM, 18, 2.4, stretch=(1.6, 1), seed=seed + 40) + 0.25 * med)
    relief = 0.25 * film
    rng = np.random.default_rng(seed + 41)
    for _ in range(150):
        x, y = rng.uniform(0, skin.shape[1]), rng.uniform(0, skin.shape[0])
        r = rng.lognormal(np.log(0.55), 0.55) * PPM
        x0, x1, y0, y1 = (int(max(0, v)) for v in (x - r - 2, x + r + 2, y - r - 2, y + r + 2))
        yy, xx = np.mgrid[y0 : min(y1, skin.shape[0]), x0 : min(x1, skin.shape[1])]
        if yy.size:
            drop = np.sqrt(np.clip(1 - ((xx - x) ** 2 + (yy - y) ** 2) / r**2, 0, 1)) * r / PPM * 0.55
            relief[y0:y1, x0:x1] = np.maximum(relief[y0:y1, x0:x1], drop)
    return relief, np.clip(0.55 * film + step(0.22, 0.40, relief), 0, 1)


AXIS = mathutils.Matrix(((0, 0, 1, 0), (1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 0, 1)))


def cheek(ring, x0, x1, steel) -> None:
    """A web of the crankshaft: an outline in (y, z) from x0 to x1."""
    made = b.plate("cheek", ring, [], x1 - x0, 2.2, steel)
    made.matrix_world = mathutils.Matrix.Translation(((x0 + x1) / 2 * b.MM, 0, 0)) @ AXIS


def shaft(shot: Shot, r: float, centre, main_r: float, polished) -> None:
    """Webs with counterweights, and the neighbours on the shaft's own centre line."""
    raw = b.Material("web", Metallic=0.75, Roughness=0.42, Coat_Weight=0.3, Coat_Roughness=0.12)
    dark, middle, light = ((0.05, 0.04, 0.03), (0.135, 0.118, 0.10), (0.21, 0.185, 0.155))
    raw.mottled(16, [(0.30, dark), (0.50, middle), (0.70, light)], shot.seed).grainy(1.1, 0.28)
    out = centre / np.linalg.norm(centre)
    aim = np.arctan2(out[1], out[0])
    fan = np.linspace(aim - 0.95, aim + 0.95, 50)
    weight = centre + shot.options.get("weight", 66) * np.stack([np.cos(fan), np.sin(fan)], 1)
    points = np.concatenate([b.circle(0, 0, r + 10, 120), b.circle(*centre, main_r + 13, 120), weight])
    ring = points[ConvexHull(points).vertices]
    for side in (1, -1):
        cheek(ring, *sorted((side * (HALF + 1.4), side * 35)), raw)
        cheek(2 * centre - ring, *sorted((side * 68, side * 86)), raw)
        main = b.turned("main", profile_of(main_r, 15.5, 2.5, main_r + 9), polished, 200, axis="x", sharp=60)
        b.move(main, (side * 51.5, *centre))


def build(shot: Shot):
    """The scene; returns the camera, what is drawn, and the cards."""
    o, look, seed = shot.options, shot.look, shot.seed * 100
    r = (look.main_journal if o.get("main") else look.rod_journal) / 2
    other = (look.rod_journal if o.get("main") else look.main_journal) / 2
    skin = Skin(shot, r)
    maps, noises = surface(shot, skin)
    drawn = []
    oil_hole(maps, skin, o.get("hole", 97))
    if o.get("blue"):
        drawn += blued(maps, skin, noises, seed)
    if "crack" in o:
        drawn.append(cracked(maps, skin, noises[1], o["crack"], seed))
    relief, film = oiled(skin, noises[1], seed)
    film = film * o.get("oil", 0.8)
    colour, rough, metal, height = maps
    colour = colour * (1 - film[..., None] * np.array([0.10, 0.22, 0.42]))
    steel = b.Material("journal", Coat_Roughness=0.03, Coat_IOR=1.48).on_uv()
    steel.maps(colour, rough, metal, height, 0.022, film).droplets(relief)
    b.turned("journal", skin.profile, steel, 512, axis="x", sharp=60)
    polished = b.Material(
        "other journal", Metallic=1.0, Roughness=0.24, Base_Color=(0.5, 0.48, 0.45, 1), Coat_Weight=0.25
    )
    centre = np.array(o.get("centre", (30.0, -30.0)))
    shaft(shot, r, centre, other, polished)
    foot = centre[1] - 67
    bench(look.bench, foot, shot.seed + 7)
    cards = []
    if "card" in o:
        x, y, top = o["card"]
        block_of_wood(x - 37, y - 21, x + 37, y + 21, top, foot)
        cards.append(put_card(5, (x, y, top), o.get("card_yaw", 9), "a block of wood beside the journal"))
    for at in o.get("bolts", ()):
        bolt(*at[:2], foot, at[2])
    bpy.context.view_layer.update()
    return lit(shot, o.get("hand", ((60, -150, 190), (0, 0, 0), 60, 2)), 0.75), drawn, cards
