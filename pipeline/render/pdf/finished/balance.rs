//! Whether a page's content puts back the graphics state that it found: foreign content often does not.

/// Counts `q` and `Q` over the streams of a page, which readers take as one (ISO 32000-1, 7.8.2).
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Balance {
    depth: i64,
    least: i64,
}

impl Balance {
    /// Reads one stream of content.
    pub fn read(&mut self, content: &[u8]) {
        let mut at = 0;
        while let Some(byte) = content.get(at) {
            match byte {
                b'%' => at += content[at..].iter().take_while(|b| !matches!(b, b'\n' | b'\r')).count(),
                b'(' => at = string(content, at),
                b if is_regular(*b) => {
                    let end = at + content[at..].iter().take_while(|b| is_regular(**b)).count();
                    match &content[at..end] {
                        b"q" => self.depth += 1,
                        b"Q" => {
                            self.depth -= 1;
                            self.least = self.least.min(self.depth);
                        }
                        b"ID" => {
                            at = picture(content, end);
                            continue;
                        }
                        _ => {}
                    }
                    at = end;
                }
                // Names begin with a slash: `/Q` is no operator.
                b'/' => at += 1 + content[at + 1..].iter().take_while(|b| is_regular(**b)).count(),
                _ => at += 1,
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

fn is_regular(byte: u8) -> bool {
    !matches!(byte, 0 | 9 | 10 | 12 | 13 | 32 | b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%')
}

/// Where a literal string that begins here ends.
fn string(content: &[u8], from: usize) -> usize {
    let (mut at, mut depth) = (from, 0);
    while let Some(byte) = content.get(at) {
        match byte {
            b'\\' => at += 1,
            b'(' => depth += 1,
            b')' if depth == 1 => return at + 1,
            b')' => depth -= 1,
            _ => {}
        }
        at += 1;
    }
    at
}

/// Where the data of an inline picture ends: at `EI` between spaces that no pixel data follows.
fn picture(content: &[u8], from: usize) -> usize {
    let space = |at: usize| content.get(at).is_none_or(u8::is_ascii_whitespace);
    let mut at = from;
    while at + 2 <= content.len() {
        if &content[at..at + 2] == b"EI" && space(at.wrapping_sub(1)) && space(at + 2) {
            let rest = &content[at + 2..(at + 18).min(content.len())];
            if rest.iter().all(|b| b.is_ascii_graphic() || b.is_ascii_whitespace()) {
                return at + 2;
            }
        }
        at += 1;
    }
    content.len()
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
