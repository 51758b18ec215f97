"""Every key that names a file, with a name that is nearly right: the fault stands at the name and tells the right one."""

import pytest

import products
import tool

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><rect width="8" height="8" fill="#ddd"/></svg>'
FILES = {"art/Plots.svg": SVG, "texts/welcome.md": b"# Hello\n", "texts/guide.md": b"# How\n", "dates/feasts.csv": b"date,name\n2027-05-01,May Day\n"}
KEYS = {
    "welcome": ('[notebook]\nwelcome = "texts/welcom.md"', "texts/welcome.md"),
    "welcome, capitals": ('[notebook]\nwelcome = "texts/Welcome.md"', "texts/welcome.md"),
    "welcome, drawn": ('[notebook]\nwelcome = { art = "art/plots.svg" }', "art/Plots.svg"),
    "index": ('[notebook]\nindex = { art = "art/Plot.svg" }', "art/Plots.svg"),
    "overview": ('[notebook]\noverview = { art = "Plots.svg" }', "art/Plots.svg"),
    "divider": ('[notebook]\ndivider = { art = "art/plots.svg" }', "art/Plots.svg"),
    "cover of the notebook": ('[notebook]\ncover = { art = "art/plots.svg" }', "art/Plots.svg"),
    "texture": ('[[cover]]\nname = "A"\ntexture = "art/plots.svg"', "art/Plots.svg"),
    "cover": ('[[cover]]\nname = "A"\nart = "art/plots.svg"', "art/Plots.svg"),
    "section": ('[[notebook.section]]\nart = "art/plots.svg"', "art/Plots.svg"),
    "template": ('[[notebook.template]]\nart = "art/plots.svg"', "art/Plots.svg"),
    "finished": ('[notebook]\nfile = "art/plots.svg"', "art/Plots.svg"),
    "sticker": ('[[sticker]]\nfile = "art/plots.svg"', "art/Plots.svg"),
    "guide": ('[guide]\ntext = "texts/guid.md"', "texts/guide.md"),
    "list": ('[calendar]\nfirst = "2027-01"\nmonths = 1\n[[calendar.list]]\nname = "Feasts"\nfile = "dates/feast.csv"\n[[notebook.dated]]\npages = "month"', "dates/feasts.csv"),
    "font": ('[style]\nfonts = { heading = "art/plots.svg" }', "art/Plots.svg"),
}


@pytest.mark.parametrize("key", KEYS)
def test_a_file_that_is_not_there_is_answered_with_the_one_that_is_near(key, tmp_path):
    more, near = KEYS[key]
    product = tmp_path / "p"
    product.mkdir()
    for path, data in FILES.items():
        (product / path).parent.mkdir(exist_ok=True)
        (product / path).write_bytes(data)
    text = products.HEAD.format(name="Near Log") + more + '\n[assets]\nown = ["art/*", "texts/*", "dates/*"]\n'
    (product / "product.toml").write_text(text, encoding="utf-8")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist")
    assert run.returncode == 2 and "there is no such file" in run.stderr, run.stderr
    # The very line, and the name that would be right.
    line = next(n for n, written in enumerate(text.splitlines(), 1) if any(w in written for w in ("lots.svg\"", "Plot.svg", "elcom", "guid.md", "feast.csv")))
    assert f"product.toml:{line}:" in run.stderr and f"`{near}`" in run.stderr, run.stderr


@pytest.mark.parametrize("call", ["range(31)", "range( 7 )"])
def test_a_range_without_the_name_of_its_end(call, tmp_path):
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 90"><text y="20">{{% for i in {call} %}}{{{{ i }}}}{{% endfor %}}</text></svg>'
    text = products.HEAD.format(name="Range Log") + '[[notebook.template]]\nname = "A"\nart = "art/a.svg"\n[assets]\nown = ["art/*"]\n'
    (tmp_path / "p/art").mkdir(parents=True)
    (tmp_path / "p/art/a.svg").write_text(svg)
    (tmp_path / "p/product.toml").write_text(text)
    run = tool.sheafwright("build", tmp_path / "p", "--out", tmp_path / "dist")
    number = call.strip("range() ")
    assert run.returncode == 2 and "art/a.svg" in run.stderr and f"range(end={number})" in run.stderr, run.stderr
