//! Covers.

use super::style::ribbons;
use super::{Context, art, pictures, raw};
use base::colour;
use base::model::Rgb;
use base::model::finish::Finish;
use base::model::look;
use base::model::product::{Cover, CoverDesign, Pattern, Style};
use std::collections::BTreeSet;
use toml::Spanned;

/// Resolves the alternate covers. They bear the title as the notebook's own does, unless they have a line of their own. One of which
/// nothing is said that tells it from `own` or from one before it has the next colour of a family.
pub fn resolve(
    cx: &mut Context,
    raw: &[raw::Cover],
    style: &Option<Style>,
    (title, own): (&str, Option<&Cover>),
) -> Vec<Cover> {
    let Some(style) = style else { return Vec::new() };
    let mut names = BTreeSet::new();
    let mut looks: Vec<Cover> = own.map(look_of).into_iter().collect();
    raw.iter()
        .enumerate()
        .filter_map(|(i, c)| {
            let mut cover = resolve_cover(cx, c, style)?;
            if c.colour.is_none() {
                let usual = cover.colour;
                let colours = (1..=raw.len() * 2 + 6).map(|n| cousin(usual, n));
                let told = |cover: &Cover| !looks.contains(&look_of(cover));
                if !told(&cover) {
                    let coloured = |colour: Rgb| Cover {
                        colour,
                        second: if c.second.is_none() { second(colour, style) } else { cover.second },
                        ..cover.clone()
                    };
                    cover = colours.map(coloured).find(told).unwrap_or(cover);
                }
            }
            looks.push(look_of(&cover));
            if cover.name.is_empty() {
                cover.name = format!("Cover {}", i + 1);
            }
            if c.line.is_none() {
                cover.line = title.to_owned();
            }
            if !names.insert(cover.name.clone()) {
                cover.name = format!("{} {}", cover.name, i + 1);
            }
            Some(cover)
        })
        .collect()
}

/// A cover without what a buyer does not see of its board.
fn look_of(cover: &Cover) -> Cover {
    Cover { name: String::new(), line: String::new(), ..cover.clone() }
}

/// The second colour of a cover of this colour, where none is named.
fn second(colour: Rgb, style: &Style) -> Rgb {
    colour::mix(colour, style.ink, 0.25)
}

/// The n-th colour, from 1, that goes with a colour: as light and as strong, of another hue; of a grey, one that is lighter or darker.
fn cousin(colour: Rgb, n: usize) -> Rgb {
    /// How far hues lie from the first, in degrees: warm and cold in turn.
    const TURNS: [f64; 6] = [55.0, 205.0, 120.0, 275.0, 330.0, 160.0];
    /// How much lighter each round is.
    const STEPS: [f64; 3] = [0.0, 0.1, -0.1];
    /// Below this a colour has no hue that anybody names.
    const GREY: f64 = 0.025;
    let [lightness, chroma, hue] = colour::to_oklch(colour);
    let (round, place) = ((n - 1) / TURNS.len(), (n - 1) % TURNS.len());
    if chroma < GREY {
        let step = [0.17, -0.13, 0.34, 0.08, -0.2, 0.26][place];
        return colour::oklch((lightness + step).clamp(0.2, 0.94), chroma, hue);
    }
    let lightness = (lightness + STEPS[round % STEPS.len()]).clamp(0.2, 0.94);
    colour::oklch(lightness, chroma, (hue + TURNS[place]) % 360.0)
}

