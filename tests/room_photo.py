"""Draw the dining room's photograph, so that no real room is shown.

In:  nothing.   Out: `configs/dining-room.jpg`: python -m tests.room_photo.
Frame: inches; x right from the middle of the face, y up from the hearth, z out of the
wall into the room; dots of the photograph, x right, y down.

A room is painted as a camera would see it that stands a little to the left: old stone
veneer round an arched opening, a shelf, boards, light from a window on the left.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, pi, radians, sin
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

PHOTO = Path(__file__).resolve().parents[1] / "configs" / "dining-room.jpg"
WIDE, HIGH, FINE = 1600, 1200, 2
FACE = (62.0, 47.25)
"""The dining room's face, as its job file has it."""
SPAN, SPRING = 29.25, 16.125
STANDS_OUT = 3.0
"""How far the old stone stands before the wall."""
EYE, TURNED, TILTED, FAR = (-34.0, 52.0, 150.0), 12.0, -8.5, 1650.0
"""Where the camera is, how it is turned and tilted, how many dots an inch is at one."""
Spot = tuple[float, float, float]
Colour = tuple[int, int, int]


def seen(spot: Spot) -> tuple[float, float]:
    """Return where a spot of the room lies in the photograph."""
    x, y, z = (a - b for a, b in zip(spot, EYE, strict=True))
    turn, tilt = radians(TURNED), radians(TILTED)
    x, z = x * cos(turn) + z * sin(turn), -x * sin(turn) + z * cos(turn)
    y, z = y * cos(tilt) + z * sin(tilt), -y * sin(tilt) + z * cos(tilt)
    return WIDE / 2 + FAR * x / -z, HIGH / 2 - FAR * y / -z


def corners() -> list[tuple[float, float]]:
    """Return the face's corners as the job file has them."""
    half, top, z = FACE[0] / 2, FACE[1], STANDS_OUT
    face = ((-half, top, z), (half, top, z), (half, 0.0, z), (-half, 0.0, z))
    return [seen(corner) for corner in face]


@dataclass
class Canvas:
    """A photograph that is being painted, and what looks like chance in it."""

    draw: ImageDraw.ImageDraw
    chance: np.random.Generator

    def area(self, spots: Iterable[Spot], colour: Colour) -> None:
        points = [tuple(FINE * part for part in seen(spot)) for spot in spots]
        self.draw.polygon(points, fill=colour)

    def body(self, low: Spot, high: Spot, colour: Colour) -> None:
        """Paint a box: its left side, its top or its under side, then its front."""
        (x0, y0, z0), (x1, y1, z1) = low, high
        ends = [(x0, y0, z0), (x0, y1, z0), (x0, y1, z1), (x0, y0, z1)]
        self.area(ends, lit(colour, 1.12))
        if y1 < EYE[1]:
            top = [(x0, y1, z0), (x1, y1, z0), (x1, y1, z1), (x0, y1, z1)]
            self.area(top, lit(colour, 1.25))
        front = [(x0, y0, z1), (x1, y0, z1), (x1, y1, z1), (x0, y1, z1)]
        self.area(front, colour)

    def round(self, at: Spot, profile: list[tuple[float, float]], colour: Colour):
        """Paint a turned body: pairs of a height and a radius, from its foot."""
        x, y, z = at
        for side, light in ((1.0, 0.8), (0.55, 1.0), (0.1, 1.18), (-0.35, 1.0)):
            right = [(x + side * r, y + h, z) for h, r in profile]
            left = [(x - r, y + h, z) for h, r in reversed(profile)]
            self.area([*right, *left], lit(colour, light))


def lit(colour: Colour, by: float) -> Colour:
    red, green, blue = (max(0, min(255, round(part * by))) for part in colour)
    return red, green, blue


def arch(out: float, z: float, count: int = 40) -> list[Spot]:
    """Return the opening's ring, so much larger all round, from its left foot on."""
    radius = SPAN / 2 + out
    around = [pi - pi * n / count for n in range(count + 1)]
    ring = [(radius * cos(a), SPRING + radius * sin(a), z) for a in around]
    return [(-radius, 0.0, z), *ring, (radius, 0.0, z)]


