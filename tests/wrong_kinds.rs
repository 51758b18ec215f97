//! Every key of a manifest with a value of every wrong kind: what is said, and that it is said in a designer's words.
//!
//! The keys are found from outside: a key that nobody knows makes the message that lists those that there are.

use sheafwright::world::World;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;

const HEAD: &str = "name = \"Harbour Log\"\nreleased = 2027-03-01\n";
const UNKNOWN: &str = "qqqqqqqqqqqqqqqqqqqqqqqqqq";

/// A value of each kind that TOML has, as it is written.
const KINDS: [&str; 9] = ["7", "-7", "1.5", "true", "\"word\"", "2027-01-15", "[]", "[[7]]", "{ }"];

/// Words of programs and of the libraries that read the manifest; no designer has to know them.
const PROGRAMS: [&str; 22] = [
    "struct",
    "u8",
    "u16",
    "u32",
    "u64",
    "usize",
    "i32",
    "i64",
    "f32",
    "f64",
    "bool ",
    "boolean",
    "integer",
    "floating",
    "sequence",
    "map",
    "string",
    "tuple",
    "enum",
    "variant `",
    "serde",
    "datetime",
];

/// Reads one manifest after the other in one folder.
struct ProductFolder(tempfile::TempDir);

impl ProductFolder {
    fn new() -> ProductFolder {
        ProductFolder(tempfile::tempdir().expect("a folder for the product"))
    }

    fn said(&self, text: &str) -> Vec<base::model::Fault> {
        fs::write(self.0.path().join(manifest::FILE), text).expect("a file");
        let world = World::open(self.0.path()).expect("the folder is there");
        manifest::read(&world, rulings::ALL).err().unwrap_or_default()
    }
}

/// A manifest in which a key has a value. A step of the way that ends in `[]` is an entry of a list.
fn with(way: &[String], value: &str) -> String {
    let mut text = value.to_owned();
    for step in way.iter().rev() {
        text = match step.strip_suffix("[]") {
            Some(key) => format!("{{ {key} = [{text}] }}"),
            None => format!("{{ {step} = {text} }}"),
        };
    }
    // The outermost braces are the manifest itself.
    let inner = text.trim_start_matches("{ ").strip_suffix(" }").unwrap_or(&text);
    let known = way.first().is_some_and(|key| key == "name" || key == "released");
    let head: String =
        HEAD.lines().filter(|l| !known || !l.starts_with(way[0].as_str())).map(|l| format!("{l}\n")).collect();
    format!("{head}{inner}\n")
}

/// The keys that a message of an unknown key lists.
fn listed(faults: &[base::model::Fault]) -> Vec<String> {
    let message = format!("unknown key `{UNKNOWN}`");
    let fault = faults.iter().find(|f| f.message == message);
    let help = fault.and_then(|f| f.help.as_deref()).and_then(|h| h.strip_prefix("valid here: "));
    help.map_or(Vec::new(), |keys| keys.split(", ").map(str::to_owned).collect())
}

/// Every key, with the steps that lead to it.
fn keys(folder: &ProductFolder) -> Vec<Vec<String>> {
    let mut out: Vec<Vec<String>> = Vec::new();
    let mut open: Vec<Vec<String>> = vec![Vec::new()];
    while let Some(table) = open.pop() {
        let probe = if table.is_empty() {
            format!("{HEAD}{UNKNOWN} = 1\n")
        } else {
            with(&table, &format!("{{ {UNKNOWN} = 1 }}"))
        };
        let found = listed(&folder.said(&probe));
        assert!(!found.is_empty() || !table.is_empty(), "the manifest has keys");
        for key in found {
            let way: Vec<String> = table.iter().cloned().chain([key.clone()]).collect();
            let entry: Vec<String> = table.iter().cloned().chain([format!("{key}[]")]).collect();
            for way in [&way, &entry] {
                if !listed(&folder.said(&with(way, &format!("{{ {UNKNOWN} = 1 }}")))).is_empty() {
                    open.push(way.clone());
                }
            }
            out.push(way);
        }
    }
    out.sort();
    out
}

