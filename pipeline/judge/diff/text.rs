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

/// Whether two texts have the same words, wherever their lines break, and differ in numbers and dates alone.
pub fn only_figures(old: &[&str], new: &[&str]) -> bool {
    let words = |lines: &[&str]| -> Vec<String> {
        let words = lines.iter().flat_map(|line| line.split_whitespace());
        let bare = words.map(|w| w.chars().filter(|c| !c.is_ascii_digit()).collect::<String>());
        bare.filter(|w| w.chars().any(char::is_alphabetic) && !MONTHS.contains(&w.trim_end_matches(','))).collect()
    };
    words(old) == words(new)
}

/// Months as dates name them.
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

#[cfg(test)]
mod tests {
    use super::{lines, only_figures};

    #[test]
    fn other_numbers_are_no_other_words() {
        assert!(only_figures(&["Peas, version 1.0.0,", "3 May 2026"], &["Peas, version 1.1.0, 9", "June 2027"]));
        assert!(!only_figures(&["Peas are green"], &["Peas are good"]));
    }

    #[test]
    fn changed_lines_are_shown() {
        assert_eq!(lines(&["a", "b"], &["a", "b"]), None);
        let told = lines(&["a", "b", "c"], &["a", "x", "c"]).unwrap_or_default();
        assert_eq!(told, "1 line gone, 1 line new:\n\u{2212} b\n+ x");
    }
}
