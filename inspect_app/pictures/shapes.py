"""Each kind of geometry as it is drawn on the map; colours and lines come from the group around it."""

from collections.abc import Iterator

from inspect_app.pictures.frame import AROUND_THROW, OVERHANG, Frame
from inspect_app.pictures.plan import Seat, Spot
from inspect_app.pictures.svg import Svg, Value, circle, line, polygon, polyline, rect
from inspect_app.rulebook.forms_shapes import (
    BlockShape,
    BoxShape,
    DiscShape,
    LinkShape,
    PanShape,
    ShaftShape,
    SlabShape,
    SlugShape,
)

VEE_PIN, VEE_LINK = 22, 0.8
NOSE = 13


def outlines(frame: Frame, seat: Seat, detail: dict[str, Value]) -> Iterator[Svg]:
    """Draw one seat at all its spots; `detail` is the stroke of lines within its outline."""
    shape = seat.shape
    for spot in seat.spots:
        match shape:
            case BlockShape():
                yield from _block(frame, spot, shape, detail)
            case SlabShape():
                yield _slab(frame, spot, shape)
                yield from _recesses(frame, spot, shape, detail)
            case SlugShape():
                yield from _slug(frame, spot, shape, detail)
            case LinkShape():
                yield _link(frame, spot, shape)
            case ShaftShape():
                yield from _shaft(frame, shape)
            case DiscShape() if spot.bank == 0:
                yield _disc(frame, shape)
            case PanShape():
                yield _pan(frame, shape)
            case BoxShape():
                x = frame.left + shape.along * (frame.right - frame.left - shape.width)
                yield rect(x, frame.line + shape.start, shape.width, shape.end - shape.start)


def _block(frame: Frame, spot: Spot, shape: BlockShape, detail: dict[str, Value]) -> Iterator[Svg]:
    centres = [frame.centre(spot.bank, slot) for slot in spot.slots]
    half, height = shape.channel / 2, shape.end - shape.start
    begins = [frame.left, *(centre + half for centre in centres)]
    ends = [*(centre - half for centre in centres), frame.right]
    top = frame.top(spot.bank, shape.start, shape.end)
    for begin, end in zip(begins, ends, strict=True):
        yield rect(begin, top, end - begin, height)
    for centre in centres if shape.wall else ():
        for side in (-1, 1):
            x = centre + side * (half + shape.wall)
            yield line(x, top, x, top + height, **detail)


def _slab(frame: Frame, spot: Spot, shape: SlabShape) -> Svg:
    first, last = spot.slots[0], spot.slots[-1] + 1
    left = frame.edge(first) - (OVERHANG + shape.overhang if first == 0 else -1)
    right = frame.edge(last) + (OVERHANG + shape.overhang if last == frame.slots else -1)
    top = frame.top(spot.bank, shape.start, shape.end)
    return rect(left, top, right - left, shape.end - shape.start)


def _recesses(frame: Frame, spot: Spot, shape: SlabShape, detail: dict[str, Value]) -> Iterator[Svg]:
    half = shape.recess / 2
    for slot in spot.slots if shape.recess else ():
        centre = frame.centre(spot.bank, slot)
        roof, foot = (frame.y(spot.bank, shape.start + up) for up in (half * 0.5, 0))
        hollow = [
            (centre - half, foot),
            (centre - half * 0.5, roof),
            (centre + half * 0.5, roof),
            (centre + half, foot),
        ]
        yield polyline(hollow, fill="none", **detail)


def _slug(frame: Frame, spot: Spot, shape: SlugShape, detail: dict[str, Value]) -> Iterator[Svg]:
    bank, slot = spot.bank, spot.slots[0]
    centre, moved = frame.centre(bank, slot), shape.travel * frame.stroke(bank, slot)
    crown = shape.end + moved
    left = centre - shape.width / 2
    yield rect(left, frame.top(bank, shape.start + moved, crown), shape.width, shape.end - shape.start)
    for groove in shape.grooves:
        y = frame.y(bank, crown - groove)
        yield line(left, y, left + shape.width, y, **detail)
    if shape.hole:
        deepest = max(shape.grooves, default=0)
        middle = (crown - deepest + shape.start + moved) / 2
        yield circle(centre, frame.y(bank, middle), shape.hole, fill="none", **detail)


def _link(frame: Frame, spot: Spot, shape: LinkShape) -> Svg:
    bank, slot = spot.bank, spot.slots[0]
    slim = VEE_LINK if frame.plan.is_vee else 1
    wide, narrow = shape.wide * slim / 2, shape.narrow * slim / 2
    centre, pin = frame.centre(bank, slot), frame.throw(bank, slot)
    end = shape.end + shape.travel * frame.stroke(bank, slot)
    corners = ((wide - 1, pin - shape.start), (wide, pin + shape.start - 2), (narrow, end))
    right = [(centre + x, frame.y(bank, y)) for x, y in corners]
    left = [(centre - x, frame.y(bank, y)) for x, y in reversed(corners)]
    return polygon(right + left)


def _shaft(frame: Frame, shape: ShaftShape) -> Iterator[Svg]:
    width = shape.pin_width + (VEE_PIN if frame.plan.is_vee else 0)
    reach = width / 2 + shape.cheek
    middles = [(frame.edge(slot) + frame.edge(slot + 1)) / 2 for slot in range(frame.slots)]
    yield rect(frame.left - NOSE, frame.line - shape.radius * 0.6, NOSE, shape.radius * 1.2)
    begins = [frame.left, *(middle + reach for middle in middles)]
    ends = [*(middle - reach for middle in middles), frame.right]
    for begin, end in zip(begins, ends, strict=True):
        yield rect(begin, frame.line - shape.radius, end - begin, 2 * shape.radius)
    for slot, middle in enumerate(middles):
        y = frame.y(0, frame.throw(0, slot))
        yield rect(middle - width / 2, y - shape.pin, width, 2 * shape.pin)
        low = min(y, frame.line) - shape.radius - 2 - (AROUND_THROW if y > frame.line else 0)
        high = max(y, frame.line) + shape.radius + 2 + (AROUND_THROW if y <= frame.line else 0)
        for x in (middle - reach, middle + width / 2):
            yield rect(x, low, shape.cheek, high - low)


def _disc(frame: Frame, shape: DiscShape) -> Svg:
    front = frame.left - NOSE - shape.along - shape.width
    x = front if shape.at == "front" else frame.right + 2 + shape.along
    return rect(x, frame.line - shape.radius, shape.width, 2 * shape.radius)


def _pan(frame: Frame, shape: PanShape) -> Svg:
    top, bottom = frame.line + shape.start, frame.line + shape.end
    left, right, slope = frame.left, frame.right, shape.slope
    corners = [(left, top), (right, top), (right - slope, bottom), (left + 2 * slope, bottom)]
    return polygon(corners)
