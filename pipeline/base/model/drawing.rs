//! A device-independent drawing: shapes, text and pictures in page space, ready for PDF, SVG or pixels.

use super::blob::Blob;
use super::font::FontFile;
use super::geometry::{Point, Rect, Size};
use super::pixels::Pixels;
use super::units::{Rgb, between};
use std::collections::BTreeMap;
use std::sync::Arc;

/// An ordered list of shapes; later ones lie on top.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize)]
pub struct Drawing {
    /// The shapes, bottom first.
    pub shapes: Vec<Shape>,
    /// Texts that had to be cut, since their room is too small for them.
    pub cuts: Vec<Cut>,
}

/// A text that is shown in part only, or not at all.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Cut {
    /// What it says.
    pub whole: String,
    /// What is shown.
    pub shown: String,
    /// How much wider it is than its room in the smallest type that is set there, in points.
    pub by: f64,
    /// Its room.
    pub room: Rect,
}

/// One thing that is drawn.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub enum Shape {
    /// A path that is filled, stroked or both (fill first).
    Path {
        /// Its outline.
        path: Path,
        /// Fill colour (non-zero winding), if any.
        fill: Option<Rgb>,
        /// Line, if any.
        stroke: Option<Stroke>,
    },
    /// A path that is filled with colours which run into each other.
    Graded {
        /// Its outline (non-zero winding).
        path: Path,
        /// The colours.
        grade: Grade,
    },
    /// The outlines of a line of text, filled with colours that run into each other. They hold no words: the text itself
    /// lies below them.
    GradedText {
        /// The text.
        run: TextRun,
        /// The colours.
        grade: Grade,
    },
    /// Round dots of one size and colour.
    Dots {
        /// Their middles.
        at: Vec<Point>,
        /// Diameter in points.
        diameter: f64,
        /// Colour.
        colour: Rgb,
    },
    /// One line of text.
    Text(TextRun),
    /// A picture stretched to a rectangle.
    Picture {
        /// The pixels, shared by all its uses.
        picture: Arc<Picture>,
        /// Where it lands before it is turned.
        at: Rect,
        /// How far it is turned about its middle, in degrees clockwise.
        turn: f64,
    },
    /// A square picture that is repeated from the upper left of a path's box, and seen within the path.
    Tiled {
        /// The outline (non-zero winding).
        path: Path,
        /// The pixels, shared by all their uses.
        picture: Arc<Picture>,
        /// How long each side of the picture is laid, in points.
        side: f64,
        /// What lies below it: of the colour of its pixels on an average, nothing is seen where two of them meet.
        ground: Rgb,
    },
    /// Artwork, stored once however often it is used.
    Art {
        /// The artwork, shared by all its uses.
        art: Arc<Art>,
        /// Where the whole of it lands.
        at: Rect,
        /// What of it is seen; the rest is cut off.
        clip: Rect,
    },
    /// Another drawing, stored once under this number in its document, placed scaled from its top left corner.
    Form {
        /// Index into the document's forms.
        form: usize,
        /// Where the form's top left corner lands.
        at: Point,
        /// Scale factor; 1 is the form's own size.
        scale: f64,
    },
}

/// Colours that run into each other along a line and are the same across it, as light lies on metal and on satin.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Grade {
    /// Where it begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// The colours, each with its place: two at least, in order, the first at 0 and the last at 1. Beyond its ends it goes
    /// on as it is there.
    pub tones: Vec<(f64, Rgb)>,
}

impl Grade {
    /// The same with its two ends elsewhere.
    pub fn at(self, place: impl Fn(Point) -> Point) -> Grade {
        Grade { from: place(self.from), to: place(self.to), ..self }
    }
}

/// Artwork that is stored once in a document however often it is used.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Art {
    /// A name for messages.
    pub name: String,
    /// What it is made of.
    pub source: ArtBytes,
    /// Its size in points, whatever the file's own units are.
    pub size: Size,
}

/// What artwork is made of: the input, not what a library makes of it.
#[derive(Clone, PartialEq, borsh::BorshSerialize)]
pub enum ArtBytes {
    /// A page of a PDF file.
    Page {
        /// The file's bytes.
        pdf: Blob,
        /// Which page, from 0.
        page: usize,
    },
    /// An SVG drawing.
    Drawing(Arc<SvgArt>),
}

