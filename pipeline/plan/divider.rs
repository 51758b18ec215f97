//! The face of a divider: the section's number or icon, large in its colour; its name; a line to write on.

use super::builder::Builder;
use super::labels;
use base::colour;
use base::model::drawing::{Path, Seg, Shape, Stroke};
use base::model::look::Divider;
use base::model::{Drawing, Mm, Point, Rect, Rgb, Role};
use draw::flat::outlined;
use draw::motifs::{self, ICON_GRID, IconTones, draw_icon};
use draw::text::{Align, Line, Setting};

/// A section, or the section within it, by their numbers from 0.
pub type Of = (usize, Option<usize>);

/// Draws the face on the first paper and gives the colour of its lines. `zone` is what a list beside it or below it leaves of the
/// writing area. That of a section within a section is paler, bears both numbers, and the name of its section below its own.
pub fn face(b: &Builder, d: &mut Drawing, of: Of, zone: Rect, listed: bool) -> Rgb {
    let (frame, style) = (b.frame, &b.product.style);
    let section = &b.notebook.sections[of.0];
    let colour_of = of.1.map_or(section.colour, |w| section.within[w].colour);
    let tint = tinted(style.paper, colour_of, if of.1.is_none() { 0.2 } else { 0.12 });
    // Seen on the paper, however pale the section's own colour is.
    let edge = colour::deepened(colour_of, style.paper, style.ink, LEAST_OF_LINES);
    let line = match style.manner.divider {
        // A frame is all that there is: it is as strong on each divider.
        Divider::Frame => even(colour_of, style.paper, style.ink),
        _ => colour::deepened(colour::mix(style.paper, colour_of, 0.8), style.paper, style.ink, LEAST_OF_LINES),
    };
    let paper = frame.papers[0];
    let bare = matches!(style.manner.divider, Divider::Frame | Divider::Disc);
    let mm = |mm: f64| Mm(mm).pt() * frame.scale;
    // A list on the same paper lies beside the face, or below it.
    let on_paper = listed && frame.areas.len() == 1;
    let beside = on_paper && zone.w < frame.areas[0].w - 1.0;
    let arched = style.manner.divider == Divider::Arch;
    // The window stands clear of a list below it.
    let zone = if arched && on_paper && !beside { Rect { h: zone.h - mm(4.0), ..zone } } else { zone };
    // What ends in a line stands clear of a list beside it.
    let closed = beside && matches!(style.manner.divider, Divider::Band | Divider::Frame);
    let zone = if closed { Rect { w: zone.w - mm(3.0), ..zone } } else { zone };
    // A band beside a list begins at the paper's edge; what stands in it is in its middle.
    let band = beside && style.manner.divider == Divider::Band;
    let seat = if band { Rect { x: paper.x, w: zone.right() - paper.x, ..zone } } else { zone };
    let window = window(zone);
    let room = if arched { window.w - mm(12.0) } else { (zone.w * 0.86).min(Mm(130.0).pt()) };
    let mut words = Drawing::new();
    let (top, bottom) = figure_and_name(b, &mut words, of, (seat, room), listed, if bare { style.paper } else { tint });
    match style.manner.divider {
        // The colour fills the paper, from edge to edge.
        Divider::Full => d.fill(Path::rounded(paper, frame.corner), tint),
        Divider::Arch => {
            // A name in several lines stands within it too.
            let foot = (bottom + mm(6.0)).min(zone.bottom());
            let window = Rect { h: window.h.max(foot - window.y), ..window };
            d.fill(arch(window), tint);
            let inner = window.inset(mm(2.2));
            d.stroke(arch(inner), Stroke::new(0.7, line));
        }
        Divider::Band => {
            let high = zone.h * if listed { 0.7 } else { 0.5 };
            let (from, pad) = (zone.y + zone.h * 0.44 - high / 2.0, mm(6.0));
            // The words stand within it, whatever their number.
            let (from, to) = (from.min(top - pad), (from + high).max(bottom + pad));
            // It ends before a list beside it, closed, and else at the paper's edge.
            let right = if beside { zone.right() } else { paper.right() };
            let band = Rect::new(paper.x, from, right - paper.x, to - from);
            let corner = frame.corner.min(band.h / 4.0);
            let ground = if beside { Path::rounded_each(band, [0.0, corner, corner, 0.0]) } else { Path::rect(band) };
            d.fill(ground, tint);
            let off = mm(1.6);
            let inner = Rect::new(band.x, band.y + off, band.w - off, band.h - 2.0 * off);
            let strokes = [Stroke::new(2.2 * frame.scale, edge), Stroke::new(0.5, line)];
            for ((field, corner), stroke) in [(band, corner), (inner, (corner - off).max(0.0))].into_iter().zip(strokes)
            {
                if beside {
                    d.stroke(open_to_the_left(field, corner), stroke);
                    continue;
                }
                for y in [field.y, field.bottom()] {
                    d.line(band.x, y, band.right(), y, stroke);
                }
            }
        }
        Divider::Frame => {
            // Clear of the list below it, or beside it.
            let above = Rect { h: zone.h - mm(3.0), ..zone };
            let field = match (beside, on_paper) {
                (true, _) => zone,
                (_, true) => above,
                _ => frame.areas[0],
            };
            d.stroke(Path::rounded(field, frame.corner), Stroke::new(1.4 * frame.scale.max(0.7), line));
            let inner = field.inset(mm(1.8));
            d.stroke(Path::rounded(inner, (frame.corner - 2.0).max(0.0)), Stroke::new(0.5, line));
        }
        Divider::Disc => {
            let r = (zone.w * 0.3).min(zone.h * 0.27);
            let c = Point::new(zone.centre().x, zone.y + zone.h * 0.4);
            d.fill(Path::circle(c, r), tint);
            d.stroke(Path::circle(c, r - mm(1.8)), Stroke::new(0.7, line));
        }
    }
    d.extend(words);
    if style.manner.divider == Divider::Frame { line } else { edge }
}

