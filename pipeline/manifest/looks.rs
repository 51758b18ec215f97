//! Looks: files that say what a style does where the manifest does not. Some come with the tool; a file of the same form in the
//! product's folder `looks/` goes before them.

use super::raw;
use super::source::{Source, suggest};
use super::style::each;
use base::files::{Files, SHOP};
use base::model::Fault;
use draw::built_in;
use std::ops::Range;
use toml::Spanned;

/// The looks that the tool brings along, by name.
pub const BUILT_IN: [(&str, &str); 8] = [
    ("ferry", include_str!("looks/ferry.toml")),
    ("gazebo", include_str!("looks/gazebo.toml")),
    ("graphite", include_str!("looks/graphite.toml")),
    ("marzipan", include_str!("looks/marzipan.toml")),
    ("night-train", include_str!("looks/night-train.toml")),
    ("pantry", include_str!("looks/pantry.toml")),
    ("pressed-fern", include_str!("looks/pressed-fern.toml")),
    ("tally", include_str!("looks/tally.toml")),
];

/// The looks that the tool brings along, by name, with what each is: the first line of its file.
pub fn told() -> Vec<(&'static str, String)> {
    let first =
        |text: &str| text.lines().next().map_or(String::new(), |line| line.trim_matches(['#', ' ', '.']).to_owned());
    BUILT_IN.iter().map(|(name, text)| (*name, first(text))).collect()
}

/// Where a product's own looks lie.
const FOLDER: &str = "looks/";

/// Lays the look that a style names below it: what the style says itself stays.
pub fn lay(source: &mut Source, world: &dyn Files, style: &mut raw::Style) {
    let Some(name) = style.look.clone() else { return };
    let (path, text) = match find(world, name.get_ref()) {
        Ok(found) => found,
        Err(fault) => return source.blame(name.span(), fault),
    };
    let mut file = Source::new(&path, &text);
    let look = read(&mut file);
    file.into_faults().into_iter().for_each(|fault| source.tell(fault));
    if let Some(look) = look {
        below(style, look);
    }
}

/// A look by its name, with the path of its file: the product's own, its shop's, or one of the tool's.
///
/// # Errors
/// There is none of that name, or its file cannot be read.
pub fn find(world: &dyn Files, name: &str) -> Result<(String, String), Fault> {
    let path = format!("{FOLDER}{name}.toml");
    let home = world.shop().and_then(|shop| shop.strip_suffix(SHOP).map(str::to_owned)).filter(|home| !home.is_empty());
    let of_shop = home.map(|home| format!("{home}{path}"));
    let mut near = Vec::new();
    for path in [Some(&path), of_shop.as_ref()].into_iter().flatten() {
        let there = world.nearby(path);
        if there.contains(path) {
            return Ok((path.clone(), world.read_text(path)?));
        }
        near.extend(there);
    }
    if let Some((_, text)) = BUILT_IN.iter().find(|(built_in, _)| *built_in == name) {
        return Ok((path, (*text).to_owned()));
    }
    let files = near.iter().filter_map(|p| p.trim_start_matches("../").strip_prefix(FOLDER)?.strip_suffix(".toml"));
    let names = BUILT_IN.iter().map(|(name, _)| *name).chain(files);
    let help = format!("{}; or write one into `{path}`", suggest(name, names));
    Err(Fault::new(format!("there is no look {name:?}")).help(help))
}

/// Reads a look: every part is there, and its fonts are those of the tool.
fn read(file: &mut Source) -> Option<raw::Style> {
    let tables = file.tables()?;
    let look: raw::Style = file.typed(&tables)?;
    let there = [
        ("paper", look.paper.is_some()),
        ("ink", look.ink.is_some()),
        ("desk", look.desk.is_some()),
        ("accent", look.accent.is_some()),
        ("sections", !look.sections.is_empty()),
        ("corner", look.corner.is_some()),
        ("tabs", look.tabs.is_some()),
        ("binding", look.binding.is_some()),
        ("metal", look.metal.is_some()),
        ("heading", look.heading.is_some()),
        ("rules", look.rules.is_some()),
        ("divider", look.divider.is_some()),
        ("index", look.index.is_some()),
        ("cover", look.cover.is_some()),
        ("board", look.board.is_some()),
    ];
    let end = tables.span().end;
    let missing: Vec<&str> =
        there.iter().filter(|(part, there)| !there && !file.refused(part)).map(|(part, _)| *part).collect();
    for part in missing {
        let help = format!("add a line that begins with `{part} =`; the looks of the tool show how");
        file.fault(end..end, format!("the look says nothing of `{part}`"), Some(help));
    }
    let others =
        [(&look.look, "a look cannot rest on another look"), (&look.named, "a look cannot take a named style")];
    for (other, message) in others.into_iter().filter_map(|(word, message)| Some((word.as_ref()?, message))) {
        let help = "take it out: what a look leaves open would be hard to tell".to_owned();
        file.fault(other.span(), message, Some(help));
    }
    if let Some(corner) = look.corner.as_ref().filter(|c| c.get_ref().0.0 > 20.0) {
        let help = "2 to 4 mm look well".to_owned();
        file.fault(corner.span(), "a corner radius of more than 20 mm eats the page", Some(help));
    }
    let fonts = &look.fonts;
    let named = [&fonts.heading, &fonts.heading_italic, &fonts.label, &fonts.label_bold, &fonts.label_italic];
    for (font, span) in named.into_iter().flatten().flat_map(each) {
        let font = font.file.as_str();
        if built_in::font_named(font).is_none() {
            let help = format!(
                "{}; fonts of your own are named in the manifest, under [style] fonts",
                suggest(font, built_in::names())
            );
            file.fault(span, format!("the tool brings no font {font:?} along"), Some(help));
        }
    }
    file.is_sound().then_some(look)
}

/// Puts a look's values where the style has none.
fn below(style: &mut raw::Style, look: raw::Style) {
    macro_rules! fill {
        ($($key:ident),*) => { $( style.$key = style.$key.take().or(look.$key); )* };
    }
    fill!(
        ink, rule, paper, desk, accent, tabs, binding, metal, grain, heading, rules, divider, index, cover, board,
        material
    );
    fill!(label_shape, foil, stamp, quarter, quarter_colour, corner_pieces, stitching, elastic, trim);
    style.ribbons = style.ribbons.take().or(look.ribbons.map(unplaced));
    style.corner = style.corner.take().or(look.corner.map(unplaced));
    style.figures = style.figures.take().or(look.figures.map(unplaced));
    style.capitals = style.capitals.take().or(look.capitals.map(unplaced));
    if style.sections.is_empty() {
        style.sections = look.sections;
    }
    // A font of the manifest's own brings its italic and bold, or goes without: none of the look's is mixed in.
    let fonts = &mut style.fonts;
    if fonts.heading.is_none() && fonts.heading_italic.is_none() {
        fonts.heading = look.fonts.heading.map(unplaced);
        fonts.heading_italic = look.fonts.heading_italic.map(unplaced);
    }
    if fonts.label.is_none() && fonts.label_bold.is_none() && fonts.label_italic.is_none() {
        fonts.label = look.fonts.label.map(unplaced);
        fonts.label_bold = look.fonts.label_bold.map(unplaced);
        fonts.label_italic = look.fonts.label_italic.map(unplaced);
    }
}

/// A value of another file: its place there means nothing in the manifest.
fn unplaced<T>(value: Spanned<T>) -> Spanned<T> {
    const NOWHERE: Range<usize> = 0..0;
    Spanned::new(NOWHERE, value.into_inner())
}
