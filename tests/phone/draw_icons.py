"""Draws the phone's icons: the face of a box segment with a tick in chalk.

Run by hand when the picture changes: python tests/phone/draw_icons.py
"""

from pathlib import Path

from PIL import Image, ImageDraw

ICONS = Path(__file__).resolve().parents[2] / "static" / "phone" / "icons"
FACE = [(4, 22), (96, 22), (96, 34), (78, 38), (70, 80), (30, 80), (22, 38), (4, 34)]
VOID = [(32, 40), (68, 40), (62, 70), (38, 70)]
TICK = [(38, 54), (48, 64), (66, 44)]
STROKE = 9
FINER = 4
COLOURS = 8
"""Few colours make files a phone hardly notices."""


def draw(size: int, margin: float) -> Image.Image:
    """Draw one icon of `size` pixels; `margin` is a share of it."""
    side = size * FINER
    image = Image.new("RGB", (side, side), "#000000")
    pen = ImageDraw.Draw(image)
    unit = side * (1 - 2 * margin) / 100
    pen.polygon(_placed(FACE, side * margin, unit), fill="#ffffff")
    pen.polygon(_placed(VOID, side * margin, unit), fill="#000000")
    tick = _placed(TICK, side * margin, unit)
    pen.line(tick, fill="#ffd000", width=round(STROKE * unit), joint="curve")
    for x, y in tick:
        half = STROKE * unit / 2
        pen.ellipse((x - half, y - half, x + half, y + half), fill="#ffd000")
    small = image.resize((size, size), Image.Resampling.LANCZOS)
    return small.quantize(COLOURS, dither=Image.Dither.NONE)


def _placed(
    points: list[tuple[int, int]], margin: float, unit: float
) -> list[tuple[float, float]]:
    return [(margin + x * unit, margin + y * unit) for x, y in points]


if __name__ == "__main__":
    draw(192, 0.08).save(ICONS / "icon-192.png", optimize=True)
    # Wide enough a margin for round masks, so that one file serves both purposes.
    draw(512, 0.2).save(ICONS / "icon-512.png", optimize=True)