/// An SVG drawing, filled in and without its tap areas, and the fonts that its texts are set in.
#[derive(PartialEq, borsh::BorshSerialize)]
pub struct SvgArt {
    /// The SVG document.
    pub text: String,
    /// The fonts.
    pub fonts: Arc<ArtFonts>,
}

/// The fonts that drawings may use.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize)]
pub struct ArtFonts {
    /// Those of the product's style.
    pub style: FontFiles,
    /// More, which only drawings use.
    pub more: Vec<FontFile>,
}

impl ArtBytes {
    /// The input's bytes: the PDF file, or the drawing's text.
    pub fn bytes(&self) -> &[u8] {
        match self {
            ArtBytes::Page { pdf, .. } => pdf,
            ArtBytes::Drawing(drawing) => drawing.text.as_bytes(),
        }
    }

    /// Where those bytes lie: the same for art of the same file or drawing.
    pub fn address(&self) -> usize {
        self.bytes().as_ptr() as usize
    }
}

impl std::fmt::Debug for ArtBytes {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            ArtBytes::Page { pdf, page } => write!(f, "page {page} of {} bytes", pdf.len()),
            ArtBytes::Drawing(drawing) => write!(f, "drawing of {} bytes", drawing.text.len()),
        }
    }
}

/// A picture: pixels and where they came from.
#[derive(Clone, PartialEq, borsh::BorshSerialize)]
pub struct Picture {
    /// A name for messages.
    pub name: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// 8-bit sRGB with straight alpha, row by row, 4 bytes a pixel.
    pub rgba: Pixels,
}

impl std::fmt::Debug for Picture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Picture({} {}x{})", self.name, self.width, self.height)
    }
}

/// A step of a path.
#[derive(Clone, Copy, Debug, PartialEq, borsh::BorshSerialize)]
pub enum Seg {
    /// Starts a new subpath.
    Move(Point),
    /// A straight line.
    Line(Point),
    /// A cubic Bézier curve: two control points, then the end.
    Cubic(Point, Point, Point),
    /// Closes the subpath.
    Close,
}

/// An outline made of segments.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize)]
pub struct Path(pub Vec<Seg>);

/// Line ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Cap {
    /// Cut off at the end point.
    #[default]
    Butt,
    /// A half circle beyond the end point; corners are rounded too.
    Round,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Stroke {
    /// Width in points.
    pub width: f64,
    /// Colour.
    pub colour: Rgb,
    /// Ends (and, when round, corners).
    pub cap: Cap,
    /// Dash and gap lengths in points; `None` is a solid line.
    pub dash: Option<(f64, f64)>,
}

impl Stroke {
    /// A solid line with cut ends.
    pub const fn new(width: f64, colour: Rgb) -> Stroke {
        Stroke { width, colour, cap: Cap::Butt, dash: None }
    }

    /// The same with round ends and corners.
    pub const fn round(self) -> Stroke {
        Stroke { cap: Cap::Round, ..self }
    }

    /// The same, dashed.
    pub const fn dashed(self, dash: f64, gap: f64) -> Stroke {
        Stroke { dash: Some((dash, gap)), ..self }
    }
}

/// What a text is for; the product's style says which font serves each role.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, borsh::BorshSerialize)]
pub enum Role {
    /// Titles, big numerals.
    Heading,
    /// Titles in italics.
    HeadingItalic,
    /// Labels, running text.
    Label,
    /// Strong labels.
    LabelBold,
    /// Emphasis in running text.
    LabelItalic,
    /// Small labels in small capitals, in the font of labels.
    SmallCapitals,
}

impl Role {
    /// Whether its figures stand in grids and lists: those of titles are as the typeface has them.
    pub fn stands_in_columns(self) -> bool {
        matches!(self, Role::Label | Role::LabelBold | Role::SmallCapitals)
    }

    /// The role whose fonts it is set in: its own, unless it is another dress of one.
    pub fn of_fonts(self) -> Role {
        if self == Role::SmallCapitals { Role::Label } else { self }
    }

    /// Every role that has fonts of its own, in a fixed order.
    pub const ALL: [Role; 5] = [Role::Heading, Role::HeadingItalic, Role::Label, Role::LabelBold, Role::LabelItalic];
}

/// The files of each role, in the order in which they are asked for a character.
pub type FontFiles = BTreeMap<Role, Vec<FontFile>>;

/// Which way a text runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Turn {
    /// Left to right.
    #[default]
    None,
    /// A quarter turn clockwise: reads from top to bottom.
    Down,
    /// A quarter turn anticlockwise: reads from bottom to top.
    Up,
}

