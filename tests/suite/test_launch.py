"""Launch plans: days by Python's calendar, the calendar file by the library icalendar and by RFC 5545's own words on lines, what is
done held against the bundle's record and the seals."""

import datetime
import json

import icalendar
import pytest

from products import Recipe
from tool import sheafwright, tree

DAY = datetime.date(2028, 3, 1)
HEAD = 'name = "{}"\nversion = "{}"\nreleased = 2028-03-01\n'
FILM = "Film of the pages; é, \\\\ and \\\"cuts\\\", " + "längst " * 9 + "🌿"


def small(folder, launch="[launch]\non = 2028-03-01\n", version="1.0.0", name="Ferry Log"):
    recipe = Recipe(name, page='size = "A6"\nlayout = "single"', sections=["Piers"], templates=[("Crossings", "lined", "{}")], more=launch)
    recipe.write(folder)
    manifest = folder / "product.toml"
    manifest.write_text(manifest.read_text(encoding="utf-8").replace('version = "1.0.0"', f'version = "{version}"'), encoding="utf-8")
    return folder


def plan(root, *more, today="2028-02-20", product="product", code=None):
    run = sheafwright("launch", product, "--json", "--today", today, *more, cwd=root)
    assert run.stdout, run.stderr
    report = json.loads(run.stdout)
    assert report["as-of"] == today
    late = any(s["standing"]["is"] == "late" for p in report["launches"] for s in p["steps"])
    assert run.returncode == (late if code is None else code), run.stderr
    return report["launches"]


def done(root, **more):
    (one,) = plan(root, **more)
    return {s["name"] for s in one["steps"] if s["standing"]["is"] == "done"}


def test_each_step_has_its_day_and_says_how_far_it_is(tmp_path):
    step = f'[[launch.step]]\nname = "film"\ntitle = "{FILM}"\ndays-before = 1\n[[launch.step]]\nname = "letter"\ntitle = "Letter"\ndays-before = -30\n[[launch.step]]\nname = "tablet"\nleave-out = true\n[[launch.step]]\nname = "upload"\ndays-before = 366\n'
    small(tmp_path / "product", f"[launch]\non = {DAY}\n{step}")
    (told,) = plan(tmp_path)
    steps = {s["name"]: s for s in told["steps"]}
    assert steps.keys() == {"art", "checks", "proof", "pictures", "upload", "announce", "launch", "film", "letter"}
    # 2028 is a leap year, by Python's calendar as well.
    days = {"film": 1, "letter": -30, "upload": 366, "announce": 0, "launch": 0}
    for name, before in days.items():
        assert steps[name]["day"] == str(DAY - datetime.timedelta(days=before)), name
    for step in told["steps"]:
        left = (datetime.date.fromisoformat(step["day"]) - datetime.date(2028, 2, 20)).days
        assert step["standing"] == ({"is": "today"} if left == 0 else {"is": "ahead" if left > 0 else "late", "days": abs(left)})
    assert [s["day"] for s in told["steps"]] == sorted(s["day"] for s in told["steps"])
    said = sheafwright("launch", "product", "--today", "2028-02-20", cwd=tmp_path)
    assert said.returncode == 1 and said.stdout.count("\n- [ ] ") == len(steps) and "**late by " in said.stdout
    assert f"\\[" not in said.stdout and "2028-02-29 Film of the pages; é, \\\\ and" in said.stdout


def events(file):
    data = file.read_bytes()
    # RFC 5545, 3.1: lines end with CRLF and have at most 75 octets; each is whole UTF-8.
    assert data.endswith(b"\r\n") and data.count(b"\n") == data.count(b"\r\n") == data.count(b"\r")
    for line in data.split(b"\r\n"):
        assert len(line) <= 75
        line.decode("utf-8")
    calendar = icalendar.Calendar.from_ical(data)
    assert calendar["version"] == "2.0" and calendar["prodid"] and not calendar.errors
    found = calendar.walk("VEVENT")
    # 3.6.1: both must be there; 3.8.4.7: no two events have one identifier.
    assert all(e["uid"] and e["dtstamp"].dt.tzinfo for e in found) and len({e["uid"] for e in found}) == len(found)
    assert all(not e.errors and type(e["dtstart"].dt) is datetime.date for e in found)
    return found


