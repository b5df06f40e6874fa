"""Where chambers, valves and holes of a head lie, and what is seen through the holes."""

from . import blender as b
from .stage import Shot

CHAMBERS = ((-60.0, 4.0), (54.0, 4.0))
LAYOUTS = {
    "four": {
        "valves": ((-23.0, 0.0, 21.0), (23.0, 0.0, 18.0)),
        "plug": (1.0, 25.0),
        "water": [
            (-60, 72, 5.5),
            (54, 72, 5.5),
            (-3, 62, 4.5),
            (-3, -54, 4.5),
            (-118, 58, 4.5),
            (112, 58, 4.5),
            (-60, -64, 5.5),
            (54, -64, 5.5),
            *((x, 57, 3) for x in (-30, -90, 84, 24)),
        ],
        "bolts": [(-3, 80), (-3, -76), (-118, 80), (-118, -76), (112, 80), (112, -76)],
    },
    "vee": {
        "valves": ((-21.5, 3.0, 20.0), (22.5, -3.0, 15.5)),
        "plug": (6.0, -27.0),
        "water": [
            (-62, 66, 7),
            (56, 66, 7),
            (-3, 58, 5),
            (-60, -64, 4),
            (-32, -58, 4),
            (54, -64, 4),
            (82, -58, 4),
            (-120, 20, 6),
            (114, 20, 6),
        ],
        "bolts": [(-3, 78), (-3, -70), (-122, 62), (-122, -62), (116, 62), (116, -62)],
    },
}


def dirt(name, stops, relief=0.35, feature=5.0, **inputs) -> b.Material:
    """Soot, tan deposit, or worn steel."""
    return b.Material(name, **inputs).mottled(feature, stops).grainy(0.9, relief)


def seats_and_ports(shot: Shot, layout) -> list:
    """Seats, throats, ports and guides below the holes of the valves; returns the holes."""
    soot = dirt(
        "soot",
        [(0.35, (0.016, 0.013, 0.011)), (0.6, (0.05, 0.038, 0.028)), (0.78, (0.13, 0.09, 0.06))],
        Roughness=0.85,
    )
    tan = dirt(
        "tan",
        [(0.33, (0.035, 0.026, 0.02)), (0.55, (0.14, 0.10, 0.07)), (0.75, (0.27, 0.2, 0.14))],
        Roughness=0.8,
    )
    insert = dirt(
        "insert",
        [(0.36, (0.05, 0.04, 0.033)), (0.55, (0.19, 0.165, 0.14)), (0.72, (0.33, 0.31, 0.28))],
        0.06,
        Metallic=0.9,
        Roughness=0.4,
    )
    seat = dirt(
        "seat",
        [(0.34, (0.07, 0.055, 0.045)), (0.5, (0.42, 0.40, 0.37)), (0.7, (0.58, 0.56, 0.53))],
        0.03,
        1.6,
        Metallic=1.0,
        Roughness=0.24,
    )
    guide = dirt(
        "guide", [(0.3, (0.12, 0.09, 0.06)), (0.6, (0.38, 0.34, 0.28))], 0.1, 3, Metallic=1.0, Roughness=0.35
    )
    holes = []
    for i, (cx, cy) in enumerate(CHAMBERS):
        for (vx, vy, k), lining in zip(layout["valves"], (soot, tan), strict=True):
            at = (cx + vx, cy + vy, 0)
            holes.append(b.circle(*at[:2], k, 200))
            rings = [
                ([(k - 2.05, -0.75), (k - 1.8, -0.45), (k - 0.12, -0.35), (k + 0.05, -0.55)], insert, True),
                ([(k - 3.55, -2.25), (k - 2.05, -0.75)], seat, True),
                ([(k - 4.4, -8.5), (k - 4.35, -4.2), (k - 3.55, -2.25)], insert, True),
                (
                    [(4.2, -47), (7, -46), (k - 6, -42), (k - 2.4, -32), (k - 3.6, -12), (k - 4.4, -8.5)],
                    lining,
                    True,
                ),
                ([(4.0, -60), (4.0, -29.5), (4.4, -29), (6.6, -29), (7.6, -47)], guide, False),
            ]
            if i in shot.options.get("valves_in", (1,)):
                v = k - 2.2
                disc = [
                    (0.01, -1.2),
                    (v * 0.25, -1.22),
                    (v - 0.8, -0.95),
                    (v - 0.1, -0.9),
                    (v, -1.25),
                    (v, -2.3),
                    (v - 2.2, -4),
                ]
                rings.append((disc, lining, True))
            for profile, material, inward in rings:
                b.move(b.turned("seat", profile, material, 180, inward=inward), at)
        px, py = cx + layout["plug"][0], cy + layout["plug"][1]
        holes.append(b.circle(px, py, 6.4, 64))
        thread = [(5.6 + 0.5 * (abs((j % 4) - 2) / 2), -19 + 0.3 * j) for j in range(62)] + [(6.5, -0.3)]
        b.move(b.turned("plug hole", thread, soot, 40, inward=True), (px, py, 0))
    return holes
