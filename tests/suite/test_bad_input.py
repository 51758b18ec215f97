"""What is wrong is named with its place, all of it in one run, and nothing that was built before is touched."""

import io
import os
import re
from dataclasses import dataclass, field, replace

import pytest
import reportlab
from fontTools.ttLib import TTFont

import products
import tool
from products import Recipe

GOOD = Recipe("Small Log", page='size = "A6"\nlayout = "single"', sections=["One", "Two"])


def locked_font():
    """Bitstream Vera as reportlab carries it, with the licence bits that forbid embedding (OpenType, OS/2 fsType: bit 1,
    restricted licence)."""
    font = TTFont(os.path.join(reportlab.__path__[0], "fonts/Vera.ttf"))
    font["OS/2"].fsType = 2
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


@dataclass
class Fault:
    """A recipe that cannot be built: what of the manifest is at fault, and words that the message must have."""

    recipe: Recipe
    at: str  # the text in the manifest that the message must point at
    says: list
    files: dict = field(default_factory=dict)


def with_more(more, **files):
    return replace(GOOD, more=more, files=files)


def sticker(path, *made):
    return replace(GOOD, more=f'\n[[sticker]]\nfile = "{path}"\n', files=dict([(path, made[0])] if made else []))


FAULTS = {
    "missing sticker": Fault(sticker("art/gull.svg"), '"art/gull.svg"', ["no such file"]),
    "missing sticker with a near name": Fault(
        replace(sticker("art/gul.png"), files={"art/gull.png": products.buoy_png}),
        '"art/gul.png"',
        ["no such file", "did you mean `art/gull.png`?"],
    ),
    "misspelt key": Fault(with_more('\n[licence]\nrefnds = 14\n'), "refnds", ["refnds", "did you mean `refunds`?"]),
    "misspelt table": Fault(with_more("\n[stikers]\ndpi = 300\n"), "stikers", ["did you mean `stickers`?"]),
    "wrong unit": Fault(replace(GOOD, page='size = "12 x 20 furlongs"'), '"12 x 20 furlongs"', ["furlongs", "mm"]),
    "pixels without dpi": Fault(replace(GOOD, page='size = "2048 x 1536 px"'), '"2048 x 1536 px"', ["dpi"]),
    "unknown size": Fault(replace(GOOD, page='size = "Leter"'), '"Leter"', ["did you mean `Letter`?"]),
    "colour that is none": Fault(with_more('\n[style]\nink = "#12345g"\n'), '"#12345g"', ["colour", "#8a9a5b"]),
    "number for a text": Fault(with_more("\n[style]\nink = 12\n"), "12", ["takes a colour in quotes", "the number 12"]),
    "unknown ruling": Fault(
        replace(GOOD, templates=[("Lines", "linned", "{}")]), '"linned"', ["did you mean `lined`?"]
    ),
    "unknown parameter": Fault(
        replace(GOOD, templates=[("Lines", "lined", "{ pich = 7 }")]), "pich", ["did you mean `pitch`?"]
    ),
    "unknown motif": Fault(with_more('\n[[sticker]]\nmotif = "taly"\n'), '"taly"', ["did you mean `tally`?"]),
    "broken SVG": Fault(
        sticker("art/gull.svg", lambda: b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0"></svg>'),
        '"art/gull.svg"',
        ["line 1", "column"],
    ),
    "truncated PNG": Fault(
        sticker("art/buoy.png", lambda: products.buoy_png()[:900]), '"art/buoy.png"', ["art/buoy.png"]
    ),
    "text called PNG": Fault(sticker("art/buoy.png", lambda: b"ahoy"), '"art/buoy.png"', ["art/buoy.png"]),
    "locked font": Fault(
        with_more('\n[style.fonts]\nheading = "fonts/locked.ttf"\n', **{"fonts/locked.ttf": locked_font}),
        '"fonts/locked.ttf"',
        ["may not be embedded", "fsType"],
    ),
    "text called font": Fault(
        with_more('\n[style.fonts]\nlabel = "fonts/ahoy.ttf"\n', **{"fonts/ahoy.ttf": lambda: b"ahoy"}),
        '"fonts/ahoy.ttf"',
        ["not a font"],
    ),
    "two templates of one slug": Fault(
        replace(GOOD, templates=[("Dot grid", "dot-grid", "{}"), ("Dot-Grid", "dot-grid", "{}")]),
        '"Dot-Grid"',
        ["1 and 2", "`dot-grid`"],
    ),
    "two stickers of one name": Fault(
        with_more('\n[[sticker]]\nmotif = "tally"\n\n[[sticker]]\nname = "Tally"\nmotif = "week-strip"\n'),
        '"Tally"',
        ["1 and 2", "`tally`"],
    ),
    "path that climbs": Fault(sticker("../buoy.png"), '"../buoy.png"', ["inside the product's folder"]),
    "path from the root": Fault(sticker("/etc/hostname.png"), '"/etc/hostname.png"', ["inside the product's folder"]),
    "no such template": Fault(
        replace(GOOD, section_pages={"One": [("deck-lock", 1)]}), '"deck-lock"', ["did you mean `deck-log`?"]
    ),
    "too many sections": Fault(
        replace(GOOD, sections=[f"S{n}" for n in range(25)]), "[[notebook.section]]", ["25 sections", "24"]
    ),
    "bad slug": Fault(replace(GOOD, top='slug = "Small Log"\n'), '"Small Log"', ["`small-log`"]),
    "no TOML": Fault(replace(GOOD, top="name = \n"), None, ["product.toml"]),
}


def last_line_with(text, part):
    """Where a message should point: the last place where the manifest has these words."""
    at = text.rindex(part)
    before = text[:at]
    return before.count("\n") + 1, at - before.rfind("\n")


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_named_with_its_place_and_nothing_is_touched(name, tmp_path):
    product, dist = tmp_path / "product", tmp_path / "dist"
    good = tool.build(GOOD.write(product), dist)
    before = tool.tree(good.folder)
    fault = FAULTS[name]
    fault.recipe.write(product)
    run = tool.sheafwright("build", product, "--out", dist)
    assert run.returncode == 2, run.stdout + run.stderr
    assert run.stdout == ""
    for words in fault.says:
        assert words in run.stderr, run.stderr
    place = re.search(r"product\.toml:(\d+):(\d+): ", run.stderr)
    assert place, run.stderr
    if fault.at:
        line, column = last_line_with(fault.recipe.manifest(), fault.at)
        places = re.findall(r"product\.toml:(\d+):(\d+): ", run.stderr)
        assert (str(line), str(column)) in places, run.stderr
        # The line is shown, with a mark below what is meant.
        shown = fault.recipe.manifest().splitlines()[line - 1]
        assert f"{line} | {shown}\n" in run.stderr and "^" in run.stderr
    assert str(product) not in run.stderr.replace("product.toml", ""), "the message names files from the product's folder"
    assert tool.tree(good.folder) == before
    assert [p.name for p in dist.iterdir() if not p.name.startswith(".")] == ["small-log"]


def test_all_faults_come_in_one_run(tmp_path):
    more = '\n[style]\nink = "purpel"\n[licence]\nrefnds = 3\n[[sticker]]\nfile = "art/none.png"\n'
    recipe = replace(GOOD, page='size = "A7x"\nlayuot = "single"', more=more)
    run = tool.sheafwright("build", recipe.write(tmp_path / "product"), "--out", tmp_path / "dist")
    assert run.returncode == 2
    places = re.findall(r"product\.toml:(\d+):\d+: ", run.stderr)
    text = recipe.manifest()
    wanted = [last_line_with(text, part)[0] for part in ('"A7x"', "layuot", '"purpel"', "refnds", '"art/none.png"')]
    assert [int(line) for line in places] == sorted(wanted), run.stderr
    assert "5 things to mend" in run.stderr


def test_a_link_out_of_the_folder_is_not_followed(tmp_path):
    (tmp_path / "secret.png").write_bytes(products.buoy_png())
    product = sticker("art/buoy.png").write(tmp_path / "product")
    (product / "art").mkdir()
    (product / "art/buoy.png").symlink_to(tmp_path / "secret.png")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist")
    assert run.returncode == 2 and "product's folder" in run.stderr, run.stderr


def test_no_product_there(tmp_path):
    for path in (tmp_path / "nowhere", tmp_path):
        run = tool.sheafwright("build", path, "--out", tmp_path / "dist")
        assert run.returncode == 2 and "product.toml" in run.stderr, run.stderr
    assert not (tmp_path / "dist").exists() or not list((tmp_path / "dist").glob("[!.]*"))


def test_dist_that_cannot_be_written(tmp_path):
    product = GOOD.write(tmp_path / "product")
    dist = tmp_path / "dist"
    if os.geteuid() == 0:
        # Nothing is forbidden to root; a file in place of the folder stops it as well.
        dist.write_text("a file")
    else:
        dist.mkdir(mode=0o555)
    run = tool.sheafwright("build", product, "--out", dist)
    assert run.returncode == 2, run.stdout + run.stderr
    assert str(dist) in run.stderr and "help:" in run.stderr
    assert dist.read_text() == "a file" if dist.is_file() else not list(dist.iterdir())


def test_an_issued_version_is_never_changed(tmp_path):
    product, dist = tmp_path / "product", tmp_path / "dist"
    issued = replace(GOOD, top="issued = true\n")
    before = tool.tree(tool.build(issued.write(product), dist).folder)
    # The same again is no change.
    assert tool.tree(tool.build(product, dist).folder) == before
    replace(issued, sections=["One", "Other"]).write(product)
    run = tool.sheafwright("build", product, "--out", dist)
    assert run.returncode == 2 and "1.0.0" in run.stderr and "small-log.pdf has changed" in run.stderr, run.stderr
    assert tool.tree(dist / "small-log/1.0.0") == before


def test_a_folder_that_is_no_bundle_is_not_replaced(tmp_path):
    other = tmp_path / "dist/small-log/1.0.0"
    other.mkdir(parents=True)
    (other / "diary.txt").write_text("mine")
    run = tool.sheafwright("build", GOOD.write(tmp_path / "product"), "--out", tmp_path / "dist")
    assert run.returncode == 2 and "not replaced" in run.stderr, run.stderr
    assert tool.tree(other) == {"diary.txt": b"mine"}
