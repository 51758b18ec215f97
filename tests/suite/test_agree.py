"""A build and a later check of the bundle that it left say the same. Whatever the suite builds is looked at for that (`again.py`):
samples, every shape of page, variants, finished notebooks. Here stand versions that are too low and checks that are lowered."""

import json
import tomllib

import pytest

import agree
import products
import tool


def said(product, out):
    """The reports of a build and of a check of its bundle, and where that lies."""
    built = tool.sheafwright("build", product, "--out", out, "--json")
    assert built.returncode == 0, built.stdout + built.stderr
    manifest = tomllib.loads((product / "product.toml").read_text(encoding="utf-8"))
    # The members of a set lie beside it.
    (bundle,) = out.glob(f"{manifest['slug']}/[0-9]*" if "set" in manifest else f"*/{manifest['version']}")
    return built, tool.sheafwright("check", bundle, "--json"), bundle


LOWER = '\n[[lower]]\ncheck = "version-too-low"\nto = "{}"\nreason = "nobody bought 1.0.0"\n'


@pytest.mark.parametrize("issued", [True, False])
@pytest.mark.parametrize("to", [None, "note", "off"])
def test_of_a_version_that_is_too_low(tmp_path, issued, to):
    recipe = products.LAYOUTS["one-section"]
    product, dist = recipe.write(tmp_path / "product"), tmp_path / "dist"
    path = product / "product.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('"1.0.0"', '"1.0.0"\nissued = true') if issued else text, encoding="utf-8")
    said(product, dist)
    page = '[[notebook.template]]\nname = "Harbour log"\nruling = "lined"\n'
    text = text.replace('"1.0.0"', '"1.0.1"').replace("[[notebook.section]]", page + "[[notebook.section]]")
    path.write_text(text + (LOWER.format(to) if to else ""), encoding="utf-8")
    built, checked, bundle = said(product, dist)
    told = [f for f in json.loads(checked.stdout)["findings"] if f["check"] == "version-too-low"]
    assert len(told) == (to != "off")
    assert all(f["severity"] == (to or "warning") and ("which buyers have" in f["message"]) is issued for f in told)
    assert not agree.differences(built, checked)
    # The folder of all versions tells it of the second alone; the proof written anew shows it.
    shelf = json.loads(tool.sheafwright("check", bundle.parent, "--json").stdout)["findings"]
    assert [f for f in shelf if f["check"] == "version-too-low"] == told
    tool.sheafwright("proof", bundle, "--out", tmp_path / "proof.html")
    assert ("version-too-low" in (tmp_path / "proof.html").read_text(encoding="utf-8")) is (to != "off")
    # Elsewhere it lies beside nothing that it could be held against.
    alone = tmp_path / "alone"
    bundle.rename(alone)
    assert "version-too-low" not in tool.sheafwright("check", alone, "--json").stdout
