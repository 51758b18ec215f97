"""Pages of files made by others, as the proof draws them: like poppler draws them, or the proof says that it cannot."""

import base64
import io
import json
import os
import re
import subprocess
import zlib

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
    filter = Name("/" + filter) if isinstance(filter, str) else Array([Name("/" + name) for name in filter])
    usual = {"Width": 60, "Height": 40, "BitsPerComponent": 8, "ColorSpace": Name.DeviceRGB}
    image.update(Dictionary(Type=Name.XObject, Subtype=Name.Image, Filter=filter, **(usual | more)))
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


def rows():
    return pixels().tobytes()


def predicted(pdf):
    """Each row begins with the kind of its preparation (ISO 32000-1, 7.4.4.4)."""
    lines = b"".join(b"\0" + rows()[n : n + 180] for n in range(0, 7200, 180))
    parms = Dictionary(Predictor=15, Columns=60, Colors=3, BitsPerComponent=8)
    picture(pdf, zlib.compress(lines), "FlateDecode", DecodeParms=parms)


def armoured(pdf):
    picture(pdf, base64.a85encode(zlib.compress(rows())) + b"~>", ["ASCII85Decode", "FlateDecode"])


def runs(pdf):
    """Runs of single bytes, as long as they may be (ISO 32000-1, 7.4.5)."""
    parts = [rows()[n : n + 120] for n in range(0, 7200, 120)]
    picture(pdf, b"".join(bytes([len(part) - 1]) + part for part in parts) + b"\x80", "RunLengthDecode")


def fax():
    """The picture in black and white, as fax machines send it (ITU-T T.6), and what a document says of that."""
    out = io.BytesIO()
    pixels().convert("L").point(lambda v: 255 * (v > 140)).convert("1").save(out, "TIFF", compression="group4")
    with Image.open(out) as made:
        (at,), (length,) = made.tag_v2[273], made.tag_v2[279]
        photometric = made.tag_v2[262]
    parms = Dictionary(K=-1, Columns=60, Rows=40, BlackIs1=photometric == 1)
    return out.getvalue()[at : at + length], {"DecodeParms": parms, "ColorSpace": Name.DeviceGray, "BitsPerComponent": 1}


def faxed(pdf):
    data, more = fax()
    picture(pdf, data, "CCITTFaxDecode", **more)


def written(pdf, data, filters):
    dictionary = b"/W 60 /H 40 /CS /RGB /BPC 8 /F " + filters
    content = b"q 200 0 0 140 20 20 cm BI " + dictionary + b" ID " + data + b" EI Q"
    page(pdf, content.decode("latin-1"))


def inline(pdf):
    written(pdf, rows().hex().encode() + b">", b"/AHx")


def cut(pdf):
    picture(pdf, zlib.compress(rows())[:-60], "FlateDecode")