def test_the_calendar_file_is_read_as_it_was_meant(tmp_path):
    step = f'[[launch.step]]\nname = "film"\ntitle = "{FILM}"\ndays-before = 9\n'
    small(tmp_path / "product", f"[launch]\non = {DAY}\n{step}")
    (told,) = plan(tmp_path, "--ics", "plan.ics")
    first = events(tmp_path / "plan.ics")
    title = FILM.replace('\\"', '"').replace("\\\\", "\\")
    assert any(s["title"] == title for s in told["steps"])
    assert [(str(e["summary"]), str(e["dtstart"].dt)) for e in first] == [(f"Ferry Log 1.0.0: {s['title']}", s["day"]) for s in told["steps"]]
    plan(tmp_path, "--ics", "again.ics")
    assert (tmp_path / "again.ics").read_bytes() == (tmp_path / "plan.ics").read_bytes()
    # The launch is put off: the same events on other days. Another version: other events.
    small(tmp_path / "product", f"[launch]\non = 2028-03-15\n{step}")
    plan(tmp_path, "--ics", "later.ics", today="2028-02-21")
    later = events(tmp_path / "later.ics")
    assert {e["uid"]: e["dtstart"].dt + datetime.timedelta(days=14) for e in first} == {e["uid"]: e["dtstart"].dt for e in later}
    small(tmp_path / "product", f"[launch]\non = {DAY}\n{step}", version="1.1.0")
    plan(tmp_path, "--ics", "next.ics")
    assert not {e["uid"] for e in events(tmp_path / "next.ics")} & {e["uid"] for e in first}


def test_what_the_bundle_shows_is_done(tmp_path):
    product = small(tmp_path / "product", "[launch]\non = 2028-03-01\n[pictures]\nusual = true\n")
    assert done(tmp_path) == set()
    assert sheafwright("build", "product", "--out", "dist", cwd=tmp_path).returncode == 0
    folder = tmp_path / "dist/ferry-log/1.0.0"
    record = json.loads((folder / "bundle.json").read_text(encoding="utf-8"))
    clean = not [f for f in record["findings"] if f["severity"] in ("error", "warning")]
    built = {"art", "pictures"} | ({"checks"} if clean else set())
    assert clean and done(tmp_path) == built
    # Ticked off by hand, beside the manifest; no byte of the bundle depends on it.
    before = tree(tmp_path / "dist")
    said = sheafwright("launch", "product", "--done", "proof", "--done", "announce", "--today", "2028-02-11", cwd=tmp_path)
    assert said.returncode == 0 and "ticked off on 2028-02-11" in said.stdout
    assert done(tmp_path) == built | {"proof", "announce"}
    plan(tmp_path, "--done", "proof", today="2028-02-14")
    assert (product / "launch-done.toml").read_text(encoding="utf-8").count("2028-02-11") == 2
    assert sheafwright("build", "product", "--out", "dist", cwd=tmp_path).returncode == 0
    assert tree(tmp_path / "dist") == before
    # Files that are otherwise since then: what lies there shows nothing.
    manifest = product / "product.toml"
    text = manifest.read_text(encoding="utf-8")
    manifest.write_text(text + "\n# later\n", encoding="utf-8")
    assert done(tmp_path) == {"proof", "announce"}
    manifest.write_text(text, encoding="utf-8")
    assert sheafwright("release", "dist/ferry-log/1.0.0", cwd=tmp_path).returncode == 0
    assert done(tmp_path) == built | {"proof", "tablet", "upload", "announce"}
    assert done(tmp_path, today="2028-03-01") == {s["name"] for s in plan(tmp_path)[0]["steps"]}
    # The next version: nothing is done yet, and there are past buyers.
    small(product, "[launch]\non = 2028-09-01\n[pictures]\nusual = true\n", version="1.1.0")
    (told,) = plan(tmp_path, today="2028-03-02")
    assert {s["name"] for s in told["steps"]} >= {"past-buyers"} and done(tmp_path, today="2028-03-02") == set()
    assert any("2028-09-01" in remark for remark in told["remarks"])


def test_a_plan_changes_no_file_of_the_bundle_but_the_record(tmp_path):
    for name, launch in (("with", "[launch]\non = 2028-03-01\n"), ("without", "")):
        small(tmp_path / name, launch)
        assert sheafwright("build", name, "--out", f"dist-{name}", cwd=tmp_path).returncode == 0
    left = [tree(tmp_path / f"dist-{name}/ferry-log/1.0.0") for name in ("with", "without")]
    differ = {path for path in left[0].keys() | left[1].keys() if left[0].get(path) != left[1].get(path)}
    # The record has the manifest's digest among the inputs, and the sums have the record's.
    assert differ == {"bundle.json", "SHA256SUMS"}


def test_a_shop_shares_its_steps(tmp_path):
    shop = '[launch]\non = 2028-03-01\n[[launch.step]]\nname = "announce"\ntitle = "Window dressed"\ndays-before = 2\n[[launch.step]]\nname = "film"\ntitle = "Film"\ndays-before = 5\n'
    (tmp_path / "products").mkdir()
    (tmp_path / "products/shop.toml").write_text(shop, encoding="utf-8")
    small(tmp_path / "products/a", "", name="Ferry Log")
    small(tmp_path / "products/b", '[launch]\non = 2028-05-01\nstep = [{ name = "announce", days-before = 7 }, { name = "film", leave-out = true }]\n', name="Barge Log")
    first, second = plan(tmp_path, product="products", today="2028-01-01")
    assert (first["product"], first["on"], second["product"], second["on"]) == ("ferry-log", "2028-03-01", "barge-log", "2028-05-01")
    of = [{s["name"]: (s["title"], s["day"]) for s in one["steps"]} for one in (first, second)]
    assert of[0]["announce"] == ("Window dressed", "2028-02-28") and of[0]["film"] == ("Film", "2028-02-25")
    assert of[1]["announce"] == ("Window dressed", "2028-04-24") and "film" not in of[1]


