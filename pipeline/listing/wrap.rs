//! Plain text in lines of at most 78 characters.

/// Columns of a `.txt` file.
pub const COLUMNS: usize = 78;

/// Wraps every line of a text. A line keeps its indent, and one that begins with `- `, `* ` or a number with a
/// full stop hangs: its further lines begin below its first word. A word that is wider than a line (an address) stands
/// alone and juts out, since cutting it would spoil it. The text ends with one line feed.
pub fn wrap(text: &str) -> String {
    let mut out = String::new();
    for line in text.trim_end().lines() {
        let body = line.trim_start();
        let indent = line.len() - body.len();
        let (mark, body) = body.split_at(mark(body));
        let hang = indent + mark.chars().count();
        let mut column = hang;
        out.push_str(&" ".repeat(indent));
        out.push_str(mark);
        // No-break spaces hold a number together, and a mark to its word.
        let breaks = |c: char| c.is_whitespace() && !matches!(c, '\u{a0}' | '\u{202f}');
        for (i, word) in body.split(breaks).filter(|word| !word.is_empty()).enumerate() {
            let width = word.chars().count();
            if i > 0 && column + 1 + width > COLUMNS {
                out.push('\n');
                out.push_str(&" ".repeat(hang));
                column = hang;
            } else if i > 0 {
                out.push(' ');
                column += 1;
            }
            out.push_str(word);
            column += width;
        }
        while out.ends_with(' ') {
            out.pop();
        }
        out.push('\n');
    }
    out
}

/// Length in bytes of the mark that a line of a list begins with, its space included; 0 without one.
fn mark(line: &str) -> usize {
    if line.starts_with("- ") || line.starts_with("* ") {
        return 2;
    }
    let digits = line.chars().take_while(char::is_ascii_digit).count();
    if (1..=3).contains(&digits) && line[digits..].starts_with(". ") { digits + 2 } else { 0 }
}
