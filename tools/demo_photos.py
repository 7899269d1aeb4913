"""Draw the stand-in photos of the demo house: rendered scenes, not photographs.

Run from the project's root: ``python -m tools.demo_photos``. The pictures are kept in the
package, so this runs only when they change.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter, ImageFont

ROOT = Path(__file__).resolve().parent.parent
DATA = ROOT / "src" / "fluewright" / "data"
SIZE = (1200, 900)
GRAIN = 9  # seed and strength of the noise that makes a flat drawing look lit
Color = tuple[int, int, int]


def shade(color: Color, by: float) -> Color:
    r, g, b = (max(0, min(255, round(c * by))) for c in color)
    return r, g, b


def tube(
    draw: ImageDraw.ImageDraw, box: tuple[int, int, int, int], color: Color, upright: bool
) -> None:
    """A pipe lit from one side: strips whose light follows a cosine across it."""
    x0, y0, x1, y1 = box
    span = (x1 - x0) if upright else (y1 - y0)
    for i in range(span):
        across = i / span * 2 - 1
        light = 0.35 + 0.75 * math.sqrt(max(0.0, 1 - (across + 0.25) ** 2 / 1.6))
        line = (x0 + i, y0, x0 + i, y1) if upright else (x0, y0 + i, x1, y0 + i)
        draw.line(line, fill=shade(color, light))


def wall(image: Image.Image, color: Color) -> ImageDraw.ImageDraw:
    draw = ImageDraw.Draw(image)
    for y in range(SIZE[1]):
        draw.line((0, y, SIZE[0], y), fill=shade(color, 0.82 + 0.2 * y / SIZE[1]))
    return draw


def elbow_joint(image: Image.Image) -> None:
    """Second elbow: a gap, and foil tape over it."""
    draw = wall(image, (196, 190, 178))
    draw.rectangle((0, 0, SIZE[0], 110), fill=(164, 128, 88))
    for x in range(0, SIZE[0], 170):
        draw.line((x, 0, x + 30, 110), fill=(140, 106, 70), width=3)
    metal = (168, 172, 176)
    tube(draw, (0, 470, 660, 690), metal, False)
    tube(draw, (690, 470, 782, 690), metal, False)
    tube(draw, (842, 0, 1062, 410), metal, True)
    for i in range(-110, 110):  # the bend, strip by strip round its center
        radius = 172 + i
        light = 0.35 + 0.75 * math.sqrt(max(0.0, 1 - (i / 110 - 0.15) ** 2 / 1.6))
        box = (780 - radius, 408 - radius, 780 + radius, 408 + radius)
        draw.arc(box, 0, 90, fill=shade(metal, light), width=2)
    for angle in (22, 45, 68):  # seams of the gores
        a = math.radians(angle)
        ends = [(780 + r * math.cos(a), 408 + r * math.sin(a)) for r in (62, 282)]
        draw.line([ends[0], ends[1]], fill=shade(metal, 0.6), width=4)
    draw.rectangle((660, 478, 690, 684), fill=(32, 30, 28))
    tube(draw, (612, 452, 748, 560), (222, 224, 226), False)
    for x in range(620, 745, 14):
        draw.line((x, 452, x + 9, 560), fill=(198, 202, 206), width=2)
    draw.polygon(((612, 560), (640, 590), (676, 556), (710, 600), (748, 558)), fill=(206, 208, 210))


def hood_rust(image: Image.Image) -> None:
    """Rust streaks on the jacket below the relief opening."""
    draw = wall(image, (186, 182, 172))
    draw.rectangle((220, 520, 980, 900), fill=(206, 210, 212))
    for x in range(220, 980):
        light = 0.7 + 0.35 * math.sin(math.pi * (x - 220) / 760)
        draw.line((x, 540, x, 900), fill=shade((204, 208, 210), light))
    draw.ellipse((220, 480, 980, 600), fill=(184, 188, 190))
    tube(draw, (500, 0, 700, 260), (168, 172, 176), True)
    draw.polygon(((500, 250), (700, 250), (830, 400), (370, 400)), fill=(150, 154, 158))
    draw.polygon(((500, 250), (560, 250), (470, 400), (370, 400)), fill=(180, 184, 188))
    draw.rectangle((390, 400, 810, 452), fill=(34, 32, 30))
    for x in (410, 600, 790):
        draw.rectangle((x - 8, 400, x + 8, 500), fill=(128, 132, 136))
    tube(draw, (520, 452, 680, 520), (140, 144, 148), True)
    dice = random.Random(GRAIN)
    for _ in range(42):
        x = dice.gauss(600, 130)
        top = 500 + abs(x - 600) * 0.18
        length = dice.uniform(40, 240)
        color = dice.choice(((134, 72, 34), (156, 88, 44), (112, 58, 30)))
        ends = (x, top, x + dice.uniform(-6, 6), top + length)
        draw.line(ends, fill=color, width=dice.randint(2, 9))


def cap_and_wall(image: Image.Image) -> None:
    """A cap on a tile roof, lower than the wall beside it."""
    draw = ImageDraw.Draw(image)
    for y in range(SIZE[1]):
        draw.line((0, y, SIZE[0], y), fill=shade((150, 186, 214), 0.8 + 0.28 * y / SIZE[1]))
    draw.polygon(((0, 900), (0, 760), (1200, 420), (1200, 900)), fill=(142, 96, 74))
    for row in range(9):
        y0, y1 = 770 + row * 34, 430 + row * 62
        draw.line((0, y0, 1200, y1), fill=(112, 72, 54), width=4)
    for col in range(0, 1200, 64):
        y = 770 - col * 0.283
        draw.line((col, y, col + 24, y + 330), fill=(122, 80, 60), width=2)
    draw.rectangle((760, 60, 1200, 560), fill=(214, 206, 190))
    for y in range(80, 560, 26):
        draw.line((760, y, 1200, y), fill=(196, 188, 172), width=2)
    draw.polygon(((740, 60), (1200, 60), (1200, 20), (740, 30)), fill=(110, 92, 80))
    tube(draw, (392, 470, 468, 690), (170, 174, 178), True)
    draw.polygon(((350, 690), (510, 645), (490, 610), (372, 610)), fill=(96, 100, 104))
    tube(draw, (366, 402, 494, 470), (150, 154, 158), True)
    draw.polygon(((346, 404), (514, 404), (430, 340)), fill=(128, 132, 136))
    for x in range(374, 492, 16):
        draw.line((x, 414, x, 462), fill=(44, 44, 44), width=5)


SCENES: dict[str, Callable[[Image.Image], None]] = {
    "elbow-joint.jpg": elbow_joint,
    "hood-rust.jpg": hood_rust,
    "cap-and-wall.jpg": cap_and_wall,
}


def finished(image: Image.Image) -> Image.Image:
    """Softened, with grain, and a strip that says what it is."""
    soft = image.filter(ImageFilter.GaussianBlur(2.2))
    dice = random.Random(GRAIN)
    noise = Image.frombytes("L", (300, 225), bytes(dice.randint(96, 160) for _ in range(300 * 225)))
    grain = noise.resize(SIZE, Image.Resampling.BICUBIC).convert("RGB")
    lit = Image.blend(soft, grain, 0.07)
    draw = ImageDraw.Draw(lit)
    font = ImageFont.truetype(str(DATA / "fonts" / "FluewrightSans-Bold.ttf"), 26)
    draw.rectangle((0, SIZE[1] - 46, SIZE[0], SIZE[1]), fill=(250, 248, 242))
    text = "Drawn stand-in for a photo. Invented."
    draw.text((16, SIZE[1] - 39), text, font=font, fill=(24, 24, 24))
    return lit


def main() -> None:
    folder = DATA / "demo" / "photos"
    folder.mkdir(parents=True, exist_ok=True)
    for name, scene in SCENES.items():
        image = Image.new("RGB", SIZE)
        scene(image)
        finished(image).save(folder / name, quality=82, optimize=True)
        print(folder / name)


if __name__ == "__main__":
    main()
