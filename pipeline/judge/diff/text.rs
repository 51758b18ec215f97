//! Texts, line by line.

use similar::{Algorithm, ChangeTag, TextDiff};

/// How many changed lines a message shows.
const SHOWN: usize = 6;
/// The most characters of a line that are shown.
const WIDE: usize = 90;

/// What changed between two lists of lines, in words; `None` if nothing did.
pub fn lines(old: &[&str], new: &[&str]) -> Option<String> {
    if old == new {
        return None;
    }
    let diff = TextDiff::configure().algorithm(Algorithm::Patience).diff_slices(old, new);
    let (mut gone, mut come) = (0, 0);
    let mut shown = Vec::new();
    for change in diff.iter_all_changes() {
        let mark = match change.tag() {
            ChangeTag::Equal => continue,
            ChangeTag::Delete => {
                gone += 1;
                '\u{2212}'
            }
            ChangeTag::Insert => {
                come += 1;
                '+'
            }
        };
        if shown.len() < SHOWN {
            let line = change.value().trim_end();
            let cut: String = line.chars().take(WIDE).collect();
            let more = if cut.len() < line.len() { "\u{2026}" } else { "" };
            shown.push(format!("{mark} {cut}{more}"));
        }
    }
    let more = gone + come - shown.len();
    let more = if more > 0 { format!("\n\u{2026} and {more} more lines") } else { String::new() };
    let lines = |n: usize| if n == 1 { "1 line".to_owned() } else { format!("{n} lines") };
    let counted = [(gone, "gone"), (come, "new")].map(|(n, word)| (n > 0).then(|| format!("{} {word}", lines(n))));
    let counted: Vec<String> = counted.into_iter().flatten().collect();
    Some(format!("{}:\n{}{more}", counted.join(", "), shown.join("\n")))
}

#[cfg(test)]
mod tests {
    use super::lines;

    #[test]
    fn changed_lines_are_shown() {
        assert_eq!(lines(&["a", "b"], &["a", "b"]), None);
        let told = lines(&["a", "b", "c"], &["a", "x", "c"]).unwrap_or_default();
        assert_eq!(told, "1 line gone, 1 line new:\n\u{2212} b\n+ x");
    }
}
