"""Two bearing half shells on the bench, hollow side up: sound, full of dirt, fatigued, or wiped."""

import numpy as np

from . import blender as b
from .maps import lines, mix, noise, outline, scratches, step
from .stage import Drawn, Shot, bench, lit, put_card

PPM, WIDE, WALL = 22.0, 23.0, 1.8
GAP = 31.0


class Lining:
    """The unrolled hollow side of a half shell: x along its width, angle from edge to edge."""

    def __init__(self, shot: Shot, r: float, which: int):
        self.r, self.seed = r, shot.seed * 100 + 37 * which
        self.shape = (int(WIDE * PPM), int(np.pi * r * PPM))
        u, v = np.meshgrid((np.arange(self.shape[1]) + 0.5) / PPM, (np.arange(self.shape[0]) + 0.5) / PPM)
        self.u, self.v = u.astype(np.float32), v.astype(np.float32)
        self.middle = self.u - np.pi * r / 2
        self.broad, self.med, self.fine = (
            noise(self.shape, PPM, size, beta, seed=self.seed + k)
            for k, (size, beta) in enumerate(((16, 2.2), (4, 2.0), (0.7, 1.5)))
        )
        self.run = noise(self.shape, PPM, 30, 1.1, stretch=(12, 0.14), seed=self.seed + 3)
        self.sound()

    def sound(self) -> None:
        """Grey lining, polished in the middle, dull towards the parting edges."""
        load = np.exp(-((self.middle / (self.r * 0.85)) ** 4))
        colour = mix((0.37, 0.375, 0.39), (0.27, 0.27, 0.275), step(-1.2, 1.4, self.broad + 0.4 * self.med))
        colour = colour * (1 + 0.05 * np.clip(self.run, -2, 2) * load)[..., None]
        hurt = scratches(self.shape, PPM, 60, 4, self.seed + 4, 0, 0.05)
        self.colour = colour * (1 - 0.3 * hurt)[..., None]
        self.rough = 0.36 - 0.1 * load + 0.04 * np.clip(self.med, -2, 2)
        self.metal = np.full(self.shape, 0.9, np.float32)
        self.height = (
            0.2 * self.run * load + 0.06 * self.fine - 0.5 * hurt + 0.1 * lines(self.v, 0.12, self.seed + 5)
        )

    def lay(self, where, colour, rough, height=None, metal=None) -> None:
        """Cover the lining as far as `where` says."""
        self.colour, self.rough = mix(self.colour, colour, where), mix(self.rough, rough, where)
        if height is not None:
            self.height = self.height * (1 - where) + where * height
        if metal is not None:
            self.metal = mix(self.metal, metal, where)

    def ring(self, what, patch, sizes):
        """Outline of a patch as the truth tells it."""
        return what, outline(patch, PPM, 12, 4.0)[0], sizes

    def dirty(self):
        """Grooves run in by grit, and the grit still in the lining."""
        belt = np.exp(-((self.middle / (self.r * 0.75)) ** 4))
        grooves = (
            np.clip(noise(self.shape, PPM, 60, 1.2, stretch=(40, 0.13), seed=self.seed + 10) - 0.75, 0, 1.6)
            * belt
        )
        self.lay(np.clip(0.9 * grooves, 0, 1), (0.085, 0.08, 0.08), 0.5)
        self.height = self.height - 3.2 * grooves
        rng, grit = np.random.default_rng(self.seed + 11), np.zeros(self.shape, np.float32)
        places = []
        for _ in range(34):
            x, y = rng.normal(0, self.r * 0.5), rng.uniform(2, WIDE - 2)
            size = float(np.clip(rng.lognormal(np.log(0.24), 0.5), 0.12, 0.8))
            tail = (
                np.exp(-(((self.v - y) / (size * 0.7)) ** 2))
                * step(0, 0.5, self.middle - x)
                * step(9, 0, self.middle - x)
            )
            self.lay(0.75 * tail, (0.10, 0.095, 0.095), 0.5)
            self.height = self.height - 2.0 * tail
            grit = np.maximum(grit, step(1.1, 0.8, np.hypot(self.middle - x, self.v - y) / size))
            places.append(size)
        self.lay(grit, (0.03, 0.026, 0.022), 0.65, 1.5, 0.2)
        reach = (np.abs(self.middle) < self.r * 0.8) & (self.v > 1.2) & (self.v < WIDE - 1.2)
        return self.ring(
            "embedded dirt", reach, {"grains": len(places), "largest_mm": round(2 * max(places), 2)}
        )

    def fatigued(self):
        """Lining broken out in the loaded middle, steel and copper bare below, cracks around."""
        load = 1 - ((self.middle - 3) / (self.r * 0.55)) ** 2 - ((self.v - WIDE * 0.55) / 10.5) ** 2
        field = 0.62 * load + 0.40 * self.med + 0.14 * self.fine - 0.42
        out = step(0.0, 0.05, field)
        copper = mix((0.36, 0.17, 0.085), (0.17, 0.085, 0.05), step(-1, 1.2, self.fine + 0.5 * self.med))
        steel = mix((0.26, 0.25, 0.24), (0.12, 0.11, 0.105), step(-1, 1, self.fine))
        self.lay(out, mix(copper, steel, step(0.25, 0.5, field)), 0.52, -4 + 0.8 * self.fine)
        rim = np.exp(-(((field + 0.02) / 0.05) ** 2)) * step(-0.4, 0.2, load)
        self.lay(0.7 * rim, (0.06, 0.055, 0.055), 0.6)
        net = np.exp(-((noise(self.shape, PPM, 3.2, 1.9, seed=self.seed + 12) / 0.055) ** 2))
        crazed = net * step(-0.15, 0.35, load) * (1 - out)
        self.lay(0.75 * crazed, (0.05, 0.045, 0.045), 0.6)
        self.height = self.height - 1.5 * crazed
        patch = field > 0.02
        return self.ring("fatigue", patch, {"area_mm2": round(float(patch.sum() / PPM**2), 1)})

    def wiped(self):
        """Run dry: lining smeared along the turn, copper through, black at the parting edges."""
        streak = noise(self.shape, PPM, 40, 1.3, stretch=(16, 0.35), seed=self.seed + 13)
        load = np.exp(-((self.middle / (self.r * 1.0)) ** 4))
        field = load + 0.30 * streak + 0.12 * self.med - 0.45
        through = step(0.0, 0.4, field)
        copper = mix((0.42, 0.19, 0.09), (0.20, 0.09, 0.05), step(-1, 1.3, streak + 0.4 * self.fine))
        self.lay(0.92 * through, copper, 0.34, 1.4 * streak)
        burnt = step(0.5, 1.4, streak + 0.5 * self.broad) * load
        self.lay(0.85 * burnt, (0.035, 0.03, 0.03), 0.5)
        smear = step(1.1, 1.5, noise(self.shape, PPM, 12, 1.6, stretch=(5, 0.7), seed=self.seed + 14)) * load
        self.lay(0.9 * smear, (0.50, 0.50, 0.51), 0.26, 2.6 + 0.8 * streak)
        edge = step(self.r * 1.05, self.r * 1.5, np.abs(self.middle))
        self.lay(0.6 * edge * step(-0.6, 1, self.med + self.broad), (0.05, 0.035, 0.025), 0.55)
        patch = field > 0.2
        return self.ring("wiped", patch, {"area_mm2": round(float(patch.sum() / PPM**2), 1)})


