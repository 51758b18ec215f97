//! Gives the program a digest of all that it is made of, so that its cache never hands out what another one rendered: its
//! sources, the libraries with their features, the compiler and the machine that it is compiled for.

use std::env;
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use std::process::Command;

fn main() {
    for watched in ["pipeline", "Cargo.toml", "Cargo.lock", "build.rs"] {
        println!("cargo:rerun-if-changed={watched}");
    }
    // The Cargo.toml of each crate lies below `pipeline` with its sources.
    let mut files = vec![PathBuf::from("Cargo.toml"), PathBuf::from("Cargo.lock")];
    collect(Path::new("pipeline"), &mut files);
    files.sort();
    let mut hasher = DefaultHasher::new();
    for file in files {
        file.hash(&mut hasher);
        fs::read(&file).unwrap_or_default().hash(&mut hasher);
    }
    compiler().hash(&mut hasher);
    // The target with its features and flags, and how the code is optimised: all of them may move a rounding.
    for (name, value) in env::vars().filter(|(name, _)| {
        name == "TARGET"
            || name == "OPT_LEVEL"
            || name == "CARGO_ENCODED_RUSTFLAGS"
            || name.starts_with("CARGO_FEATURE_")
            || name.starts_with("CARGO_CFG_TARGET_")
    }) {
        (name, value).hash(&mut hasher);
    }
    println!("cargo:rustc-env=SHEAFWRIGHT_SOURCES={:016x}", hasher.finish());
    println!("cargo:rustc-env=SHEAFWRIGHT_DATA={}", data().join(" "));
}

/// The libraries that bring fonts and data of languages along, as `name=version`. CLDR comes with ICU4X, whose data
/// crates carry the version of the release that they were taken from.
fn data() -> Vec<String> {
    let lock = fs::read_to_string("Cargo.lock").unwrap_or_default();
    let value = |line: &str| line.split('"').nth(1).unwrap_or_default().to_owned();
    let lines: Vec<&str> = lock.lines().collect();
    let pairs = lines.windows(2).filter(|w| w[0].starts_with("name = ") && w[1].starts_with("version = "));
    let named = pairs.map(|w| (value(w[0]), value(w[1])));
    let wanted = |name: &str| {
        ["typst-assets", "notosans"].contains(&name) || name.starts_with("icu_") && name.ends_with("_data")
    };
    named.filter(|(name, _)| wanted(name)).map(|(name, version)| format!("{name}={version}")).collect()
}

/// What the compiler says of itself: version, commit and host.
fn compiler() -> Vec<u8> {
    let rustc = env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    Command::new(rustc).arg("-vV").output().map(|said| said.stdout).unwrap_or_default()
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            collect(&path, files);
        } else {
            files.push(path);
        }
    }
}
