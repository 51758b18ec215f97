//! The manual, the schema and `explain` are complete and true: no key without a text, every example is taken by the
//! program, and the schema validates what the program accepts and refuses what its reader refuses.
//!
//! The judge of the schema is the library `jsonschema` for Python (JSON Schema draft 2020-12), which knows nothing of us.

mod ranges;

use base::keys::{Key, Shape, Table};
use serde_json::{Value, json};
use sheafwright::manual::{self, Place, schema};
use sheafwright::world::World;
use std::collections::BTreeSet;
use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

const HEAD: &str = "name = \"Harbour Log\"\nreleased = 2027-03-01\n";

/// A value of each kind that TOML has, as it is written.
const KINDS: [&str; 10] = ["7", "-7", "0", "1.5", "true", "\"word\"", "[]", "[[7]]", "{ }", "[\"word\", 3]"];

/// What a table must hold beside a key that is tried in it, unless the example says it.
const BESIDE: [(&str, &str); 27] = [
    ("style.fonts.heading", "file = \"fonts/Hedgerow.ttf\""),
    ("style.fonts.heading-italic", "file = \"fonts/Hedgerow.ttf\""),
    ("style.fonts.label", "file = \"fonts/Hedgerow.ttf\""),
    ("style.fonts.label-bold", "file = \"fonts/Hedgerow.ttf\""),
    ("style.fonts.label-italic", "file = \"fonts/Hedgerow.ttf\""),
    ("notebook.section.section.pages", "template = \"lined\""),
    ("notebook.link", "to = \"page/1\"\nat = [10, 5, 40, 12]"),
    ("notebook.outline", "title = \"Start\"\npage = 1"),
    ("notebook.template", "ruling = \"lined\""),
    ("notebook.section", "name = \"Plans\""),
    ("notebook.section.pages", "template = \"lined\""),
    ("notebook.section.pages.stickers", "sticker = \"star\"\nat = [60, 40]"),
    ("notebook.section.section.pages.stickers", "sticker = \"star\"\nat = [60, 40]"),
    ("notebook.template.stickers", "sticker = \"star\"\nat = [60, 40]"),
    ("notebook.dated", "pages = \"month\""),
    ("notebook.dated.companions", "ruling = \"lined\""),
    ("sticker", "motif = \"to-do-box\""),
    ("sticker-group", "name = \"Tools\""),
    ("picture", "layout = \"cover\""),
    ("lower", "check = \"tap-area-small\"\nreason = \"it is meant so\""),
    (
        "assets.item",
        "file = \"fonts/Hedgerow.ttf\"\nby = \"Ada Quill\"\nsource = \"https://hedgerow.example\"\nlicence = \"OFL-1.1\"",
    ),
    ("launch", "on = 2027-10-01"),
    ("goes-with", "product = \"../button-tin\""),
    ("launch.step", "name = \"announce\""),
    ("calendar", "first = \"2027-01\""),
    ("calendar.list", "name = \"Rehearsals\"\nfile = \"dates/rehearsals.csv\""),
    ("calendar.event", "name = \"Fair\"\non = \"03-14\""),
];

/// Tables that stand in a notebook which comes as a finished file.
const FINISHED: [&str; 4] = ["notebook.tabs", "notebook.link", "notebook.outline", "notebook.labels"];

/// A product's folder in one with other products.
struct Row(tempfile::TempDir);

impl Row {
    fn path(&self) -> std::path::PathBuf {
        self.0.path().join("product")
    }
}