/// One line of text in one font. `draw::text` measures and places such runs.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct TextRun {
    /// What it says.
    pub text: String,
    /// Which font of the style.
    pub role: Role,
    /// Font size in points.
    pub size: f64,
    /// Where the baseline begins.
    pub at: Point,
    /// Direction of the baseline.
    pub turn: Turn,
    /// Extra space after each glyph, in em.
    pub tracking: f64,
    /// Colour.
    pub colour: Rgb,
}

/// Distance of the control points that make a cubic Bézier quarter circle of radius 1
/// (4/3 (√2 − 1), the usual approximation, off by at most 0.03 %).
const QUARTER: f64 = 0.552_284_749_830_793_6;

/// The points of a part of a path in their order, those that curves are drawn towards among them.
pub fn points(segments: &[Seg]) -> impl Iterator<Item = Point> {
    segments.iter().flat_map(|seg| {
        let (points, count) = match *seg {
            Seg::Move(p) | Seg::Line(p) => ([p; 3], 1),
            Seg::Cubic(a, b, c) => ([a, b, c], 3),
            Seg::Close => ([Point::new(0.0, 0.0); 3], 0),
        };
        points.into_iter().take(count)
    })
}

impl Path {
    /// All of its points in their order, those that curves are drawn towards among them.
    pub fn points(&self) -> impl Iterator<Item = Point> {
        points(&self.0)
    }

    /// The smallest upright rectangle that holds all of its points.
    pub fn bounds(&self) -> Rect {
        let box_of = |[x0, y0, x1, y1]: [f64; 4], p: Point| [x0.min(p.x), y0.min(p.y), x1.max(p.x), y1.max(p.y)];
        let corners = self.points().fold(None, |found, p| Some(box_of(found.unwrap_or([p.x, p.y, p.x, p.y]), p)));
        corners.map_or(Rect::new(0.0, 0.0, 0.0, 0.0), |[x0, y0, x1, y1]| Rect::new(x0, y0, x1 - x0, y1 - y0))
    }

    /// A straight line.
    pub fn line(a: Point, b: Point) -> Path {
        Path(vec![Seg::Move(a), Seg::Line(b)])
    }

    /// A chain of straight lines, closed or open.
    pub fn polyline(points: &[Point], closed: bool) -> Path {
        let mut segs: Vec<Seg> =
            points.iter().enumerate().map(|(i, p)| if i == 0 { Seg::Move(*p) } else { Seg::Line(*p) }).collect();
        if closed && !segs.is_empty() {
            segs.push(Seg::Close);
        }
        Path(segs)
    }

    /// A rectangle.
    pub fn rect(r: Rect) -> Path {
        Path::polyline(
            &[
                Point::new(r.x, r.y),
                Point::new(r.right(), r.y),
                Point::new(r.right(), r.bottom()),
                Point::new(r.x, r.bottom()),
            ],
            true,
        )
    }

    /// A rectangle with rounded corners of one radius.
    pub fn rounded(r: Rect, radius: f64) -> Path {
        Path::rounded_each(r, [radius; 4])
    }

    /// A rectangle with its own radius for the top left, top right, bottom right and bottom left corner.
    pub fn rounded_each(r: Rect, radii: [f64; 4]) -> Path {
        let most = (r.w / 2.0).min(r.h / 2.0);
        let [tl, tr, br, bl] = radii.map(|q| between(q, 0.0, most));
        let (x0, y0, x1, y1) = (r.x, r.y, r.right(), r.bottom());
        let p = Point::new;
        let k = 1.0 - QUARTER;
        let mut s = vec![Seg::Move(p(x0 + tl, y0)), Seg::Line(p(x1 - tr, y0))];
        if tr > 0.0 {
            s.push(Seg::Cubic(p(x1 - tr * k, y0), p(x1, y0 + tr * k), p(x1, y0 + tr)));
        }
        s.push(Seg::Line(p(x1, y1 - br)));
        if br > 0.0 {
            s.push(Seg::Cubic(p(x1, y1 - br * k), p(x1 - br * k, y1), p(x1 - br, y1)));
        }
        s.push(Seg::Line(p(x0 + bl, y1)));
        if bl > 0.0 {
            s.push(Seg::Cubic(p(x0 + bl * k, y1), p(x0, y1 - bl * k), p(x0, y1 - bl)));
        }
        s.push(Seg::Line(p(x0, y0 + tl)));
        if tl > 0.0 {
            s.push(Seg::Cubic(p(x0, y0 + tl * k), p(x0 + tl * k, y0), p(x0 + tl, y0)));
        }
        s.push(Seg::Close);
        Path(s)
    }

