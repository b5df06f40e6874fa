"""The gasket face of a cylinder head: stains, soot, gasket remains, a crack between the seats."""

import cv2
import numpy as np

from . import blender as b
from .maps import coordinates, crooked, draw, length, lines, mix, noise, rust_colour, scratches, step
from .ports import CHAMBERS, LAYOUTS, seats_and_ports
from .stage import Drawn, Shot, bench, bolt, lit, put_card, skin

FACE, PPM = (330.0, 190.0), 10


class Face:
    """Maps of the face and the distances that all of them use."""

    def __init__(self, shot: Shot):
        self.shot, self.seed = shot, shot.seed * 100
        self.layout = LAYOUTS[shot.options.get("layout", "four")]
        self.x, self.y = coordinates(*FACE, PPM)
        self.shape = self.x.shape
        self.broad, self.med, self.fine = (
            noise(self.shape, PPM, size, beta, seed=self.seed + k)
            for k, (size, beta) in enumerate(((45, 2.1), (8, 2.0), (1.0, 1.5)))
        )
        x, y = self.x, self.y
        self.chamber = np.min([np.hypot(x - a, y - c) for a, c in CHAMBERS], 0)
        self.water = np.min([np.hypot(x - a, y - c) - q for a, c, q in self.layout["water"]], 0)
        self.valve = [
            np.min([np.hypot(x - a - v[0], y - c - v[1]) for a, c in CHAMBERS], 0)
            for v in self.layout["valves"]
        ]
        self.inside = step(48.1, 47.2, self.chamber + 0.25 * self.med)
        self.mill()

    def mill(self) -> None:
        """The milled face with the scratches of its life."""
        seed, x, y = self.seed, self.x, self.y
        arc = x * 0.995 + y * 0.02 - np.sqrt(np.clip(190**2 - (y + 15) ** 2, 1, None))
        cut = lines(arc, 0.22, seed + 4, 1.5) + 0.5 * np.sin(arc * 2 * np.pi / 0.9)
        hurt = scratches(self.shape, PPM, 900, 8, seed + 5) + scratches(self.shape, PPM, 90, 35, seed + 6)
        self.sanded = lines(x * 0.8 + y * 0.6, 0.15, seed + 7, 2.5)
        patches = self.sanded * step(0.3, 1.2, noise(self.shape, PPM, 30, 2, seed=seed + 8))
        light, dark = self.shot.look.head
        self.colour = mix(light, dark, step(-1.2, 1.5, self.broad + 0.6 * self.med))
        marks = 0.06 * np.clip(cut, -2, 2) + 0.05 * self.fine + 0.4 * hurt + 0.05 * np.clip(patches, -2, 2)
        self.colour = self.colour * (1 + marks)[..., None]
        self.rough = 0.36 + 0.05 * np.clip(self.med, -2, 2) + 0.03 * self.fine
        self.metal = np.full(self.shape, 0.96, np.float32)
        self.height = 0.5 * cut + 0.3 * self.fine - 1.1 * hurt + 0.4 * patches

    def lay(self, where, colour, rough=None, metal=None, height=None) -> None:
        """Cover what is there with something else, as far as `where` says."""
        self.colour = mix(self.colour, colour, where)
        if rough is not None:
            self.rough = mix(self.rough, rough, where)
        if metal is not None:
            self.metal = mix(self.metal, metal, where)
        if height is not None:
            self.height = self.height * (1 - where) + where * height

    def gasket(self, amount: float) -> None:
        """Print of the gasket, its fire ring, and what stuck to the face."""
        med, fine, broad = self.med, self.fine, self.broad
        body = step(51.5, 52.4, self.chamber + 0.1 * med) * step(1.8, 2.4, self.water + 0.2 * med)
        self.lay(
            body * (0.45 + 0.35 * step(-1, 1, broad + 0.5 * med)), self.colour * np.array([0.66, 0.60, 0.53])
        )
        ring = 0.55 * step(5, 1.5, np.abs(self.chamber - 54)) + 0.35 * step(4, 1, np.abs(self.water - 3))
        stuck = step(1.25, 1.55, broad * 0.75 + med * 0.6 + 0.22 * fine + ring) * body * amount
        dark = mix((0.040, 0.040, 0.043), (0.105, 0.10, 0.095), step(-1, 1.6, 0.5 * fine + med))
        self.lay(0.93 * stuck, dark, 0.8, 0.0, 1.6 + 0.4 * fine)
        fire = step(47.6, 48.2, self.chamber + 0.12 * med) * step(51.6, 51.0, self.chamber + 0.1 * med)
        tin = mix((0.30, 0.285, 0.26), (0.11, 0.095, 0.08), step(-0.6, 1.1, med + 0.5 * broad))
        self.lay(0.8 * fire, tin)
        edge = np.exp(-(((self.chamber - 51.3) / 0.28) ** 2)) + np.exp(-(((self.chamber - 48) / 0.25) ** 2))
        self.lay(0.55 * edge * step(-1.3, 0.6, med), (0.07, 0.058, 0.045))

    def soot(self, amount: float) -> None:
        """The chambers as fire left them: soot, tan at the hot side, flakes off."""
        med, fine, broad = self.med, self.fine, self.broad
        soot = self.inside * step(
            -1.6, 0.6, med * 0.5 + broad * 0.35 + 0.35 * fine + 0.9 * step(33, 46, self.chamber) + 0.2
        )
        colour = mix((0.028, 0.024, 0.021), (0.088, 0.070, 0.055), step(-0.6, 1.8, med + 0.7 * fine))
        colour = mix(
            colour,
            (0.22, 0.165, 0.115),
            0.75 * step(30, 19, self.valve[1] + 2 * med) * step(-1, 1.2, fine + med),
        )
        rim = 0.6 * step(9, 2, np.abs(self.valve[0] - 21) + 1.5 * med) * step(0, 1.4, fine + 0.4 * med)
        colour = mix(colour, (0.125, 0.105, 0.090), rim)
        crust = 1.2 * fine + noise(self.shape, PPM, 0.6, 1.4, seed=self.seed + 10)
        self.lay(0.93 * soot * amount, colour, 0.78, 0.05, crust)
        flake = step(1.9, 2.15, med + 0.55 * fine + 0.2 * broad) * self.inside * amount
        self.lay(0.8 * flake, (0.27, 0.25, 0.225), 0.42, 0.9)

    def wipe(self, number: int) -> None:
        """Rubbed clean with a rag between the seats of one chamber."""
        cx, cy = CHAMBERS[number]
        bridge = np.exp(-(((self.x - cx - 1.5) / 8) ** 2) - ((self.y - cy - 0.5) / 12) ** 2)
        wiped = np.clip(bridge * 1.9, 0, 1) * step(-2.0, 0.1, self.med + 0.5 * self.sanded)
        light, dark = (np.array(c) * 0.88 for c in self.shot.look.head)
        bright = (
            mix(light, dark, step(-1, 1.4, self.fine + self.med))
            * (1 + 0.08 * np.clip(self.sanded, -2, 2))[..., None]
        )
        self.lay(0.93 * wiped, bright, 0.4, 0.92)

    def water_marks(self, rust: float) -> None:
        """Rust and lime round the water holes, blush of rust, oil."""
        med, fine, broad = self.med, self.fine, self.broad
        red = rust_colour(self.shape, PPM, self.seed + 20)
        self.lay(
            rust * 0.9 * step(5.5, 0, self.water + 1.5 * med + broad) * step(-0.9, 0.8, fine + med),
            red,
            0.82,
            0.1,
        )
        lime = step(2.6, 0.8, np.abs(self.water - 3) + 1.3 * med) * step(0.2, 1, med + 0.4 * fine)
        self.lay(0.5 * lime, (0.46, 0.44, 0.39), 0.8)
        cloud = noise(self.shape, PPM, 22, 1.7, seed=self.seed + 22)
        self.lay(rust * 0.65 * step(1.5, 2.4, cloud + 0.3 * fine) * (1 - self.inside), red * 1.1, 0.78, 0.3)
        oil = step(0.7, 1.5, noise(self.shape, PPM, 34, 2.6, seed=self.seed + 23)) * (1 - self.inside)
        self.rough = self.rough - 0.18 * oil
        self.colour = self.colour * (1 - 0.32 * oil)[..., None]

    def crack(self, number: int, wide: float) -> Drawn:
        """A crack from seat to seat across the bridge."""
        cx, cy = CHAMBERS[number]
        one, two = self.layout["valves"]
        a, c = (np.array([cx + v[0], cy + v[1]]) for v in (one, two))
        across = (c - a) / np.linalg.norm(c - a)
        lean = np.array([-across[1], across[0]])
        path = crooked(
            a + across * (one[2] + 0.2) + 2.2 * lean,
            c - across * (two[2] + 0.2) - 1.8 * lean,
            80,
            0.55,
            self.seed + 12,
            1.3,
        )
        rng = np.random.default_rng(self.seed + 13)
        widths = wide * rng.uniform(0.7, 1.25, len(path)) * np.linspace(1.15, 0.75, len(path))
        middle, reach, times = path[len(path) // 2], 14, 3
        left, top = int((middle[0] - reach + FACE[0] / 2) * PPM), int((FACE[1] / 2 - middle[1] - reach) * PPM)
        n = 2 * reach * PPM

        def pixels(points):
            flat = np.stack(
                [(points[:, 0] + FACE[0] / 2) * PPM - left, (FACE[1] / 2 - points[:, 1]) * PPM - top], 1
            )
            return flat * times

        ink = np.zeros((n * times, n * times), np.float32)
        draw(ink, pixels(path), widths * PPM * times)
        twig = crooked(path[48], path[48] + np.array([1.2, 2.6]), 20, 0.2, self.seed + 14)
        draw(ink, pixels(twig), np.full(len(twig), 0.10 * PPM * times))
        dark = np.zeros(self.shape, np.float32)
        dark[top : top + n, left : left + n] = cv2.resize(ink, (n, n), interpolation=cv2.INTER_AREA)
        bleed = cv2.GaussianBlur(dark, (0, 0), 0.45 * PPM)
        self.lay(0.6 * bleed / bleed.max() * step(-1.3, 0.8, self.med + self.fine), (0.10, 0.060, 0.035))
        self.lay(np.clip(dark * 1.2, 0, 1), (0.006, 0.005, 0.005), 0.85, 0.0)
        self.height = self.height - 5 * dark
        sizes = {"length_mm": round(length(path), 2), "width_mm": round(float(widths.max()), 2)}
        return Drawn("crack", "crack_line", np.c_[path, np.zeros(len(path))][:: len(path) // 9], sizes)


def build(shot: Shot):
    """The scene; returns the camera, what is drawn, and the cards."""
    o, look = shot.options, shot.look
    face = Face(shot)
    if o.get("gasket", 1.0):
        face.gasket(o.get("gasket", 1.0))
    face.soot(o.get("soot", 1.0))
    face.water_marks(o.get("rust", 1.0))
    drawn = []
    if "crack" in o:
        face.wipe(o["crack"][0])
        drawn.append(face.crack(*o["crack"]))
    surface = b.Material("face").on_plane(*FACE)
    surface.maps(face.colour, face.rough, face.metal, face.height, 0.02)
    layout = face.layout
    holes = seats_and_ports(shot, layout)
    holes += [b.circle(a, c, q, 40, 0.06, i) for i, (a, c, q) in enumerate(layout["water"])]
    holes += [b.circle(a, c, 6.5, 48) for a, c in layout["bolts"]]
    b.plate("face", b.rounded(-136, -92, 130, 92, 7), holes, 8, 0.3, surface)
    cast = skin(look, 5, *((0.7, 0.55) if o.get("layout") == "vee" else ()))
    for a, c, q in layout["water"]:
        b.move(
            b.turned("water", [(q + 0.6, -50), (q + 0.9, -8), (q + 0.25, -3)], cast, 40, inward=True),
            (a, c, 0),
        )
    for a, c in layout["bolts"]:
        b.move(b.turned("bolt hole", [(6.4, -80), (6.4, -0.5)], cast, 48, inward=True), (a, c, 0))
    outer = b.rounded(-135, -91, 129, 91, 6)
    b.plate("body", outer, [], 78, 2, cast, -62)
    b.plate("side", outer, [b.rounded(-132, -88, 126, 88, 5)], 60, 0.3, cast, -7.6)
    foot = -110.0
    bench(look.bench, foot, shot.seed + 7)
    cards = []
    if "card" in o:
        cards.append(put_card(9, (*o["card"], 0.0), o.get("card_yaw", -7), "the gasket face"))
    if "card_below" in o:
        cards.append(
            put_card(
                9, (*o["card_below"], foot), o.get("card_yaw", -7), "the bench, 110 mm below the gasket face"
            )
        )
    for at in o.get("bolts", ((170, 70, 25), (-175, 110, -50))):
        bolt(*at[:2], foot, at[2], long=80)
    return lit(shot, o.get("hand", ((-120, 160, 260), (-30, 0, 0), 160, 4)), 0.6), drawn, cards
