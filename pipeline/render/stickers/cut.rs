//! A sheet with many drawings becomes one sticker each.
//!
//! The drawings are told apart by the clear space between them. Where the designer says how many there must be, by names or by
//! a count, another number is a fault that shows every drawing with its box: nothing is sold under a wrong name.

mod naming;

use super::StickerContext;
use super::drawn::drawn_whole;
use base::model::drawing::Picture;
use base::model::product::{CutSheet, Edges, SheetSize, Sticker, StickerSource};
use base::model::units::trim_number;
use base::model::{Fault, Mm, SourceSpan};
use raster::decode::check_size;
use raster::parts;
use raster::parts::{Part, Parts, Rules};
use raster::{Raster, fringe};
use rayon::prelude::*;
use resvg::usvg;
use std::borrow::Cow;
use std::sync::Arc;

/// Pixels to the inch in SVG (CSS Values and Units: 1 in is 96 px).
const SVG_DPI: f64 = 96.0;
/// Boxes that a message shows at most.
const SHOWN: usize = 40;

/// The stickers of a sheet.
#[derive(Clone, Debug)]
pub struct Pieces {
    /// In reading order.
    pub stickers: Vec<Sticker>,
    /// Where each lies on the sheet, in mm from its top left: x, y, width, height.
    pub places: Vec<[f64; 4]>,
    /// Stray specks that were dropped.
    pub specks: usize,
    /// Pixels to the inch that the sheet has at its placed size.
    pub dpi: f64,
    /// What the designer should know.
    pub notes: Vec<String>,
}

/// The sticker that a piece of a sheet becomes; `like` is what every sticker of the sheet shares. The picture carries its
/// name.
pub fn piece(like: &Sticker, picture: Arc<Picture>, longest: Mm) -> Sticker {
    Sticker {
        name: picture.name.clone(),
        source: StickerSource::Png(picture),
        longest,
        // What was to be done at the edges was done on the whole sheet.
        edges: Edges::Keep,
        ..like.clone()
    }
}

/// A sheet as pixels, taken apart.
struct Taken<'a> {
    /// Those of the art itself where it is pixels: a large sheet takes hundreds of megabytes.
    raster: Cow<'a, Raster>,
    found: Parts,
    dpi: f64,
}

/// Where the pixels of a sheet come from.
enum Art<'s> {
    Drawn(Box<usvg::Tree>),
    Pixels(Raster, &'s Picture),
}

impl StickerContext<'_> {
    /// Cuts a sheet. Each piece is a sticker whose art is a picture at its true size.
    ///
    /// # Errors
    /// A sheet without a transparent ground, without drawings, or with another number of them than was said.
    pub fn cut_sheet(&self, sheet: &CutSheet) -> Result<Pieces, Fault> {
        let mut notes = Vec::new();
        let art = self.art(sheet, &mut notes).map_err(|f| placed(f, sheet))?;
        let taken = fitted(sheet, &art).map_err(|f| placed(f, sheet))?;
        let Taken { raster, found, dpi } = &taken;
        let tree = if let Art::Drawn(tree) = &art { Some(&**tree) } else { None };
        let names = naming::names(sheet, tree, raster, &found.parts);
        numbers(sheet, &taken, &names)?;
        if found.specks > 0 {
            let are = if found.specks == 1 { "stray speck was" } else { "stray specks were" };
            notes.push(format!("{} {are} dropped", found.specks));
        }
        for (part, name) in found.parts.iter().zip(&names) {
            let a = part.area;
            if a.x == 0 || a.y == 0 || a.x + a.w == raster.w || a.y + a.h == raster.h {
                notes.push(format!("“{name}” touches the edge of the sheet: is it all there?"));
            }
        }
        let mm = |v: usize| v as f64 / dpi * 25.4;
        let piece = |(part, name): (&Part, &String)| {
            let art = found.lift(raster, part);
            // A clear margin: art that fills its box is no picture without a clear ground. Small, because all pieces of a sheet
            // wait for each other while the sheet itself still lies in memory.
            let picture = art.padded(1).picture(name);
            let picture = Picture { rgba: picture.rgba.held_small(), ..picture };
            self::piece(&sheet.like, Arc::new(picture), Mm(mm(art.w.max(art.h))))
        };
        let places = |p: &Part| [mm(p.area.x), mm(p.area.y), mm(p.area.w), mm(p.area.h)];
        Ok(Pieces {
            stickers: found.parts.par_iter().zip(&names).map(piece).collect(),
            places: found.parts.iter().map(places).collect(),
            specks: found.specks,
            dpi: *dpi,
            notes: notes.into_iter().map(|n| format!("{}: {n}", sheet.path)).collect(),
        })
    }

    /// The drawing or the pixels of a sheet.
    fn art<'s>(&self, sheet: &'s CutSheet, notes: &mut Vec<String>) -> Result<Art<'s>, Fault> {
        match &sheet.source {
            StickerSource::Svg(path, text) => {
                let art = self.svg.read(path, text)?;
                notes.extend(art.left_out);
                Ok(Art::Drawn(Box::new(art.tree)))
            }
            StickerSource::Png(picture) => {
                check_size(picture.width.into(), picture.height.into())?;
                let mut raster = Raster::of(picture);
                if raster.px.iter().all(|p| p[3] == 255) {
                    return Err(Fault::new("the whole sheet is one part: its ground is not transparent")
                        .help("export it without a background"));
                }
                raster.clean();
                if let Some(f) = fringe::clear(&mut raster, sheet.like.edges) {
                    notes.push(format!(
                        "{} edge pixels of the sheet carried the colour of an old background, about {}; it was taken off",
                        f.pixels, f.matte
                    ));
                }
                Ok(Art::Pixels(raster, picture))
            }
            StickerSource::BuiltIn(name, _) => Err(Fault::new(format!("“{name}” is one sticker, not a sheet"))),
        }
    }
}