@pytest.mark.parametrize(
    "lines, says",
    [
        ("[launch]\n", "product.toml:4:1: the launch has no day"),
        ("[launch]\non = 2028-03-01T10:00:00\n", "product.toml:5:6: the launch is on a day"),
        ("[launch]\non = 2027-02-29\n", "product.toml:5:6: this is no date"),
        ('[launch]\non = 2028-03-01\nday = 3\n', "product.toml:6:1: unknown key `day`"),
        ('[launch]\non = 2028-03-01\nstep = [{ name = "film", days-before = 3 }]\n', "product.toml:6:9: the step `film` is one of your own and has no title"),
        ('[launch]\non = 2028-03-01\nstep = [{ name = "film", title = "Film" }]\n', "product.toml:6:9: the step `film` is one of your own and has no days-before"),
        ('[launch]\non = 2028-03-01\nstep = [{ name = "art", days-before = 401 }]\n', "product.toml:6:39: 401 days before the launch is out of range"),
        ('[launch]\non = 2028-03-01\nstep = [{ name = "art", title = "a\\nb" }]\n', "product.toml:6:33: the title of a step is a line of text"),
        ('[launch]\non = 2028-03-01\nstep = [{ name = "Art Done" }]\n', "product.toml:6:18: the name of a step has"),
        ('[launch]\non = 2028-03-01\nstep = [{ name = "art" },\n { name = "art" }]\n', "product.toml:7:11: the step `art` stands in line 6 as well"),
        ('[launch]\non = 2028-03-01\nstep = [{ name = "art", shown-by = "hope" }]\n', "product.toml:6:36: unknown value `hope`"),
    ],
)
def test_what_is_wrong_has_its_place(tmp_path, lines, says):
    (tmp_path / "product.toml").write_text(HEAD.format("Ferry Log", "1.0.0") + lines, encoding="utf-8")
    run = sheafwright("launch", tmp_path)
    assert run.returncode == 2 and f"error: {says}" in run.stderr and "help: " in run.stderr and not run.stdout
    assert run.stderr.count("error: ") == 1


def test_faults_of_the_shop_and_of_ticks_have_their_file(tmp_path):
    (tmp_path / "shop.toml").write_text('[launch]\nstep = [{ name = "art", days-before = -91 }]\n', encoding="utf-8")
    small(tmp_path / "product")
    run = sheafwright("launch", "product", cwd=tmp_path)
    assert run.returncode == 2 and "shop.toml:2:39: -91 days before" in run.stderr
    (tmp_path / "shop.toml").unlink()
    for text, says in (('["1.0.0"]\nproof = soon\n', ":2:9: "), ('["1.0.0"]\nproof = true\n', ":2:1: `proof` has no day")):
        (tmp_path / "product/launch-done.toml").write_text(text, encoding="utf-8")
        run = sheafwright("launch", "product", cwd=tmp_path)
        assert run.returncode == 2 and f"launch-done.toml{says}" in run.stderr and "help: " in run.stderr, run.stderr


def test_what_cannot_be_planned_is_said(tmp_path):
    small(tmp_path / "product")
    small(tmp_path / "other", "")
    run = sheafwright("launch", "product", "--done", "anounce", cwd=tmp_path)
    assert run.returncode == 2 and "no step `anounce`" in run.stderr and "announce" in run.stderr
    run = sheafwright("launch", "product", "other", "--done", "proof", cwd=tmp_path)
    assert run.returncode == 2 and "--done is for one product" in run.stderr
    run = sheafwright("launch", "other", cwd=tmp_path)
    assert run.returncode == 2 and "no launch is planned in other" in run.stderr
    run = sheafwright("launch", "product", "other", "--today", "2028-01-01", cwd=tmp_path)
    assert run.returncode == 0 and "other plans no launch" in run.stderr and "Ferry Log" in run.stdout
    run = sheafwright("launch", "product", "--today", "soon", cwd=tmp_path)
    assert run.returncode == 2 and "2027-01-15" in run.stderr
    # Without a day of its own the command takes the clock's (UTC).
    run = sheafwright("launch", "product", "--json", cwd=tmp_path)
    now = datetime.datetime.now(datetime.UTC).date()
    assert abs((datetime.date.fromisoformat(json.loads(run.stdout)["as-of"]) - now).days) <= 1