fn folder() -> Row {
    let folder = Row(tempfile::tempdir().expect("a folder"));
    for other in ["mending-log", "button-tin"] {
        fs::create_dir_all(folder.0.path().join(other)).expect("a folder");
        let text = HEAD.replace("Harbour Log", other);
        fs::write(folder.0.path().join(other).join(manifest::FILE), text).expect("a file");
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let at = |path: &str| folder.path().join(path);
    for sub in ["art", "fonts", "texts", "exports", "dates"] {
        fs::create_dir_all(at(sub)).expect("a folder");
    }
    let drawing = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"240\" height=\"180\"><circle cx=\"60\" cy=\"90\" r=\"30\"/><rect x=\"150\" y=\"60\" width=\"60\" height=\"60\"/></svg>";
    for name in ["art/map.svg", "art/sun.svg"] {
        fs::write(at(name), drawing).expect("a file");
    }
    fs::write(at("texts/guide.md"), "# Hello\n\nTap the tabs.\n").expect("a file");
    fs::write(at("dates/rehearsals.csv"), "date,name\n2027-01-12,First\n").expect("a file");
    fs::copy(root.join("tests/fixtures/fonts/hedgerow.ttf"), at("fonts/Hedgerow.ttf")).expect("a font of the fixtures");
    let mut pixels = vec![255_u8; 240 * 180 * 4];
    for (i, p) in pixels.chunks_mut(4).enumerate() {
        let (x, y) = (i % 240, i / 240);
        let inside =
            (40..80).contains(&x) && (60..120).contains(&y) || (150..200).contains(&x) && (60..120).contains(&y);
        p.copy_from_slice(if inside { &[90, 120, 80, 255] } else { &[0, 0, 0, 0] });
    }
    for name in ["art/paper.png", "art/sheet.png"] {
        let file = fs::File::create(at(name)).expect("a file");
        let mut png = png::Encoder::new(file, 240, 180);
        png.set_color(png::ColorType::Rgba);
        png.write_header().and_then(|mut w| w.write_image_data(&pixels)).expect("a picture");
    }
    let pdf = root.join("tests/fixtures/foreign/libreoffice-plain.pdf");
    for name in ["art/map.pdf", "exports/notebook.pdf"] {
        fs::copy(&pdf, at(name)).expect("a page of the fixtures");
    }
    folder
}

/// The faults of a manifest in the folder.
fn said(folder: &Path, text: &str) -> Vec<base::model::Fault> {
    fs::write(folder.join(manifest::FILE), text).expect("a file");
    let world = World::open(folder).expect("the folder is there");
    manifest::read(&world, rulings::ALL).err().unwrap_or_default()
}

/// A manifest in which a table at a place holds these lines.
fn with(path: &str, inner: &toml::Table) -> toml::Table {
    let mut value = inner.clone();
    let steps: Vec<&str> = if path.is_empty() { Vec::new() } else { path.split('.').collect() };
    for i in (0..steps.len()).rev() {
        let here = steps[..=i].join(".");
        for (table, lines) in BESIDE {
            if table == here {
                let more: toml::Table = lines.parse().expect("sound lines");
                let art = ["art", "file", "motif", "ruling"].iter().any(|k| value.contains_key(*k));
                for (key, line) in more {
                    let other = ["ruling", "motif"].contains(&key.as_str()) && art;
                    if !other {
                        value.entry(key).or_insert(line);
                    }
                }
            }
        }
        let listed = manual::places().iter().any(|p| p.path == here && matches!((p.key.shape)(), Shape::List(_)));
        let mut outer = toml::Table::new();
        // A tap area of art needs the art that it lies on, and its two keys each other.
        if steps[i] == "link" && here != "notebook.link" {
            outer.insert("art".into(), "art/map.svg".into());
            value.entry("to").or_insert("index".into());
            value.entry("at").or_insert(toml::Value::Array(vec![10.into(), 5.into(), 40.into(), 12.into()]));
        }
        let table = toml::Value::Table(value);
        outer.insert(steps[i].to_owned(), if listed { toml::Value::Array(vec![table]) } else { table });
        value = outer;
    }
    if FINISHED.iter().any(|t| path.starts_with(t)) || inner.contains_key("last-page") {
        let notebook = value["notebook"].as_table_mut().expect("a table");
        notebook.insert("file".into(), "exports/notebook.pdf".into());
        if path.starts_with("notebook.tabs") {
            notebook.insert("section".into(), toml::toml! { x = [{ name = "Start", page = 1 }] }["x"].clone());
        }
    }
    let asked = value.get("sticker").and_then(|s| s.get(0)).and_then(|s| s.get("group")).cloned();
    if let Some(toml::Value::String(name)) = asked {
        let mut group = toml::Table::new();
        group.insert("name".into(), name.into());
        value.insert("sticker-group".into(), toml::Value::Array(vec![group.into()]));
    }
    let group = value.get("sticker-group").and_then(|g| g.get(0));
    if let Some(group) = group.filter(|g| g.get("cut").is_none() && path.starts_with("sticker-group")) {
        let mut sticker = toml::toml! { motif = "star" };
        sticker.insert("group".into(), group.get("name").cloned().unwrap_or("Tools".into()));
        value.insert("sticker".into(), toml::Value::Array(vec![sticker.into()]));
    }
    // A style that is taken by its name is written somewhere.
    if let Some(toml::Value::String(name)) = value.get("style").and_then(|style| style.get("named")).cloned() {
        value.insert("styles".into(), toml::Table::from_iter([(name, toml::Table::new().into())]).into());
    }
    let dated = value.get("notebook").and_then(|n| n.get("dated")).is_some();
    if dated && !value.contains_key("calendar") {
        value.insert("calendar".into(), toml::toml! { first = "2027-01" }.into());
    }
    let months = value.get("notebook").and_then(|n| n.get("months")).is_some();
    if (value.contains_key("calendar") || months) && !dated {
        value.entry("calendar").or_insert(toml::toml! { first = "2027-01" }.into());
        let notebook = value.entry("notebook").or_insert(toml::Table::new().into()).as_table_mut().expect("a table");
        notebook.insert("dated".into(), toml::toml! { x = [{ pages = "month" }] }["x"].clone());
    }
    for (key, line) in HEAD.parse::<toml::Table>().expect("sound lines") {
        value.entry(key).or_insert(line);
    }
    value
}

/// What one would write for a key: its example, or the last of its words, or a switch.
fn example(key: &Key) -> Option<toml::Table> {
    if let Some(text) = key.told().example {
        return Some(text.parse().unwrap_or_else(|e| panic!("{}: {e}", key.name)));
    }
    let value: toml::Value = match (key.shape)() {
        Shape::Words(words) => words.last()?.word.into(),
        Shape::YesOrNo => true.into(),
        _ => return None,
    };
    Some(toml::Table::from_iter([(key.name.to_owned(), value)]))
}

fn parent(place: &Place) -> &str {
    place.path.rsplit_once('.').map_or("", |(parent, _)| parent)
}

#[test]
fn no_key_is_without_a_text() {
    let all = manual::places();
    assert!(all.len() > 250, "{} keys are too few", all.len());
    let mut wrong = Vec::new();
    for place in &all {
        let told = place.key.told();
        let table = !place.tables().is_empty() && told.example.is_none();
        if told.text.len() < 6 || !told.text.ends_with(['.', ')', '…']) {
            wrong.push(format!("{}: it is not said what it does", place.path));
        }
        if told.default.is_none() {
            wrong.push(format!("{}: it is not said what counts where it is left out", place.path));
        }
        if example(&place.key).is_none() && !table {
            wrong.push(format!("{}: there is no example", place.path));
        }
        if let Some(text) = &told.example
            && !text.parse::<toml::Table>().is_ok_and(|t| t.contains_key(place.key.name))
        {
            wrong.push(format!("{}: the example does not show it", place.path));
        }
        if told.range.is_some() && told.bounds().is_none() {
            wrong.push(format!(
                "{}: the range is not written as `1 to 9 mm`, `1 or more …` or `more than 0 …`",
                place.path
            ));
        }
        wrong.extend(
            place
                .words()
                .iter()
                .filter(|w| w.doc.is_empty() && place.key.name != "size")
                .map(|w| format!("{}: {}", place.path, w.word)),
        );
    }
    let parameters = |name: &str, table: &Table| -> Vec<String> {
        let bare = table.keys.iter().filter(|k| k.told().text.len() < 4);
        bare.map(|k| format!("{name}, {}: it is not said what it does", k.name)).collect()
    };
    for entry in rulings::ALL.plain.iter().chain(rulings::ALL.dated.iter().map(|d| &d.entry)) {
        wrong.extend(parameters(entry.name, &entry.parameters()));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Tables of one name are one table.
#[test]
fn names_of_tables_are_their_own() {
    let mut seen: Vec<(&str, BTreeSet<&str>)> = Vec::new();
    for table in manual::places().iter().flat_map(Place::tables) {
        let keys: BTreeSet<&str> = table.keys.iter().map(|k| k.name).collect();
        match seen.iter().find(|(name, _)| *name == table.name) {
            Some((name, known)) => assert_eq!(known, &keys, "two tables are called {name}"),
            None => seen.push((table.name, keys)),
        }
    }
}

/// Examples, all wrong kinds for every key, ranges at their ends and beyond: the program and the schema say the same.
#[test]
fn the_schema_says_what_the_program_says() {
    let folder = folder();
    let mut cases: Vec<(String, toml::Table, bool)> = Vec::new();
    let mut wrong = Vec::new();
    for place in manual::places() {
        let parent = parent(&place);
        // A table that holds itself is tried where it stands first.
        if let Some(lines) = example(&place.key) {
            cases.push((format!("{} as in its example", place.path), with(parent, &lines), true));
        }
        let kinds = KINDS.iter().map(|kind| format!("{} = {kind}", place.key.name));
        for line in kinds {
            let inner: toml::Table = line.parse().expect("sound lines");
            cases.push((line, with(parent, &inner), false));
        }
        let told = place.key.told();
        let whole = matches!((place.key.shape)(), Shape::Whole(..));
        let number = matches!((place.key.shape)(), Shape::Number);
        if let (Some(bounds), true) = (told.bounds(), whole || number) {
            let step = if whole { 1.0 } else { 0.01 };
            let mut tried = vec![(bounds.from, !bounds.beyond), (bounds.from - step, false)];
            tried.extend(bounds.to.iter().flat_map(|to| [(*to, true), (*to + step, false)]));
            for (n, fits) in tried {
                let value = if whole { toml::Value::Integer(n as i64) } else { toml::Value::Float(n) };
                let mut inner = example(&place.key).unwrap_or_default();
                inner.insert(place.key.name.to_owned(), value);
                let text = with(parent, &inner);
                let taken = said(&folder.path(), &text.to_string()).is_empty();
                if taken != fits {
                    let told =
                        said(&folder.path(), &text.to_string()).iter().map(ToString::to_string).collect::<String>();
                    wrong.push(format!("{} = {n}: taken {taken}, and the range says {fits}: {told}", place.path));
                }
                cases.push((format!("{} = {n}", place.path), text, fits));
            }
        }
    }
    for ruling in rulings::ALL.plain {
        for key in ruling.parameters().keys {
            for kind in KINDS {
                let text = format!("ruling = \"{}\"\nwith = {{ {} = {kind} }}", ruling.name, key.name);
                cases.push((text.clone(), with("notebook.template", &text.parse().expect("sound lines")), false));
            }
        }
        let text = format!("ruling = \"{}\"\nwith = {{ qqqq = 1 }}", ruling.name);
        cases.push((text.clone(), with("notebook.template", &text.parse().expect("sound lines")), false));
    }
    let verdicts =
        validated(&cases.iter().map(|(_, text, _)| schema::json_of(&text.clone().into())).collect::<Vec<_>>());
    let (mut taken, mut refused) = (0, 0);
    for ((what, text, must), valid) in cases.iter().zip(verdicts) {
        let faults = said(&folder.path(), &text.to_string());
        let told = || faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ");
        if *must && !faults.is_empty() {
            wrong.push(format!("{what}: the program refuses it: {}", told()));
        }
        if faults.is_empty() && !valid {
            wrong.push(format!("{what}: the schema refuses what the program takes"));
        }
        if faults.iter().any(|f| of_the_reader(&f.message)) && valid {
            wrong.push(format!("{what}: the schema takes what the reader refuses: {}", told()));
        }
        if faults.is_empty() {
            taken += 1
        } else {
            refused += 1
        };
    }
    assert!(taken > 300 && refused > 1000, "{taken} taken and {refused} refused are too few");
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
}

/// The shop's file takes what a product may share and nothing else: program and schema say the same of every key of the top, and
/// of every wrong kind of it.
#[test]
fn the_schema_of_a_shop_says_what_the_program_says() {
    let shop = folder();
    let product = shop.path().join("log");
    fs::create_dir_all(&product).expect("a folder");
    fs::write(product.join(manifest::FILE), HEAD).expect("a file");
    let mut cases: Vec<(String, toml::Table)> = vec![("qqqq = 1".to_owned(), toml::toml! { qqqq = 1 })];
    for key in &manifest::keys().keys {
        cases.extend(example(key).map(|lines| (format!("{} as in its example", key.name), lines)));
        cases.extend(KINDS.iter().map(|kind| {
            let line = format!("{} = {kind}", key.name);
            (line.clone(), line.parse().expect("a sound line"))
        }));
    }
    // What stands within a table that is shared.
    for place in manual::places() {
        let parent = parent(&place);
        let shared = manifest::shop_keys().key(parent.split('.').next().unwrap_or_default()).is_some();
        if let (true, Some(lines)) = (shared, example(&place.key)) {
            let mut lines = with(parent, &lines);
            for own in ["name", "released", "sticker", "sticker-group"] {
                lines.remove(own);
            }
            cases.push((format!("{} as in its example", place.path), lines));
        }
    }
    let verdicts = validated_by(
        &schema::shop(),
        &cases.iter().map(|(_, text)| schema::json_of(&text.clone().into())).collect::<Vec<_>>(),
    );
    let (mut wrong, mut taken, mut refused) = (Vec::new(), 0, 0);
    for ((what, text), valid) in cases.iter().zip(verdicts) {
        fs::write(shop.path().join("shop.toml"), text.to_string()).expect("a file");
        let world = World::open(&product).expect("the folder is there");
        let faults = manifest::read(&world, rulings::ALL).err().unwrap_or_default();
        let told = || faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ");
        let elsewhere = faults.iter().any(|f| f.file.as_deref() != Some("../shop.toml") || f.span.is_none());
        if elsewhere {
            wrong.push(format!("{what}: the fault does not point at the shop's file: {}", told()));
        }
        if what.ends_with("example") && valid && !faults.is_empty() {
            wrong.push(format!("{what}: the program refuses it: {}", told()));
        }
        if faults.is_empty() && !valid {
            wrong.push(format!("{what}: the schema refuses what the program takes"));
        }
        let own = faults.iter().any(|f| f.message.ends_with("is a product's own") || of_the_reader(&f.message));
        if own && valid {
            wrong.push(format!("{what}: the schema takes what the reader refuses: {}", told()));
        }
        if faults.is_empty() { taken += 1 } else { refused += 1 }
    }
    assert!(taken > 60 && refused > 250, "{taken} taken and {refused} refused are too few");
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
}

/// Whether a fault is one of the reader: another kind of value, an unknown key or word. Those a schema can know.
fn of_the_reader(message: &str) -> bool {
    message.contains(", and here stands")
        || message.contains("` cannot be ")
        || message.starts_with("unknown key")
        || message.starts_with("unknown value")
        || message.starts_with("there is no ruling")
        || message.starts_with("there is no motif")
}

/// What the library says of each value.
fn validated(values: &[Value]) -> Vec<bool> {
    validated_by(&schema::schema(), values)
}

fn validated_by(schema: &Value, values: &[Value]) -> Vec<bool> {
    let script = "import json, sys\nfrom jsonschema import Draft202012Validator as V\nd = json.load(sys.stdin)\n\
                  V.check_schema(d['schema'])\nv = V(d['schema'])\nprint(json.dumps([v.is_valid(x) for x in d['values']]))";
    let python = std::env::var("SHEAFWRIGHT_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let mut run = Command::new(python)
        .args(["-c", script])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("Python with jsonschema; SHEAFWRIGHT_PYTHON names it");
    let input = json!({ "schema": schema, "values": values }).to_string();
    run.stdin.take().expect("a pipe").write_all(input.as_bytes()).expect("it reads");
    let out = run.wait_with_output().expect("it ends");
    assert!(out.status.success(), "the schema is no schema");
    serde_json::from_slice(&out.stdout).expect("a list of verdicts")
}

/// After a change of the keys, run the tests with `SHEAFWRIGHT_BLESS=1` to write the file anew.
#[test]
fn the_published_schema_is_current() {
    for (name, schema) in [("product", schema::schema()), ("shop", schema::shop())] {
        let path = format!("{}/pipeline/manual/{name}.schema.json", env!("CARGO_MANIFEST_DIR"));
        let current = format!("{schema:#}\n");
        if std::env::var_os("SHEAFWRIGHT_BLESS").is_some() {
            fs::write(&path, &current).expect("the schema can be written");
        }
        let published = fs::read_to_string(&path).expect("the schema is published");
        assert_eq!(published, current, "run the test with SHEAFWRIGHT_BLESS=1");
    }
}

fn told(name: &str) -> String {
    manual::explain::explain(name, |check| check.name.to_owned()).unwrap_or_else(|near| panic!("{name}: {near}"))
}

#[test]
fn every_name_is_explained() {
    for (name, kinds) in manual::names() {
        let text = told(&name);
        assert!(text.len() > name.len() + 12 || kinds == ["check"], "{name}: {text}");
    }
}

#[test]
fn one_name_may_be_several_things() {
    let week = told("week");
    for kind in ["week: a ruling", "week: a dated ruling", "a value of `notebook.dated.pages`"] {
        assert!(week.contains(kind), "{kind}: {week}");
    }
    assert!(told("style.accent").contains("[style]\n            accent = \"#5f7d5a\""), "{}", told("style.accent"));
    assert!(told("[[sticker]]").starts_with("sticker: a key"));
}

#[test]
fn a_wrong_name_gets_near_ones() {
    let near = |name: &str| manual::explain::explain(name, |_| String::new()).expect_err("there is none");
    assert!(near("style.acent").contains("`style.accent`"), "{}", near("style.acent"));
    assert!(near("qqqqqqqqqqqqqq").contains("manual"), "{}", near("qqqqqqqqqqqqqq"));
}

/// A list of more than forty names is folded to those that are near, with the number of the others.
#[test]
fn a_long_list_is_folded() {
    let folder = folder();
    let faults = said(&folder.path(), &format!("{HEAD}[[sticker]]\nmotif = \"row of water glasses\"\n"));
    let help = faults[0].help.clone().unwrap_or_default();
    assert!(help.starts_with("nearest are ") && help.contains("water-row") && help.ends_with(" more"), "{help}");
    assert!(help.len() < 160, "{help}");
}

/// A byte-order mark and line ends of Windows are read as if they were not there.
#[test]
fn marks_and_line_ends_of_other_systems_are_read() {
    let folder = folder();
    let text = format!("\u{feff}{HEAD}[style]\naccent = \"#5f7d5a\"\n").replace('\n', "\r\n");
    assert_eq!(said(&folder.path(), &text), []);
    let wrong = said(&folder.path(), &text.replace("accent", "acent"));
    let place = wrong[0].span.as_ref().map(|s| (s.line, s.column, s.text.clone()));
    assert_eq!(place, Some((4, 1, "acent = \"#5f7d5a\"".to_owned())));
}

/// Whatever else is wrong with a template, the parameters of its ruling are looked at in the same run.
#[test]
fn parameters_are_told_beside_another_fault() {
    let folder = folder();
    for (table, other) in [
        ("[[notebook.template]]\nruling = \"lined\"\noverview = 3", "overview"),
        ("[[notebook.template]]\nruling = \"lined\"\nfit = \"wide\"", "wide"),
        ("[[notebook.template]]\nruling = \"lined\"\nname = 7", "name"),
        ("[calendar]\nfirst = \"2027-01\"\n[[notebook.dated]]\npages = \"week\"\nweekdays = 3", "weekdays"),
    ] {
        let faults = said(&folder.path(), &format!("{HEAD}{table}\nwith = {{ qqqq = 1 }}\n"));
        let messages: Vec<&str> = faults.iter().map(|f| f.message.as_str()).collect();
        assert!(messages.iter().any(|m| m.contains("`qqqq`")), "{table}: {messages:?}");
        assert!(messages.iter().any(|m| m.contains(other)), "{table}: {messages:?}");
    }
}

/// What README and the chapters of the manual show is what the program reads: every block of TOML in them has keys, kinds and
/// words that there are.
#[test]
fn the_tour_of_readme_is_read() {
    let folder = folder();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let chapters =
        fs::read_dir(root.join("pipeline/manual/chapters")).expect("chapters").map(|f| f.expect("a chapter").path());
    let texts: Vec<String> =
        chapters.chain([root.join("README.md")]).map(|f| fs::read_to_string(f).expect("a text")).collect();
    let toml = texts.iter().flat_map(|text| text.split("```toml\n").skip(1));
    let blocks: Vec<&str> = toml.filter_map(|b| b.split("```").next()).collect();
    assert!(blocks.len() >= 20, "the tour shows {} manifests", blocks.len());
    for block in blocks {
        let faults = said(&folder.path(), &format!("{HEAD}{block}"));
        let wrong: Vec<String> = faults
            .iter()
            .filter(|f| of_the_reader(&f.message) || f.message.contains("="))
            .map(ToString::to_string)
            .collect();
        assert!(wrong.is_empty(), "{}\nin:\n{block}", wrong.join("\n"));
        assert!(block.parse::<toml::Table>().is_ok(), "{block}");
    }
}
