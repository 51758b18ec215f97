"""The typefaces that come along: what poppler, fontTools and the licence terms say of them."""

import re
from dataclasses import replace

import pytest
from fontTools.ttLib import TTFont

import products
import tool

FONTS = tool.ROOT / "pipeline/draw/fonts"
FAMILIES = sorted(p.name for p in FONTS.iterdir())


def set_in(tmp_path, fonts, more=""):
    recipe = replace(products.LAYOUTS["upright"], name="Type Log", more=f"[style.fonts]\n{fonts}\n{more}")
    return tool.sheafwright("build", recipe.write(tmp_path / "product"), "--out", tmp_path / "dist", "--strict"), tmp_path / "dist/type-log/1.0.0"


def embedded(pdf):
    """The names of fonts in a PDF, without the marks of subsets; all of them are embedded."""
    lines = [line.split() for line in tool.program("pdffonts", pdf).splitlines()[2:]]
    assert all("yes" in line for line in lines)
    return {line[0].partition("+")[2] for line in lines}


def names(path):
    """A font's family and PostScript name, and who made it."""
    table = TTFont(path)["name"]
    return table.getDebugName(16) or table.getDebugName(1), table.getDebugName(6), table.getDebugName(0)


@pytest.mark.parametrize("folder", FAMILIES)
def test_each_file_is_free_to_embed_and_its_licence_lies_beside_it(folder):
    licence = (FONTS / folder / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence and licence.startswith("Copyright")
    faces = sorted((FONTS / folder).glob("*.ttf"))
    assert faces
    for path in faces:
        font = TTFont(path)
        # OpenType 1.9, OS/2: no bit of fsType is set, so that it may be embedded without a condition.
        assert font["OS/2"].fsType == 0 and "fvar" not in font
        assert names(path)[1] == path.stem


@pytest.mark.parametrize("folder", FAMILIES)
def test_a_typeface_is_chosen_by_its_name(folder, tmp_path):
    """Its italic and bold come with it; nothing of another is mixed in."""
    faces = {path.stem for path in (FONTS / folder).glob("*.ttf")}
    family = names(FONTS / folder / f"{sorted(faces)[-1]}.ttf")[0]
    family = re.sub(r" (SemiBold|Regular|Bold|Italic)$", "", family)
    run, bundle = set_in(tmp_path, f'heading = "{family}"\nlabel = "{family}"')
    assert run.returncode == 0, run.stdout + run.stderr
    used = embedded(bundle / "contents/type-log.pdf")
    assert used <= faces and used & {face for face in faces if face.endswith("-Regular")}
    terms = (bundle / "contents/licence-terms.txt").read_text(encoding="utf-8")
    assert f"{family.replace(' ', '')}-Regular, SIL Open Font License 1.1" in " ".join(terms.split())
    said = tool.sheafwright("explain", family).stdout
    for face in faces:
        assert face in said
    assert "Copyright" in said or "©" in said


def test_a_face_can_be_chosen_alone_and_a_pair_of_two_typefaces(tmp_path):
    run, bundle = set_in(tmp_path, 'heading = "AmaticSC-Bold"\nheading-italic = "Caveat"\nlabel = "Work Sans"')
    assert run.returncode == 0, run.stdout + run.stderr
    used = embedded(bundle / "contents/type-log.pdf")
    assert {"AmaticSC-Bold", "WorkSans-Regular"} <= used <= {"AmaticSC-Bold", "Caveat-Regular", "WorkSans-Regular", "WorkSans-Bold", "WorkSans-Italic"}


def test_a_typeface_that_there_is_not_names_the_near_one(tmp_path):
    run, _ = set_in(tmp_path, 'heading = "Lorra"')
    assert run.returncode == 2 and "did you mean `Lora`" in run.stderr and re.search(r"product\.toml:\d+:\d+", run.stderr), run.stderr