def room(canvas: Canvas) -> None:
    """Paint wall, skirting, floor and hearth."""
    canvas.area([(-150, -4, 0), (220, -4, 0), (220, 130, 0), (-150, 130, 0)],
                (176, 184, 168))  # fmt: skip
    canvas.area([(-150, 96, 0.5), (220, 96, 0.5), (220, 97.2, 0.5), (-150, 97.2, 0.5)],
                (206, 208, 198))  # fmt: skip
    canvas.body((-150, -4, 0), (220, 4, 1), (222, 220, 210))
    for n in range(60):
        x, tone = -150 + 6.5 * n, 0.88 + 0.24 * canvas.chance.random()
        board = [(x, -4, 0), (x + 6.3, -4, 0), (x + 6.3, -4, 125), (x, -4, 125)]
        canvas.area([(x, -4, 0), (x + 6.5, -4, 0), (x + 6.5, -4, 125), (x, -4, 125)],
                    (58, 38, 24))  # fmt: skip
        canvas.area(board, lit((132, 92, 58), tone))
    canvas.body((-40, -4, 0), (40, 0, 21), (128, 126, 122))
    for line in (-13.5, 13.5):
        canvas.area([(line, 0, 0), (line + 0.4, 0, 0), (line + 0.4, 0, 21),
                     (line, 0, 21)], (96, 94, 90))  # fmt: skip
    canvas.area([(-58, -3.9, 40), (52, -3.9, 40), (52, -3.9, 90), (-58, -3.9, 90)],
                (112, 44, 42))  # fmt: skip
    canvas.area([(-55, -3.9, 43), (49, -3.9, 43), (49, -3.9, 87), (-55, -3.9, 87)],
                (150, 118, 84))  # fmt: skip
    canvas.area([(-53, -3.9, 45), (47, -3.9, 45), (47, -3.9, 85), (-53, -3.9, 85)],
                (124, 50, 46))  # fmt: skip


def stone(canvas: Canvas) -> None:
    """Paint the old veneer: rough stones in rows, round the opening."""
    half, top, z = FACE[0] / 2, FACE[1], STANDS_OUT
    shadow = [(half, -1, 0), (half + 9, -1, 0), (half + 9, top - 2, 0), (half, top, 0)]
    canvas.area(shadow, (140, 146, 132))
    canvas.body((-half, 0, 0), (half, top, z), (92, 88, 82))
    y = 0.3
    while y < top - 1:
        deep = min(2.8 + 3.6 * canvas.chance.random(), top - 0.3 - y)
        x = -half + 0.2
        while x < half - 1:
            long = min(4 + 9 * canvas.chance.random(), half - 0.2 - x)
            jitter = 0.45 * canvas.chance.random((4, 2))
            box = ((x, y), (x + long - 0.5, y), (x + long - 0.5, y + deep - 0.5),
                   (x, y + deep - 0.5))  # fmt: skip
            ring = [
                (a + p, b + q, z) for (a, b), (p, q) in zip(box, jitter, strict=True)
            ]
            tone = 0.78 + 0.4 * canvas.chance.random()
            grey: Colour = (150, 142, 128) if canvas.chance.random() < 0.7 else (
                158, 132, 104)  # fmt: skip
            canvas.area(ring, lit(grey, 0.72 * tone))
            canvas.area([(a, b + 0.35, z) for a, b, _ in ring[:2]] + ring[2:],
                        lit(grey, tone))  # fmt: skip
            x += long
        y += deep
    canvas.area(arch(0.8, z), (70, 64, 58))


def firebox(canvas: Canvas) -> None:
    """Paint the opening: its lit side, its back, a grate with logs."""
    z = STANDS_OUT
    canvas.area(arch(0.0, z), (34, 28, 25))
    for n in range(14):
        share = n / 14
        deep = z - 22 * share
        inner = [(x * (1 - 0.16 * share), y * (1 - 0.1 * share), deep)
                 for x, y, _ in arch(0.0, z)]  # fmt: skip
        canvas.area(inner, lit((58, 46, 40), 1.0 - 0.62 * share))
    half = SPAN / 2
    canvas.area([(-half, 0, z), (half, 0, z), (0.84 * half, 0, -19),
                 (-0.84 * half, 0, -19)], (64, 55, 49))  # fmt: skip
    for x in (-8, -4, 0, 4, 8):
        canvas.body((x, 0, -12), (x + 0.8, 5, -4), (24, 23, 24))
    canvas.body((-10, 3, -5), (10, 3.9, -4), (30, 29, 30))
    for x, y, long in ((-9, 4, 18), (-7, 6.6, 15)):
        canvas.body((x, y, -10), (x + long, y + 3, -6), (92, 68, 50))
        canvas.area([(x, y, -6), (x, y + 3, -6), (x + 1.4, y + 3, -6),
                     (x + 1.4, y, -6)], (150, 116, 84))  # fmt: skip


