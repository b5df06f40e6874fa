"""What every picture shares: the look of an engine, bench, card, light, and what is drawn."""

from dataclasses import dataclass, field

import numpy as np

from . import blender as b
from .card import HIGH, WIDE, card
from .maps import mix, noise, scratches, step

Vec = tuple[float, float, float]


@dataclass(frozen=True)
class Look:
    """What tells one engine's pictures from another's: sizes in mm, linear colours."""

    bore: float
    rod_journal: float
    main_journal: float
    metal: tuple[Vec, Vec]
    bench: str
    lamp: Vec
    turn: float
    surround: int
    skin: tuple[Vec, Vec, Vec]
    head: tuple[Vec, Vec]


@dataclass(frozen=True)
class Shot:
    """One picture: its scene with options, its camera, and what the phone did to it."""

    name: str
    scene: str
    look: Look
    seed: int
    shows: str
    at: Vec
    to: Vec
    lens: float
    taken: str
    options: dict = field(default_factory=dict)
    focus: Vec | None = None
    roll: float = 1.5
    fstop: float = 2.4
    light: float = 0.1
    phone: dict = field(default_factory=dict)
    samples: int = 4
    core: str = ""


@dataclass(frozen=True)
class Drawn:
    """Damage as drawn: a shape through points of the part (mm), and its sizes."""

    what: str
    shape: str
    points: np.ndarray
    sizes: dict


@dataclass(frozen=True)
class Card:
    """A scale card: where the corners of its mark lie (mm), and in which plane that is."""

    number: int
    side: float
    corners: np.ndarray
    plane: str


WOOD = ((0.28, 0.18, 0.10), (0.15, 0.09, 0.048))
GREEN = ((0.075, 0.105, 0.085), (0.05, 0.07, 0.06))
GREY = ((0.30, 0.29, 0.27), (0.19, 0.185, 0.175))


def bench(kind: str, z: float, seed: int) -> None:
    """A bench top: oiled wood, painted sheet steel, or a concrete floor."""
    width, ppm = 800, 1.6
    shape = (int(width * ppm),) * 2
    broad = noise(shape, ppm, 80, 2.2, seed=seed)
    fine = noise(shape, ppm, 10, 2.0, seed=seed + 1)
    stain = step(0.3, 1.5, broad + 0.4 * fine)
    surface = b.Material(f"bench {kind}").on_plane(width, width)
    if kind == "wood":
        grain = noise(shape, ppm, 60, 1.5, stretch=(9, 0.35), seed=seed + 2)
        colour = mix(mix(WOOD[0], WOOD[1], step(-1.3, 1.5, grain)), (0.03, 0.022, 0.017), 0.85 * stain)
        surface.maps(colour, 0.6 - 0.26 * stain + 0.05 * np.clip(grain, -2, 2), None, 0.4 * grain, 0.5)
    elif kind == "steel":
        scored = scratches(shape, ppm, 700, 40, seed=seed + 2)
        chip = step(1.5, 1.8, fine + 0.3 * broad + 1.4 * scored)
        colour = mix(mix(GREEN[0], GREEN[1], step(-1, 1.5, broad)), (0.20, 0.17, 0.14), chip)
        surface.maps(
            colour * (1 - 0.6 * stain[..., None]), 0.42 - 0.1 * stain, 0.8 * chip, -chip - scored, 0.15
        )
    else:
        sand = noise(shape, ppm, 2.5, 1.2, seed=seed + 2)
        colour = mix(GREY[0], GREY[1], step(-1.2, 1.4, broad + 0.5 * fine)) * (1 + 0.12 * sand[..., None])
        surface.maps(
            mix(colour, (0.06, 0.055, 0.05), 0.8 * stain), 0.85 - 0.35 * stain, None, sand + fine, 0.4
        )
    b.sheet("bench", 3000, 3000, surface, (0, 0, z))


def put_card(number: int, at: Vec, yaw: float, plane: str) -> Card:
    """Lay a scale card flat; `plane` says in words what it lies on."""
    colour, corners, side = card(number)
    paper = b.Material(f"card {number}", Roughness=0.55).on_uv().maps(colour)
    b.sheet(f"card {number}", WIDE, HIGH, paper, (at[0], at[1], at[2] + 0.35), yaw)
    outer = b.rounded(-WIDE / 2, -HIGH / 2, WIDE / 2, HIGH / 2, 0.3)
    edge = b.plate(f"edge {number}", outer, [], 0.3, 0.05, paper, 0)
    b.move(edge, (at[0], at[1], at[2] + 0.15), yaw)
    c, s = np.cos(np.radians(yaw)), np.sin(np.radians(yaw))
    flat = corners @ np.array([[c, s], [-s, c]]) + np.array(at[:2])
    return Card(number, side, np.c_[flat, np.full(4, at[2] + 0.35)], plane)


