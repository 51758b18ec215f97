//! The tokens of a content stream (ISO 32000-1, 7.2 and 7.8.2), with the places where they stand.

use std::ops::Range;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Token {
    /// An operator, a number or another word.
    Word,
    /// A name, with its slash.
    Name,
    /// A literal string, with its brackets.
    Text,
}

/// Goes over a content stream. Comments, the brackets of arrays and the data of inline pictures are passed over.
pub struct Tokens<'a> {
    content: &'a [u8],
    at: usize,
}

impl<'a> Tokens<'a> {
    /// The tokens of a content stream.
    pub fn of(content: &'a [u8]) -> Tokens<'a> {
        Tokens { content, at: 0 }
    }

    fn regular(&self, from: usize) -> usize {
        from + self.content[from..].iter().take_while(|b| is_regular(**b)).count()
    }
}

impl Iterator for Tokens<'_> {
    type Item = (Token, Range<usize>);

    fn next(&mut self) -> Option<Self::Item> {
        loop {
            let from = self.at;
            match *self.content.get(from)? {
                b'%' => {
                    let comment = self.content[from..].iter().take_while(|b| !matches!(b, b'\n' | b'\r'));
                    self.at += comment.count();
                }
                b'(' => {
                    self.at = string(self.content, from);
                    return Some((Token::Text, from..self.at));
                }
                b'/' => {
                    self.at = self.regular(from + 1);
                    return Some((Token::Name, from..self.at));
                }
                b if is_regular(b) => {
                    let end = self.regular(from);
                    self.at = if &self.content[from..end] == b"ID" { picture(self.content, end) } else { end };
                    return Some((Token::Word, from..end));
                }
                _ => self.at += 1,
            }
        }
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
    content.len()
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
