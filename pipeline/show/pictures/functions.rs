//! What layouts are put together from, as functions of the template language: a ground with light on it, a sheet of
//! paper, a closed book, a sticker, and words that fit the room that they are given.
//!
//! The light comes from the upper left in every picture; shadows are two: a short one where the thing touches the
//! ground, and a long soft one. A shadow stays below and to the right, however its thing is turned.

use super::open_files;
use super::shade::{REACH, Shade};
use super::typecase::{ROLES, family};
use super::words::directed;
use base::colour;
use base::model::drawing::Role;
use base::model::units::trim_number;
use base::model::{Rect, Rgb, Size};
use draw::Fonts;
use draw::cover::{self, Side};
use draw::text::Setting;
use std::fmt::Write;
use std::sync::Arc;
use tera::{Function, Kwargs, State, Tera, TeraResult, Value};

/// The colours of a picture.
#[derive(Clone, Copy, Debug)]
pub struct Palette {
    /// The ground.
    pub ground: Rgb,
    /// Text on the ground.
    pub ink: Rgb,
    /// Quieter text on the ground.
    pub quiet: Rgb,
    /// The accent, dark or light enough to be read on the ground.
    pub accent: Rgb,
    /// Paper.
    pub paper: Rgb,
    /// Shadows.
    pub shadow: Rgb,
}

impl Palette {
    /// The palette that goes with a ground.
    pub fn new(ground: Rgb, ink: Rgb, paper: Rgb, accent: Rgb) -> Palette {
        let text = colour::label_on(ground, ink, paper);
        Palette {
            ground,
            ink: text,
            quiet: colour::deepened(colour::mix(text, ground, 0.3), ground, text, 4.5),
            accent: colour::deepened(accent, ground, text, 4.5),
            paper,
            // Darker than the ground, whatever the ink.
            shadow: colour::mix(colour::mix(ground, colour::darker(ink, paper), 0.8), Rgb::BLACK, 0.35),
        }
    }
}

/// What the functions know.
#[derive(Clone)]
pub struct LayoutFunctions {
    /// Width of the picture.
    pub w: f64,
    /// Height of the picture.
    pub h: f64,
    /// Its colours.
    pub palette: Palette,
    /// The product's fonts.
    pub fonts: Arc<Fonts>,
    /// The page of the product, for books.
    pub corner: f64,
    /// Where the spine of its book lies.
    pub spine: Side,
    /// Whether a length is a pixel, as it is in layouts that come with the tool.
    pub pixels: bool,
}

/// A function whose result is markup.
struct Markup<F>(F);

impl<F: Fn(Kwargs) -> TeraResult<String> + Sync + Send + 'static> Function<TeraResult<String>> for Markup<F> {
    fn call(&self, kwargs: Kwargs, _: &State) -> TeraResult<String> {
        (self.0)(kwargs)
    }

    fn is_safe(&self) -> bool {
        true
    }
}

impl LayoutFunctions {
    /// Gives the functions to a template engine.
    pub fn register(self, tera: &mut Tera) {
        let props = Arc::new(self);
        let p = props.clone();
        tera.register_function("ground", Markup(move |_: Kwargs| Ok(p.ground())));
        let p = props.clone();
        tera.register_function("sheet", Markup(move |k: Kwargs| p.sheet(&k)));
        let p = props.clone();
        tera.register_function("book", Markup(move |k: Kwargs| p.book(&k)));
        let p = props.clone();
        tera.register_function("sticker", Markup(move |k: Kwargs| p.sticker(&k)));
        let p = props.clone();
        tera.register_function("shadow", Markup(move |k: Kwargs| p.own_shadow(&k)));
        let p = props.clone();
        tera.register_function("words", Markup(move |k: Kwargs| p.words(&k)));
        let p = props;
        tera.register_function("words_height", move |k: Kwargs, _: &State| p.words_height(&k));
    }

    /// A tinted table top: lit from the upper left, a little darker at the far corner.
    fn ground(&self) -> String {
        let g = self.palette.ground;
        let (light, dark) = (colour::mix(g, Rgb::WHITE, 0.42), colour::mix(g, self.palette.shadow, 0.13));
        let (w, h) = (n(self.w), n(self.h));
        format!(
            "<defs><linearGradient id=\"ground\" x1=\"0\" y1=\"0\" x2=\"1\" y2=\"1\"><stop offset=\"0\" stop-color=\"{light}\"/>\
             <stop offset=\"0.45\" stop-color=\"{g}\"/><stop offset=\"1\" stop-color=\"{dark}\"/></linearGradient></defs>\
             <rect width=\"{w}\" height=\"{h}\" fill=\"url(#ground)\"/>\n"
        )
    }

