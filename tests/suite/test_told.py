"""What buyers are told is true of the variant that it is told of: random products, and every number counted again.

A usual run takes 25 products; SHEAFWRIGHT_RANDOM=500 takes as many.
"""

import json
import os

import pytest

import told
import tool

COUNT = int(os.environ.get("SHEAFWRIGHT_RANDOM", "25"))


def findings(run):
    """Findings as they can be compared: the place without the folder of the bundle."""
    report = json.loads(run.stdout)
    keys = ("check", "severity", "page", "entry", "message")
    out = []
    for f in report["findings"]:
        file = f["file"] or ""
        for top in ("contents/", "upload/", "listing/"):
            if top in file:
                file = file[file.index(top) :]
        out.append((file, *(f[k] for k in keys)))
    return sorted(out, key=str)


@pytest.mark.parametrize("seed", range(COUNT))
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
    assert findings(again) == findings(run)
