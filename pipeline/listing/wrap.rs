//! Plain text in lines of at most 78 characters.

use draw::breaks;

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
        for (i, word) in words(body).into_iter().enumerate() {
            let width = columns(&word.text);
            let space = usize::from(word.spaced);
            if i > 0 && column + space + width > COLUMNS {
                out.push('\n');
                out.push_str(&" ".repeat(hang));
                column = hang;
            } else if i > 0 && word.spaced {
                out.push(' ');
                column += 1;
            }
            out.push_str(&word.text);
            column += width;
        }
        while out.ends_with(' ') {
            out.pop();
        }
        out.push('\n');
    }
    out
}

/// A word, or a character of a script that is written without spaces.
struct Word {
    text: String,
    spaced: bool,
}

/// The words of a line between which it may be broken. Words are never broken inside.
fn words(body: &str) -> Vec<Word> {
    let mut out: Vec<Word> = Vec::new();
    for piece in breaks::pieces(body) {
        match out.last_mut() {
            Some(word) if piece.inside => word.text.push_str(piece.text),
            _ => out.push(Word { text: piece.text.to_owned(), spaced: piece.spaced }),
        }
    }
    out
}

/// How many columns a text takes where all letters are equally wide: characters of East Asia take two.
fn columns(text: &str) -> usize {
    text.chars().map(|c| if breaks::is_wide(c) { 2 } else { 1 }).sum()
}

/// Length in bytes of the mark that a line of a list begins with, its space included; 0 without one.
fn mark(line: &str) -> usize {
    if line.starts_with("- ") || line.starts_with("* ") {
        return 2;
    }
    // Digits of any script.
    let after = line.trim_start_matches(char::is_numeric);
    let digits = line.len() - after.len();
    let few = (1..=3).contains(&line[..digits].chars().count());
    if few && after.starts_with(". ") { digits + 2 } else { 0 }
}
