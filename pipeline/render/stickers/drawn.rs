//! Vector drawings into pixels, at a size that is said of what can be seen and not of the canvas.
//!
//! Where the art lies on its canvas is known from its shapes, unless it is clipped, masked or filtered: then it is
//! rendered roughly first and looked at.

use base::model::{Fault, panics};
use draw::limits;
use raster::decode::MOST_PIXELS;
use raster::{Area, Raster};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg;

/// Clear pixels kept round a drawing while it is rendered, so that nothing is lost at the edges.
const MARGIN: f64 = 2.0;
/// Longest side of the first, rough rendering that finds out where the art lies.
const PROBE: f64 = 512.0;

/// Renders a drawing so that what can be seen of it is `target` pixels long, and trims it to that.
pub fn drawn(tree: &usvg::Tree, target: usize) -> Result<Raster, Fault> {
    let blank = || {
        Fault::new("nothing can be seen in the drawing")
            .help("its shapes may be white, hidden, or outside of its canvas")
    };
    let page = Box2 { x: 0.0, y: 0.0, w: f64::from(tree.size().width()), h: f64::from(tree.size().height()) };
    let root = tree.root();
    let layer = root.abs_layer_bounding_box();
    let stroked = root.abs_stroke_bounding_box();
    // Filters reach beyond the shapes; without them the two boxes agree and the art's place is known at once.
    let plain = (layer.width() - stroked.width()).abs() < 1e-3 && (layer.height() - stroked.height()).abs() < 1e-3;
    let mut place = Box2::of(if plain { stroked } else { layer.to_rect() }).within(page).ok_or_else(blank)?;
    if !plain {
        let (rough, scale) = rendered(tree, place, page, PROBE.min(target as f64 * 2.0))?;
        place = located(&rough, place, scale).ok_or_else(blank)?.grown(1.0 / scale).within(page).ok_or_else(blank)?;
    }
    for last in [false, false, true] {
        let (mut raster, scale) = rendered(tree, place, page, target as f64)?;
        raster.clean();
        let ink = raster.ink().ok_or_else(blank)?;
        if last || ink.w.max(ink.h) == target {
            return Ok(raster.crop(ink));
        }
        // Clipped or masked art is smaller than its shapes: look again at what is there.
        place = located(&raster, place, scale).ok_or_else(blank)?;
    }
    Err(blank())
}

/// Renders a whole canvas, `wide` pixels across.
pub fn drawn_whole(tree: &usvg::Tree, wide: f64) -> Result<Raster, Fault> {
    let (w, h) = (f64::from(tree.size().width()), f64::from(tree.size().height()));
    let page = Box2 { x: 0.0, y: 0.0, w, h };
    let (raster, _) = rendered(tree, page, page, wide * w.max(h) / w)?;
    let m = MARGIN as usize;
    Ok(raster.crop(Area { x: m, y: m, w: raster.w - 2 * m, h: raster.h - 2 * m }))
}

/// A rectangle of a drawing, in its own units.
#[derive(Clone, Copy, Debug)]
struct Box2 {
    x: f64,
    y: f64,
    w: f64,
    h: f64,
}

impl Box2 {
    fn of(r: usvg::tiny_skia_path::Rect) -> Box2 {
        Box2 { x: r.x().into(), y: r.y().into(), w: r.width().into(), h: r.height().into() }
    }

    fn grown(self, by: f64) -> Box2 {
        Box2 { x: self.x - by, y: self.y - by, w: self.w + 2.0 * by, h: self.h + 2.0 * by }
    }

    fn within(self, page: Box2) -> Option<Box2> {
        let (x0, y0) = (self.x.max(page.x), self.y.max(page.y));
        let (x1, y1) = ((self.x + self.w).min(page.x + page.w), (self.y + self.h).min(page.y + page.h));
        (x1 > x0 && y1 > y0).then_some(Box2 { x: x0, y: y0, w: x1 - x0, h: y1 - y0 })
    }
}

/// Renders the part of a drawing at `place`, `longest` pixels long, with a clear margin. Gives the scale, too.
fn rendered(tree: &usvg::Tree, place: Box2, page: Box2, longest: f64) -> Result<(Raster, f64), Fault> {
    let scale = longest / place.w.max(place.h);
    let side = |v: f64| ((v * scale - 1e-3).ceil().max(1.0) + 2.0 * MARGIN) as u32;
    let (w, h) = (side(place.w), side(place.h));
    if u64::from(w) * u64::from(h) > MOST_PIXELS {
        return Err(Fault::new(format!(
            "the sticker would be {w} × {h} px; {} million in all are the most",
            MOST_PIXELS / 1_000_000
        ))
        .help("make it smaller, or its dpi lower"));
    }
    let mut pixmap = Pixmap::new(w, h).ok_or_else(|| Fault::new(format!("no memory for {w} × {h} px")))?;
    let (dx, dy) = (MARGIN - place.x * scale, MARGIN - place.y * scale);
    let way = Transform::from_row(scale as f32, 0.0, 0.0, scale as f32, dx as f32, dy as f32);
    limits::work(tree, limits::Paper::Picture(scale, f64::from(w) * f64::from(h)))?;
    let draw = || resvg::render(tree, way, &mut pixmap.as_mut());
    panics::fenced(draw).map_err(|gave_up| Fault { file: None, ..gave_up.fault("drawing", "") })?;
    let mut raster = Raster::from_premultiplied(w as usize, h as usize, pixmap.data());
    // What lies outside of the canvas is not part of the picture (SVG 2, overflow of the outermost svg element).
    let (x0, y0) = ((dx - 1e-3).ceil().max(0.0) as usize, (dy - 1e-3).ceil().max(0.0) as usize);
    let (x1, y1) = ((page.w * scale + dx + 1e-3).floor(), (page.h * scale + dy + 1e-3).floor());
    let (x1, y1) = (x1.max(x0 as f64 + 1.0) as usize, y1.max(y0 as f64 + 1.0) as usize);
    for (y, row) in raster.px.chunks_exact_mut(w as usize).enumerate() {
        if y < y0 || y >= y1 {
            row.fill([0; 4]);
        } else {
            row[..x0.min(w as usize)].fill([0; 4]);
            row[x1.min(w as usize)..].fill([0; 4]);
        }
    }
    Ok((raster, scale))
}

/// Where the ink of a rendering lies in the drawing.
fn located(raster: &Raster, place: Box2, scale: f64) -> Option<Box2> {
    let ink = raster.ink()?;
    Some(Box2 {
        x: place.x + (ink.x as f64 - MARGIN) / scale,
        y: place.y + (ink.y as f64 - MARGIN) / scale,
        w: ink.w as f64 / scale,
        h: ink.h as f64 / scale,
    })
}
