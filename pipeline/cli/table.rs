//! The table of many products, as lines for people and as JSON that can be put together again.

use super::outcome::{CLEAN, ERRORS, FAILED, complain, print};
use super::report::plural;
use crate::world;
use base::files::slashed;
use base::model::Fault;
use base::model::units::byte_size;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

/// What became of a product.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Its bundle is written.
    Built,
    /// Findings keep its bundle from being written.
    Stopped,
    /// It could not be made at all.
    Failed,
}

/// A product in the table. Its form is version 1, as in `report.schema.json`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Row {
    /// Its folder, as the command line has it.
    pub path: String,
    /// Its slug; that of its folder where the manifest could not be read.
    pub product: String,
    /// Its version.
    pub version: Option<String>,
    /// What became of it.
    pub state: State,
    /// Files to upload.
    pub uploads: usize,
    /// Bytes of those files.
    pub bytes: u64,
    /// How many errors the checks found.
    pub errors: usize,
    /// How many warnings.
    pub warnings: usize,
    /// How many notes.
    pub notes: usize,
    /// What changed since the version that buyers have, or since the newest one before this.
    pub changed: Option<String>,
    /// How long it took, in seconds.
    pub seconds: f64,
    /// The folder of its bundle.
    pub folder: Option<String>,
    /// Its proof.
    pub proof: Option<String>,
    /// Why it could not be made.
    pub faults: Vec<String>,
    /// What the checks say, each in the form of a report's findings.
    pub findings: Vec<Value>,
}

/// The table for people, with a line that counts; `seconds` is how long all of it took, where that is known.
pub fn people(rows: &[Row], seconds: Option<f64>) -> String {
    let head = ["product", "version", "to upload", "checks", "changed", "took"].map(str::to_owned);
    let lines: Vec<[String; 6]> = std::iter::once(head).chain(rows.iter().map(cells)).collect();
    let widths: Vec<usize> =
        (0..6).map(|c| lines.iter().map(|l| l[c].chars().count()).max().unwrap_or_default()).collect();
    let mut out = String::new();
    for line in &lines {
        let mut text = String::new();
        for (cell, width) in line.iter().zip(&widths) {
            let _ = write!(text, "{cell:<width$}  ");
        }
        let _ = writeln!(out, "{}", text.trim_end());
    }
    let count = |state: State| rows.iter().filter(|r| r.state == state).count();
    let mut parts = vec![format!("{} built", count(State::Built))];
    parts.extend(Some(count(State::Stopped)).filter(|n| *n > 0).map(|n| format!("{n} stopped by its checks")));
    parts.extend(Some(count(State::Failed)).filter(|n| *n > 0).map(|n| format!("{n} could not be built")));
    let took = seconds.map_or_else(String::new, |s| format!(", in {s:.2} s"));
    let _ = writeln!(out, "{}: {}{took}.", plural(rows.len(), "product"), parts.join(", "));
    out
}

fn cells(row: &Row) -> [String; 6] {
    let none = || "\u{2013}".to_owned();
    let uploads = match row.state {
        State::Built => format!("{}, {}", plural(row.uploads, "file"), byte_size(row.bytes)),
        State::Stopped => "stopped".to_owned(),
        State::Failed => "not built".to_owned(),
    };
    let counted = [(row.errors, "error"), (row.warnings, "warning"), (row.notes, "note")];
    let found: Vec<String> = counted.into_iter().filter(|(n, _)| *n > 0).map(|(n, word)| plural(n, word)).collect();
    let checks = match row.state {
        State::Failed => plural(row.faults.len(), "fault"),
        _ if found.is_empty() => "nothing found".to_owned(),
        _ => found.join(", "),
    };
    [
        row.product.clone(),
        row.version.clone().unwrap_or_else(none),
        uploads,
        checks,
        row.changed.clone().unwrap_or_else(none),
        format!("{:.2} s", row.seconds),
    ]
}

/// The report for other programs.
pub fn json(rows: &[Row], seconds: Option<f64>) -> Value {
    let sum = |of: fn(&Row) -> usize| rows.iter().map(of).sum::<usize>();
    json!({
        "products": rows,
        "errors": sum(|r| r.errors),
        "warnings": sum(|r| r.warnings),
        "notes": sum(|r| r.notes),
        "seconds": seconds,
    })
}

/// The exit code of the worst.
pub fn code(rows: &[Row]) -> u8 {
    let worst = |row: &Row| match row.state {
        State::Built => CLEAN,
        State::Stopped => ERRORS,
        State::Failed => FAILED,
    };
    rows.iter().map(worst).max().unwrap_or(CLEAN)
}

/// The rows of a report.
///
/// # Errors
/// When it cannot be read, or is no report of many products.
pub fn read(report: &Path) -> Result<Vec<Row>, Fault> {
    #[derive(Deserialize)]
    struct Report {
        products: Vec<Row>,
    }
    let bytes = world::read_outside(report)?;
    let read = serde_json::from_slice::<Report>(&bytes).map_err(|e| {
        let place = format!("line {}, column {}", e.line(), e.column());
        Fault::new(format!("this is no report of many products ({place}: {e})"))
            .in_file(slashed(report))
            .help("give what `sheafwright build FOLDER --json` printed for a folder of products")
    })?;
    Ok(read.products)
}

/// Puts reports together. A product that stands in several is told once, as the last of them has it.
pub fn table(reports: &[PathBuf], as_json: bool) -> u8 {
    let (mut rows, mut faults): (Vec<Row>, Vec<Fault>) = (Vec::new(), Vec::new());
    for report in reports {
        match read(report) {
            Ok(more) => {
                for row in more {
                    rows.retain(|known| known.path != row.path);
                    rows.push(row);
                }
            }
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return complain(&faults);
    }
    rows.sort_by(|a, b| a.path.cmp(&b.path));
    print(&if as_json { format!("{:#}\n", json(&rows, None)) } else { people(&rows, None) });
    code(&rows)
}
