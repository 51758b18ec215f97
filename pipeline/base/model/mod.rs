//! The hand-over types: what one stage gives to the next. No input or output happens here.
//!
//! Everything that travels between two rooms has its type in this one, so that the stages need not know
//! each other. All geometry is in PDF points (1/72 inch) with the origin at the **top left** and y
//! growing **down**, as a person reads a page; only the PDF writer and the PDF reader turn it over.

pub mod art;
pub mod artifact;
pub mod assets;
pub mod blob;
pub mod calendar;
pub mod change;
pub mod date;
pub mod dated;
pub mod difference;
pub mod drawing;
pub mod facts;
pub mod fault;
pub mod finding;
pub mod finish;
pub mod finished;
pub mod font;
pub mod geometry;
pub mod held_once;
pub mod kin;
pub mod launch;
pub mod look;
pub mod pack;
pub mod panics;
pub mod pdf_plan;
pub mod pixels;
pub mod placed;
pub mod plan;
pub mod planner;
pub mod product;
pub mod shot;
pub mod sticker;
pub mod structure;
pub mod texts;
pub mod units;
pub mod variant;
pub mod versions;
pub mod weekday;
pub mod words;

pub use artifact::{Artifact, Kind};
pub use blob::{Blob, Sha};
pub use change::{Change, Verdict};
pub use difference::{Comparison, Difference};
pub use drawing::{Drawing, Path, Role, Shape, Stroke, TextRun, Turn};
pub use facts::{Facts, Inspected};
pub use fault::{Fault, SourceSpan, Stop};
pub use finding::{Check, Family, Finding, Severity, Where};
pub use geometry::{Point, Rect, Size};
pub use pdf_plan::{Link, Page, Place, Target};
pub use pixels::Pixels;
pub use plan::{Item, Plan};
pub use product::Product;
pub use sticker::StickerNumbers;
pub use units::{Mm, Pt, Rgb};
pub use variant::{Variant, Variants};
