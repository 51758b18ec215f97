"""What buyers are told is true of the variant that it is told of: random products, and every number counted again.

A usual run takes 25 products; SHEAFWRIGHT_RANDOM=500 takes as many, SHEAFWRIGHT_RANDOM=200-400 those from 200 on.
"""

import json
import os
import re
from dataclasses import replace

import pytest

import agree
import matrix
import products
import told
import tool

FIRST, _, LAST = os.environ.get("SHEAFWRIGHT_RANDOM", "25").rpartition("-")


@pytest.mark.parametrize("seed", range(int(FIRST or 0), int(LAST)))
def test_every_number_is_found_again(seed, tmp_path):
    product = told.recipe(seed).write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    (record,) = (tmp_path / "dist").glob("*/*/bundle.json")
    bundle = tool.Bundle(product, record.parent)
    counted = told.Counted(bundle)
    read = {reader.__name__: reader(bundle, counted) for reader in told.READERS}
    # A reader that reads nothing proves nothing.
    assert all(read.values()), {name: len(list_) for name, list_ in read.items()}
    wrong = [(what, said, true) for rows in read.values() for what, said, true in rows if said != true]
    assert not wrong, "\n".join(f"{said} is said, {true} is so: {what}" for what, said, true in wrong)
    # A build and a later check of what it left say the same.
    again = tool.sheafwright("check", bundle.folder, "--json")
    assert not agree.differences(run, again)


def wrong(bundle):
    """Texts in which a check of this folder finds a wrong figure."""
    found = json.loads(tool.sheafwright("check", bundle, "--json").stdout)["findings"]
    return {f["file"].rsplit("/", 1)[-1] for f in found if f["check"] == "claim-wrong"}


@pytest.mark.parametrize("recipe", [matrix.CREEL_LOG, products.FULL_PRODUCT], ids=["variants", "plain"])
@pytest.mark.parametrize("text", ["contents/start-here.txt", "listing/description.md"])
def test_every_figure_that_is_told_is_held_by_a_check(recipe, text, tmp_path):
    """Each figure made another one, one at a time: of what all have, and of what a variant has."""
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist").folder
    assert not wrong(bundle)
    path = bundle / text
    whole = path.read_text(encoding="utf-8")
    begin = whole.index("What each file is") if "start-here" in text else 0
    counted = r"\b(\d+)(?=[ \n]+(?:pages?|covers?|stickers?|pictures?|page templates?|sections?|links?)\b)"
    figures = [m for m in re.finditer(counted, whole) if m.start() > begin]
    assert len(figures) > 3
    for found in figures:
        # Three more: a notebook's own cover may be counted with the others or not.
        path.write_text(f"{whole[: found.start()]}{int(found[1]) + 3}{whole[found.end() :]}", encoding="utf-8")
        if int(found[1]) > 20 or "start-here" in text:
            assert wrong(bundle) == {path.name}, whole[found.start() - 60 : found.end() + 40]
    path.write_text(whole, encoding="utf-8")


@pytest.mark.parametrize("said", ["You have {} stickers", "A notebook of {} pages", "The notebook brings {} page templates"])
def test_a_guide_of_ones_own_states_true_figures(said, tmp_path):
    figures = {"You have {} stickers": 5, "A notebook of {} pages": 22, "The notebook brings {} page templates": 7}
    for add in (0, 4):
        text = "# How to\n\n" + said.format(figures[said] + add) + " for all that you do.\n"
        recipe = replace(products.FULL_PRODUCT, more=products.FULL + '[guide]\ntext = "texts/guide.md"\n', files={**products.FULL_FILES, "texts/guide.md": text.encode})
        run = tool.sheafwright("build", recipe.write(tmp_path / f"p{add}"), "--out", tmp_path / f"d{add}", "--json")
        told_of = [f["message"] for f in json.loads(run.stdout)["findings"] if f["check"] == "claim-wrong"]
        assert bool(told_of) is bool(add), told_of
