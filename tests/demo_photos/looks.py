"""The looks of the engines: what tells the pictures of one from those of another."""

from .stage import Look

FOUR = Look(
    bore=87.3,
    rod_journal=54.0,
    main_journal=63.5,
    metal=((0.50, 0.48, 0.45), (0.40, 0.38, 0.35)),
    bench="wood",
    lamp=(1.0, 0.78, 0.55),
    turn=20,
    surround=3,
    skin=((0.028, 0.022, 0.018), (0.075, 0.055, 0.042), (0.16, 0.075, 0.032)),
    head=((0.34, 0.325, 0.30), (0.20, 0.187, 0.168)),
)
VEE = Look(
    bore=92.0,
    rod_journal=57.1,
    main_journal=67.3,
    metal=((0.44, 0.45, 0.46), (0.33, 0.335, 0.345)),
    bench="steel",
    lamp=(0.86, 0.93, 1.0),
    turn=140,
    surround=11,
    skin=((0.03, 0.032, 0.036), (0.085, 0.088, 0.092), (0.15, 0.15, 0.145)),
    head=((0.56, 0.56, 0.55), (0.42, 0.42, 0.41)),
)
SHED = Look(
    bore=87.3,
    rod_journal=54.0,
    main_journal=63.5,
    metal=((0.40, 0.375, 0.34), (0.30, 0.28, 0.25)),
    bench="concrete",
    lamp=(0.9, 0.95, 1.0),
    turn=250,
    surround=23,
    skin=((0.04, 0.024, 0.016), (0.11, 0.058, 0.032), (0.20, 0.11, 0.06)),
    head=((0.30, 0.28, 0.25), (0.18, 0.165, 0.145)),
)