def altered(pdf):
    data = bytearray(zlib.compress(rows()))
    data[len(data) // 2] ^= 0x55
    picture(pdf, bytes(data), "FlateDecode")


def nothing(pdf):
    picture(pdf, b"", "FlateDecode")


def too_few(pdf):
    picture(pdf, zlib.compress(rows()[:5000]), "FlateDecode")


def too_few_predicted(pdf):
    lines = b"".join(b"\0" + rows()[n : n + 180] for n in range(0, 6000, 180))
    parms = Dictionary(Predictor=15, Columns=60, Colors=3, BitsPerComponent=8)
    picture(pdf, zlib.compress(lines), "FlateDecode", DecodeParms=parms)


def too_few_in_runs(pdf):
    picture(pdf, b"\x77" + rows()[:120] + b"\x80", "RunLengthDecode")


def cut_jpeg(pdf):
    data = encoded("JPEG", quality=90)
    picture(pdf, data[: len(data) * 2 // 3], "DCTDecode")


def cut_jpeg_2000(pdf):
    data = encoded("JPEG2000")
    picture(pdf, data[: len(data) * 2 // 3], "JPXDecode")


def cut_fax(pdf):
    data, more = fax()
    picture(pdf, data[: len(data) // 3], "CCITTFaxDecode", **more)


def no_jbig2(pdf):
    picture(pdf, b"nothing of the kind", "JBIG2Decode", ColorSpace=Name.DeviceGray, BitsPerComponent=1)


def unknown_filter(pdf):
    picture(pdf, rows(), "CrumpleDecode")


def cut_mask(pdf):
    mask = Stream(pdf, zlib.compress(rows()[::3])[:-200])
    mask.update(
        Dictionary(
            Type=Name.XObject, Subtype=Name.Image, Width=60, Height=40, BitsPerComponent=8, ColorSpace=Name.DeviceGray,
            Filter=Name.FlateDecode,
        )  # fmt: skip
    )
    picture(pdf, zlib.compress(rows()), "FlateDecode", SMask=pdf.make_indirect(mask))


def cut_inline(pdf):
    written(pdf, rows()[:6000].hex().encode() + b">", b"/AHx")


def within(pdf, **more):
    """A cut picture, and a form or a pattern that draws it."""
    cut(pdf)
    image = pdf.pages[-1].Resources.XObject.I
    del pdf.pages[-1]
    made = Stream(pdf, b"q 60 0 0 40 0 0 cm /I Do Q")
    made.update(Dictionary(BBox=[0, 0, 60, 40], Resources=Dictionary(XObject=Dictionary(I=image)), **more))
    return pdf.make_indirect(made)


def cut_in_form(pdf):
    form = within(pdf, Type=Name.XObject, Subtype=Name.Form)
    page(pdf, "q 3 0 0 3 20 20 cm /F Do Q", XObject=Dictionary(F=form))


def cut_in_pattern(pdf):
    tile = within(pdf, PatternType=1, PaintType=1, TilingType=1, XStep=60, YStep=40)
    page(pdf, "/Pattern cs /T scn 20 20 200 140 re f", Pattern=Dictionary(T=tile))


def cut_in_soft_mask(pdf):
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    form = within(pdf, Type=Name.XObject, Subtype=Name.Form, Group=group)
    states = Dictionary(M=Dictionary(SMask=Dictionary(S=Name.Luminosity, G=form)))
    page(pdf, "/M gs 0.1 0.5 0.2 rg 20 20 200 140 re f", ExtGState=states)


def squares():
    return b"".join(b"0.%d 0.5 0.4 rg %d %d 9 9 re f\n" % (n % 9, n % 20 * 12, n // 20 * 12) for n in range(280))


def cut_page(pdf):
    page(pdf, "").Contents.write(zlib.compress(squares())[:-300], filter=Name.FlateDecode)


def cut_armoured_page(pdf):
    data = base64.a85encode(zlib.compress(squares())[:-300]) + b"~>"
    page(pdf, "").Contents.write(data, filter=Array([Name.ASCII85Decode, Name.FlateDecode]))


def altered_page(pdf):
    data = bytearray(zlib.compress(squares()))
    data[len(data) // 2] ^= 0x55
    page(pdf, "").Contents.write(bytes(data), filter=Name.FlateDecode)


def cut_part(pdf):
    """Instructions in two parts, of which the second is cut short."""
    made = page(pdf, "")
    parts = [Stream(pdf, b"0.9 g 0 0 240 180 re f"), Stream(pdf, b"")]
    parts[1].write(zlib.compress(squares())[:-300], filter=Name.FlateDecode)
    made.obj.Contents = Array([pdf.make_indirect(part) for part in parts])


def good_beside(pdf):
    """A cut picture in the resources that this page does not draw."""
    cut(pdf)
    pdf.pages[-1].Contents.write(b"0.2 0.4 0.6 rg 20 20 200 140 re f")


def stamp(pdf):
    """A note with a look of its own, which is no link."""
    made = page(pdf, "0.9 0.9 0.8 rg 0 0 240 180 re f")
    look = Stream(pdf, b"0.8 0.1 0.1 rg 0 0 100 60 re f")
    look.update(Dictionary(Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 100, 60]))
    note = Dictionary(Type=Name.Annot, Subtype=Name.Stamp, Rect=[60, 60, 160, 120], F=4)
    note.AP = Dictionary(N=pdf.make_indirect(look))
    made.obj.Annots = Array([pdf.make_indirect(note)])


DRAWN = [
    blends, overprint, soft_mask, shadings, tiles, cmyk, hidden_layer, jpeg, jpeg_2000, predicted, armoured, runs, faxed,
    inline, good_beside,
]  # fmt: skip
# Damaged pictures and damaged instructions, of which `check` speaks as well.
CUT_PICTURES = [
    wrecked_jpeg, cut, altered, nothing, too_few, too_few_predicted, too_few_in_runs, cut_jpeg, cut_jpeg_2000, cut_fax,
    no_jbig2, unknown_filter, cut_mask, cut_inline, cut_in_form, cut_in_pattern, cut_in_soft_mask,
]  # fmt: skip
CUT_PAGES = [cut_page, cut_armoured_page, altered_page, cut_part]
NOT_DRAWN = [borrowed_font, broken_font, stamp, *CUT_PICTURES, *CUT_PAGES]


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """Every file, its page in a proof, and its picture there."""
    folder = tmp_path_factory.mktemp("foreign")
    for make in DRAWN + NOT_DRAWN:
        with pikepdf.new() as pdf:
            make(pdf)
            (folder / "files").mkdir(exist_ok=True)
            # What is stored is stored as it is: a damaged stream must not be mended.
            pdf.save(folder / "files" / f"{make.__name__}.pdf", compress_streams=False)
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


def told(path):
    """The checks of damage that speak."""
    run = tool.sheafwright("check", path, "--json")
    assert run.returncode == 0, run.stderr
    found = {(f["check"], f["severity"]) for f in json.loads(run.stdout)["findings"]}
    return {one for one in found if one[0] in ("image-damaged", "page-damaged")}


def others_complain(path):
    """Whether mupdf, qpdf, poppler or pikepdf have a word to say of the drawing of a page."""
    said = ""
    for line in (["mutool", "draw", "-q", "-F", "png", "-o", os.devnull], ["qpdf", "--check"], ["pdftoppm", "-r", "36", "-png"]):
        done = subprocess.run([*line, str(path)], capture_output=True, text=True, timeout=60, errors="replace")
        said += "\n".join(text for text in done.stderr.splitlines() if "ICC support" not in text)
    with pikepdf.open(path) as pdf:
        for image in pdf.objects:
            if isinstance(image, Stream) and image.get("/Subtype") == Name.Image:
                try:
                    given, wanted = len(image.read_bytes()), 60 * 40 * (3 if image.ColorSpace == Name.DeviceRGB else 1)
                    said += "" if given >= wanted else f"{given} of {wanted} bytes"
                except pikepdf.PdfError:
                    # A filter that pikepdf does not undo.
                    pass
    return said.strip()


@pytest.mark.parametrize("make", [*CUT_PICTURES, *CUT_PAGES], ids=lambda m: m.__name__)
def test_check_speaks_of_what_is_damaged_and_so_do_others(shown, make):
    path, _, _ = shown[make.__name__]
    assert told(path) == {("image-damaged" if make in CUT_PICTURES else "page-damaged", "warning")}
    assert others_complain(path)


@pytest.mark.parametrize("make", [m for m in DRAWN if m is not good_beside], ids=lambda m: m.__name__)
def test_nobody_speaks_of_damage_where_there_is_none(shown, make):
    path, _, _ = shown[make.__name__]
    assert not told(path) and not others_complain(path)