    /// An ellipse that fills a rectangle.
    pub fn ellipse(r: Rect) -> Path {
        let (c, a, b) = (r.centre(), r.w / 2.0, r.h / 2.0);
        let (ka, kb) = (a * QUARTER, b * QUARTER);
        let p = |x: f64, y: f64| Point::new(c.x + x, c.y + y);
        Path(vec![
            Seg::Move(p(a, 0.0)),
            Seg::Cubic(p(a, kb), p(ka, b), p(0.0, b)),
            Seg::Cubic(p(-ka, b), p(-a, kb), p(-a, 0.0)),
            Seg::Cubic(p(-a, -kb), p(-ka, -b), p(0.0, -b)),
            Seg::Cubic(p(ka, -b), p(a, -kb), p(a, 0.0)),
            Seg::Close,
        ])
    }

    /// A circle.
    pub fn circle(centre: Point, radius: f64) -> Path {
        Path::ellipse(Rect::new(centre.x - radius, centre.y - radius, 2.0 * radius, 2.0 * radius))
    }

    /// A closed path of one piece, run through backwards.
    pub fn reversed(&self) -> Path {
        let mut points: Vec<(Seg, Point)> = Vec::new();
        let mut at = Point::default();
        for seg in &self.0 {
            points.push((*seg, at));
            match seg {
                Seg::Move(p) | Seg::Line(p) | Seg::Cubic(_, _, p) => at = *p,
                Seg::Close => {}
            }
        }
        let mut out = vec![Seg::Move(at)];
        for (seg, from) in points.iter().rev() {
            match seg {
                Seg::Line(_) => out.push(Seg::Line(*from)),
                Seg::Cubic(a, b, _) => out.push(Seg::Cubic(*b, *a, *from)),
                Seg::Move(_) | Seg::Close => {}
            }
        }
        out.push(Seg::Close);
        Path(out)
    }

    /// Every segment moved and scaled: `p ↦ at + scale · p`.
    pub fn placed(&self, at: Point, scale: f64) -> Path {
        self.moved(|p: Point| Point::new(at.x + scale * p.x, at.y + scale * p.y))
    }

    /// Every point of it elsewhere.
    pub fn moved(&self, f: impl Fn(Point) -> Point) -> Path {
        Path(
            self.0
                .iter()
                .map(|s| match *s {
                    Seg::Move(p) => Seg::Move(f(p)),
                    Seg::Line(p) => Seg::Line(f(p)),
                    Seg::Cubic(a, b, c) => Seg::Cubic(f(a), f(b), f(c)),
                    Seg::Close => Seg::Close,
                })
                .collect(),
        )
    }
}

impl Drawing {
    /// An empty drawing.
    pub fn new() -> Drawing {
        Drawing::default()
    }

    /// Adds a shape on top.
    pub fn push(&mut self, shape: Shape) {
        self.shapes.push(shape);
    }

    /// Adds all shapes of another drawing on top.
    pub fn extend(&mut self, other: Drawing) {
        self.shapes.extend(other.shapes);
        self.cuts.extend(other.cuts);
    }

    /// Fills a path.
    pub fn fill(&mut self, path: Path, colour: Rgb) {
        self.push(Shape::Path { path, fill: Some(colour), stroke: None });
    }

    /// Strokes a path.
    pub fn stroke(&mut self, path: Path, stroke: Stroke) {
        self.push(Shape::Path { path, fill: None, stroke: Some(stroke) });
    }

    /// Fills a path, then strokes it.
    pub fn fill_stroke(&mut self, path: Path, colour: Rgb, stroke: Stroke) {
        self.push(Shape::Path { path, fill: Some(colour), stroke: Some(stroke) });
    }

    /// Fills a path with colours that run into each other.
    pub fn grade(&mut self, path: Path, grade: Grade) {
        self.push(Shape::Graded { path, grade });
    }

    /// A straight line.
    pub fn line(&mut self, x0: f64, y0: f64, x1: f64, y1: f64, stroke: Stroke) {
        self.stroke(Path::line(Point::new(x0, y0), Point::new(x1, y1)), stroke);
    }
}
