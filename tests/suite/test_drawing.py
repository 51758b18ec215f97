"""Pages of files made by others, as the proof draws them: like poppler draws them, or the proof says that it cannot."""

import base64
import io
import json
import re

import numpy
import pikepdf
import pytest
import tool
from PIL import Image, ImageFilter
from pikepdf import Array, Dictionary, Name, Stream

# Mean difference of a channel up to which two programs show the same: edges are smoothed and letters placed differently.
ALIKE = 4

BLENDS = [
    "Normal", "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn", "HardLight", "SoftLight",
    "Difference", "Exclusion", "Hue", "Saturation", "Color", "Luminosity",
]  # fmt: skip


def page(pdf, content, **resources):
    resources = Dictionary({f"/{k}": v for k, v in resources.items()})
    made = Dictionary(
        Type=Name.Page, MediaBox=[0, 0, 240, 180], Resources=resources, Contents=Stream(pdf, content.encode("latin-1"))
    )
    pdf.pages.append(pikepdf.Page(pdf.make_indirect(made)))
    return pdf.pages[-1]


def blends(pdf):
    """Every blend mode of ISO 32000-1, 11.3.5."""
    states = Dictionary({f"/B{i}": Dictionary(BM=Name("/" + name)) for i, name in enumerate(BLENDS)})
    text = ["0.85 0.9 0.6 rg 0 0 240 180 re f 0.3 0.4 0.8 rg 0 0 240 90 re f"]
    for i in range(16):
        x, y = 8 + i % 4 * 58, 10 + i // 4 * 42
        text.append(f"q /B{i} gs 0.9 0.4 0.3 rg {x} {y} 44 30 re f Q")
    page(pdf, "\n".join(text), ExtGState=states)


def overprint(pdf):
    """Overprint, which screens do not show (ISO 32000-1, 8.6.7)."""
    states = Dictionary(O=Dictionary(OP=True, op=True, OPM=1))
    page(pdf, "1 0 0 rg 20 20 120 120 re f /O gs 0 0 1 rg 80 60 120 90 re f", ExtGState=states)


def soft_mask(pdf):
    form = Stream(pdf, b"1 g 0 0 120 180 re f 0.4 g 120 0 120 180 re f")
    form.update(Dictionary(Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 240, 180]))
    form.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    states = Dictionary(M=Dictionary(SMask=Dictionary(S=Name.Luminosity, G=pdf.make_indirect(form))))
    page(pdf, "/M gs 0.1 0.5 0.2 rg 20 20 200 140 re f", ExtGState=states)


def shadings(pdf):
    ramp = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0.9, 0.3, 0.2], C1=[0.2, 0.4, 0.9], N=1)
    axial = Dictionary(ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=[0, 0, 100, 0], Function=ramp, Extend=[True, True])
    coords = [60, 50, 5, 60, 50, 45]
    radial = Dictionary(ShadingType=3, ColorSpace=Name.DeviceRGB, Coords=coords, Function=ramp, Extend=[False, False])
    content = "q 20 100 100 60 re W n 1 0 0 1 20 100 cm /A sh Q q 1 0 0 1 100 10 cm /R sh Q"
    page(pdf, content, Shading=Dictionary(A=axial, R=radial))


def tiles(pdf):
    tile = Stream(pdf, b"0.7 0.2 0.4 rg 0 0 6 6 re f")
    tile.update(Dictionary(PatternType=1, PaintType=1, TilingType=1, BBox=[0, 0, 12, 12], XStep=12, YStep=12))
    tile.Resources = Dictionary()
    page(pdf, "/Pattern cs /T scn 20 20 200 140 re f", Pattern=Dictionary(T=pdf.make_indirect(tile)))


def cmyk(pdf):
    page(pdf, "1 0 0 0 k 20 20 60 140 re f 0 1 0 0 k 90 20 60 140 re f 0 0 1 0 k 160 20 60 140 re f")


def hidden_layer(pdf):
    layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="Notes"))
    pdf.Root.OCProperties = Dictionary(OCGs=[layer], D=Dictionary(OFF=[layer], Order=[layer]))
    content = "0.2 0.6 0.3 rg 20 20 80 140 re f /OC /L BDC 1 0 0 rg 120 20 80 140 re f EMC"
    page(pdf, content, Properties=Dictionary(L=layer))


def borrowed_font(pdf):
    """A font that is named and not inside."""
    font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name("/Helvetica-Bold"), Encoding=Name.WinAnsiEncoding)
    page(pdf, "BT /F 40 Tf 20 80 Td (Harbour) Tj ET", Font=Dictionary(F=font))


