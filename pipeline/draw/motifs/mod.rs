//! Motifs: the sticker drawings that come with the tool, one file a family, one table that lists them all.
//!
//! They are for use, not for show: a buyer writes in them, ticks them, colours them in. So they share one hand: a
//! light paper card, one stroke weight, one corner radius, no shadow, writing lines 7 mm apart at placed size, and
//! every colour derived from the sticker's own. Adding one is adding a function and a row here; manifest and
//! renderer know only the table.

mod boxes;
mod builder;
mod days;
mod figures;
mod icons;
mod labels;
mod marks;
mod rows;
mod shapes;
mod trims;
pub mod words;

use super::{Fonts, mirror};
use base::model::product::Style;
use base::model::{Drawing, Rgb, Size};
pub use icons::{GRID as ICON_GRID, Icon, Layer as IconLayer, Tones as IconTones, draw as draw_icon};
pub use words::MotifWords;

/// What a motif is drawn with.
pub struct MotifContext<'a> {
    /// The sticker's colour; every tint and shade derives from it.
    pub colour: Rgb,
    /// The product's style: paper, ink, rule grey, corner radius.
    pub style: &'a Style,
    /// The product's fonts.
    pub fonts: &'a Fonts,
    /// Words in place of the motif's own heading; `Some("")` leaves it blank to write on.
    pub label: Option<&'a str>,
    /// One or two letters for each day of the week, in the order in which the days are drawn.
    pub weekdays: [&'a str; 7],
    /// The words that motifs have.
    pub words: &'static MotifWords,
    /// Whether the language is written from right to left.
    pub right_to_left: bool,
}

/// Motifs that mean the same in every direction of writing, or are turned by who uses them.
const NEVER_MIRRORED: [&str; 4] = ["check-marks", "corner", "question", "tick"];

/// Letters for the days from Monday, in English.
pub const ENGLISH_DAYS: [&str; 7] = ["M", "T", "W", "T", "F", "S", "S"];

/// A row of the table.
pub struct Motif {
    /// Its name in the manifest.
    pub name: &'static str,
    /// What it is, in a few words.
    pub what: &'static str,
    /// Longest side at placed size in mm, where the manifest gives none: the size at which its lines are 7 mm apart.
    pub longest: f64,
    /// The heading or word that it carries unless the sticker has a label of its own; `None` when it carries none.
    pub heading: Option<&'static str>,
    draw: fn(&mut builder::MotifBuilder),
}

impl Motif {
    /// Draws it at its default size: the drawing, and how large it is in points.
    pub fn draw(&self, context: &MotifContext) -> (Drawing, Size) {
        let heading = context.words.heading(self.name).or(self.heading).unwrap_or("");
        let mut kit = builder::MotifBuilder::new(context, heading);
        (self.draw)(&mut kit);
        let (drawing, size) = kit.done();
        if context.right_to_left && !NEVER_MIRRORED.contains(&self.name) {
            return (mirror::drawing(drawing, size.w, context.fonts), size);
        }
        (drawing, size)
    }
}

/// The motif of this name.
pub fn find(name: &str) -> Option<&'static Motif> {
    TABLE.binary_search_by(|m| m.name.cmp(name)).ok().map(|i| &TABLE[i])
}

/// The icon of a motif that is a figure in a round mark; `None` for every other one.
pub fn icon(name: &str) -> Option<Icon> {
    figures::icon(name)
}

/// The motifs whose icons there are.
pub fn with_icons() -> impl Iterator<Item = &'static Motif> {
    TABLE.iter().filter(|motif| icon(motif.name).is_some())
}

type Draw = fn(&mut builder::MotifBuilder);

const fn plain(name: &'static str, what: &'static str, longest: f64, draw: Draw) -> Motif {
    Motif { name, what, longest, heading: None, draw }
}

const fn headed(name: &'static str, what: &'static str, longest: f64, heading: &'static str, draw: Draw) -> Motif {
    Motif { name, what, longest, heading: Some(heading), draw }
}

