//! Every check on a fixture that must make it speak and one that must not. The fixtures are written by scripts with other
//! people's libraries (`tests/fixtures/checks`), run with the Python that `SHEAFWRIGHT_PYTHON` names, or `python3`.
#![allow(clippy::unwrap_used)]

mod claims_of_plans;

use super::{CATALOGUE, find, judge, with_kinds};
use base::model::facts::Inspected;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

/// The folder with the fixtures, written once for all tests.
fn fixtures() -> &'static Path {
    static FOLDER: OnceLock<tempfile::TempDir> = OnceLock::new();
    FOLDER
        .get_or_init(|| {
            let folder = tempfile::tempdir().unwrap();
            let python = std::env::var("SHEAFWRIGHT_PYTHON").unwrap_or_else(|_| "python3".to_owned());
            let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fixtures/checks/make_all.py");
            let run = Command::new(&python).arg(script).arg(folder.path()).output().unwrap();
            let said = String::from_utf8_lossy(&run.stderr);
            assert!(run.status.success(), "{python} could not write the fixtures (see DEVELOPERS.md): {said}");
            folder
        })
        .path()
}

fn sorted(folder: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    paths.sort();
    paths
}

/// The files of a fixture: itself, or all that lie in the folder.
fn read(path: &Path) -> Vec<Inspected> {
    let root = if path.is_dir() { path } else { path.parent().unwrap() };
    let mut open = vec![path.to_owned()];
    let mut files = Vec::new();
    while let Some(next) = open.pop() {
        if next.is_dir() {
            open.extend(sorted(&next));
        } else {
            let name = next.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/");
            files.push(inspect::inspect(&name, None, &std::fs::read(&next).unwrap().into()));
        }
    }
    files.sort_by(|a, b| a.path.cmp(&b.path));
    with_kinds(files)
}

/// Checks that have a loose fixture: name, and whether it is the failing one.
fn loose() -> Vec<(String, bool, PathBuf)> {
    let split = |path: PathBuf| {
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let (check, rest) = name.split_once('.').unwrap();
        (check.to_owned(), rest.starts_with("fail"), path)
    };
    sorted(&fixtures().join("loose")).into_iter().map(split).collect()
}

#[test]
fn a_check_speaks_where_it_must_and_only_there() {
    // Some good fixtures cannot help being a little odd: what else may be said of them.
    const ALSO: [(&str, &str); 1] = [("entry-name-unmarked", "name-not-portable")];
    for (check, must_speak, path) in loose() {
        assert!(find(&check).is_some(), "{check} is no check");
        let found = judge(&read(&path), &[]);
        let spoke = found.iter().any(|f| f.check == check);
        let name = path.file_name().unwrap().to_string_lossy();
        assert_eq!(spoke, must_speak, "{name}: {found:#?}");
        if !must_speak {
            let others: Vec<_> = found.iter().filter(|f| !ALSO.contains(&(check.as_str(), &*f.check))).collect();
            assert!(others.is_empty(), "{name} is well made, but: {others:#?}");
        }
    }
}

#[test]
fn every_check_has_its_fixtures() {
    let loose = loose();
    let in_files = |verdict: bool| -> BTreeSet<&str> {
        loose.iter().filter(|(_, fail, _)| *fail == verdict).map(|(check, ..)| check.as_str()).collect()
    };
    let by_plan: BTreeSet<&str> = claims_of_plans::CHECKS.iter().map(|(check, _)| *check).collect();
    for check in CATALOGUE {
        let name = check.name;
        let covered = in_files(true).contains(name) && in_files(false).contains(name)
            || by_plan.contains(name)
            || name == super::versions::tests::CHECK;
        assert!(covered, "{name} has no fixture on which it speaks and one on which it is silent");
    }
}