    /// A page: rounded corners, a hair of edge, shadows. `page`, `x`, `y`, `w`; `angle`, `lift` and `corner` if wanted;
    /// `strong` times over each other, so that thin lines can be seen on a small page.
    fn sheet(&self, k: &Kwargs) -> TeraResult<String> {
        let mut thing = Thing::of(k, "page")?;
        // One that lies straight is moved to whole pixels, of which its drawing is made: it is copied, and no rule gets blurred.
        let straight = self.pixels && thing.angle == 0.0;
        if straight {
            (thing.x, thing.y, thing.w) = (thing.x.round(), thing.y.round(), thing.w.round().max(1.0));
            thing.h = open_files::rows(thing.points, thing.w);
        }
        let manner = if straight { "style=\"image-rendering:optimizeSpeed\" " } else { "" };
        let radius = k.get::<f64>("corner")?.unwrap_or(thing.w * 0.016);
        let mut out = self.shadows(&thing, radius, k.get::<f64>("lift")?.unwrap_or(1.0));
        let (x, y, w, h) = (n(thing.x), n(thing.y), n(thing.w), n(thing.h));
        let (turn, r, id, href) = (thing.turn(), n(radius), thing.id(), &thing.href);
        let edge = self.palette.shadow;
        let strong = k.get::<i64>("strong")?.unwrap_or(1).clamp(1, 4) as usize;
        let image =
            format!("href=\"{href}\" x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" preserveAspectRatio=\"none\"/>");
        // On light paper, multiplied lines grow darker and the paper stays; dark paper would turn black.
        let more = if colour::luminance(self.palette.paper) < 0.2 { 0 } else { strong - 1 };
        let over = format!(
            "<image style=\"mix-blend-mode:multiply{}\" {image}",
            if straight { ";image-rendering:optimizeSpeed" } else { "" }
        );
        let over = over.repeat(more);
        let _ = writeln!(
            out,
            "<clipPath id=\"{id}\"><rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" rx=\"{r}\"/></clipPath>\
             <g transform=\"{turn}\"><g clip-path=\"url(#{id})\"><image {manner}{image}{over}</g><rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" rx=\"{r}\" fill=\"none\" \
             stroke=\"{edge}\" stroke-opacity=\"0.16\" stroke-width=\"1.5\"/></g>"
        );
        Ok(out)
    }

    /// A closed book: the cover without the desk round it, on the block of its pages. `x`, `y` and `w` are the book's.
    fn book(&self, k: &Kwargs) -> TeraResult<String> {
        let seen = Thing::of(k, "page")?;
        // Art fills its page: there is no desk round it.
        let (outline, corner) = if seen.whole {
            (Rect::page(seen.points), seen.points.w.min(seen.points.h) * 0.02)
        } else {
            cover::outline(seen.points, seen.corner.unwrap_or(self.corner))
        };
        let scale = seen.w / outline.w;
        let thing = Thing { h: outline.h * scale, ..seen.clone() };
        let radius = corner * scale;
        let (x, y, w, h) = (thing.x, thing.y, thing.w, thing.h);
        let mut out = self.shadows(&thing, radius, k.get::<f64>("lift")?.unwrap_or(1.6));
        let turn = thing.turn();
        let _ = write!(out, "<g transform=\"{turn}\">");
        // The block of pages and the back board, each a little further out towards the light's far side.
        let step = (w * 0.0021).max(1.0);
        let edges = [
            (4.0, colour::mix(self.palette.shadow, Rgb::BLACK, 0.2)),
            (3.0, colour::mix(self.palette.paper, self.palette.shadow, 0.34)),
            (2.2, self.palette.paper),
            (1.4, colour::mix(self.palette.paper, self.palette.shadow, 0.2)),
            (0.7, self.palette.paper),
        ];
        for (at, fill) in edges {
            let by = step * at;
            let _ = write!(
                out,
                "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{}\" fill=\"{fill}\"/>",
                n(x + by),
                n(y + by),
                n(w),
                n(h),
                n(radius)
            );
        }
        let (px, py) = (x - outline.x * scale, y - outline.y * scale);
        let (pw, ph) = (seen.points.w * scale, seen.points.h * scale);
        let (id, href) = (thing.id(), &thing.href);
        // Half a point inside, so that no hair of the desk is left.
        let (cx, cy) = (x + scale * 0.4, y + scale * 0.4);
        let (cw, ch) = (w - scale * 0.8, h - scale * 0.8);
        let d = board(cx, cy, cw, ch, seen.spine.unwrap_or(self.spine).radii(radius));
        let _ = write!(
            out,
            "<clipPath id=\"{id}\"><path d=\"{d}\"/></clipPath><g clip-path=\"url(#{id})\"><image href=\"{href}\" x=\"{}\" y=\"{}\" \
             width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\"/>",
            n(px),
            n(py),
            n(pw),
            n(ph)
        );
        // Light falls over the board from the upper left, and its upper edge catches some.
        let _ = writeln!(
            out,
            "<linearGradient id=\"l{id}\" x1=\"0\" y1=\"0\" x2=\"1\" y2=\"1\"><stop offset=\"0\" stop-color=\"#fff\" stop-opacity=\"0.17\"/>\
             <stop offset=\"0.5\" stop-color=\"#fff\" stop-opacity=\"0\"/><stop offset=\"1\" stop-color=\"#000\" stop-opacity=\"0.13\"/>\
             </linearGradient><path d=\"{d}\" fill=\"url(#l{id})\"/></g><path d=\"{d}\" fill=\"none\" stroke=\"#fff\" \
             stroke-opacity=\"0.18\" stroke-width=\"1.5\"/></g>"
        );
        Ok(out)
    }