/// The least contrast of a divider's lines to the paper.
const LEAST_OF_LINES: f64 = 1.6;

/// The contrast of lines that are as strong on each divider.
const EVEN_LINES: f64 = 2.0;

/// A section's colour as strong on the paper as that of every other section.
fn even(own: Rgb, paper: Rgb, ink: Rgb) -> Rgb {
    if colour::contrast(own, paper) >= EVEN_LINES {
        colour::at_contrast(paper, own, EVEN_LINES)
    } else {
        colour::deepened(own, paper, ink, EVEN_LINES)
    }
}

/// So much of a section's colour on the paper. Where a paper of another colour takes its hue away, it is given back.
fn tinted(paper: Rgb, own: Rgb, share: f64) -> Rgb {
    let mixed = colour::mix(paper, own, share);
    let ([_, strong, hue], [light, chroma, seen]) = (colour::to_oklch(own), colour::to_oklch(mixed));
    let least = (share * 0.1).min(strong);
    let off = (hue - seen).abs() % 360.0;
    let kept = off.min(360.0 - off) <= 30.0 && chroma >= least * 0.15;
    // Greys have no hue.
    if strong < 0.02 || kept { mixed } else { colour::oklch(light, chroma.max(least), hue) }
}

/// The upper, the right and the lower side of a field with rounded corners.
fn open_to_the_left(r: Rect, corner: f64) -> Path {
    let p = Point::new;
    // Control points of a quarter circle lie at 0.5523 of its radius.
    let k = corner * (1.0 - 0.5523);
    Path(vec![
        Seg::Move(p(r.x, r.y)),
        Seg::Line(p(r.right() - corner, r.y)),
        Seg::Cubic(p(r.right() - k, r.y), p(r.right(), r.y + k), p(r.right(), r.y + corner)),
        Seg::Line(p(r.right(), r.bottom() - corner)),
        Seg::Cubic(p(r.right(), r.bottom() - k), p(r.right() - k, r.bottom()), p(r.right() - corner, r.bottom())),
        Seg::Line(p(r.x, r.bottom())),
    ])
}

