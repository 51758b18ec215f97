//! Releases: versions that are sealed, in the product's `releases.toml`, and what proves a bundle later.
//!
//! A release is a version that buyers have. Its entry names the record and the list of checksums by their digests, which
//! name every file, and says what it was made of and with. The file lies beside the manifest and belongs to the designer:
//! entries are only ever added, and whatever else stands there stays.

pub mod compare;
pub mod reasons;
pub mod sign;

use base::checksum::sha256_hex;
use base::model::{Fault, SourceSpan};
use serde::Deserialize;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The file's name in the folder of a product.
pub const FILE: &str = "releases.toml";

/// What stands above the first entry.
const HEAD: &str = "# Versions that buyers have, each sealed by its digests. Keep this file with the product: a build does not change\n\
                    # a version that stands here.\n";

/// Digest of the sources, libraries, compiler and target of this program.
pub const PROGRAM: &str = env!("SHEAFWRIGHT_SOURCES");

/// The tool, as the record of a bundle names it.
pub const TOOL: &str = concat!(env!("CARGO_PKG_NAME"), " ", env!("CARGO_PKG_VERSION"));

/// Libraries that bring fonts and data of languages along, each with its version.
pub fn libraries() -> BTreeMap<String, String> {
    let pairs = env!("SHEAFWRIGHT_DATA").split(' ').filter_map(|pair| pair.split_once('='));
    pairs.map(|(name, version)| (name.to_owned(), version.to_owned())).collect()
}

/// A sealed version.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Release {
    /// Its number.
    pub version: String,
    /// The day that it was released on, as the designer gave it.
    pub released: toml::value::Datetime,
    /// SHA-256 of its record, `bundle.json`.
    pub record: String,
    /// SHA-256 of its list of checksums, `SHA256SUMS`, which names every file.
    pub sums: String,
    /// The tool that built it.
    pub tool: String,
    /// Digest of the program that sealed it.
    #[serde(default)]
    pub program: String,
    /// What brings fonts and data of languages along, as that program had it.
    #[serde(default)]
    pub libraries: BTreeMap<String, String>,
    /// SHA-256 of every file of the product that it was made of.
    #[serde(default)]
    pub inputs: BTreeMap<String, String>,
}

impl Release {
    /// The entry of a bundle by the bytes of its record and its list of checksums; `released` in place of the record's
    /// own date. `None` if the record is none.
    pub fn of(record: &[u8], sums: &[u8], released: Option<toml::value::Datetime>) -> Option<Release> {
        let value: Value = serde_json::from_slice(record).ok()?;
        let stated = || value["released"].as_str()?.parse().ok();
        Some(Release {
            version: value["version"].as_str()?.to_owned(),
            released: released.or_else(stated)?,
            record: sha256_hex(record),
            sums: sha256_hex(sums),
            tool: value["tool"].as_str().unwrap_or_default().to_owned(),
            program: PROGRAM.to_owned(),
            libraries: libraries(),
            inputs: inputs(&value),
        })
    }

    /// The entry as it stands in the file.
    fn text(&self) -> String {
        let quoted = |text: &str| toml::Value::String(text.to_owned()).to_string();
        let table = |entries: &BTreeMap<String, String>| {
            entries.iter().map(|(k, v)| format!("{} = {}\n", quoted(k), quoted(v))).collect::<String>()
        };
        format!(
            "\n[[release]]\nversion = {}\nreleased = {}\nrecord = {}\nsums = {}\ntool = {}\nprogram = {}\n\n\
             [release.libraries]\n{}\n[release.inputs]\n{}",
            quoted(&self.version),
            self.released,
            quoted(&self.record),
            quoted(&self.sums),
            quoted(&self.tool),
            quoted(&self.program),
            table(&self.libraries),
            table(&self.inputs),
        )
    }
}

/// Path and digest of everything that went into a bundle, as its record says.
pub fn inputs(record: &Value) -> BTreeMap<String, String> {
    let listed = record["inputs"].as_array().into_iter().flatten();
    listed.filter_map(|i| Some((i["path"].as_str()?.to_owned(), i["sha256"].as_str()?.to_owned()))).collect()
}

/// The releases of a product.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
pub struct Releases {
    #[serde(default)]
    release: Vec<Release>,
    #[serde(skip)]
    text: String,
}

impl Releases {
    /// Reads the file. `shown` is its name in messages.
    ///
    /// # Errors
    /// Every reason why it is none, with its place where there is one.
    pub fn read(bytes: &[u8], shown: &str) -> Result<Releases, Vec<Fault>> {
        let fault = |message: String| {
            Fault::new(message)
                .in_file(shown)
                .help("put back the file as it was, from a copy or from version control; releases are not guessed")
        };
        let text = std::str::from_utf8(bytes).map_err(|_| vec![fault("it is not UTF-8 text".to_owned())])?;
        let mut releases: Releases = toml::from_str(text).map_err(|e| {
            let message = format!("it is no list of releases: {}", e.message());
            vec![e.span().map_or(fault(message.clone()), |s| fault(message).at(place(text, s.start)))]
        })?;
        text.clone_into(&mut releases.text);
        let hex = |digest: &str| digest.len() == 64 && digest.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
        let (mut seen, mut faults) = (BTreeSet::new(), Vec::new());
        for r in &releases.release {
            if !seen.insert(&r.version) {
                faults.push(fault(format!("version {} is sealed twice", r.version)));
            }
            for (key, digest) in [("record", &r.record), ("sums", &r.sums)] {
                if !hex(digest) {
                    faults.push(fault(format!("`{key}` of version {} is no SHA-256: 64 digits 0-9, a-f", r.version)));
                }
            }
        }
        if faults.is_empty() { Ok(releases) } else { Err(faults) }
    }

    /// The release of a version.
    pub fn of(&self, version: &str) -> Option<&Release> {
        self.release.iter().find(|r| r.version == version)
    }

    /// The release of the highest version.
    pub fn newest(&self) -> Option<&Release> {
        self.release.iter().max_by_key(|r| base::model::versions::order(&r.version))
    }

    /// The versions that are sealed.
    pub fn versions(&self) -> BTreeSet<String> {
        self.release.iter().map(|r| r.version.clone()).collect()
    }

    /// The text of the file with one more release; what stands there stays as it is.
    pub fn with(&self, release: &Release) -> String {
        let mut text = if self.text.is_empty() { HEAD.to_owned() } else { self.text.clone() };
        if !text.ends_with('\n') {
            text.push('\n');
        }
        text + &release.text()
    }
}

/// The line and column of a byte.
fn place(text: &str, byte: usize) -> SourceSpan {
    let before = text.get(..byte.min(text.len())).unwrap_or(text);
    let line = before.matches('\n').count();
    let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count());
    SourceSpan::short(line + 1, column + 1, text.lines().nth(line).unwrap_or_default(), 1)
}

#[cfg(test)]
mod tests;
