"""The side of an assembled head after weeks in a flooded pump house: two spark plugs rusted in, mud lines."""

import numpy as np

from . import blender as b
from .maps import coordinates, mix, noise, rust_colour, step
from .stage import Drawn, Shot, bench, lit, skin

SIDE, PPM = (330.0, 150.0), 7


def wall(shot: Shot) -> b.Material:
    """Cast iron that stood in water: rust over old paint, a tide line, dried mud."""
    seed = shot.seed * 100
    x, y = coordinates(*SIDE, PPM)
    shape = x.shape
    broad, med = noise(shape, PPM, 40, seed=seed), noise(shape, PPM, 9, 2.0, seed=seed + 1)
    fine = noise(shape, PPM, 1.4, 1.5, seed=seed + 2)
    paint = mix((0.055, 0.085, 0.10), (0.03, 0.045, 0.055), step(-1, 1.3, broad + 0.5 * med))
    gone = step(-0.25, 0.1, med + 0.6 * broad + 0.35 * fine + 0.5 * step(30, -40, y))
    colour = mix(paint, rust_colour(shape, PPM, seed + 4), gone)
    runs = step(0.4, 1.5, noise(shape, PPM, 16, 1.7, stretch=(0.5, 8), seed=seed + 6)) * step(48, 10, y)
    colour = mix(colour, (0.33, 0.15, 0.06), 0.55 * runs)
    tide = y - 26 - 2.0 * broad - 0.8 * med
    mud = step(3, -6, tide) * step(-0.5, 0.9, broad * 0.6 + 0.6 * med + 0.3 * fine)
    colour = mix(colour, mix((0.25, 0.205, 0.15), (0.15, 0.12, 0.085), step(-1, 1, fine)), 0.7 * mud)
    line = np.exp(-((tide / 1.6) ** 2)) * step(-1.2, 0.3, med)
    colour = mix(colour, (0.42, 0.38, 0.31), 0.6 * line)
    height = 1.0 * med * gone + 0.8 * fine + 0.6 * noise(shape, PPM, 3, 1.4, seed=seed + 8) + 1.2 * gone
    made = b.Material("wall").on_plane(*SIDE)
    return made.maps(colour, 0.8 - 0.25 * (1 - gone) + 0.04 * fine, None, height, 0.35)


def plug(x, y, look_seed: int, rusted: bool) -> None:
    """A spark plug in its recess: seat ring, hexagon, insulator, terminal."""
    red, brown, light = (0.055, 0.024, 0.014), (0.15, 0.062, 0.026), (0.27, 0.135, 0.06)
    steel = b.Material("plug steel", Metallic=0.1 if rusted else 0.9, Roughness=0.85 if rusted else 0.4)
    stops = [(0.34, red), (0.52, brown), (0.68, light)]
    if not rusted:
        stops = [(0.34, (0.17, 0.13, 0.09)), (0.52, (0.34, 0.31, 0.27)), (0.68, (0.45, 0.42, 0.38))]
    steel.mottled(1.3, stops, look_seed, 0.0).grainy(0.5, 0.45 if rusted else 0.05)
    white = b.Material("insulator", Roughness=0.28, Coat_Weight=0.4)
    white.mottled(
        7,
        [(0.30, (0.20, 0.12, 0.06)), (0.46, (0.50, 0.44, 0.36)), (0.62, (0.66, 0.63, 0.58))],
        look_seed + 2,
        1.5,
    )
    turn = 13 + 21 * look_seed
    for profile, material, sides in (
        ([(12.0, -6), (11.6, -2.5), (9.4, -2.2)], steel, 80),
        ([(9.0, -3), (11.7, -2.6), (11.9, 5.2), (11.2, 6.4), (8.0, 6.8)], steel, 6),
        ([(8.0, 6.5), (8.2, 8.2), (7.6, 9.4), (6.4, 9.7)], steel, 80),
        (
            [
                (6.2, 9.4),
                (6.1, 14),
                (5.4, 15.5),
                (5.6, 17.0),
                (5.0, 18.5),
                (5.2, 20),
                (4.5, 21.8),
                (4.4, 31),
                (3.4, 32.5),
            ],
            white,
            80,
        ),
        ([(3.3, 32.3), (2.2, 33), (2.1, 34), (3.2, 34.6), (3.3, 38.5), (2.7, 39.5), (0.01, 39.8)], steel, 48),
    ):
        made = b.turned("plug", profile, material, sides, sharp=28)
        b.move(made, (x, y, 0), turn)


def build(shot: Shot):
    """The scene, looked at as it lies: the side of the head is the xy plane, up is z."""
    o, look = shot.options, shot.look
    surface = wall(shot)
    places = ((-52.0, -4.0), (46.0, -6.0))
    holes = [b.circle(x, y, 17.5, 120, 0.012, i) for i, (x, y) in enumerate(places)]
    b.plate("side", b.rounded(-164, -74, 164, 74, 9), holes, 14, 2.2, surface, 0)
    cast = skin(look, 9, 0.1, 0.85)
    for i, (x, y) in enumerate(places):
        recess = b.turned(
            "recess", [(10, -6.2), (15.6, -6), (17.2, -4.6), (17.9, -1.5)], cast, 120, inward=True
        )
        b.move(recess, (x, y, 0))
        plug(x, y, shot.seed + i, True)
    for x in (-104.0, 2.0, 104.0):
        rib = b.plate("rib", b.rounded(-5, -66, 5, 66, 4), [], 12, 3, surface, 6)
        b.move(rib, (x, 0, 1))
    cover = b.plate("cover", b.rounded(-150, -22, 150, 22, 8), [], 40, 4, surface, 0)
    b.move(cover, (0, 96, 6))
    flange = b.plate("flange", b.rounded(-158, -5, 158, 5, 3), [], 30, 1.5, cast, 0)
    b.move(flange, (0, 76, 6))
    bench(look.bench, -170, shot.seed + 7)
    turn = np.linspace(0, 2 * np.pi, 15)[:-1]
    drawn = [
        Drawn(
            "rust",
            "ellipse",
            np.stack([x + 13 * np.cos(turn), y + 13 * np.sin(turn), np.full(14, 6.0)], 1),
            {"plug": i + 1},
        )
        for i, (x, y) in enumerate(places)
    ]
    return lit(shot, o.get("hand", ((90, -160, 230), (0, 0, 0), 70, 5)), 0.7), drawn, []
