//! The bytes that are there against the papers of a bundle: what is missing, altered or added.

use base::checksum::{sha256_hex, sums};
use base::model::pack;
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// Name of the record.
pub const RECORD: &str = "bundle.json";
/// Name of the list of checksums.
pub const SUMS: &str = "SHA256SUMS";
/// Name of the proof, which follows from all other files and stands in the list of checksums alone.
const PROOF: &str = "proof.html";

/// How a file is not what the papers say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum How {
    /// It is not there.
    Missing,
    /// It has other bytes.
    Altered,
    /// The papers do not name it.
    Added,
}

impl How {
    /// All of them.
    pub const ALL: [How; 3] = [How::Missing, How::Altered, How::Added];

    /// The word for it.
    pub fn name(self) -> &'static str {
        match self {
            How::Missing => "missing",
            How::Altered => "altered",
            How::Added => "added",
        }
    }
}

/// A file that is not what the papers say.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Difference {
    /// Its path.
    pub path: String,
    /// How it differs.
    pub kind: How,
    /// The digest that is stated.
    pub stated: Option<String>,
    /// The digest that it has.
    pub found: Option<String>,
    /// What is wrong, in words.
    pub message: String,
}

/// Digests by path.
pub type Digests = BTreeMap<String, String>;

/// What is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Part {
    /// A whole bundle.
    Bundle,
    /// The files that are uploaded, as a buyer downloads them.
    Uploads,
    /// The loose files, as a buyer has them after unpacking.
    Contents,
}

impl Part {
    /// All of them.
    pub const ALL: [Part; 3] = [Part::Bundle, Part::Uploads, Part::Contents];

    /// The word for it.
    pub fn name(self) -> &'static str {
        match self {
            Part::Bundle => "bundle",
            Part::Uploads => "uploads",
            Part::Contents => "contents",
        }
    }

    /// The folder of a bundle in which it lies.
    fn folder(self) -> &'static str {
        match self {
            Part::Bundle => "",
            Part::Uploads => "upload/",
            Part::Contents => "contents/",
        }
    }

    /// The part of stated files that it has, by the paths that they have there.
    pub fn of(self, stated: &Digests) -> Digests {
        let inside = |(path, digest): (&String, &String)| {
            path.strip_prefix(self.folder()).map(|rest| (rest.to_owned(), digest.clone()))
        };
        stated.iter().filter_map(inside).collect()
    }

    /// The part of which the most names are there: uploads, or what was unpacked from them.
    pub fn among(stated: &Digests, there: &Digests) -> Part {
        let named = |part: Part| part.of(stated).keys().filter(|path| there.contains_key(*path)).count();
        if named(Part::Contents) > named(Part::Uploads) { Part::Contents } else { Part::Uploads }
    }
}

/// The files that a record names.
pub fn of_record(record: &Value) -> Option<Digests> {
    let files = record["files"].as_array()?;
    files.iter().map(|f| Some((f["path"].as_str()?.to_owned(), f["sha256"].as_str()?.to_owned()))).collect()
}

/// The files that a list of checksums names, in the form of coreutils; `None` if it is no such list.
pub fn of_sums(text: &str) -> Option<Digests> {
    let line = |line: &str| {
        let (escaped, rest) = line.strip_prefix('\\').map_or((false, line), |rest| (true, rest));
        let (digest, path) = rest.split_at_checked(64)?;
        let path = path.strip_prefix("  ").or_else(|| path.strip_prefix(" *"))?;
        let hex = digest.bytes().all(|b| b.is_ascii_hexdigit());
        let path = if escaped { unescaped(path) } else { path.to_owned() };
        (hex && !path.is_empty()).then(|| (path, digest.to_ascii_lowercase()))
    };
    let all: Option<Digests> = text.lines().filter(|l| !l.is_empty()).map(line).collect();
    all.filter(|list| !list.is_empty())
}

fn unescaped(path: &str) -> String {
    let (mut out, mut marked) = (String::new(), false);
    for c in path.chars() {
        match (marked, c) {
            (false, '\\') => marked = true,
            (true, 'n') => (marked, _) = (false, out.push('\n')),
            (true, 'r') => (marked, _) = (false, out.push('\r')),
            (_, c) => (marked, _) = (false, out.push(c)),
        }
    }
    out
}

/// Everything that a whole bundle must be: the record's files, the record itself, the proof and an update pack, which follow from
/// all others, and the list of them all.
/// `listed` is the text of its list of checksums; without one it is missing.
pub fn whole(record: &[u8], files: Digests, listed: Option<&str>) -> Digests {
    let mut stated = files;
    stated.insert(RECORD.to_owned(), sha256_hex(record));
    let listed = listed.and_then(of_sums).unwrap_or_default();
    stated.insert(PROOF.to_owned(), listed.get(PROOF).cloned().unwrap_or_default());
    stated.extend(listed.into_iter().filter(|(path, _)| path.starts_with(pack::FOLDER)));
    let list = sums(&stated);
    stated.insert(SUMS.to_owned(), sha256_hex(list.as_bytes()));
    stated
}

/// What is not as stated, in the order of the paths.
pub fn differences(stated: &Digests, there: &Digests) -> Vec<Difference> {
    let mut out = Vec::new();
    for (path, digest) in stated {
        let (kind, found, message) = match there.get(path) {
            Some(found) if found == digest => continue,
            Some(found) => (How::Altered, Some(found.clone()), "its bytes are not those that are recorded".to_owned()),
            None => {
                let other = there.iter().find(|(name, is)| *is == digest && !stated.contains_key(*name));
                let message = match other {
                    Some((name, _)) => format!("it is not there under this name; {name} has its bytes"),
                    None => "it is not there".to_owned(),
                };
                (How::Missing, None, message)
            }
        };
        out.push(Difference { path: path.clone(), kind, stated: Some(digest.clone()), found, message });
    }
    for (path, digest) in there.iter().filter(|(path, _)| !stated.contains_key(*path)) {
        let twin = stated.iter().find(|(_, is)| *is == digest);
        let message = match twin {
            Some((name, _)) => format!("the papers do not name it; its bytes are those of {name}"),
            None => "the papers do not name it".to_owned(),
        };
        let (stated, found) = (None, Some(digest.clone()));
        out.push(Difference { path: path.clone(), kind: How::Added, stated, found, message });
    }
    out.sort_by(|a, b| a.path.cmp(&b.path));
    out
}
