//! How wide the glyphs of a font are, and what its codes mean: as much as it takes to say where a text ends and what it
//! says.

use super::{items, name, number, unpack};
use hayro_syntax::object::{Array, Dict, Object, Stream};
use hayro_syntax::xref::XRef;
use std::collections::HashMap;

/// The most codes of one font that are kept.
const MAX_CODES: usize = 70_000;
/// Where the font does not tell, a glyph is taken for half an em wide.
const GUESS: f64 = 0.5;

/// The widths and meanings of a font's codes.
#[derive(Default)]
pub struct Metrics {
    /// Widths in ems.
    widths: HashMap<u32, f64>,
    /// The width of codes that have none of their own.
    default: f64,
    /// Whether the widths are the font's, and not a guess.
    pub exact: bool,
    /// Whether codes are two bytes long.
    pub two_byte: bool,
    meanings: HashMap<u32, String>,
    /// Whether codes without a meaning of their own may be taken for ASCII.
    ascii: bool,
}

impl Metrics {
    /// Reads a font; `below` is the descendant of a composite one.
    pub fn read<'a>(dict: &Dict<'a>, below: Option<&Dict<'a>>, xref: &'a XRef) -> Metrics {
        let subtype = name(dict, "Subtype").unwrap_or_default();
        let mut metrics = Metrics { default: GUESS, ..Metrics::default() };
        if subtype == "Type0" {
            metrics.two_byte = true;
            // With other encodings the numbers of the widths are not those of the codes.
            if name(dict, "Encoding").as_deref() == Some("Identity-H") {
                metrics.exact = true;
                metrics.composite(below.unwrap_or(dict), xref);
            }
        } else {
            metrics.ascii = subtype != "Type3";
            metrics.simple(dict, subtype == "Type3", xref);
        }
        if let Some(map) = dict.get::<Stream>("ToUnicode").as_ref().and_then(unpack::stream) {
            metrics.meanings = meanings(&map);
        }
        metrics
    }

    /// `FirstChar` and `Widths` (ISO 32000-1, table 111).
    fn simple<'a>(&mut self, dict: &Dict<'a>, drawn: bool, xref: &'a XRef) {
        let Some(widths) = dict.get::<Array>("Widths") else { return };
        let matrix = dict.get::<Array>("FontMatrix").and_then(|m| items(&m, xref).next()?.into_number());
        let unit = if drawn { matrix.map_or(0.001, |n| n.as_f64()) } else { 0.001 };
        let first = number(dict, "FirstChar").unwrap_or(0.0) as u32;
        for (i, width) in items(&widths, xref).take(256).enumerate() {
            if let Object::Number(width) = width {
                self.widths.insert(first.saturating_add(i as u32), width.as_f64() * unit);
            }
        }
        let missing = dict.get::<Dict>("FontDescriptor").and_then(|d| number(&d, "MissingWidth"));
        self.default = missing.unwrap_or(0.0) * unit;
        self.exact = !self.widths.is_empty();
    }

    /// `DW` and `W` (ISO 32000-1, 9.7.4.3).
    fn composite<'a>(&mut self, dict: &Dict<'a>, xref: &'a XRef) {
        self.default = number(dict, "DW").unwrap_or(1000.0) * 0.001;
        let Some(list) = dict.get::<Array>("W") else { return };
        let mut parts = items(&list, xref);
        while let (Some(Object::Number(first)), Some(second)) = (parts.next(), parts.next()) {
            let first = first.as_f64().max(0.0) as u32;
            match second {
                Object::Array(widths) => {
                    for (i, width) in items(&widths, xref).enumerate() {
                        self.put(first.saturating_add(i as u32), width);
                    }
                }
                Object::Number(last) => {
                    let last = (last.as_f64() as u32).min(first.saturating_add(MAX_CODES as u32));
                    let Some(width) = parts.next().and_then(Object::into_number) else { return };
                    for code in first..=last {
                        self.put(code, Object::Number(width));
                    }
                }
                _ => return,
            }
        }
    }

    fn put(&mut self, code: u32, width: Object) {
        if let (Object::Number(width), true) = (width, self.widths.len() < MAX_CODES) {
            self.widths.insert(code, width.as_f64() * 0.001);
        }
    }

    /// The width of a code in ems.
    pub fn width(&self, code: u32) -> f64 {
        self.widths.get(&code).copied().unwrap_or(self.default)
    }

    /// Adds what a code means to a text.
    pub fn tell(&self, code: u32, text: &mut String) {
        match self.meanings.get(&code) {
            Some(meaning) => text.push_str(meaning),
            None if self.ascii && (0x20..0x7f).contains(&code) => text.push(char::from(code as u8)),
            None => {}
        }
    }
}

