//! Where values are held between two bounds.

use std::fs;
use std::path::{Path, PathBuf};

/// All sources of the house.
fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    let entries = fs::read_dir(folder).expect("the sources can be listed");
    for path in entries.map(|e| e.expect("the sources can be listed").path()) {
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

/// Whether a bound stands in the code: a number, a constant, or a length made of them.
fn stands(bound: &str) -> bool {
    let bare: String = bound
        .replace("Mm(", "")
        .replace("mm(", "")
        .replace(").pt()", "")
        .replace("decode::", "")
        .chars()
        .filter(|c| !matches!(c, '(' | ')' | ' ' | '.' | '_' | '<'))
        .collect();
    !bare.is_empty() && bare.chars().all(|c| c.is_ascii_digit() || c.is_ascii_uppercase() || c == '-')
}

/// The bounds of every `clamp` of a text, comments left out, that come from elsewhere.
fn loose(text: &str) -> Vec<String> {
    let code: String = text.lines().filter(|l| !l.trim_start().starts_with("//")).flat_map(|l| [l, "\n"]).collect();
    let bounds = |at: usize| {
        let inner = &code[at + 7..];
        let mut depth = 1;
        let end = inner.find(|c: char| {
            depth += i32::from(c == '(') - i32::from(c == ')');
            depth == 0
        });
        inner[..end.unwrap_or(0)].to_owned()
    };
    let all = code.match_indices(".clamp(").map(|(at, _)| bounds(at));
    all.filter(|bounds| !bounds.split(", ").all(stands)).collect()
}

/// `clamp` panics where its bounds cross, so both must stand in the code. For bounds that come from input there is
/// `base::model::units::between`.
#[test]
fn clamps_have_bounds_that_stand_in_the_code() {
    let mut files = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("pipeline"), &mut files);
    assert!(files.len() > 200, "the sources were not found");
    let mut wrong = Vec::new();
    for path in files {
        let text = fs::read_to_string(&path).expect("a source can be read");
        wrong.extend(loose(&text).into_iter().map(|b| format!("{}: clamp({b})", path.display())));
    }
    assert!(wrong.is_empty(), "use `between`:\n{}", wrong.join("\n"));
}

#[test]
fn a_loose_bound_is_seen() {
    assert_eq!(loose("let a = b.clamp(5.0, tap.w * 0.6);"), ["5.0, tap.w * 0.6"]);
    assert_eq!(loose("// x.clamp(a, b)\nlet a = b.clamp(1.0, MOST_SIDE);\nc.clamp(mm(1.5), Mm(2.0).pt())"), [""; 0]);
}
