//! What it takes to draw a drawing, reckoned where everything lies in it: filters, layers, tiles, dashes.

use super::{MOST_DASHES, MOST_HELD, MOST_STEPS, MOST_TILE};
use base::model::Fault;
use resvg::tiny_skia::{PathSegment, Point};
use resvg::usvg::{Group, Node, Paint, Path, Tree, filter::Filter, filter::Kind};

/// What the drawing is drawn on.
#[derive(Clone, Copy)]
pub enum Paper {
    /// A page: only filters become pixels, so many to a unit.
    Page(f64),
    /// A picture, with so many pixels to a unit, of so many pixels in all.
    Picture(f64, f64),
}

/// Holds a drawing against the limits.
///
/// # Errors
/// The element that asks for too much, with its number and the limit.
pub fn check(tree: &Tree, paper: Paper) -> Result<(), Fault> {
    Reckoning { paper, steps: 0.0, dashes: 0.0 }.group(tree.root(), 0.0)
}

/// Pixels to a unit for the filters of a page: `usual`, or fewer where that is too much and none is coarser for it on the
/// page. (Filters are made into pixels in the space of what is around them, which a drawing may have scaled down.)
pub fn raster_scale(tree: &Tree, usual: f32) -> f32 {
    if check(tree, Paper::Page(usual.into())).is_ok() {
        return usual;
    }
    let mut largest: f32 = 0.0;
    let mut open = vec![(tree.root(), 1.0)];
    while let Some((group, around)) = open.pop() {
        if !group.filters().is_empty() {
            largest = largest.max(around);
        }
        let (sx, sy) = group.abs_transform().get_scale();
        open.extend(
            group
                .children()
                .iter()
                .filter_map(|n| if let Node::Group(g) = n { Some((&**g, sx.max(sy))) } else { None }),
        );
    }
    (usual * largest).min(usual)
}

struct Reckoning {
    paper: Paper,
    steps: f64,
    dashes: f64,
}

impl Reckoning {
    /// `held` pixels are held by the layers around. The nesting was counted before.
    fn group(&mut self, group: &Group, held: f64) -> Result<(), Fault> {
        let mut held = held;
        let area = self.area(group);
        for filter in group.filters() {
            let results = filter.primitives().len() as f64 + 2.0;
            let all = held + area * results;
            if all > MOST_HELD {
                return Err(beyond(&called("filter", filter.id()), all, "pixels at once", MOST_HELD).help(
                    "make the filter's region smaller (x, y, width and height of <filter>), or use fewer steps in it",
                ));
            }
            self.steps += area * self.weight(filter, area);
            if self.steps > MOST_STEPS {
                return Err(beyond(
                    &called("filter", filter.id()),
                    self.steps,
                    "steps from pixel to pixel",
                    MOST_STEPS,
                )
                .help("a smaller region, radius or order, or fewer octaves, take less"));
            }
        }
        if group.should_isolate() {
            if let Paper::Picture(_, whole) = self.paper {
                held += area.min(whole * 25.0);
            }
            if held > MOST_HELD {
                return Err(beyond(&called("group", group.id()), held, "pixels at once", MOST_HELD)
                    .help("leave out opacity, masks and clips of groups within groups"));
            }
        }
        for node in group.children() {
            match node {
                Node::Group(inner) => self.group(inner, held)?,
                Node::Path(path) => self.path(path)?,
                Node::Text(text) => self.group(text.flattened(), held)?,
                Node::Image(_) => {}
            }
        }
        Ok(())
    }

    /// Pixels of a group's layer.
    fn area(&self, group: &Group) -> f64 {
        let (w, h, scale) = match self.paper {
            // The library that makes pages asks for pixels in the space of the group's parent.
            Paper::Page(scale) => {
                let there = group.layer_bounding_box().to_rect().transform(group.transform());
                there.map_or((0.0, 0.0, scale), |r| (f64::from(r.width()), f64::from(r.height()), scale))
            }
            Paper::Picture(scale, _) => {
                let there = group.abs_layer_bounding_box();
                (f64::from(there.width()), f64::from(there.height()), scale)
            }
        };
        w * scale * h * scale
    }

