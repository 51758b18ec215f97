"""What buyers are told is true of the variant that it is told of: random products, and every number counted again.

A usual run takes 25 products; SHEAFWRIGHT_RANDOM=500 takes as many.
"""

import os

import pytest

import agree
import told
import tool

COUNT = int(os.environ.get("SHEAFWRIGHT_RANDOM", "25"))


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
    assert not agree.differences(run, again)