/// Takes a sheet apart at its placed size. Where that is said of its longest drawing, the size and the drawings depend
/// on each other (the gap is one in mm), so it is looked for in a few steps.
fn fitted<'a>(sheet: &CutSheet, art: &'a Art) -> Result<Taken<'a>, Fault> {
    let own = match art {
        Art::Drawn(tree) => f64::from(tree.size().width()) / SVG_DPI * 25.4,
        Art::Pixels(_, picture) => f64::from(picture.width) / sheet.like.dpi * 25.4,
    };
    let mut width = if let SheetSize::Width(w) = sheet.size { w.0 } else { own };
    let mut taken = apart(sheet, art, width)?;
    if let SheetSize::Longest(wanted) = sheet.size {
        for _ in 0..5 {
            let longest = taken.found.parts.iter().map(|p| p.area.w.max(p.area.h)).max().unwrap_or(1);
            let factor = wanted.0 / (longest as f64 / taken.dpi * 25.4);
            if (factor - 1.0).abs() < 0.002 {
                break;
            }
            width *= factor;
            taken = apart(sheet, art, width)?;
        }
    }
    Ok(taken)
}

/// Takes a sheet apart that is `width` mm wide.
fn apart<'a>(sheet: &CutSheet, art: &'a Art, width: f64) -> Result<Taken<'a>, Fault> {
    let raster = match art {
        Art::Drawn(tree) => {
            let wide = (width / 25.4 * sheet.like.dpi).round();
            let high = wide * f64::from(tree.size().height()) / f64::from(tree.size().width());
            check_size(wide.max(0.0) as u64, high.ceil().max(0.0) as u64)?;
            let mut raster = drawn_whole(tree, wide)?;
            raster.clean();
            Cow::Owned(raster)
        }
        Art::Pixels(raster, _) => Cow::Borrowed(raster),
    };
    let dpi = raster.w as f64 / (width / 25.4);
    let px = |mm: Mm| mm.0.max(0.0) / 25.4 * dpi;
    let speck = px(sheet.speck).powi(2).round() as usize;
    let found = parts::parts(&raster, &Rules { gap: px(sheet.gap), speck, reading: sheet.reading });
    if found.parts.is_empty() {
        return Err(Fault::new("no drawing was found on the sheet")
            .help("its ground must be transparent; whatever is smaller than the speck size is dropped"));
    }
    if found.parts.len() == 1 && raster.px.iter().all(|p| p[3] == 255) {
        return Err(Fault::new("the whole sheet is one part: its ground is not transparent")
            .help("export it without a background"));
    }
    Ok(Taken { raster, found, dpi })
}

/// Holds the number of drawings against what the designer says of it.
fn numbers(sheet: &CutSheet, taken: &Taken, names: &[String]) -> Result<(), Fault> {
    let found = taken.found.parts.len();
    let holds = format!("{} holds {found}", sheet.path);
    let (said, span) = if !sheet.names.is_empty() && sheet.names.len() != found {
        let n = sheet.names.len();
        let are = if n == 1 { "1 name is given".to_owned() } else { format!("{n} names are given") };
        (format!("{are}, and {holds} drawings"), &sheet.spans.names)
    } else if let Some(n) = sheet.count.filter(|n| *n != found) {
        (format!("the count is {n}, and {holds} drawings"), &sheet.spans.count)
    } else {
        return Ok(());
    };
    let help = format!(
        "in reading order there are {}; a wider gap joins parts of one drawing, a smaller one parts two, and a larger \
         speck drops crumbs",
        boxes(sheet, taken, names)
    );
    Err(at(Fault::new(said).help(help), sheet, span.as_ref()))
}

/// Every drawing with its box: pixels of a picture, mm of a drawing.
fn boxes(sheet: &CutSheet, taken: &Taken, names: &[String]) -> String {
    let pixels = matches!(sheet.source, StickerSource::Png(_));
    let number = |v: usize| {
        if pixels { v.to_string() } else { trim_number(v as f64 / taken.dpi * 25.4, 1) }
    };
    let unit = if pixels { "px" } else { "mm" };
    let parts = &taken.found.parts;
    let one = |(i, part): (usize, &Part)| {
        let [x, y, w, h] = [part.area.x, part.area.y, part.area.w, part.area.h].map(number);
        let name = names.get(i).filter(|_| i < sheet.names.len() || sheet.names.is_empty());
        let name = name.map_or_else(String::new, |n| format!(" {n}"));
        format!("{}{name} ({w} × {h} {unit} at {x}, {y})", i + 1)
    };
    let mut list: Vec<String> = parts.iter().enumerate().take(SHOWN).map(one).collect();
    if parts.len() > SHOWN {
        list.push(format!("{} more", parts.len() - SHOWN));
    }
    list.join(", ")
}

/// The fault at the place in the manifest that names the sheet, with the sheet's own name in front.
fn placed(fault: Fault, sheet: &CutSheet) -> Fault {
    let about = match fault.file.as_deref() {
        Some(file) if file != sheet.path => format!("{}: {file}: {}", sheet.path, fault.message),
        _ => format!("{}: {}", sheet.path, fault.message),
    };
    at(Fault { message: about, file: None, ..fault }, sheet, sheet.spans.file.as_ref())
}

fn at(fault: Fault, sheet: &CutSheet, span: Option<&SourceSpan>) -> Fault {
    match span {
        Some(span) => fault.in_file(sheet.spans.manifest.as_str()).at(span.clone()),
        None => fault.in_file(sheet.path.as_str()),
    }
}
