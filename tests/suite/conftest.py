"""Products are built once a run and shared by all that test beside each other; no test changes what another one reads."""

import fcntl
import json
import os
from pathlib import Path

import pytest

import products
import tool
from again import AGAIN


@pytest.fixture(scope="session", autouse=True)
def built_again():
    """Whatever a test has built comes out the same when it is built again: see `again.py`."""
    yield
    found, _ = AGAIN.close()
    assert not found, "built again, these differ:\n" + "\n".join(found)


@pytest.fixture(scope="session")
def shelf(tmp_path_factory):
    """Builds a recipe at most once and gives its bundle."""
    base = tmp_path_factory.getbasetemp()
    shared = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "shelf"
    shared.mkdir(exist_ok=True)
    built = {}

    def get(recipe):
        if recipe.name not in built:
            folder = shared / recipe.name
            folder.mkdir(exist_ok=True)
            with (folder / "lock").open("w") as lock:
                # Another worker may be building it just now.
                fcntl.flock(lock, fcntl.LOCK_EX)
                told = folder / "told.json"
                if not told.exists():
                    made = tool.build(recipe.write(folder / "product"), folder / "dist")
                    told.write_text(json.dumps([str(made.folder), made.said]), encoding="utf-8")
                place, said = json.loads(told.read_text(encoding="utf-8"))
            built[recipe.name] = tool.Bundle(folder / "product", Path(place), said, recipe)
        return built[recipe.name]

    return get


@pytest.fixture(scope="session", params=list(products.LAYOUTS))
def layout(request, shelf):
    """A bundle of every shape of page in turn."""
    return shelf(products.LAYOUTS[request.param])


@pytest.fixture(scope="session")
def full(shelf):
    """The bundle that has everything in it."""
    return shelf(products.FULL_PRODUCT)


@pytest.fixture
def workshop(tmp_path):
    """Writes a product and builds it, for tests that want a fresh one."""

    def make(recipe, *more, expect=0):
        return tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist", *more, expect=expect)

    return make
