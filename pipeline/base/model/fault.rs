//! Faults: why something could not be done, where, and how to mend it. They come in lists, never one a run.

use serde::{Deserialize, Serialize};
use std::fmt;

/// A place in a text file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct SourceSpan {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The whole line, for showing.
    pub text: String,
    /// How many characters are meant, at least 1.
    pub width: usize,
    /// The file, where it is not the one that is spoken of: what a manifest says may stand in the shop's file.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
}

impl SourceSpan {
    /// A place in a line that may be long: drawing programs write lines of a megabyte. Of a long one only the part
    /// before the place is shown; the caret then stands right behind it.
    pub fn short(line: usize, column: usize, text: &str, width: usize) -> SourceSpan {
        if text.chars().count() <= 160 {
            return SourceSpan { line, column, text: text.to_owned(), width, file: None };
        }
        let from = column.saturating_sub(71);
        let shown: String = text.chars().skip(from).take(column.saturating_sub(1 + from)).collect();
        SourceSpan { line, column, text: format!("…{shown}"), width: 1, file: None }
    }
}

/// How far two words lie apart, capitals or not: the letters that one would have to put in, take out, change or swap.
pub fn distance(a: &str, b: &str) -> usize {
    strsim::damerau_levenshtein(&a.to_lowercase(), &b.to_lowercase())
}

/// Most words that are listed whole; of more only the nearest few are named.
const MOST_LISTED: usize = 40;
/// How many of those.
const NEAREST: usize = 6;

/// Names the word nearest to what was given, or all of them when none is near. Of a long list only the nearest few are
/// named, with the number of the others.
pub fn suggest<'a>(given: &str, valid: impl Iterator<Item = &'a str>) -> String {
    suggest_of(given, &valid.collect::<Vec<_>>())
}

fn suggest_of(given: &str, valid: &[&str]) -> String {
    let near = valid.iter().map(|v| (distance(given, v), *v)).min_by_key(|(distance, _)| *distance);
    match near {
        Some((distance, word)) if distance <= 2.max(given.chars().count() / 3) => format!("did you mean `{word}`?"),
        _ if valid.is_empty() => "there is nothing to choose from".to_owned(),
        _ if valid.len() > MOST_LISTED => {
            let shown = nearest(given, valid);
            format!("nearest are {} and {} more", shown.join(", "), valid.len() - shown.len())
        }
        _ => format!("valid here: {}", valid.join(", ")),
    }
}

/// The nearest few words: those that share a part of the name first.
fn nearest<'a>(given: &str, valid: &[&'a str]) -> Vec<&'a str> {
    let given = given.to_lowercase();
    let shares = |word: &str| {
        let parts = given.split(|c: char| !c.is_alphanumeric()).filter(|part| part.chars().count() > 2);
        parts.filter(|part| word.split('-').any(|own| own.starts_with(part) || part.starts_with(own))).count()
    };
    let mut order: Vec<&str> = valid.to_vec();
    order.sort_by_key(|word| (usize::MAX - shares(word), distance(&given, word)));
    order.truncate(NEAREST);
    order
}

/// Names the files nearest to one that is not there: of the same name but for capitals, in another folder, or spelt nearly so.
pub fn suggest_file(given: &str, near: &[String]) -> String {
    let plain = |path: &str| path.to_lowercase();
    let wanted = plain(given);
    let name = |path: &str| path.rsplit('/').next().unwrap_or_default().to_owned();
    if let Some(same) = near.iter().find(|path| plain(path) == wanted) {
        return format!("there is `{same}`: capitals and small letters differ");
    }
    if let Some(other) = near.iter().find(|path| name(&plain(path)) == name(&wanted)) {
        return format!("there is `{other}`, in another folder");
    }
    let spelt = near.iter().map(|path| (strsim::damerau_levenshtein(&name(&plain(path)), &name(&wanted)), path));
    match spelt.min_by_key(|(distance, _)| *distance) {
        Some((distance, path)) if distance <= 2.max(name(&wanted).chars().count() / 3) => {
            format!("did you mean `{path}`?")
        }
        _ => {
            let folder = given.rsplit_once('/').map_or("", |(folder, _)| folder);
            let beside: Vec<&str> = near
                .iter()
                .map(String::as_str)
                .filter(|p| p.rsplit_once('/').map_or("", |(f, _)| f) == folder && *p != "product.toml")
                .collect();
            let shown = beside.iter().take(12).copied().collect::<Vec<_>>().join(", ");
            match (beside.len(), folder) {
                (0, "") => "there are no files beside the manifest".to_owned(),
                (0, folder) => format!("there are no files in {folder}/; put it there, or write where it is"),
                (1..=12, _) => format!("there are {shown}"),
                (more, _) => format!("there are {shown} and {} more", more - 12),
            }
        }
    }
}

/// One reason why a command could not do its work.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct Fault {
    /// The file that it is about.
    pub file: Option<String>,
    /// Where in the file.
    pub span: Option<SourceSpan>,
    /// What is wrong.
    pub message: String,
    /// How to mend it.
    pub help: Option<String>,
}

/// Why something was not made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stop {
    /// Something is wrong: every reason, never only the first.
    Faults(Vec<Fault>),
    /// Nobody wants it any more.
    Cancelled,
}

impl Stop {
    /// What is wrong; nothing, where only nobody wants it any more.
    pub fn faults(&self) -> &[Fault] {
        if let Stop::Faults(faults) = self { faults } else { &[] }
    }
}

impl From<Fault> for Stop {
    fn from(fault: Fault) -> Stop {
        Stop::Faults(vec![fault])
    }
}

impl From<Vec<Fault>> for Stop {
    fn from(faults: Vec<Fault>) -> Stop {
        Stop::Faults(faults)
    }
}

impl Fault {
    /// A fault without a place.
    pub fn new(message: impl Into<String>) -> Fault {
        Fault { file: None, span: None, message: message.into(), help: None }
    }

    /// The same, about this file.
    pub fn in_file(mut self, file: impl Into<String>) -> Fault {
        self.file = Some(file.into());
        self
    }

    /// The same, at a place in its file, or in the one that the place names.
    pub fn at(mut self, mut span: SourceSpan) -> Fault {
        self.file = span.file.take().or(self.file);
        self.span = Some(span);
        self
    }

    /// The same, with a way to mend it.
    pub fn help(mut self, help: impl Into<String>) -> Fault {
        self.help = Some(help.into());
        self
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(file) = &self.file {
            write!(f, "{file}:")?;
            if let Some(span) = &self.span {
                write!(f, "{}:{}:", span.line, span.column)?;
            }
            write!(f, " ")?;
        }
        write!(f, "{}", self.message)?;
        if let Some(span) = &self.span {
            let margin = span.line.to_string().len();
            write!(f, "\n  {} | {}", span.line, span.text)?;
            let before: String = span
                .text
                .chars()
                .take(span.column.saturating_sub(1))
                .map(|c| if c == '\t' { '\t' } else { ' ' })
                .collect();
            write!(f, "\n  {} | {before}{}", " ".repeat(margin), "^".repeat(span.width.max(1)))?;
        }
        if let Some(help) = &self.help {
            write!(f, "\n  help: {help}")?;
        }
        Ok(())
    }
}