    fn scale(&self) -> f64 {
        match self.paper {
            Paper::Page(scale) | Paper::Picture(scale, _) => scale,
        }
    }

    /// How often a filter works through each pixel of its region.
    fn weight(&self, filter: &Filter, area: f64) -> f64 {
        let across = |radius: f32| f64::from(radius) * self.scale() * 2.0 + 1.0;
        let of = |kind: &Kind| match kind {
            Kind::ConvolveMatrix(m) => f64::from(m.matrix().columns()) * f64::from(m.matrix().rows()),
            Kind::Morphology(m) => (across(m.radius_x().get()) * across(m.radius_y().get())).min(area),
            Kind::Turbulence(t) => 8.0 * f64::from(t.num_octaves().max(1)),
            Kind::DiffuseLighting(_) | Kind::SpecularLighting(_) => 8.0,
            Kind::GaussianBlur(_) | Kind::DropShadow(_) => 4.0,
            _ => 1.0,
        };
        filter.primitives().iter().map(|p| of(p.kind())).sum()
    }

    fn path(&mut self, path: &Path) -> Result<(), Fault> {
        if let Some(stroke) = path.stroke()
            && let Some(dashes) = stroke.dasharray()
        {
            let interval: f64 = dashes.iter().map(|d| f64::from(*d)).sum();
            let length = length(path);
            self.dashes += length / interval.max(1e-12) * dashes.len() as f64;
            if self.dashes > MOST_DASHES {
                let fine = format!(" (its stroke-dasharray comes to {interval} on a line of {length:.0})");
                let fault = beyond(&called("path", path.id()), self.dashes, "dashes", MOST_DASHES);
                return Err(Fault { message: fault.message + &fine, ..fault }
                    .help("longer dashes, or a plain line, look the same"));
            }
        }
        let paints = [path.fill().map(|f| f.paint()), path.stroke().map(|s| s.paint())];
        for paint in paints.into_iter().flatten() {
            let (Paint::Pattern(pattern), Paper::Picture(scale, _)) = (paint, self.paper) else { continue };
            let (sx, sy) = path.abs_transform().pre_concat(pattern.transform()).get_scale();
            let (w, h) = (f64::from(pattern.rect().width()), f64::from(pattern.rect().height()));
            let tile = w * f64::from(sx) * scale * h * f64::from(sy) * scale;
            if tile > MOST_TILE {
                return Err(beyond(&called("pattern", pattern.id()), tile, "pixels for its tile", MOST_TILE)
                    .help("make its width and height smaller"));
            }
            self.group(pattern.root(), 0.0)?;
        }
        Ok(())
    }
}

/// The length of a line, curves by their handles: never too short.
fn length(path: &Path) -> f64 {
    let (mut at, mut first, mut sum) = (Point::zero(), Point::zero(), 0.0);
    let mut to = |from: Point, to: Point| {
        sum += libm::hypot(f64::from(to.x - from.x), f64::from(to.y - from.y));
        to
    };
    for segment in path.data().segments() {
        at = match segment {
            PathSegment::MoveTo(p) => {
                first = p;
                p
            }
            PathSegment::LineTo(p) => to(at, p),
            PathSegment::QuadTo(p, q) => {
                let p = to(at, p);
                to(p, q)
            }
            PathSegment::CubicTo(p, q, r) => {
                let p = to(at, p);
                let q = to(p, q);
                to(q, r)
            }
            PathSegment::Close => to(at, first),
        };
    }
    sum
}

fn called(kind: &str, id: &str) -> String {
    if id.is_empty() { format!("a {kind}") } else { format!("the {kind} `{id}`") }
}

fn beyond(who: &str, asks: f64, what: &str, most: f64) -> Fault {
    Fault::new(format!("{who} takes {asks:.0} {what}; {most:.0} are the most for a drawing"))
}