def broken_font(pdf):
    """A font whose program is no font."""
    descriptor = Dictionary(
        Type=Name.FontDescriptor, FontName=Name("/Wreck"), Flags=32, FontBBox=[0, -200, 1000, 900], ItalicAngle=0,
        Ascent=900, Descent=-200, CapHeight=700, StemV=80, FontFile2=pdf.make_stream(b"this is no font at all"),
    )  # fmt: skip
    font = Dictionary(
        Type=Name.Font, Subtype=Name.TrueType, BaseFont=Name("/Wreck"), FirstChar=65, LastChar=66, Widths=[600, 600],
        FontDescriptor=pdf.make_indirect(descriptor), Encoding=Name.WinAnsiEncoding,
    )  # fmt: skip
    page(pdf, "BT /F 60 Tf 20 80 Td (AB) Tj ET", Font=Dictionary(F=font))


def picture(pdf, data, filter, **more):
    image = Stream(pdf, data)
    image.update(
        Dictionary(
            Type=Name.XObject, Subtype=Name.Image, Width=60, Height=40, BitsPerComponent=8, ColorSpace=Name.DeviceRGB,
            Filter=Name("/" + filter), **more,
        )  # fmt: skip
    )
    page(pdf, "q 200 0 0 140 20 20 cm /I Do Q", XObject=Dictionary(I=pdf.make_indirect(image)))


def pixels():
    ramp = numpy.zeros((40, 60, 3), numpy.uint8)
    ramp[..., 0] = numpy.linspace(40, 230, 60)
    ramp[..., 1] = numpy.linspace(60, 200, 40)[:, None]
    ramp[..., 2] = 120
    return Image.fromarray(ramp)


def encoded(form, **options):
    out = io.BytesIO()
    pixels().save(out, form, **options)
    return out.getvalue()


def jpeg(pdf):
    picture(pdf, encoded("JPEG", quality=90), "DCTDecode")


def jpeg_2000(pdf):
    picture(pdf, encoded("JPEG2000"), "JPXDecode")


def wrecked_jpeg(pdf):
    picture(pdf, encoded("JPEG")[:60], "DCTDecode")


def stamp(pdf):
    """A note with a look of its own, which is no link."""
    made = page(pdf, "0.9 0.9 0.8 rg 0 0 240 180 re f")
    look = Stream(pdf, b"0.8 0.1 0.1 rg 0 0 100 60 re f")
    look.update(Dictionary(Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 100, 60]))
    note = Dictionary(Type=Name.Annot, Subtype=Name.Stamp, Rect=[60, 60, 160, 120], F=4)
    note.AP = Dictionary(N=pdf.make_indirect(look))
    made.obj.Annots = Array([pdf.make_indirect(note)])


DRAWN = [blends, overprint, soft_mask, shadings, tiles, cmyk, hidden_layer, jpeg, jpeg_2000]
NOT_DRAWN = [borrowed_font, broken_font, wrecked_jpeg, stamp]


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """Every file, its page in a proof, and its picture there."""
    folder = tmp_path_factory.mktemp("foreign")
    for make in DRAWN + NOT_DRAWN:
        with pikepdf.new() as pdf:
            make(pdf)
            (folder / "files").mkdir(exist_ok=True)
            pdf.save(folder / "files" / f"{make.__name__}.pdf")
    run = tool.sheafwright("proof", folder / "files", "--out", folder / "proof.html")
    assert run.returncode == 0, run.stderr
    text = (folder / "proof.html").read_text(encoding="utf-8")
    data = json.loads(re.search(r'id="data">(.*?)</script>', text, re.S)[1])
    found = {}
    for document in data["documents"]:
        (page,) = document["pages"]
        name = document["file"].removesuffix(".pdf")
        address = None if page["picture"] is None else data["pictures"][page["picture"]]
        found[name] = (folder / "files" / document["file"], page["whole"], address)
    return found


def soft(image):
    return numpy.asarray(image.convert("RGB").filter(ImageFilter.GaussianBlur(2)), dtype=float)


def difference(path, address, tmp_path):
    mine = Image.open(io.BytesIO(base64.b64decode(address.split(",", 1)[1])))
    size = ["-scale-to-x", mine.width, "-scale-to-y", mine.height]
    tool.program("pdftoppm", "-png", "-singlefile", *size, path, tmp_path / "page")
    with Image.open(tmp_path / "page.png") as other:
        return numpy.abs(soft(mine) - soft(other)).mean()


@pytest.mark.parametrize("make", DRAWN, ids=lambda m: m.__name__)
def test_what_can_be_drawn_looks_as_poppler_draws_it(shown, make, tmp_path):
    path, whole, address = shown[make.__name__]
    assert whole and address
    assert difference(path, address, tmp_path) < ALIKE


@pytest.mark.parametrize("make", NOT_DRAWN, ids=lambda m: m.__name__)
def test_what_cannot_be_drawn_is_said(shown, make):
    _, whole, address = shown[make.__name__]
    assert not (whole and address)