/// Every parameter of every ruling, as a key within a template.
fn parameters(folder: &ProductFolder) -> Vec<Vec<String>> {
    let way = |ruling: &str, key: &str| {
        let entry = format!("{{ ruling = \"{ruling}\", with = {{ {key} = {UNKNOWN:?} }} }}");
        vec![ruling.to_owned(), key.to_owned(), entry]
    };
    let mut out = Vec::new();
    for ruling in rulings::ALL.plain {
        let text = format!("{HEAD}[[notebook.template]]\nruling = \"{}\"\nwith = {{ {UNKNOWN} = 1 }}\n", ruling.name);
        out.extend(listed(&folder.said(&text)).iter().map(|key| way(ruling.name, key)));
    }
    out
}

/// One fault as it is said, without its place.
fn words(fault: &base::model::Fault) -> String {
    let help = fault.help.as_ref().map_or(String::new(), |h| format!(" | {h}"));
    format!("{}{help}", fault.message)
}

/// Whether a text holds a word that only programs have.
fn of_programs(text: &str) -> Option<&'static str> {
    // Names such as `mind-map` are one word.
    let plain = text.replace(|c: char| !c.is_alphanumeric() && c != '`' && c != '-', " ") + " ";
    PROGRAMS.into_iter().find(|word| {
        let bare = word.trim();
        plain.split_whitespace().any(|w| w.eq_ignore_ascii_case(bare)) || word.ends_with('`') && text.contains(word)
    })
}

#[test]
fn every_key_with_every_wrong_kind() {
    let folder = ProductFolder::new();
    let keys = keys(&folder);
    assert!(keys.len() > 150, "{} keys are too few", keys.len());
    for deep in ["notebook.section[].pages[].template", "picture[].page", "limits.files", "assets.item[].allows"] {
        let way: Vec<String> = deep.split('.').map(str::to_owned).collect();
        assert!(keys.contains(&way) || deep.starts_with("picture"), "{deep} is not found");
    }
    let parameters = parameters(&folder);
    assert!(parameters.len() > 60, "{} parameters are too few", parameters.len());
    let mut said: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut silent = Vec::new();
    let texts = keys.iter().flat_map(|way| KINDS.map(|kind| (way.join("."), kind, with(way, kind)))).chain(
        parameters.iter().flat_map(|p| {
            KINDS.map(|kind| {
                let entry = p[2].replace(&format!("{UNKNOWN:?}"), kind);
                (format!("({}) {}", p[0], p[1]), kind, format!("{HEAD}notebook.template = [{entry}]\n"))
            })
        }),
    );
    let mut refused: BTreeMap<String, usize> = BTreeMap::new();
    for (key, kind, text) in texts {
        let faults = folder.said(&text);
        refused.entry(key.clone()).or_default();
        if !faults.is_empty() {
            *refused.entry(key.clone()).or_default() += 1;
        }
        for fault in &faults {
            let words = words(fault);
            assert_eq!(of_programs(&words), None, "{key} = {kind}: {words}");
            assert!(fault.span.is_some() || !words.contains("is missing"), "{key} = {kind}: {words}");
            // The same of another key is the same message.
            let last = key.rsplit(['.', ' ']).next().unwrap_or(&key).trim_end_matches("[]");
            let words = words.replace(kind, "…").replace(&format!("`{last}`"), "`KEY`");
            let words = words.replace(&format!(" {last} = "), " KEY = ").replace(&format!("[{}]", key), "[KEY]");
            said.entry(words).or_default().push(format!("{key} = {kind}"));
        }
    }
    // No key takes whatever it is given, but the tables of the designer's own data and those that are read elsewhere.
    silent.extend(refused.iter().filter(|(_, n)| **n < 3).map(|(key, n)| format!("{key}: {n}")));
    let mut all = String::new();
    writeln!(all, "{} keys, {} parameters\n", keys.len(), parameters.len()).expect("a text");
    writeln!(all, "refused less than three times: {silent:?}\n").expect("a text");
    for (words, mut where_) in said {
        where_.sort();
        where_.dedup();
        let shown = where_.iter().take(3).cloned().collect::<Vec<_>>().join("; ");
        let more = where_.len().saturating_sub(3);
        let more = if more == 0 { String::new() } else { format!(" and {more} more") };
        writeln!(all, "{words}\n    {shown}{more}").expect("a text");
    }
    insta::assert_snapshot!(all);
}