def half_shell(lining: Lining, at, name) -> None:
    """The lined hollow, the steel back, and the edges between them."""
    r = lining.r
    angles = np.pi + np.linspace(0, np.pi, 181)
    none = np.zeros(181)
    hollow = b.Material(name).on_uv().maps(lining.colour, lining.rough, lining.metal, lining.height, 0.03)
    steel = b.Material("shell back", Metallic=1.0, Roughness=0.34, Base_Color=(0.36, 0.34, 0.31, 1))
    steel.mottled(5, [(0.35, (0.20, 0.18, 0.15)), (0.6, (0.40, 0.38, 0.35))])
    half = WIDE / 2
    parts = [
        ([(r + 0.4, -half), (r, -half + 0.4), (r, half - 0.4), (r + 0.4, half)], hollow, True),
        ([(r + WALL, -half), (r + WALL, half)], steel, False),
        ([(r + WALL, -half), (r + 0.4, -half)], steel, True),
        ([(r + 0.4, half), (r + WALL, half)], steel, True),
    ]
    for profile, material, inward in parts:
        made = b.swept(name, profile, angles, none, material, axis="x", inward=inward, sharp=30, closed=False)
        b.move(made, at)
    for side in (1, -1):
        x0, y0 = -half + 0.1, side * (r + WALL / 2)
        edge = b.plate("edge", b.rounded(x0, y0 - WALL / 2, -x0, y0 + WALL / 2, 0.15), [], 0.1, 0.03, steel)
        b.move(edge, (at[0], at[1], at[2]))


def build(shot: Shot):
    """The scene; returns the camera, what is drawn, and the cards."""
    o, look = shot.options, shot.look
    r = (look.main_journal if o.get("main") else look.rod_journal) / 2 + 0.02
    drawn = []
    for which, state in enumerate(o["shells"]):
        lining = Lining(shot, r, which)
        at = ((which - 0.5) * GAP, o.get("stagger", 3) * which, r + WALL)
        if state != "sound":
            what, ring, sizes = getattr(lining, state)()
            turn = np.pi + ring[:, 0] / r
            points = np.stack([WIDE / 2 - ring[:, 1], r * np.cos(turn), r * np.sin(turn)], 1)
            drawn.append(Drawn(what, "polygon", points + np.array(at), sizes))
        half_shell(lining, at, f"shell {which}")
    bench(look.bench, 0.0, shot.seed + 7)
    cards = []
    if "card" in o:
        cards.append(put_card(13, (*o["card"], 0.0), o.get("card_yaw", -6), "the bench beside the shells"))
    return lit(shot, o.get("hand", ((-70, -60, 190), (0, 0, 0), 90, 1.6)), 0.8), drawn, cards