    /// A sticker: its own outline casts the shadow.
    fn sticker(&self, k: &Kwargs) -> TeraResult<String> {
        let t = Thing::of(k, "sticker")?;
        let (x, y, w, h, turn, id, href) = (n(t.x), n(t.y), n(t.w), n(t.h), t.turn(), t.id(), &t.href);
        let unit = self.w.min(self.h) / 1500.0;
        let lift = k.get::<f64>("lift")?.unwrap_or(1.0) * unit;
        let (far, near) = (n(9.0 * lift), n(2.5 * lift));
        let (soft, sharp) = (n(9.0 * lift), n(2.0 * lift));
        let shade = self.palette.shadow;
        let image = |more: &str| {
            format!(
                "<image {more} href=\"{href}\" x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" preserveAspectRatio=\"none\"/>"
            )
        };
        let (m, rx, ry) = (45.0 * lift, t.x, t.y);
        let (fx, fy, fw, fh) = (n(rx - m), n(ry - m), n(t.w + 2.0 * m), n(t.h + 2.0 * m));
        Ok(format!(
            "<filter id=\"{id}\" filterUnits=\"userSpaceOnUse\" x=\"{fx}\" y=\"{fy}\" width=\"{fw}\" height=\"{fh}\" \
             color-interpolation-filters=\"sRGB\"><feDropShadow dx=\"{near}\" dy=\"{near}\" stdDeviation=\"{sharp}\" \
             flood-color=\"{shade}\" flood-opacity=\"0.3\" result=\"a\"/><feDropShadow in=\"SourceGraphic\" dx=\"{far}\" dy=\"{far}\" \
             stdDeviation=\"{soft}\" flood-color=\"{shade}\" flood-opacity=\"0.22\" result=\"b\"/><feMerge><feMergeNode in=\"b\"/>\
             <feMergeNode in=\"a\"/></feMerge></filter><g filter=\"url(#{id})\"><g transform=\"{turn}\">{}</g></g>\n",
            image("")
        ))
    }

    /// The shadow of a rounded rectangle that a layout draws itself: `x`, `y`, `w`, `h`, `corner`, `lift`.
    fn own_shadow(&self, k: &Kwargs) -> TeraResult<String> {
        let thing = Thing {
            href: String::new(),
            points: Size::new(1.0, 1.0),
            x: k.must_get("x")?,
            y: k.must_get("y")?,
            w: k.must_get("w")?,
            h: k.must_get("h")?,
            angle: k.get::<f64>("angle")?.unwrap_or(0.0),
            whole: false,
            corner: None,
            spine: None,
        };
        Ok(self.shadows(&thing, k.get::<f64>("corner")?.unwrap_or(0.0), k.get::<f64>("lift")?.unwrap_or(1.0)))
    }

