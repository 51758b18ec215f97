//! Whether a page's content puts back the graphics state that it found: foreign content often does not.

use draw::artwork::tokens::{Token, Tokens};

/// Counts `q` and `Q` over the streams of a page, which readers take as one (ISO 32000-1, 7.8.2).
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Balance {
    depth: i64,
    least: i64,
}

impl Balance {
    /// Reads one stream of content.
    pub fn read(&mut self, content: &[u8]) {
        for (token, place) in Tokens::of(content) {
            match (token, &content[place]) {
                (Token::Word, b"q") => self.depth += 1,
                (Token::Word, b"Q") => {
                    self.depth -= 1;
                    self.least = self.least.min(self.depth);
                }
                _ => {}
            }
        }
    }

    /// How many `q` have to stand before the content and how many `Q` after it, so that the state behind it is the state
    /// before it, whatever it does.
    pub fn braces(&self) -> (usize, usize) {
        let before = 1 - self.least;
        // More than this is no page any more, and readers have limits of their own.
        (before.clamp(1, 500) as usize, (before + self.depth).clamp(0, 1000) as usize)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn braces(parts: &[&[u8]]) -> (usize, usize) {
        let mut balance = Balance::default();
        parts.iter().for_each(|p| balance.read(p));
        balance.braces()
    }

    #[test]
    fn every_state_is_put_back() {
        assert_eq!(braces(&[]), (1, 1));
        assert_eq!(braces(&[b"q 1 0 0 1 0 0 cm Q"]), (1, 1));
        assert_eq!(braces(&[b"q q 2 0 0 2 0 0 cm Q"]), (1, 2));
        assert_eq!(braces(&[b"Q Q q 2 0 0 2 0 0 cm"]), (3, 2));
        assert_eq!(braces(&[b"q", b"Q"]), (1, 1));
    }

    #[test]
    fn letters_in_texts_names_and_pictures_are_no_operators() {
        assert_eq!(braces(&[b"(q (q) \\) q) Tj /q gs <71> Tj [(q)]TJ % q\n/Q Do"]), (1, 1));
        assert_eq!(braces(&[b"BI /W 1 ID \x00 EI\x90\x91 q q EI\nQ q"]), (2, 2));
    }
}
