"""The built files against the Arlington PDF Model of the PDF Association."""

import os
from pathlib import Path

import pytest

from arlington import rows, whole
from test_checks import ROOT, run

PRODUCT = ROOT / os.environ.get("SHEAFWRIGHT_SAMPLE", "products/allotment-year")


@pytest.fixture(scope="session")
def built(tmp_path_factory):
    """The PDFs of the sample product, built anew."""
    out = tmp_path_factory.mktemp("dist")
    code, _, err = run("build", PRODUCT, "--out", out)
    assert code == 0, err
    return sorted(out.glob("*/*/contents/**/*.pdf"))


def test_every_object_fits_the_model(built):
    assert built
    wrong = {path.name: faults for path in built if (faults := whole(path))}
    assert not wrong, wrong


# The keys that the reader asks each kind of object for; a slip of the pen in one of them would read as "not there".
READ = {
    "AnnotLink": "Rect Dest A Contents F Border BS C Subtype",
    "OutlineItem": "Title Dest A First Next",
    "Outline": "First Count",
    "PageObject": "MediaBox CropBox Rotate UserUnit Annots Contents Resources AA",
    "PageTreeNode": "Kids Count",
    "PageLabel": "S P St",
    "Catalog": "Pages Lang Version ViewerPreferences PageLabels Outlines Names Dests Metadata OpenAction AA AcroForm",
    "ActionGoTo": "S D Next",
    "ActionURI": "S URI",
    "XObjectImage": "Width Height BitsPerComponent ColorSpace SMask Filter ImageMask",
    "FontTrueType": "Subtype BaseFont FontDescriptor ToUnicode Encoding",
    "FontDescriptorTrueType": "FontFile2",
    "DocInfo": "Title",
}


@pytest.mark.parametrize("kind", READ)
def test_the_reader_asks_for_keys_that_exist(kind):
    source = "".join(path.read_text() for path in Path(ROOT / "pipeline/inspect/pdf").rglob("*.rs"))
    model = rows(kind)
    for key in READ[kind].split():
        assert key in model, f"{kind} has no {key}"
        if kind != "DocInfo" and key not in ("MediaBox", "CropBox", "Kids", "Resources"):
            assert f'"{key}"' in source, f"the reader does not ask {kind} for {key}"