/// Resolves one cover; what is not given follows from the style.
pub fn resolve_cover(cx: &mut Context, raw: &raw::Cover, style: &Style) -> Option<Cover> {
    let colour_ = raw.colour.map_or(style.manner.board.unwrap_or(style.accent), |c| c.0);
    let second = raw.second.map_or_else(|| second(colour_, style), |c| c.0);
    let own = art::resolve(cx, raw.art_keys());
    if let Some(path) = &raw.art {
        let others = [
            ("design", raw.design.as_ref().map(|d| d.span())),
            ("pattern", raw.pattern.as_ref().map(|p| p.span())),
            ("texture", raw.texture.as_ref().map(|t| t.span())),
            ("material", raw.material.as_ref().map(|m| m.span())),
            ("foil", raw.foil.as_ref().map(|f| f.span())),
            ("stamp", raw.stamp.as_ref().map(|s| s.span())),
            ("quarter", raw.quarter.as_ref().map(|q| q.span())),
            ("corner-pieces", raw.corner_pieces.as_ref().map(|c| c.span())),
            ("stitching", raw.stitching.as_ref().map(|s| s.span())),
            ("elastic", raw.elastic.as_ref().map(|e| e.span())),
            ("ribbons", raw.ribbons.as_ref().map(|r| r.span())),
        ];
        for (name, span) in others.into_iter().filter_map(|(n, s)| Some((n, s?))) {
            let help = "take one of the two out".to_owned();
            cx.source.fault(span, format!("a cover has `art` or `{name}`, not both"), Some(help));
        }
        // What the file's name says, where the designer gives no name; one that cannot be read has been blamed.
        let stem = path.get_ref().rsplit('/').next().and_then(|n| n.rsplit_once('.')).map_or("", |(stem, _)| stem);
        return Some(Cover {
            name: raw.name.clone().unwrap_or_else(|| stem.replace(['-', '_'], " ")),
            design: CoverDesign::Art(Box::new(own?)),
            colour: colour_,
            second,
            material: look::Material::Plain,
            finish: finish(cx, raw, style),
            // Art has its own, unless the designer asks for one.
            label: raw.label.unwrap_or(false),
            line: raw.line.clone().unwrap_or_default(),
        });
    }
    let wanted = match (&raw.design, &raw.pattern, &raw.texture) {
        (Some(d), ..) => *d.get_ref(),
        (None, _, Some(_)) => raw::Design::Texture,
        (None, Some(_), None) => raw::Design::Patterned,
        (None, None, None) => match style.manner.cover {
            Some(look::Cover::Flat) => raw::Design::Flat,
            Some(look::Cover::Banded) => raw::Design::Banded,
            Some(look::Cover::Framed) | None => raw::Design::Framed,
            Some(_) => raw::Design::Patterned,
        },
    };
    let usual = style.manner.cover.and_then(look::Cover::pattern).unwrap_or(Pattern::Dots);
    for (name, span, fits) in [
        ("pattern", raw.pattern.as_ref().map(|p| p.span()), wanted == raw::Design::Patterned),
        ("texture", raw.texture.as_ref().map(|t| t.span()), wanted == raw::Design::Texture),
    ] {
        if let (Some(span), false) = (span, fits) {
            let help = format!("take it out, or set design to the one that uses a {name}");
            cx.source.fault(span, format!("`{name}` does nothing for this design"), Some(help));
        }
    }
    if let (Some(material), raw::Design::Texture) = (&raw.material, wanted) {
        let help = "take one of the two out".to_owned();
        cx.source.fault(material.span(), "the picture of a texture cover lies over all of its board", Some(help));
    }
    let design = match wanted {
        raw::Design::Flat => CoverDesign::Flat,
        raw::Design::Banded => CoverDesign::Banded,
        raw::Design::Framed => CoverDesign::Framed,
        raw::Design::Patterned => CoverDesign::Patterned(raw.pattern.as_ref().map_or(usual, |p| *p.get_ref())),
        raw::Design::Texture => match &raw.texture {
            Some(path) => CoverDesign::Texture(pictures::open(cx, path)?),
            None => {
                let span = raw.design.as_ref().map_or(0..0, |d| d.span());
                let help = "add texture = \"art/….png\" (or .jpg)".to_owned();
                cx.source.fault(span, "a texture cover needs a picture", Some(help));
                return None;
            }
        },
    };
    Some(Cover {
        name: raw.name.clone().unwrap_or_default(),
        design,
        colour: colour_,
        second,
        material: raw.material.as_ref().map_or(style.manner.material, |m| *m.get_ref()),
        finish: finish(cx, raw, style),
        label: raw.label.unwrap_or(true),
        line: raw.line.clone().unwrap_or_default(),
    })
}

/// What is done to its board; what the cover does not say, the style does.
fn finish(cx: &mut Context, raw: &raw::Cover, style: &Style) -> Finish {
    fn said<T: Copy>(own: Option<&Spanned<T>>, usual: T) -> T {
        own.map_or(usual, |own| *own.get_ref())
    }
    let usual = style.manner.finish;
    Finish {
        label: said(raw.label_shape.as_ref(), usual.label),
        foil: said(raw.foil.as_ref(), usual.foil),
        stamp: said(raw.stamp.as_ref(), usual.stamp),
        quarter: said(raw.quarter.as_ref(), usual.quarter),
        quarter_colour: raw.quarter_colour.map(|c| c.0).or(usual.quarter_colour),
        corners: said(raw.corner_pieces.as_ref(), usual.corners),
        stitching: said(raw.stitching.as_ref(), usual.stitching),
        elastic: said(raw.elastic.as_ref(), usual.elastic),
        ribbons: raw.ribbons.as_ref().map_or(usual.ribbons, |count| ribbons(cx.source, count)),
        trim: raw.trim.map(|c| c.0).or(usual.trim),
    }
}
