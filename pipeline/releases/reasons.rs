//! Why bytes may have become others: what a version was made of and with, against what is at hand now.

use super::{PROGRAM, Release, TOOL, libraries};
use std::collections::BTreeMap;

/// What a version was made of and with.
#[derive(Clone, Debug, Default)]
pub struct Made {
    /// The tool with its version.
    pub tool: String,
    /// Digest of the program, if it is known.
    pub program: String,
    /// Fonts and data of languages that came along, if they are known.
    pub libraries: BTreeMap<String, String>,
    /// Digests of the product's files by their path.
    pub inputs: BTreeMap<String, String>,
}

impl Made {
    /// By the entry of a release.
    pub fn by(release: &Release) -> Made {
        Made {
            tool: release.tool.clone(),
            program: release.program.clone(),
            libraries: release.libraries.clone(),
            inputs: release.inputs.clone(),
        }
    }

    /// By this program, of these inputs.
    pub fn now(inputs: BTreeMap<String, String>) -> Made {
        Made { tool: TOOL.to_owned(), program: PROGRAM.to_owned(), libraries: libraries(), inputs }
    }
}

/// What is no longer as it was, a line each.
pub fn reasons(then: &Made, now: &Made) -> Vec<String> {
    let mut out = Vec::new();
    for (path, digest) in &then.inputs {
        match now.inputs.get(path) {
            Some(is) if is == digest => {}
            Some(_) => out.push(format!("input {path} has other bytes than then")),
            None => out.push(format!("input {path} is not read any more, or is gone")),
        }
    }
    let new = now.inputs.keys().filter(|path| !then.inputs.contains_key(*path));
    out.extend(new.map(|path| format!("input {path} is new")));
    if then.tool != now.tool {
        out.push(format!("it was built with {}; this is {}", then.tool, now.tool));
    }
    for (name, version) in &then.libraries {
        let is = now.libraries.get(name).map_or("none", String::as_str);
        if is != version {
            out.push(format!("{} {name} was {version} then; it is {is} now", what(name)));
        }
    }
    if !then.program.is_empty() && then.program != now.program {
        let (a, b) = (&then.program, &now.program);
        out.push(format!(
            "the program is another one: other sources, libraries, compiler or target ({a} then, {b} now)"
        ));
    }
    out
}

/// What a library brings along.
fn what(name: &str) -> &'static str {
    if name.starts_with("icu") { "CLDR data in" } else { "fonts in" }
}
