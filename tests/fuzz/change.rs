//! Changes at random, the same ones for the same seed: bits, bytes, numbers at their edges, pieces taken out, doubled, moved or
//! brought from another file, and words that the other seeds have.

/// A source of random numbers (xorshift64*, Vigna 2016, "An experimental exploration of Marsaglia's xorshift generators").
pub struct Dice(u64);

/// Numbers at which programs go wrong.
const EDGES: [u64; 12] =
    [0, 1, 0x7f, 0x80, 0xff, 0x7fff, 0x8000, 0xffff, 0x7fff_ffff, 0x8000_0000, 0xffff_ffff, u64::MAX];
/// Texts at which readers of text go wrong.
const WORDS: [&str; 16] = [
    "-1",
    "0",
    "1e308",
    "NaN",
    "-0.0",
    "99999999999999999999",
    "\"",
    "\\",
    "[[",
    "}}",
    "{{ x }}",
    "\u{feff}",
    "\u{202e}",
    "ä\u{301}",
    "%s",
    "\r\n",
];

impl Dice {
    /// Dice of a target.
    pub fn new(seed: u64, name: &str) -> Dice {
        let mixed = name
            .bytes()
            .fold(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15), |h, b| (h ^ u64::from(b)).wrapping_mul(0x100_0000_01b3));
        Dice(mixed | 1)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_f491_4f6c_dd1d)
    }

    /// A number below `n`, or 0.
    fn below(&mut self, n: usize) -> usize {
        (self.next() >> 11) as usize % n.max(1)
    }

    /// A piece: mostly a short one.
    fn piece(&mut self, len: usize) -> std::ops::Range<usize> {
        let from = self.below(len);
        let most = [8, 64, 512, len][self.below(4)];
        from..(from + 1 + self.below(most)).min(len)
    }

    /// One of the seeds, changed in one to eight ways.
    pub fn changed(&mut self, seeds: &[Vec<u8>]) -> Vec<u8> {
        let mut bytes = seeds[self.below(seeds.len())].clone();
        for _ in 0..1 + self.below(8) {
            if bytes.is_empty() {
                return bytes;
            }
            self.change(&mut bytes, seeds);
        }
        bytes.truncate(1 << 20);
        bytes
    }

    fn change(&mut self, bytes: &mut Vec<u8>, seeds: &[Vec<u8>]) {
        let at = self.below(bytes.len());
        match self.below(11) {
            0 => bytes[at] ^= 1 << self.below(8),
            1 => bytes[at] = self.next() as u8,
            2 => {
                let (edge, width) = (EDGES[self.below(EDGES.len())], 1 << self.below(4));
                let number = if self.below(2) == 0 {
                    edge.to_be_bytes()[8 - width..].to_vec()
                } else {
                    edge.to_le_bytes()[..width].to_vec()
                };
                let end = (at + width).min(bytes.len());
                bytes[at..end].copy_from_slice(&number[..end - at]);
            }
            3 => drop(bytes.drain(self.piece(bytes.len()))),
            4 => {
                let piece = bytes[self.piece(bytes.len())].to_vec();
                bytes.splice(at..at, piece);
            }
            5 => {
                let other = &seeds[self.below(seeds.len())];
                let piece = other[self.piece(other.len())].to_vec();
                bytes.splice(at..at, piece);
            }
            6 => bytes.truncate(at),
            7 => drop(bytes.splice(at..at, WORDS[self.below(WORDS.len())].bytes())),
            8 => self.digits(bytes, at),
            9 => {
                // A line, in the place of another one.
                let line = |at: usize, bytes: &[u8]| {
                    let from = bytes[..at].iter().rposition(|b| *b == b'\n').map_or(0, |n| n + 1);
                    from..bytes[at..].iter().position(|b| *b == b'\n').map_or(bytes.len(), |n| at + n)
                };
                let other = self.below(bytes.len());
                let text = bytes[line(other, bytes)].to_vec();
                bytes.splice(line(at, bytes), text);
            }
            _ => {
                let piece = self.piece(bytes.len());
                let fill = self.next() as u8;
                bytes[piece].fill(fill);
            }
        }
    }

    /// The next number in digits becomes another one.
    fn digits(&mut self, bytes: &mut Vec<u8>, at: usize) {
        let Some(from) = bytes[at..].iter().position(u8::is_ascii_digit).map(|n| at + n) else { return };
        let to = bytes[from..].iter().position(|b| !b.is_ascii_digit()).map_or(bytes.len(), |n| from + n);
        let number = match self.below(3) {
            0 => EDGES[self.below(EDGES.len())].to_string(),
            1 => self.below(100_000).to_string(),
            _ => WORDS[self.below(6)].to_owned(),
        };
        bytes.splice(from..to, number.into_bytes());
    }
}

#[test]
fn the_same_seed_gives_the_same_changes_and_another_one_others() {
    let seeds = [b"one line\nand 12 more\n".to_vec(), vec![0; 40]];
    let some = |seed: u64, name: &str| {
        let mut dice = Dice::new(seed, name);
        (0..200).map(|_| dice.changed(&seeds)).collect::<Vec<_>>()
    };
    assert_eq!(some(1, "pdf"), some(1, "pdf"));
    assert_ne!(some(1, "pdf"), some(2, "pdf"));
    assert_ne!(some(1, "pdf"), some(1, "png"));
    let different: std::collections::BTreeSet<Vec<u8>> = some(3, "zip").into_iter().collect();
    assert!(different.len() > 150, "{}", different.len());
}
