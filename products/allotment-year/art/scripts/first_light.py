"""Paints art/first-light.jpg, a cover: rows of young leaves under hills in morning mist. Needs numpy and Pillow.

    python3 first_light.py ../first-light.jpg
"""

import sys

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

WIDTH, HEIGHT, MORE = 2000, 1500, 2
W, H = WIDTH * MORE, HEIGHT * MORE
HORIZON = int(H * 0.60)


def rgb(text):
    return np.array([int(text[i : i + 2], 16) for i in (1, 3, 5)], dtype=float)


def sky():
    """Dawn: from blue green above to apricot at the horizon, with a soft sun."""
    stops = [(0.0, "#6f94a1"), (0.30, "#a9bfb9"), (0.52, "#f0d9b5"), (0.62, "#f3c79b"), (1.0, "#f3c79b")]
    y = np.linspace(0, 1, H)
    channels = [np.interp(y, [s for s, _ in stops], [rgb(c)[i] for _, c in stops]) for i in range(3)]
    picture = np.repeat(np.stack(channels, axis=1)[:, None, :], W, axis=1)
    yy, xx = np.mgrid[0:H, 0:W]
    far = np.hypot(xx - W * 0.67, yy - H * 0.40) / H
    glow = np.exp(-((far / 0.22) ** 2))[..., None] * 0.65
    picture = picture * (1 - glow) + rgb("#fff1cf") * glow
    disc = np.clip((0.075 - far) * H / 3, 0, 1)[..., None]
    return picture * (1 - disc) + rgb("#fff8e6") * disc


def hills(picture, rng):
    """Ranges that fade into the mist, the nearest the darkest."""
    x = np.linspace(0, 1, W)
    yy = np.arange(H)[:, None]
    for depth, colour in enumerate(["#a9b7a6", "#8fa48f", "#748f78", "#587a60"]):
        base = H * (0.42 + 0.052 * depth)
        line = base + sum(
            H * (0.022 / k) * np.sin(2 * np.pi * (x * k * (1.1 + 0.25 * depth) + rng.random())) for k in (1, 2, 3.3)
        )
        mask = np.clip(yy - line[None, :], 0, 1)[..., None]
        mist = np.clip((yy - base) / (H * 0.12), 0, 1)[..., None] * 0.5
        tone = rgb(colour) * (1 - mist) + rgb("#e8d8bb") * mist
        picture = picture * (1 - mask) + tone * mask
    return picture


def field(picture, rng):
    """Furrows that run to a point on the horizon, and leaves in rows that grow towards us."""
    image = Image.fromarray(picture.astype(np.uint8))
    d = ImageDraw.Draw(image)
    vanish = (W * 0.42, HORIZON - H * 0.02)
    d.rectangle((0, HORIZON, W, H), fill="#6d5a45")
    for i in range(-34, 35):
        near, wide = W * 0.42 + i * W * 0.105, W * 0.048
        d.polygon([vanish, (near - wide / 2, H), (near + wide / 2, H)], fill="#5b4a39" if i % 2 else "#7b6650")
    d.rectangle((0, HORIZON - H * 0.021, W, HORIZON), fill="#587a60")
    greens = ["#7d9a55", "#8fae62", "#6a8a4b", "#9dba70"]
    for step in np.geomspace(0.035, 1.0, 30):
        y = HORIZON + (H * 1.04 - HORIZON) * step
        for i in range(-34, 35):
            x = vanish[0] + i * W * 0.105 * (y - vanish[1]) / (H - vanish[1]) + rng.normal(0, 5 * step)
            size = H * 0.038 * step * rng.uniform(0.8, 1.2)
            if -size * 2 < x < W + size * 2:
                plant(d, x, y + rng.normal(0, 4 * step), size, greens, rng)
    mist = Image.new("L", (W, H), 0)
    ImageDraw.Draw(mist).ellipse((-W * 0.2, HORIZON - H * 0.07, W * 1.2, HORIZON + H * 0.05), fill=120)
    mist = mist.filter(ImageFilter.GaussianBlur(H * 0.025))
    image.paste(Image.new("RGB", (W, H), "#efdfc3"), (0, 0), mist)
    return image


def plant(d, x, y, size, greens, rng):
    """A seedling: a shadow and a fan of leaves."""
    d.ellipse((x - size * 0.8, y - size * 0.12, x + size * 0.8, y + size * 0.22), fill="#4a3c2e")
    for lean in rng.permutation([-0.95, -0.45, 0.05, 0.5, 0.95]):
        tip = np.array([x + lean * size * 0.95, y - size * (1.25 - abs(lean) * 0.55)])
        foot = np.array([x, y])
        side = np.array([-(tip - foot)[1], (tip - foot)[0]]) * 0.2
        t = np.linspace(0, 1, 9)[:, None]
        belly = np.sin(np.pi * t**0.8) * side
        edge = np.vstack([foot + (tip - foot) * t + belly, (foot + (tip - foot) * t - belly)[::-1]])
        d.polygon([tuple(p) for p in edge], fill=str(rng.choice(greens)))


def main(out):
    # A seed of its own: the same picture every time.
    rng = np.random.default_rng(7)
    image = field(hills(sky(), rng), rng).resize((WIDTH, HEIGHT), Image.LANCZOS)
    grain = rng.normal(0, 2.2, (HEIGHT, WIDTH, 1))
    picture = np.clip(np.asarray(image, dtype=float) + grain, 0, 255).astype(np.uint8)
    Image.fromarray(picture).save(out, quality=86, subsampling=0, optimize=True, dpi=(212, 212))


if __name__ == "__main__":
    main(sys.argv[1])
