//! What it takes to draw a page, counted before anybody draws it.

/// Every use of a form, pattern, mask or drawn glyph counted in full, as a renderer works through them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct Burden {
    /// Operators.
    pub operators: u64,
    /// Of these, those that leave a mark: fills, strokes, texts, pictures, shadings.
    pub marks: u64,
    /// Uses of forms, patterns, masks and drawn glyphs.
    pub uses: u64,
    /// Pixels of all pictures placed.
    pub pixels: u64,
    /// Pixels of the largest picture.
    pub largest: u64,
    /// Whether instructions unpack to more bytes than are looked at.
    pub endless: bool,
}

impl Burden {
    /// The most operators of a page that is drawn: eight times of what a tablet stutters at. (All limits here are by our
    /// own measurements: a page at its limit takes some ten seconds and a gigabyte.)
    pub const MOST_OPERATORS: u64 = 500_000;
    /// The most marks of a page that is drawn; each may cover all of it.
    pub const MOST_MARKS: u64 = 150_000;
    /// The most uses of parts.
    pub const MOST_USES: u64 = 50_000;
    /// The most pixels of all pictures placed on a page that is drawn.
    pub const MOST_PIXELS: u64 = 1_000_000_000;
    /// The most pixels of one picture on a page that is drawn: an A3 page at 600 dpi has 70 million.
    pub const LARGEST: u64 = 100_000_000;
    /// The most bytes of one stream of instructions.
    pub const MOST_BYTES: u64 = 64 << 20;

    /// Why the page is not drawn, with the number and its limit; empty where it is.
    pub fn too_much(&self) -> Vec<String> {
        let over = |n: u64, most: u64, what: &str| (n > most).then(|| format!("{n} {what} ({most} are the most)"));
        let endless = self.endless.then(|| {
            let most = Burden::MOST_BYTES >> 20;
            format!("instructions that unpack to more than {most} MiB")
        });
        [
            over(self.operators, Burden::MOST_OPERATORS, "operators"),
            over(self.marks, Burden::MOST_MARKS, "marks"),
            over(self.uses, Burden::MOST_USES, "uses of parts within parts"),
            over(self.pixels, Burden::MOST_PIXELS, "pixels of pictures"),
            over(self.largest, Burden::LARGEST, "pixels of one picture"),
            endless,
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    /// Takes another one along, `times` over.
    pub fn add(&mut self, other: &Burden, times: u64) {
        self.operators = self.operators.saturating_add(other.operators.saturating_mul(times));
        self.marks = self.marks.saturating_add(other.marks.saturating_mul(times));
        self.uses = self.uses.saturating_add(other.uses.saturating_mul(times)).saturating_add(times);
        self.pixels = self.pixels.saturating_add(other.pixels.saturating_mul(times));
        self.largest = self.largest.max(other.largest);
        self.endless |= other.endless;
    }
}