    /// Two shadows of a thing, a wide one and a near one. They have no edges, so that a straight line between their pixels does.
    fn shadows(&self, t: &Thing, radius: f64, lift: f64) -> String {
        let unit = self.w.min(self.h) / 1500.0 * lift;
        let mut out = String::new();
        if lift <= 0.0 {
            return out;
        }
        for (by, blur, strength) in [(30.0, 30.0, 0.30), (6.0, 6.0, 0.26)] {
            let (dx, dy, blur) = (by * unit * 0.8, by * unit, blur * unit);
            let shade = Shade { w: t.w, h: t.h, radius, blur, colour: self.palette.shadow, strength };
            let (size, more) = (shade.size(), REACH * blur);
            let _ = write!(
                out,
                "<g transform=\"translate({} {})\"><image style=\"image-rendering:smooth\" transform=\"{}\" href=\"{}\" x=\"{}\" y=\"{}\" \
                 width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\"/></g>",
                n(dx),
                n(dy),
                t.turn(),
                shade.address(),
                n(t.x - more),
                n(t.y - more),
                n(size.w),
                n(size.h)
            );
        }
        out.push('\n');
        out
    }

    /// A text that fits: broken into at most `lines` lines of `width`, then made smaller until it fits.
    fn fit(&self, k: &Kwargs) -> TeraResult<(Setting, Vec<String>)> {
        let text: String = k.must_get::<&str>("text")?.trim().to_owned();
        let (width, size): (f64, f64) = (k.must_get("width")?, k.must_get("size")?);
        let most = k.get::<i64>("lines")?.unwrap_or(1).max(1) as usize;
        let name = k.get::<&str>("font")?.unwrap_or("label");
        let role = ROLES.iter().find(|r| r.0 == name).map(|r| r.1).ok_or_else(|| {
            let names: Vec<&str> = ROLES.iter().map(|r| r.0).collect();
            tera::Error::message(format!("there is no font `{name}`; there are {}", names.join(", ")))
        })?;
        let mut set = Setting::new(role, size, self.palette.ink).tracked(k.get::<f64>("tracking")?.unwrap_or(0.0));
        loop {
            let lines = if most == 1 { vec![text.clone()] } else { set.wrap(&self.fonts, &text, width) };
            let fits = lines.len() <= most && lines.iter().all(|l| set.width(&self.fonts, l) <= width);
            if fits || set.size < size * 0.2 {
                return Ok((set, lines));
            }
            set = set.sized(set.size * 0.97);
        }
    }

    /// Words at `x`, with their first baseline at `y`: `text`, `width`, `size`; `font`, `lines`, `anchor` (`start`,
    /// `middle`, `end`), `fill`, `leading` if wanted.
    fn words(&self, k: &Kwargs) -> TeraResult<String> {
        let (set, lines) = self.fit(k)?;
        let (x, y): (f64, f64) = (k.must_get("x")?, k.must_get("y")?);
        let anchor = k.get::<&str>("anchor")?.unwrap_or("start");
        let own = self.palette.ink.to_string();
        let fill = k.get::<&str>("fill")?.unwrap_or(&own);
        let leading = k.get::<f64>("leading")?.unwrap_or(1.16);
        let role = ROLES.iter().find(|r| r.1 == set.role).map_or("label", |r| r.0);
        let mut out = String::new();
        for (i, line) in lines.iter().enumerate() {
            let _ = writeln!(
                out,
                "<text x=\"{}\" y=\"{}\" font-family=\"{role}\" font-size=\"{}\" letter-spacing=\"{}\" text-anchor=\"{}\" fill=\"{}\">{}</text>",
                n(x),
                n(y + i as f64 * set.size * leading),
                n(set.size),
                n(set.size * set.tracking),
                escape(anchor),
                escape(fill),
                self.marked(set.role, &directed(line))
            );
        }
        Ok(out)
    }

    /// A line with what the first font of its role does not have in spans of the font that has it: left to itself, the library that
    /// draws it would set boxes among letters that join.
    fn marked(&self, role: Role, line: &str) -> String {
        let pieces = self.fonts.pieces(role, line);
        let piece = |(n, range): (usize, std::ops::Range<usize>)| {
            let text = escape(&line[range]);
            if n == 0 {
                text
            } else {
                format!("<tspan font-family=\"{}\">{text}</tspan>", family(&self.fonts, role, n))
            }
        };
        pieces.into_iter().map(piece).collect()
    }