def paper(z: float, seed: int, yaw: float) -> None:
    """A sheet of grey shop paper, creased and stained with oil, for bright parts to lie on."""
    w, h, ppm = 300, 230, 5
    shape = (h * ppm, w * ppm)
    creases, fine = noise(shape, ppm, 60, 1.6, seed=seed), noise(shape, ppm, 1.2, 1.0, seed=seed + 1)
    stain = step(1.0, 2.0, noise(shape, ppm, 40, 2.4, seed=seed + 2))
    colour = (
        mix((0.32, 0.33, 0.34), (0.24, 0.25, 0.26), step(-1.5, 1.5, creases)) * (1 + 0.03 * fine)[..., None]
    )
    colour = mix(colour, (0.17, 0.15, 0.12), 0.75 * stain)
    made = b.Material("paper").on_uv().maps(colour, 0.85 - 0.3 * stain, None, creases + 0.05 * fine, 0.3)
    b.sheet("paper", w, h, made, (8, 6, z + 0.3), yaw)


def block_of_wood(x0, y0, x1, y1, top, foot) -> None:
    """A piece of softwood that lifts something off the bench."""
    wood = b.Material("softwood", Roughness=0.65)
    stops = [(0.28, (0.10, 0.06, 0.03)), (0.5, (0.27, 0.17, 0.085)), (0.75, (0.33, 0.215, 0.115))]
    wood.mottled(22, stops, distortion=2.5).grainy(1.5, 0.1)
    middle, w, h = ((x0 + x1) / 2, (y0 + y1) / 2), (x1 - x0) / 2, (y1 - y0) / 2
    made = b.plate("wood", b.rounded(-w, -h, w, h, 1.5), [], top - foot, 1.0, wood, 0)
    b.move(made, (*middle, (top + foot) / 2), 4)


def skin(look: Look, seed: float = 0.0, metallic: float = 0.25, rough: float = 0.72) -> b.Material:
    """As-cast outside of a part."""
    made = b.Material("skin", Metallic=metallic, Roughness=rough)
    dark, middle, light = look.skin
    return made.mottled(9, [(0.32, dark), (0.55, middle), (0.72, light)], seed).grainy(1.6, 0.5)


def bolt(x, y, z, yaw, size=10.0, long=60.0) -> None:
    """A bolt that lies on the bench."""
    steel = b.Material("bolt", Metallic=1.0, Roughness=0.36)
    steel.mottled(6, [(0.35, (0.10, 0.085, 0.07)), (0.6, (0.32, 0.29, 0.25))])
    thread = np.arange(0, long * 0.55, 0.4)
    profile = [(0.01, long), (size * 0.43, long)]
    profile += [(size / 2 * (1 - 0.12 * (i % 4 in (1, 2))), long - 1 - q) for i, q in enumerate(thread)]
    profile += [(size / 2, long * 0.4), (size / 2, 3), (size * 1.05, 2.6), (size * 1.1, 0.4), (0.01, 0)]
    head = [
        (0.01, 0),
        (size * 0.85, 0),
        (size * 0.92, -0.8),
        (size * 0.92, -size * 0.62),
        (size * 0.8, -size * 0.7),
        (0.01, -size * 0.7),
    ]
    for part, sides in ((profile, 40), (head, 6)):
        made = b.turned("bolt", part, steel, sides, sharp=30)
        b.move(made, (x, y, z + size * 0.9), yaw)
        made.rotation_euler[0] = np.pi / 2 - 0.06


def lit(shot: Shot, hand: tuple[Vec, Vec, float, float], strength=0.55) -> object:
    """The workshop, a lamp behind, a hand lamp (from, to, size, power), the camera, somebody holding it."""
    look = shot.look
    b.workshop(strength, look.turn + 7 * (shot.seed % 5), look.surround + shot.seed % 3)
    b.lamp((-250, -300, 480), (0, 0, 0), 240, 9, look.lamp)
    place, to, size, power = hand
    b.lamp(place, to, size, power, (1, 0.94, 0.86))
    seen_by = b.camera(shot.at, shot.to, shot.lens, shot.fstop, shot.roll, shot.focus)
    b.somebody(seen_by)
    b.expose(shot.light)
    return seen_by
