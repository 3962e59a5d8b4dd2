"""Takes a QR code as printed and a row of scan_damage.yaml; gives what a camera sees of the label, always the same by the seed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random
from statistics import NormalDist
from typing import Any

import yaml
from PIL import Image, ImageChops, ImageDraw, ImageFilter

from sitegen.publish.qr import Code

FINDER = 8      # modules of a finder pattern with its white edge; ISO/IEC 18004
SETUP: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "scan_damage.yaml").read_text(encoding="utf-8"))
CAMERA: int = SETUP["camera"]


@dataclass(frozen=True, slots=True)
class Printed:
    """A code on its label: `width` is the room for the code without its quiet zone, in mm."""

    code: Code
    width: float
    module: float   # mm, whole printer dots

    @property
    def pixels(self) -> float:
        """One side of the code in camera pixels."""
        return self.code.side * self.module * CAMERA


def printed(code: Code, width: float, dpi: int) -> Printed:
    """The code with the largest module of whole dots that keeps it within the width."""
    dots = int(width / 25.4 * dpi / code.side)
    return Printed(code, width, dots * 25.4 / dpi)


def photo(label: Printed, row: str, number: int) -> Image.Image:
    """The label of that number after all damage of the row, in grey."""
    given = SETUP["rows"][row]
    tones = {"ink": SETUP["ink"], "paper": SETUP["paper"]} | given.get("fade", {})
    image = _fresh(label, **tones)
    for kind, step in STEPS.items():
        if kind in given:
            image = step(image, label, given[kind], Random(f"{SETUP['seed']} {row} {number} {kind}"))
    return image


def _fresh(label: Printed, ink: int, paper: int) -> Image.Image:
    """The code upright in the middle of its white label, the label in the middle of the wall."""
    small = Image.new("L", (label.code.side, label.code.side))
    small.putdata([ink if dark else paper for row in label.code.rows for dark in row])
    dots = small.resize((label.code.side * 32,) * 2, Image.Resampling.NEAREST)
    seen = dots.resize((round(label.pixels),) * 2, Image.Resampling.BOX)
    side = round(SETUP["picture"] * label.width * CAMERA)
    white = round(SETUP["label"] * label.width * CAMERA)
    image = Image.new("L", (side, side), SETUP["wall"])
    image.paste(paper, _square(side, white))
    image.paste(seen, _square(side, seen.width)[:2])
    return image


def _square(side: int, inner: float) -> tuple[int, int, int, int]:
    first = round((side - inner) / 2)
    return first, first, first + round(inner), first + round(inner)


def _draw(rng: Random, given: Any) -> Any:
    """A pair of numbers is a range, a longer list a choice, anything else itself."""
    if not isinstance(given, list):
        return given
    return rng.uniform(*given) if len(given) == 2 else rng.choice(given)


def _cover(image: Image.Image, label: Printed, given: dict[str, Any], rng: Random) -> Image.Image:
    side, anywhere = label.code.side, given.get("anywhere", False)
    area = given["share"] * (side**2 if anywhere else side**2 - 3 * FINDER**2)
    tone = _draw(rng, given["tone"])
    while True:
        shape = _draw(rng, given["shape"])
        wide, high = math.sqrt(area * shape), math.sqrt(area / shape)
        x, y = rng.uniform(0, side - wide), rng.uniform(0, side - high)
        left, right = x < FINDER, x + wide > side - FINDER
        top, bottom = y < FINDER, y + high > side - FINDER
        if anywhere or not (top and (left or right) or bottom and left):
            break
    first, pixel = (image.width - label.pixels) / 2, label.pixels / side
    ImageDraw.Draw(image).rectangle(
        [first + pixel * at for at in (x, y, x + wide, y + high)], fill=tone)
    return image


def _spots(image: Image.Image, label: Printed, given: dict[str, Any], rng: Random) -> Image.Image:
    room, left = label.width * CAMERA, given["share"] * label.width**2
    first = (image.width - room) / 2
    while left > 0:
        radius = _draw(rng, given["radius"])
        x, y = (first + rng.uniform(0, room) for _ in "xy")
        reach, tone = radius * CAMERA, round(_draw(rng, given["tone"]))
        edge = given["edge"] * CAMERA
        at = math.floor(x - reach - 4 * edge), math.floor(y - reach - 4 * edge)     # the blur reaches no further
        mask = Image.new("L", (math.ceil(2 * reach + 8 * edge) + 2,) * 2)
        ImageDraw.Draw(mask).ellipse(
            [x - reach - at[0], y - reach - at[1], x + reach - at[0], y + reach - at[1]], fill=255)
        soft = mask.filter(ImageFilter.GaussianBlur(edge))
        image.paste(tone, (*at, at[0] + mask.width, at[1] + mask.height), soft)
        left -= math.pi * radius**2
    return image


def _scratches(image: Image.Image, label: Printed, given: dict[str, Any], rng: Random) -> Image.Image:
    room, draw = label.width * CAMERA, ImageDraw.Draw(image)
    for _ in range(given["count"]):
        x, y = ((image.width - room) / 2 + rng.uniform(0, room) for _ in "xy")
        turn, half = rng.uniform(0, math.pi), _draw(rng, given["length"]) * CAMERA / 2
        dx, dy = half * math.cos(turn), half * math.sin(turn)
        draw.line([x - dx, y - dy, x + dx, y + dy], SETUP["paper"], round(_draw(rng, given["width"]) * CAMERA))
    return image


def _torn(image: Image.Image, label: Printed, given: dict[str, Any], rng: Random) -> Image.Image:
    """The tear runs at 45 degrees and takes all beyond it, to the corner of the picture."""
    corner, edge = _draw(rng, given["corner"]), image.width
    leg = edge - label.pixels + given["leg"] * label.pixels
    x, y = (edge if "right" in corner else 0), (edge if "lower" in corner else 0)
    triangle = [(x, y), (abs(x - leg), y), (x, abs(y - leg))]
    ImageDraw.Draw(image).polygon(triangle, fill=SETUP["wall"])
    return image


def _rotate(image: Image.Image, label: Printed, given: Any, rng: Random) -> Image.Image:
    return image.rotate(_draw(rng, given), Image.Resampling.BICUBIC, fillcolor=SETUP["wall"])


def _tilt(image: Image.Image, label: Printed, given: float, rng: Random) -> Image.Image:
    """The far edge of the code becomes shorter by that share: x / (1 + k y), y / (1 + k y) about the middle, k chosen so
    that the edges half a code above and below stand as 1 - share to 1."""
    k = given / (2 - given) / (label.pixels / 2)
    turn, half = 90 * rng.randrange(4), image.width / 2
    # The picture is asked backwards: the point (u, v) of the photo shows (u, v) / (1 - k v) of the label.
    back = (1, -k * half, k * half * half, 0, 1 - k * half, k * half * half, 0, -k, 1 + k * half)
    tilted = image.rotate(turn).transform(
        image.size, Image.Transform.PERSPECTIVE, [value / back[8] for value in back[:8]],
        Image.Resampling.BICUBIC, fillcolor=SETUP["wall"])
    return tilted.rotate(-turn)


def _blur(image: Image.Image, label: Printed, given: float, rng: Random) -> Image.Image:
    return image.filter(ImageFilter.GaussianBlur(given * CAMERA))


def _shadow(image: Image.Image, label: Printed, given: dict[str, Any], rng: Random) -> Image.Image:
    room, half, far = label.width * CAMERA, image.width / 2, 2 * image.width
    x, y = (half + rng.uniform(-room / 2, room / 2) for _ in "xy")
    turn = rng.uniform(0, 2 * math.pi)
    dx, dy = far * math.cos(turn), far * math.sin(turn)
    light = Image.new("L", image.size, 255)
    ImageDraw.Draw(light).polygon(
        [(x - dx, y - dy), (x + dx, y + dy), (x + dx - dy, y + dy + dx), (x - dx - dy, y - dy + dx)],
        fill=round(255 * given["light"]))
    return ImageChops.multiply(image, light.filter(ImageFilter.GaussianBlur(given["edge"] * CAMERA)))


def _noise(image: Image.Image, label: Printed, given: float, rng: Random) -> Image.Image:
    """Gaussian: each pixel draws one of 256 equal parts of the curve; Pillow's own noise takes no seed."""
    drawn = Image.frombytes("L", image.size, rng.randbytes(image.width * image.height))
    curve = NormalDist(0, given)
    steps = [round(curve.inv_cdf((part + 0.5) / 256)) for part in range(256)]
    lighter = drawn.point([max(0, step) for step in steps])
    darker = drawn.point([max(0, -step) for step in steps])
    return ImageChops.subtract(ImageChops.add(image, lighter), darker)


def _salt(image: Image.Image, label: Printed, given: float, rng: Random) -> Image.Image:
    drawn = Image.frombytes("L", image.size, rng.randbytes(image.width * image.height))
    of_256 = round(256 * given)
    image.paste(0, mask=drawn.point([255 * (part < of_256 // 2) for part in range(256)]))
    image.paste(255, mask=drawn.point([255 * (of_256 // 2 <= part < of_256) for part in range(256)]))
    return image


def _resample(image: Image.Image, label: Printed, given: float, rng: Random) -> Image.Image:
    return image.resize((round(image.width * given),) * 2, Image.Resampling.BOX)


# In the order in which they happen; fading is done by the tones of the fresh label.
STEPS: dict[str, Callable[[Image.Image, Printed, Any, Random], Image.Image]] = {
    "cover": _cover, "spots": _spots, "scratches": _scratches, "torn": _torn, "rotate": _rotate, "tilt": _tilt,
    "blur": _blur, "shadow": _shadow, "noise": _noise, "salt": _salt, "resample": _resample,
}
