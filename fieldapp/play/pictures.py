"""Pictures that are made up, so that a story can carry photos without a camera.

Each says on its face that it is none: nobody may take one for evidence.
"""

from io import BytesIO

from PIL import Image, ImageDraw

from fieldapp.core.canonical import sha256_hex

SIZE_PX = (480, 360)
SKIES = ("#8fa3b0", "#b7b2a3", "#7d8f86")
CONCRETE, SHADE, RESIN = "#b9b4aa", "#8f8a80", "#5d6b4f"


def made_pictures(count: int, words: str, *, seed: int) -> dict[str, bytes]:
    """Draw pictures, each once by its SHA-256: two segments and what they are of."""
    drawn = [_drawn(f"{words}, {number}", seed + number) for number in range(count)]
    return {sha256_hex(each): each for each in drawn}


def _drawn(words: str, seed: int) -> bytes:
    image = Image.new("RGB", SIZE_PX, SKIES[seed % len(SKIES)])
    draw = ImageDraw.Draw(image)
    middle = 200 + seed * 7 % 80
    draw.polygon([(0, 120), (middle, 105), (middle, 260), (0, 300)], fill=CONCRETE)
    draw.polygon([(middle, 105), (480, 95), (480, 235), (middle, 260)], fill=SHADE)
    draw.line([(middle, 100), (middle, 264)], fill=RESIN, width=6 + seed % 4)
    draw.rectangle([(0, 318), SIZE_PX], fill="black")
    draw.text((10, 330), f"Made up, no photo: {words} ({seed})", fill="white")
    kept = BytesIO()
    image.save(kept, "JPEG", quality=70)
    return kept.getvalue()
