"""Why a file is not taken as a photo: found without a name, told with it."""

from inspect_app.model.problems import Problem, Problems

LARGEST_FILE = 40_000_000
"""Bytes. A phone's photo has 2 to 12 million."""
MOST_PIXELS = 100_000_000
"""Width times height. Reading so many takes 0.1 GB (JPEG), 0.8 GB (PNG), 1.6 GB (16 bits, transparent)."""
SMALLEST_SIDE = 16
"""Pixels. On less nothing can be seen."""


class Refused(Exception):
    """A file that is not taken: `what` is wrong with it and what to do (`advice`)."""

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(what)
        self.what, self.advice = what, advice

    def about(self, name: str) -> Problems:
        """The problems of the photo called `name`."""
        return Problems([Problem(f'photo "{name}", not taken in', self.what, self.advice)])


def cut_off() -> Refused:
    """The file ends too early."""
    return Refused(
        "the file ends before the picture does: a part of it was lost on the way.",
        "Send it again from the device that took it.",
    )


def unreadable() -> Refused:
    """The file is whole but what is in it is not a picture that can be decoded."""
    return Refused(
        "the picture in the file is damaged and cannot be read.",
        "Send it again from the device that took it, or take the picture again.",
    )


def moving() -> Refused:
    """The file holds several pictures."""
    return Refused(
        "it holds several pictures that move, and a mark belongs to one picture.",
        "Save the one that shows the spot as a still picture and send that.",
    )


def check_size(data: bytes) -> None:
    """Raise Refused for an empty file and for one above LARGEST_FILE."""
    if not data:
        raise Refused("the file is empty.", "Send it again from the device that took it.")
    if len(data) > LARGEST_FILE:
        what = f"the file has {len(data) / 1e6:.1f} MB; up to {LARGEST_FILE / 1e6:.0f} MB are taken."
        raise Refused(what, "Save it as JPEG and send that.")


def check_pixels(width: int, height: int) -> None:
    """Raise Refused for a picture (px) that shows nothing, or that is too large to be read safely."""
    size = f"{width} × {height} px"
    if min(width, height) < SMALLEST_SIDE:
        what = f"the picture has {size}; below {SMALLEST_SIDE} px a side it shows nothing."
        raise Refused(what, "Send the picture itself, not its icon.")
    if width * height > MOST_PIXELS:
        what = (
            f"the picture has {width * height / 1e6:.0f} megapixels ({size}); "
            f"up to {MOST_PIXELS / 1e6:.0f} are taken."
        )
        raise Refused(what, "Set the camera to fewer pixels, or save the picture smaller.")
