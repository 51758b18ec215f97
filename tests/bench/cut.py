"""What a person would script to cut sheets of drawings into bordered stickers: `cut.py FOLDER OUT`, with Pillow, scipy and oxipng.

Parts by their labels, a border by the distance from the drawing, each PNG packed by oxipng at its second level, four pages of a
contact sheet.
"""

import sys
import time
from pathlib import Path

import numpy
import oxipng
from PIL import Image
from scipy import ndimage

BORDER, PAD = 19, 32


def main(folder, out):
    out = Path(out)
    out.mkdir()
    made, found = [], 0.0
    Image.MAX_IMAGE_PIXELS = None
    for path in sorted(Path(folder).glob("*.png")):
        sheet = numpy.asarray(Image.open(path))
        begun = time.perf_counter()
        labels, count = ndimage.label(sheet[:, :, 3] > 8, structure=numpy.ones((3, 3)))
        boxes = ndimage.find_objects(labels)
        found += time.perf_counter() - begun
        for number in range(count):
            rows, columns = boxes[number]
            own = (labels[rows, columns] == number + 1)[:, :, None]
            piece = numpy.pad(sheet[rows, columns] * own, ((PAD, PAD), (PAD, PAD), (0, 0)))
            far = ndimage.distance_transform_edt(piece[:, :, 3] < 128)
            white = numpy.clip(BORDER + 0.5 - far, 0, 1)[:, :, None]
            alpha = piece[:, :, 3:] / 255
            colour = numpy.where(alpha > 0, piece[:, :, :3] * alpha + 255 * (1 - alpha), 255)
            whole = numpy.concatenate([colour, 255 * numpy.maximum(alpha, white)], 2).astype(numpy.uint8)
            file = out / f"{path.stem}-{number}.png"
            Image.fromarray(whole).save(file, compress_level=1)
            oxipng.optimize(file, level=2)
            made.append(whole)
    for page in range(0, len(made), 25):
        contact = Image.new("RGBA", (2480, 3508), "white")
        for n, whole in enumerate(made[page : page + 25]):
            small = Image.fromarray(whole).resize((240, 460), Image.Resampling.LANCZOS)
            contact.alpha_composite(small, (80 + n % 5 * 470, 80 + n // 5 * 680))
        contact.save(out / f"contact-{page}.png")
    print(f"finding parts took {found:.2f} s of it", file=sys.stderr)


if __name__ == "__main__":
    main(*sys.argv[1:])