/// The pairs and ranges of a ToUnicode map (ISO 32000-1, 9.10.3).
fn meanings(map: &[u8]) -> HashMap<u32, String> {
    let mut out = HashMap::new();
    let mut pending: Vec<Token> = Vec::new();
    for token in tokens(map) {
        match token {
            Token::Word(b"endbfchar") => {
                for pair in pending.chunks_exact(2) {
                    if let [Token::Hex(code), Token::Hex(meaning)] = pair
                        && out.len() < MAX_CODES
                    {
                        out.insert(value(code), utf16(meaning, 0));
                    }
                }
                pending.clear();
            }
            Token::Word(b"endbfrange") => {
                ranges(&pending, &mut out);
                pending.clear();
            }
            Token::Word(_) => pending.clear(),
            other => pending.push(other),
        }
    }
    out
}

fn ranges(pending: &[Token], out: &mut HashMap<u32, String>) {
    let mut parts = pending.iter();
    while let (Some(Token::Hex(low)), Some(Token::Hex(high)), Some(third)) = (parts.next(), parts.next(), parts.next())
    {
        let (low, high) = (value(low), value(high));
        match third {
            Token::Hex(meaning) => {
                for code in (low..=high).take(MAX_CODES.saturating_sub(out.len())) {
                    out.insert(code, utf16(meaning, code - low));
                }
            }
            Token::Open => {
                for code in low.. {
                    match parts.next() {
                        Some(Token::Hex(meaning)) if out.len() < MAX_CODES => {
                            out.insert(code, utf16(meaning, 0));
                        }
                        Some(Token::Close) => break,
                        _ => return,
                    }
                }
            }
            _ => return,
        }
    }
}

/// What a map is made of, as far as it matters.
enum Token<'m> {
    Hex(Vec<u8>),
    Open,
    Close,
    Word(&'m [u8]),
}

fn tokens(map: &[u8]) -> Vec<Token<'_>> {
    let mut out = Vec::new();
    let mut at = 0;
    while at < map.len() {
        let rest = &map[at..];
        match rest[0] {
            b'<' if rest.get(1) != Some(&b'<') => {
                let end = rest.iter().position(|b| *b == b'>').unwrap_or(rest.len());
                out.push(Token::Hex(hex(&rest[1..end.max(1)])));
                at += end + 1;
            }
            b'[' | b']' => {
                out.push(if rest[0] == b'[' { Token::Open } else { Token::Close });
                at += 1;
            }
            b if b.is_ascii_alphabetic() => {
                let end = rest.iter().position(|b| !b.is_ascii_alphanumeric()).unwrap_or(rest.len());
                out.push(Token::Word(&rest[..end]));
                at += end;
            }
            _ => at += 1,
        }
    }
    out
}

fn hex(digits: &[u8]) -> Vec<u8> {
    let digits: Vec<u8> = digits.iter().filter_map(|d| char::from(*d).to_digit(16)).map(|d| d as u8).collect();
    digits.chunks(2).map(|pair| pair[0] * 16 + pair.get(1).copied().unwrap_or(0)).collect()
}

fn value(code: &[u8]) -> u32 {
    code.iter().take(4).fold(0, |sum, byte| sum << 8 | u32::from(*byte))
}

/// UTF-16 with its last unit moved on by so much, as ranges count.
fn utf16(bytes: &[u8], on: u32) -> String {
    let mut units: Vec<u16> = bytes.chunks_exact(2).map(|c| u16::from_be_bytes([c[0], c[1]])).collect();
    if let (Some(last), Ok(on)) = (units.last_mut(), u16::try_from(on)) {
        *last = last.wrapping_add(on);
    }
    String::from_utf16_lossy(&units)
}

#[cfg(test)]
mod tests {
    use super::meanings;

    #[test]
    fn pairs_and_ranges_are_read() {
        let map = b"/CIDInit /ProcSet findresource begin 1 begincodespacerange <0000> <FFFF> endcodespacerange\n\
            2 beginbfchar <0003> <0020> <0004> <D83CDF31> endbfchar\n\
            2 beginbfrange <0010> <0012> <0031> <0020><0021> [<00660069> <00E9>] endbfrange end";
        let found = meanings(map);
        let of = |code: u32| found.get(&code).map_or("", String::as_str);
        assert_eq!(
            [of(3), of(4), of(0x10), of(0x12), of(0x20), of(0x21)],
            [" ", "\u{1f331}", "1", "3", "fi", "\u{e9}"]
        );
        assert_eq!(found.len(), 7);
    }
}
