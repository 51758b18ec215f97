//! How many rows a part asks for.

/// How many rows a band asks for.
#[derive(Clone, Copy, Debug)]
pub struct Asks {
    /// Rows without which it is left out.
    pub least: usize,
    /// Rows with which nothing of it is missing: these come before what others wish for.
    pub whole: usize,
    /// Rows that are enough; `None` for as many as there are.
    pub wish: Option<usize>,
    /// Rows that go into no step, and rows of a step: what a part with rows of several lines each can use.
    pub step: (usize, usize),
}

impl Asks {
    /// So many rows and no others.
    pub fn just(rows: usize) -> Asks {
        Asks { least: rows, whole: rows, wish: Some(rows), step: (0, 1) }
    }

    /// At least so many rows.
    pub fn from(least: usize) -> Asks {
        Asks { least, whole: least, wish: None, step: (0, 1) }
    }

    /// At least so many rows, and enough with so many.
    pub fn between(least: usize, wish: usize) -> Asks {
        Asks { least, whole: least, wish: Some(wish), step: (0, 1) }
    }
}