    /// How high the words of such a call stand, from the top of the first line's capitals to the last baseline.
    fn words_height(&self, k: &Kwargs) -> TeraResult<f64> {
        let (set, lines) = self.fit(k)?;
        let leading = k.get::<f64>("leading")?.unwrap_or(1.16);
        Ok(set.cap(&self.fonts) + (lines.len().max(1) - 1) as f64 * set.size * leading)
    }
}

/// Something that lies on the ground.
#[derive(Clone, Debug)]
struct Thing {
    href: String,
    points: Size,
    x: f64,
    y: f64,
    w: f64,
    h: f64,
    angle: f64,
    /// Whether a cover fills its page.
    whole: bool,
    /// The radius of its papers' corners in points, where it is not that of the product.
    corner: Option<f64>,
    /// Where its spine lies, likewise.
    spine: Option<Side>,
}

impl Thing {
    fn of(k: &Kwargs, name: &'static str) -> TeraResult<Thing> {
        let what: &Value = k.must_get(name)?;
        let read = serde_json::to_value(what).map_err(tera::Error::message)?;
        let number = |key: &str| read.get(key).and_then(serde_json::Value::as_f64).filter(|v| *v > 0.0);
        let href = read.get("href").and_then(serde_json::Value::as_str);
        let (Some(href), Some(w), Some(h)) = (href, number("w"), number("h")) else {
            return Err(tera::Error::message(format!(
                "`{name}` is none: give one of `pages`, `covers`, `stickers` or `place`"
            )));
        };
        let width: f64 = k.must_get("w")?;
        Ok(Thing {
            href: escape(href),
            points: Size::new(w, h),
            x: k.must_get("x")?,
            y: k.must_get("y")?,
            w: width,
            h: width * h / w,
            angle: k.get::<f64>("angle")?.unwrap_or(0.0),
            whole: read.get("whole").and_then(serde_json::Value::as_bool).unwrap_or(false),
            corner: read.get("corner").and_then(serde_json::Value::as_f64),
            spine: read.get("spine").and_then(serde_json::Value::as_str).and_then(Side::named),
        })
    }

    fn centre(&self) -> (f64, f64) {
        (self.x + self.w / 2.0, self.y + self.h / 2.0)
    }

    fn turn(&self) -> String {
        let (x, y) = self.centre();
        format!("rotate({} {} {})", n(self.angle), n(x), n(y))
    }

    /// A name of its own for clip paths and filters.
    fn id(&self) -> String {
        let at = [self.x, self.y, self.w, self.angle].map(|v| trim_number(v, 2).replace(['.', '-'], "_"));
        format!("i{}-{}", self.href.replace('/', "-"), at.join("-"))
    }
}

/// The board of a book, with the radii of its corners, clockwise from the upper left one.
fn board(x: f64, y: f64, w: f64, h: f64, [a, b, c, d]: [f64; 4]) -> String {
    format!(
        "M{} {}H{}A{b} {b} 0 0 1 {} {}V{}A{c} {c} 0 0 1 {} {}H{}A{d} {d} 0 0 1 {} {}V{}A{a} {a} 0 0 1 {} {}Z",
        n(x + a),
        n(y),
        n(x + w - b),
        n(x + w),
        n(y + b),
        n(y + h - c),
        n(x + w - c),
        n(y + h),
        n(x + d),
        n(x),
        n(y + h - d),
        n(y + a),
        n(x + a),
        n(y),
        a = n(a),
        b = n(b),
        c = n(c),
        d = n(d)
    )
}

fn n(v: f64) -> String {
    trim_number(v, 2)
}

/// A text as it may stand in markup.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_corners_by_the_spine_are_sharper() {
        // Written down by hand, clockwise from the upper edge's left end.
        let left = board(10.0, 20.0, 300.0, 400.0, Side::Left.radii(20.0));
        let ends = "M19 20H290A20 20 0 0 1 310 40V400A20 20 0 0 1 290 420H19A9 9 0 0 1 10 411V29A9 9 0 0 1 19 20Z";
        assert_eq!(left, ends);
        let top = board(10.0, 20.0, 300.0, 400.0, Side::Top.radii(20.0));
        let ends = "M19 20H301A9 9 0 0 1 310 29V400A20 20 0 0 1 290 420H30A20 20 0 0 1 10 400V29A9 9 0 0 1 19 20Z";
        assert_eq!(top, ends);
    }
}
