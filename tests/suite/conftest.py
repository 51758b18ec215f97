"""Products are built once a session and shared; no test changes what another one reads."""

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
    built = {}

    def get(recipe):
        if recipe.name not in built:
            folder = tmp_path_factory.mktemp("shelf")
            bundle = tool.build(recipe.write(folder / "product"), folder / "dist")
            bundle.recipe = recipe
            built[recipe.name] = bundle
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