def shelf(canvas: Canvas) -> None:
    """Paint the shelf, what stands on it, and the picture over it."""
    under = [(-33, 48, 3.1), (33, 48, 3.1), (33, 44.4, 3.1), (-32, 44.4, 3.1)]
    canvas.area(under, (74, 70, 64))
    canvas.body((-33, 48, 0), (33, 50, 10), (136, 94, 56))
    canvas.body((-20, 58, 0.2), (20, 88, 1.4), (104, 76, 44))
    canvas.area([(-18, 60, 1.5), (18, 60, 1.5), (18, 86, 1.5), (-18, 86, 1.5)],
                (228, 222, 206))  # fmt: skip
    canvas.area([(-14, 64, 1.5), (14, 64, 1.5), (14, 82, 1.5), (-14, 82, 1.5)],
                (150, 172, 184))  # fmt: skip
    canvas.area([(-14, 64, 1.5), (14, 64, 1.5), (14, 70, 1.5), (4, 73, 1.5),
                 (-5, 69, 1.5), (-14, 72, 1.5)], (96, 118, 84))  # fmt: skip
    for x in (-28, -24):
        canvas.round((x, 50, 5), [(0, 1.6), (0.6, 1.6), (0.9, 0.5), (5.5, 0.4),
                     (6, 1), (6.5, 0.55)], (168, 134, 70))  # fmt: skip
        canvas.round((x, 56.5, 5), [(0, 0.45), (6, 0.42)], (238, 232, 214))
    canvas.round((27, 50, 5), [(0, 1.6), (2, 3.0), (5, 3.4), (7.5, 2.2), (9, 1.2),
                 (10, 1.7)], (64, 96, 122))  # fmt: skip
    for n in range(9):
        x, y = 27 + 5 * sin(2.4 * n), 63 + 4 * cos(1.7 * n)
        canvas.area([(26.8, 59, 5), (27.2, 59, 5), (x, y, 5)], (84, 112, 70))
    basket = [(0, 7), (3, 7.6), (9, 8), (12, 8.2), (12.6, 7.8)]
    canvas.round((52, -4, 14), basket, (150, 118, 78))
    for n in range(4):
        canvas.body((45.5 + 3.4 * n, 8, 12), (48.4 + 3.4 * n, 13 + n % 2, 15),
                    (120 - 8 * n, 90 - 6 * n, 62))  # fmt: skip


def draw_photo() -> Image.Image:
    """Paint the room, then soften it as a lens does: light, corners, grain."""
    picture = Image.new("RGB", (WIDE * FINE, HIGH * FINE), (176, 184, 168))
    chance = np.random.default_rng(7)
    canvas = Canvas(ImageDraw.Draw(picture), chance)
    for paint in (room, stone, firebox, shelf):
        paint(canvas)
    picture = picture.reduce(FINE).filter(ImageFilter.GaussianBlur(0.8))
    dots = np.asarray(picture, float)
    right, down = np.meshgrid(np.linspace(0, 1, WIDE), np.linspace(0, 1, HIGH))
    window = 1.16 - 0.42 * right - 0.1 * down
    corner = 1 - 0.42 * ((right - 0.5) ** 2 + (down - 0.5) ** 2)
    coarse = chance.normal(0, 7, (HIGH // 2, WIDE // 2))
    grain = np.asarray(Image.fromarray(coarse.astype(np.float32)).resize((WIDE, HIGH)))
    warm = np.array((1.03, 1.0, 0.94))
    dots = dots * (window * corner)[:, :, None] * warm + 0.45 * grain[:, :, None]
    return Image.fromarray(np.clip(dots, 0, 255).astype(np.uint8))


def main() -> None:
    draw_photo().save(PHOTO, "JPEG", quality=84)
    print([[round(part) for part in corner] for corner in corners()])
    print(PHOTO.stat().st_size)


if __name__ == "__main__":
    main()