/// The room of a window in a zone.
fn window(zone: Rect) -> Rect {
    let w = (zone.w * 0.74).min(zone.h * 0.8);
    let high = (zone.h * 0.96).min(w * 1.55);
    Rect::new(zone.centre().x - w / 2.0, zone.y + (zone.h - high) * 0.4, w, high)
}

/// A window with a half circle on top.
fn arch(r: Rect) -> Path {
    // Control points of a quarter circle lie at 0.5523 of its radius.
    let (q, k) = (r.w / 2.0, r.w / 2.0 * 0.5523);
    let p = Point::new;
    Path(vec![
        Seg::Move(p(r.x, r.bottom())),
        Seg::Line(p(r.x, r.y + q)),
        Seg::Cubic(p(r.x, r.y + q - k), p(r.x + q - k, r.y), p(r.x + q, r.y)),
        Seg::Cubic(p(r.x + q + k, r.y), p(r.right(), r.y + q - k), p(r.right(), r.y + q)),
        Seg::Line(p(r.right(), r.bottom())),
        Seg::Close,
    ])
}

/// The number and the name round the optical centre of a zone; the name is at most as wide as its room.
fn figure_and_name(
    b: &Builder,
    d: &mut Drawing,
    (index, within): Of,
    (zone, room): (Rect, f64),
    listed: bool,
    ground: Rgb,
) -> (f64, f64) {
    let (frame, style) = (b.frame, &b.product.style);
    let section = &b.notebook.sections[index];
    let (colour_of, number, title) = match within {
        None => (section.colour, b.chrome.words.figure(index + 1), &section.name),
        Some(w) => {
            let number = b.chrome.words.figures(&format!("{}.{}", index + 1, w + 1));
            (section.within[w].colour, number, &section.within[w].name)
        }
    };
    let upright = listed && !zone.size().is_landscape();
    // The optical centre lies about three eighths from the top (common practice, no source).
    let centre = zone.y + zone.h * 0.4;
    let ink = colour::deepened(colour_of, ground, style.ink, 3.4);
    let figure = Setting::new(Role::Heading, 100.0, ink);
    // Capitals 30 mm high where there is room.
    let wish = Mm(30.0).pt() * frame.scale / figure.cap(b.fonts) * 100.0;
    let disc = style.manner.divider == Divider::Disc;
    // On a disc it keeps clear of the rim.
    let wish = if disc { wish.min(zone.w * 0.34).min(zone.h * 0.3) } else { wish };
    let figure = figure.sized(wish.min(zone.h * if upright { 0.5 } else { 0.4 }).min(zone.w * 0.6));
    let figure = match within {
        None => figure,
        Some(_) => figure.sized(figure.size * 0.6).fitted(b.fonts, [number.as_str()], zone.w * 0.6, 9.0),
    };
    let cap = figure.cap(b.fonts);
    let x = zone.centre().x;
    match section.icon.as_deref().filter(|_| within.is_none()).and_then(motifs::icon) {
        Some(icon) => {
            let size = cap * 1.25;
            let tones = IconTones::of(colour_of, ground, ink, style.paper, size / ICON_GRID * 0.8);
            draw_icon(d, icon, Point::new(x, centre), size, tones);
        }
        None => {
            // By what is seen of it: letters of a hand lean, and figures have unequal room at their sides.
            let mut alone = Drawing::new();
            figure.draw(&mut alone, b.fonts, &number, 0.0, 0.0, Align::Left);
            let outlines = alone.shapes.iter().filter_map(|shape| match shape {
                Shape::Text(run) => Some(outlined(run, b.fonts)),
                _ => None,
            });
            let seen = Path(outlines.flat_map(|path| path.0).collect()).bounds().centre();
            figure.draw(d, b.fonts, &number, x - seen.x, centre - seen.y, Align::Left);
        }
    }
    let size = (22.0 * frame.scale).max(11.0);
    let name = Setting::new(Role::Heading, size, style.ink);
    let (name, lines) = named(b, name, title, room);
    let below = if disc { (zone.w * 0.3).min(zone.h * 0.27) } else { cap / 2.0 };
    let line_y = centre
        + below
        + (Mm(if disc { 6.0 } else { 12.0 }).pt() * frame.scale).max(cap * 0.26)
        + name.size * 1.15 * lines.len().max(1) as f64;
    // The rule is as wide as the name at least.
    let widest = lines.iter().map(|line| name.width(b.fonts, line)).fold(0.0, f64::max).min(room);
    let half = (zone.w * 0.34).min(Mm(60.0).pt()).max(widest / 2.0).min(room / 2.0);
    d.line(x - half, line_y, x + half, line_y, Stroke::new(0.7, colour::mix(colour_of, style.ink, 0.25)));
    for (k, line) in lines.iter().enumerate() {
        let y = line_y - name.size * (0.42 + 1.15 * (lines.len() - 1 - k) as f64);
        name.draw_kept(d, b.fonts, line, Line { room, x, y, align: Align::Centre });
    }
    let mut bottom = line_y;
    if within.is_some() {
        let size = (8.6 * frame.scale).max(labels::LEAST_TYPE);
        let whose = Setting::new(Role::Label, size, style.ink);
        bottom = line_y + size * 1.6;
        let line = Line { room: half * 2.0, x, y: bottom, align: Align::Centre };
        whose.draw_kept(d, b.fonts, &b.chrome.section_title(index, &section.name), line);
    }
    (centre - cap / 2.0, bottom)
}