/// Every motif, by name.
pub static TABLE: &[Motif] = &[
    plain("acorn", "acorn in a round mark", 18.0, figures::acorn),
    plain("anchor", "anchor in a round mark", 18.0, figures::anchor),
    plain("apple", "apple in a round mark", 18.0, figures::apple),
    headed("appointment", "card for when, where and what to bring", 64.0, "Appointment", boxes::appointment),
    plain("arrow", "straight arrow", 30.0, marks::arrow),
    plain("arrow-bend", "arrow that turns down", 24.0, marks::arrow_bend),
    plain("arrow-curve", "arrow in a soft curve", 32.0, marks::arrow_curve),
    plain("ball", "ball in a round mark", 18.0, figures::ball),
    headed("banner", "ribbon with swallow tails", 84.0, "Hello", labels::banner),
    plain("basket", "shopping basket in a round mark", 18.0, figures::basket),
    plain("bed", "bed in a round mark", 18.0, figures::bed),
    plain("bee", "bee in a round mark", 18.0, figures::bee),
    plain("bicycle", "bicycle in a round mark", 18.0, figures::bicycle),
    plain("bird", "bird in a round mark", 18.0, figures::bird),
    plain("birthday", "gift in a round mark", 15.0, marks::birthday),
    plain("boat", "sailing boat in a round mark", 18.0, figures::boat),
    plain("bolt", "lightning in a round mark", 18.0, figures::bolt),
    plain("book", "open book in a round mark", 18.0, figures::book),
    plain("bottle", "bottle in a round mark", 18.0, figures::bottle),
    plain("bowl", "bowl with steam in a round mark", 18.0, figures::bowl),
    plain("broom", "broom in a round mark", 18.0, figures::broom),
    headed("budget-row", "planned, spent and left side by side", 98.0, "", rows::budget),
    plain("butterfly", "butterfly in a round mark", 18.0, figures::butterfly),
    plain("cactus", "cactus in a pot in a round mark", 18.0, figures::cactus),
    plain("cake", "slice of cake in a round mark", 18.0, figures::cake),
    plain("camera", "camera in a round mark", 18.0, figures::camera),
    plain("candle", "candle in a round mark", 18.0, figures::candle),
    plain("car", "car in a round mark", 18.0, figures::car),
    plain("carrot", "carrot in a round mark", 18.0, figures::carrot),
    plain("cat", "face of a cat in a round mark", 18.0, figures::cat),
    plain("chair", "armchair in a round mark", 18.0, figures::chair),
    plain("check-marks", "done, half done, moved and dropped in a strip", 56.0, marks::check_marks),
    plain("cheese", "piece of cheese in a round mark", 18.0, figures::cheese),
    plain("cherries", "pair of cherries in a round mark", 18.0, figures::cherries),
    plain("clock", "clock in a round mark", 18.0, figures::clock),
    plain("cloud", "cloud in a round mark", 18.0, figures::cloud),
    plain("clover", "clover with four leaves in a round mark", 18.0, figures::clover),
    plain("compass", "compass in a round mark", 18.0, figures::compass),
    plain("corner", "corner to frame a page with", 34.0, trims::corner),
    plain("cross", "cross in a round mark", 12.0, marks::cross),
    plain("cup", "cup with steam in a round mark", 18.0, figures::cup),
    plain("daisy", "flower with round petals in a round mark", 18.0, figures::daisy),
    headed("date-tag", "tag with a string for a date", 46.0, "", labels::date_tag),
    headed("day-parts", "morning, midday and evening with lines", 84.0, "Today", days::day_parts),
    plain("divider-leaf", "line with a leaf in the middle", 96.0, trims::divider_leaf),
    plain("drop", "drop of water in a round mark", 18.0, figures::drop),
    plain("duck", "duck in a round mark", 18.0, figures::duck),
    plain("egg", "fried egg in a round mark", 18.0, figures::egg),
    plain("energy-row", "battery with five cells to fill", 60.0, rows::energy),
    plain("fir", "fir tree in a round mark", 18.0, figures::fir),
    plain("fish", "fish in a round mark", 18.0, figures::fish),
    plain("flask", "flask in a round mark", 18.0, figures::flask),
    headed("for-and-against", "two columns to weigh something up", 76.0, "For and against", boxes::for_and_against),
    plain("glasses", "glasses in a round mark", 18.0, figures::glasses),
    plain("globe", "globe in a round mark", 18.0, figures::globe),
    headed("goal-steps", "stairs with a flag on top", 84.0, "Goal", boxes::goal_steps),
    headed("good-things", "three numbered places for good things", 68.0, "Three good things", boxes::good_things),
    headed("habit-dots", "four habits over a week", 98.0, "Habits", days::habit_dots),
    plain("heart", "heart", 14.0, marks::heart),
    plain("hedgehog", "hedgehog in a round mark", 18.0, figures::hedgehog),
    plain("house", "house in a round mark", 18.0, figures::house),
    plain("ice-cream", "ice cream in a round mark", 18.0, figures::ice_cream),
    plain("idea", "light bulb in a round mark", 15.0, marks::idea),
    plain("jar", "jar of jam in a round mark", 18.0, figures::jar),
    plain("key", "key in a round mark", 18.0, figures::key),
    headed("label", "rounded label to write on", 60.0, "", labels::label),
    plain("ladybird", "ladybird in a round mark", 18.0, figures::ladybird),
    plain("lamp", "table lamp in a round mark", 18.0, figures::lamp),
    plain("leaf", "leaf in a round mark", 18.0, figures::leaf),
    plain("lemon", "slice of lemon in a round mark", 18.0, figures::lemon),
    plain("lighthouse", "lighthouse in a round mark", 18.0, figures::lighthouse),
    plain("loaf", "loaf of bread in a round mark", 18.0, figures::loaf),
    headed("meal-plan", "a line of food for each day", 66.5, "Meals", boxes::meal_plan),
    plain("medal", "medal in a round mark", 18.0, figures::medal),
    headed("month-dots", "thirty-one numbered dots", 84.0, "This month", days::month_dots),
    plain("mood-row", "five faces from low to bright", 80.0, rows::mood),
    plain("moon", "moon and a star in a round mark", 18.0, figures::moon),
    plain("mortar-board", "cap of a graduate in a round mark", 18.0, figures::mortar_board),
    plain("mountain", "mountain in a round mark", 18.0, figures::mountain),
    plain("move-row", "seven days of moving", 96.0, rows::moving),
    plain("moved-on", "arrow in a round mark, for what moves to another day", 12.0, marks::moved_on),
    plain("mushroom", "mushroom in a round mark", 18.0, figures::mushroom),
    plain("music-note", "two notes joined in a round mark", 18.0, figures::music_note),
    headed("note-dotted", "note with a dot grid", 64.0, "", boxes::note_dotted),
    headed("note-with-tape", "lined note held by a strip of tape", 66.0, "", boxes::note_with_tape),
    plain("owl", "owl in a round mark", 18.0, figures::owl),
    headed("page-flag", "flag for the edge of a page", 34.0, "", labels::page_flag),
    headed("page-flags", "three flags, one below the other", 47.0, "", labels::page_flags),
    plain("paint-roller", "paint roller in a round mark", 18.0, figures::paint_roller),
    plain("palette", "painter's palette in a round mark", 18.0, figures::palette),
    plain("palm", "palm tree in a round mark", 18.0, figures::palm),
    plain("paw", "print of a paw in a round mark", 18.0, figures::paw),
    plain("pay-day", "coins in a round mark", 15.0, marks::pay_day),
    plain("pear", "pear in a round mark", 18.0, figures::pear),
    plain("pencil", "pencil in a round mark", 18.0, figures::pencil),
    headed("phone-call", "who, number and what about", 64.0, "Phone call", boxes::phone_call),
    plain("place", "map pin in a round mark", 15.0, marks::place),
    plain("plane", "aeroplane in a round mark", 18.0, figures::plane),
    headed("plant-marker", "stake with lines for name and date", 72.0, "", labels::plant_marker),
    plain("plug", "plug in a round mark", 18.0, figures::plug),
    plain("post", "letter in a round mark", 15.0, marks::post),
    plain("pot", "cooking pot in a round mark", 18.0, figures::pot),
    plain("pot-plant", "plant in a pot in a round mark", 18.0, figures::pot_plant),
    plain("priority-marks", "first, second and third in a strip", 44.0, marks::priority_marks),
    headed("progress-bar", "ten steps from nothing to done", 98.0, "", rows::progress),
    plain("purse", "purse in a round mark", 18.0, figures::purse),
    plain("question", "question mark in a round mark", 12.0, marks::question),
    headed("quote-band", "band with quotation marks and room for words", 98.0, "", labels::quote_band),
    plain("rabbit", "face of a rabbit in a round mark", 18.0, figures::rabbit),
    plain("racket", "racket in a round mark", 18.0, figures::racket),
    plain("rain", "cloud with rain in a round mark", 18.0, figures::rain),
    plain("reading-row", "shelf of ten books to colour in", 98.0, rows::reading),
    plain("reminder-bell", "bell in a round mark", 15.0, marks::reminder_bell),
    plain("scissors", "scissors in a round mark", 18.0, figures::scissors),
    plain("set-square", "set square in a round mark", 18.0, figures::set_square),
    headed("shopping-list", "two columns of things to buy", 78.0, "Shopping", boxes::shopping_list),
    plain("sleep-row", "ten hours of sleep", 98.0, rows::sleep),
    plain("snail", "snail in a round mark", 18.0, figures::snail),
    plain("snow", "cloud with snow in a round mark", 18.0, figures::snow),
    headed("speech-bubble", "bubble with two lines", 62.0, "", labels::speech_bubble),
    plain("spoon-and-fork", "spoon and fork in a round mark", 18.0, figures::spoon_and_fork),
    plain("sprout", "seedling with two leaves in a round mark", 18.0, figures::sprout),
    plain("star", "star", 14.0, marks::star),
    plain("storm", "cloud with lightning in a round mark", 18.0, figures::storm),
    plain("suitcase", "suitcase in a round mark", 18.0, figures::suitcase),
    plain("sun", "sun in a round mark", 18.0, figures::sun),
    plain("sun-and-cloud", "sun behind a cloud in a round mark", 18.0, figures::sun_and_cloud),
    plain("tally", "four bundles of five to trace", 80.0, rows::tally),
    plain("tape-dots", "strip of tape with dots", 70.0, trims::tape_dots),
    plain("tape-stripes", "strip of tape with stripes", 70.0, trims::tape_stripes),
    plain("teapot", "teapot in a round mark", 18.0, figures::teapot),
    plain("tent", "tent in a round mark", 18.0, figures::tent),
    plain("tick", "tick in a round mark", 12.0, marks::tick),
    headed("ticket", "ticket with a stub for something to look forward to", 76.0, "", labels::ticket),
    headed("to-do-box", "seven boxes to tick", 66.0, "To do", boxes::to_do_box),
    plain("train", "train in a round mark", 18.0, figures::train),
    plain("trophy", "cup of a winner in a round mark", 18.0, figures::trophy),
    plain("tulip", "tulip in a round mark", 18.0, figures::tulip),
    plain("twig", "twig with leaves in a round mark", 18.0, figures::twig),
    plain("umbrella", "umbrella in a round mark", 18.0, figures::umbrella),
    plain("water-row", "eight drops to fill", 92.0, rows::water),
    plain("watering-can", "watering can in a round mark", 18.0, figures::watering_can),
    plain("weather-row", "seven kinds of weather to ring", 98.0, rows::weather),
    headed("week-strip", "seven days side by side", 105.0, "", days::week_strip),
    plain("weights", "dumb-bell in a round mark", 18.0, figures::weights),
    plain("whale", "whale in a round mark", 18.0, figures::whale),
    plain("wheat", "ear of grain in a round mark", 18.0, figures::wheat),
    plain("whistle", "whistle in a round mark", 18.0, figures::whistle),
    plain("wind", "wind in a round mark", 18.0, figures::wind),
    plain("wool", "ball of wool in a round mark", 18.0, figures::wool),
];
