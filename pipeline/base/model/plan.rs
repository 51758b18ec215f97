//! The plan: everything that will be made, and every promise that it makes.

use super::artifact::Kind;
use super::drawing::Drawing;
use super::finding::{Finding, Where};
use super::finished::FinishedPlan;
use super::geometry::Size;
use super::held_once::HeldOnce;
use super::pdf_plan::PdfPlan;
use super::shot::Composed;
use super::sticker::Sticker;

/// A PNG to be made of finished pictures.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct PicturePlan {
    /// Size in points.
    pub size: Size,
    /// Resolution.
    pub dpi: f64,
    /// What is drawn on the clear ground.
    pub drawing: Drawing,
}

/// One file to be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Path in the bundle: `contents/…`.
    pub path: String,
    /// What it is.
    pub kind: Kind,
    /// How it is made.
    pub make: Make,
}

/// How a file is made.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
// A sticker is the most frequent of them: in a box of its own it would cost more than it saves.
#[allow(clippy::large_enum_variant)]
pub enum Make {
    /// Drawn as a PDF.
    Pdf(Box<PdfPlan>),
    /// A finished PDF, with what is laid over it.
    Finished(Box<FinishedPlan>),
    /// Drawn, trimmed and written as a PNG.
    Sticker(Sticker),
    /// Pictures and words on a clear ground, written as one PNG.
    Picture(Box<PicturePlan>),
    /// A text, already final.
    Text(String),
}

impl Item {
    /// Lets go of what is drawn on its pages. Where they are, what leads where and what it is called stays, equal texts once.
    pub fn forget_drawings(&mut self) {
        if let Make::Pdf(pdf) = &mut self.make {
            pdf.forms = Vec::new();
            let mut held = HeldOnce::default();
            for page in &mut pdf.pages {
                page.drawing = Drawing::default();
                for link in &mut page.links {
                    held.take(&mut link.says);
                    link.target.texts(|text| held.take(text));
                }
                page.links.shrink_to_fit();
            }
        }
    }

    /// Pages of the file; 0 for what has none.
    pub fn pages(&self) -> usize {
        match &self.make {
            Make::Pdf(pdf) => pdf.pages.len(),
            Make::Finished(finished) => finished.over.pages.len(),
            Make::Sticker(_) | Make::Picture(_) | Make::Text(_) => 0,
        }
    }
}

/// Something that came up while the plan was made, and that the designer should know of.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Remark {
    /// What it is about.
    pub about: About,
    /// Where it is.
    pub place: Where,
    /// What is so, with the numbers.
    pub message: String,
}

/// What a remark is about; each has its check in the catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum About {
    /// Art of another shape than its room.
    ArtShape,
    /// A font that a text in a drawing asks for and the product does not have.
    ArtFont,
    /// A character that no font of the product has.
    ArtCharacter,
    /// A tap area of art that lies under one of the tool's own.
    ArtLink,
    /// An object of art that looks like a tap area and leads nowhere.
    ArtLinkUnclear,
    /// Something in art that is left out of the page.
    ArtLeftOut,
    /// A text that is too long for its room.
    TextTooLong,
    /// A character of a text that its font does not have.
    GlyphMissing,
    /// A list of dates that leaves a part of the planner bare.
    DatesStale,
    /// A date that lies outside of the planner, or a rule that never happens in it.
    DatesOutside,
    /// A yearly event of 29 February that does not say what it does in common years.
    LeapUnsaid,
    /// A time whose zone is not said or not known.
    ZoneUnsaid,
    /// A recurrence that could not be followed to its end.
    RuleUnread,
    /// Texts of the tool's own that it does not have in the language of the product.
    WordsMissing,
    /// Texts of the designer's own that she has in other languages alone.
    TextUntranslated,
    /// A variable font whose weight nobody states.
    WeightUnsaid,
    /// Figures or small capitals that a font does not have.
    LettersMissing,
    /// An icon of a template that stands on no page.
    IconUnseen,
}

/// Everything that will be made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// The items in order.
    pub items: Vec<Item>,
    /// The listing pictures, once they are composed.
    pub pictures: Vec<Composed>,
    /// What came up while it was made.
    pub remarks: Vec<Remark>,
    /// What was found in what is drawn on its pages, while that was at hand.
    pub looked: Vec<Finding>,
}