/// A name in one line, a little smaller if need be, or in up to three.
fn named(b: &Builder, name: Setting, text: &str, room: f64) -> (Setting, Vec<String>) {
    let one = name.fitted(b.fonts, [text], room, name.size * 0.75);
    if one.width(b.fonts, text) <= room + 1e-6 {
        return (one, vec![text.to_owned()]);
    }
    let small = name.sized((name.size * 0.75).max(9.0));
    (small, small.wrap_to(b.fonts, text, room, 3))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Papers and their inks: white, cream, green, dark.
    const PAPERS: [(Rgb, Rgb); 4] = [
        (Rgb::new(0xff, 0xff, 0xff), Rgb::new(0x11, 0x11, 0x11)),
        (Rgb::new(0xfc, 0xf8, 0xee), Rgb::new(0x3b, 0x2f, 0x2a)),
        (Rgb::new(0xf4, 0xf8, 0xef), Rgb::new(0x1f, 0x33, 0x29)),
        (Rgb::new(0x1d, 0x23, 0x2e), Rgb::new(0xf0, 0xe6, 0xd2)),
    ];

    /// Colours of every kind, greys among them.
    fn colours() -> Vec<Rgb> {
        let steps = [0, 64, 128, 166, 196, 255];
        let pairs = steps.into_iter().flat_map(|r| steps.map(|g| (r, g)));
        pairs.flat_map(|(r, g)| steps.map(|b| Rgb::new(r, g, b))).collect()
    }

    #[test]
    fn frames_are_seen_and_are_as_strong_on_each_divider() {
        for (paper, ink) in PAPERS {
            for own in colours() {
                let seen = colour::contrast(even(own, paper, ink), paper);
                assert!((EVEN_LINES - 0.06..=EVEN_LINES + 0.45).contains(&seen), "{own} on {paper}: {seen}");
            }
        }
    }

    #[test]
    fn a_tint_keeps_the_hue_of_its_section() {
        for (paper, _) in PAPERS {
            for (own, share) in colours().into_iter().flat_map(|own| [0.2, 0.12].map(|share| (own, share))) {
                let [_, strong, hue] = colour::to_oklch(own);
                let tint = tinted(paper, own, share);
                let [_, chroma, seen] = colour::to_oklch(tint);
                if strong < 0.02 {
                    assert_eq!(tint, colour::mix(paper, own, share));
                    continue;
                }
                let off = (hue - seen).abs() % 360.0;
                // Eight bits a part turn pale tints a little.
                assert!(off.min(360.0 - off) <= 40.0, "{own} on {paper}: {tint}, {chroma}");
            }
        }
        // A violet on green paper was grey.
        let tint = tinted(Rgb::new(0xf4, 0xf8, 0xef), Rgb::new(0xb3, 0xa6, 0xc4), 0.2);
        assert!(tint.b > tint.g && tint.r > tint.g, "{tint}");
    }
}
