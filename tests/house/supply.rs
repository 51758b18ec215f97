//! What the program is made of: libraries from the public registry alone, under licences that allow to hand the program on,
//! and each once but for those named here. As cargo tells it of the machine that the tests run on.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// SPDX ids of licences that ask for no more than a notice, or for nothing (from memory: the texts are at spdx.org). A library
/// may be used if it offers one of these; copyleft is not among them.
const LICENCES: [&str; 12] = [
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Libraries that are there in more than one version, and who asks for the older one.
const TWICE: [(&[&str], &str); 6] = [
    (
        &["block-buffer", "cipher", "cpufeatures", "crypto-common", "digest", "inout", "sha2"],
        "minisign asks for scrypt 0.11, which is of the generation before; lopdf and the digests here are of the newer one",
    ),
    (&["font-types", "read-fonts", "skrifa"], "subsetter and krilla, hayro: no release of either meets the other"),
    (&["fearless_simd"], "vello_common and hayro"),
    (&["phf", "phf_shared"], "rrule and hayro-font"),
    (
        &["roxmltree", "miniz_oxide", "weezl", "quick-error"],
        "fontdb and usvg; png and flate2; gif and lopdf; both of image",
    ),
    (&["heck", "syn"], "met at build time only"),
];

/// Whether an SPDX expression can be met by these licences. `A/B` is an old way to write `A OR B`; an exception (`WITH`) only
/// ever allows more.
fn allowed(expression: &str) -> bool {
    let text = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut at = 0;
    let met = either(&words, &mut at);
    met && at == words.len()
}

fn either(words: &[&str], at: &mut usize) -> bool {
    let mut met = both(words, at);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        met |= both(words, at);
    }
    met
}

fn both(words: &[&str], at: &mut usize) -> bool {
    let mut met = one(words, at);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        met &= one(words, at);
    }
    met
}

fn one(words: &[&str], at: &mut usize) -> bool {
    let word = words.get(*at);
    // A word that is missing leaves the place behind the end, which no whole expression does.
    *at += 1;
    let Some(word) = word else { return false };
    if *word == "(" {
        let met = either(words, at);
        let closed = words.get(*at) == Some(&")");
        *at += 1;
        return met && closed;
    }
    if words.get(*at) == Some(&"WITH") {
        *at += 2;
    }
    LICENCES.contains(word)
}

/// What cargo knows of all packages that are built here.
fn packages() -> Vec<Value> {
    let ask = |program: &str, arguments: &[&str]| {
        let run = Command::new(program).args(arguments).current_dir(env!("CARGO_MANIFEST_DIR")).output();
        let run = run.unwrap_or_else(|e| panic!("{program} can be run: {e}"));
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
        String::from_utf8(run.stdout).expect("it speaks UTF-8")
    };
    let said = ask(&std::env::var("RUSTC").unwrap_or_else(|_| "rustc".into()), &["-vV"]);
    let host = said.lines().find_map(|l| l.strip_prefix("host: ")).expect("rustc names its host");
    let metadata = ["metadata", "--format-version", "1", "--locked", "--offline", "--filter-platform", host];
    let all: Value = serde_json::from_str(&ask(env!("CARGO"), &metadata)).expect("cargo gives JSON");
    all["packages"].as_array().expect("packages").clone()
}

fn word(package: &Value, key: &str) -> String {
    package[key].as_str().unwrap_or_default().to_owned()
}

#[test]
fn libraries_come_from_the_registry_and_may_be_handed_on() {
    let packages = packages();
    assert!(packages.len() > 200, "{}", packages.len());
    let mut wrong = Vec::new();
    for p in &packages {
        let (name, source, licence) = (word(p, "name"), word(p, "source"), word(p, "license"));
        if !source.is_empty() && source != "registry+https://github.com/rust-lang/crates.io-index" {
            wrong.push(format!("{name} comes from {source}"));
        }
        if source.is_empty() && !name.starts_with("sheafwright") {
            wrong.push(format!("{name} lies in the repository and is none of its crates"));
        }
        if !allowed(&licence) {
            wrong.push(format!("{name} is under \u{201c}{licence}\u{201d}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// cargo-deny is told the same licences; it adds the advisories, for which it needs a net.
#[test]
fn the_list_for_cargo_deny_is_this_one() {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/deny.toml")).expect("deny.toml");
    let deny: toml::Table = text.parse().expect("it is TOML");
    let told: Vec<&str> =
        deny["licenses"]["allow"].as_array().expect("a list").iter().filter_map(|l| l.as_str()).collect();
    assert_eq!(told, LICENCES);
}

#[test]
fn libraries_are_there_once_or_it_is_said_why_not() {
    let mut versions: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for p in packages() {
        versions.entry(word(&p, "name")).or_default().insert(word(&p, "version"));
    }
    let twice: BTreeSet<String> = versions.into_iter().filter(|(_, all)| all.len() > 1).map(|(name, _)| name).collect();
    let named: BTreeSet<String> = TWICE.iter().flat_map(|(names, _)| names.iter().map(|n| (*n).to_owned())).collect();
    assert!(TWICE.iter().all(|(_, why)| !why.is_empty()));
    assert_eq!(twice, named, "what is there twice, against the list of it");
}

#[test]
fn expressions_are_read_as_spdx_writes_them() {
    for good in [
        "MIT",
        "GPL-3.0 OR MIT",
        "MIT/Unlicense",
        "(MIT OR GPL-2.0) AND BSD-3-Clause",
        "Apache-2.0 WITH LLVM-exception",
    ] {
        assert!(allowed(good), "{good}");
    }
    for bad in ["", "GPL-3.0", "MIT AND GPL-3.0", "(MIT OR Zlib) AND LGPL-2.1", "MIT OR", "(MIT", "MIT MIT", "MPL-2.0"]
    {
        assert!(!allowed(bad), "{bad}");
    }
}
