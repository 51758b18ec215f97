//! The manifests that new products begin with: short, with comments, and they build at once.

use super::slug;

/// What a new product is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Start {
    /// A notebook with sections and templates.
    Notebook,
    /// A dated planner for the year after the release.
    Planner,
    /// Stickers alone.
    Stickers,
    /// A notebook whose pages are drawings of the designer's.
    Art,
    /// A finished PDF, by its name, that gets tabs and an outline.
    Finished(String),
}

/// A file of a new product: its path in the folder, and its text.
pub type NewFile = (&'static str, String);

/// Most characters of a name that is taken from a folder.
const LONGEST: usize = 60;
/// And of a word of it.
const LONGEST_WORD: usize = 18;

/// The name of a product that lies in a folder of this name. What the tool's own fonts cannot write is left out: an emoji,
/// another script.
pub fn title(folder: &str, otherwise: &str) -> String {
    // Latin with its accents, Greek and Cyrillic: what both of the tool's families can write.
    let known = |c: &char| matches!(c, ' '..='~' | '\u{a1}'..='\u{17f}' | '\u{391}'..='\u{3a9}' | '\u{3b1}'..='\u{3c9}' | '\u{400}'..='\u{45f}');
    let plain: String = folder.replace(['-', '_'], " ").chars().filter(known).take(LONGEST).collect();
    // A word that is longer than a line of the guide is cut.
    let short = |word: &str| word.chars().take(LONGEST_WORD).collect::<String>();
    let plain = plain.split_whitespace().map(short).collect::<Vec<_>>().join(" ");
    if !plain.chars().any(char::is_alphanumeric) {
        return otherwise.to_owned();
    }
    let mut chars = plain.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

/// The files of a new product in a folder of this name, the manifest first.
pub fn files(start: &Start, folder: &str, released: &str) -> Vec<NewFile> {
    let (otherwise, of_kind): (&str, Vec<NewFile>) = match start {
        Start::Notebook => ("My notebook", vec![(super::FILE, NOTEBOOK.to_owned())]),
        Start::Planner => {
            let year = released.get(..4).and_then(|year| year.parse::<i32>().ok()).map_or(2027, |year| year + 1);
            ("My planner", vec![(super::FILE, PLANNER.replace("YEAR", &year.to_string()))])
        }
        Start::Stickers => ("My stickers", vec![(super::FILE, STICKERS.to_owned())]),
        Start::Art => {
            let drawings = [("art/divider.svg", DIVIDER), ("art/page.svg", PAGE)];
            let drawn = drawings.map(|(path, text)| (path, text.to_owned()));
            ("My notebook", [vec![(super::FILE, ART.to_owned())], drawn.to_vec()].concat())
        }
        Start::Finished(file) => {
            let file = file.replace('\\', "\\\\").replace('"', "\\\"");
            ("My notebook", vec![(super::FILE, FINISHED.replace("FILE", &file))])
        }
    };
    let name = title(folder, otherwise);
    let quoted = name.replace('\\', "\\\\").replace('"', "\\\"");
    let plain: String = slug(&name).chars().take(LONGEST).collect();
    let plain = if plain.is_empty() { slug(otherwise) } else { plain.trim_end_matches('-').to_owned() };
    let head = format!(
        "name = \"{quoted}\"\nslug = \"{plain}\"                 # names files and folders\nversion = \"1.0.0\"\n\
         released = {released}\nshop = {{ name = \"Your shop\", contact = \"help@example.com\" }}\n"
    );
    let whole = |(path, text): NewFile| (path, if path == super::FILE { format!("{head}{text}{FOOT}") } else { text });
    of_kind.into_iter().map(whole).collect()
}

const FOOT: &str = "
# What else can be written here: `sheafwright explain NAME`, such as style.accent or notebook,
# or `sheafwright manual --html manual.html` for all of it on one page.
";

const NOTEBOOK: &str = r##"
[style]
accent = "#5f7d5a"              # headings, cover, and where the colours of the tabs begin

[notebook]
section = [                     # a tab and a divider each
  { name = "Plans" },
  { name = "Notes", pages = [{ template = "college-lines", count = 3 }] },
  { name = "Ideas" },
]

[[notebook.template]]           # page designs that buyers copy behind a tab
name = "College lines"
ruling = "lined"
with = { pitch = 7.1 }          # mm from line to line

[[notebook.template]]
ruling = "dot-grid"

[[sticker]]
motif = "to-do-box"             # or file = "art/….svg"
"##;

const PLANNER: &str = r##"
[style]
accent = "#5f7d5a"

[calendar]
first = "YEAR-01"               # the first month; months = 12 where unsaid
first-day = "monday"

[[calendar.event]]
name = "New Year's Day"
on = "01-01"                    # each year; also "2nd monday of may" or "easter+1"
kind = "holiday"

[notebook]
# Which pages there are, each with its tabs and taps.
dated = [{ pages = "year" }, { pages = "month" }, { pages = "week" }, { pages = "day" }]
"##;

const STICKERS: &str = r##"
[style]
sections = ["#b5c38a", "#e0b49c", "#a9c3dc"]   # colours that the motifs take in turn

[stickers]
dpi = 300
sheets = "both"                 # sheets as a PDF and as PNGs

[[sticker-group]]
name = "For the week"           # the heading on the sheets

[[sticker-group]]
name = "Small marks"
border = { width = "1 mm" }     # a white border to cut along

[[sticker]]
group = "For the week"
motif = "to-do-box"             # or file = "art/….svg", with longest = "40 mm"

[[sticker]]
group = "For the week"
motif = "week-strip"

[[sticker]]
group = "For the week"
motif = "habit-dots"
label = "Every day"             # words of your own on it

[[sticker]]
group = "Small marks"
motif = "star"

[[sticker]]
group = "Small marks"
motif = "heart"

[[sticker]]
group = "Small marks"
motif = "tick"
"##;

const ART: &str = r##"
[style]
accent = "#5f7d5a"

[assets]
own = ["art/*"]                 # you made what lies there

[data]
season = "spring"               # {{ data.season }} in a drawing

[notebook]
divider = { art = "art/divider.svg", room = "papers" }   # one drawing makes every divider
section = [
  { name = "Plans", pages = [{ template = "drawn-page", count = 2, data = { heading = "What comes next" } }] },
  { name = "Notes" },
]

[[notebook.template]]
name = "Drawn page"
art = "art/page.svg"
room = "papers"                 # "page" is the whole page, "papers" leaves the desk and the tabs

[[notebook.template]]
ruling = "lined"
"##;

const DIVIDER: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="222mm" height="169.1mm" viewBox="0 0 888 676.4">
  <# A drawing of yours, saved as SVG, as large as the papers of this page size. Words in double braces are filled in, and comments stand between these marks.
     Every page knows: section "Plans", number 1, colour "#c8d5b9", page.number 4, product.name, style.accent.
     A divider knows as well: pages, the list of its pages, and sections, the list of all.
     Filters: number | pad(width=2) "01", number | roman "i", colour | lighter(by=0.3), colour | darker(by=0.3),
     colour | mix(with="#336699", by=0.5), colour | readable: ink or paper, whichever can be read on it. #>
  <rect x="60" y="80" width="768" height="130" rx="18" fill="{{ colour }}"/>
  <text x="100" y="165" font-size="56" data-width="600" fill="{{ colour | readable }}">{{ section }}</text>
  <text x="100" y="270" font-size="24" fill="{{ style.ink }}">Part {{ number | pad(width=2) }} of {{ sections | length }}</text>
  <g id="link:index">
    <rect x="100" y="480" width="220" height="60" rx="30" fill="{{ colour | lighter(by=0.3) }}"/>
    <text x="160" y="519" font-size="24" fill="{{ style.ink }}">All parts</text>
  </g>
</svg>
"##;

const PAGE: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="222mm" height="169.1mm" viewBox="0 0 888 676.4">
  <# data holds the table [data] of the product, and what the pages behind a divider say in `data`. #>
  <text x="60" y="90" font-size="34" data-width="760" fill="{{ style.ink }}">{{ data.heading | default(value="Notes") }}</text>
  <text x="60" y="130" font-size="20" fill="{{ style.ink }}">{{ data.season }}</text>
  {% for row in range(end=12) %}<line x1="60" x2="828" y1="{{ 180 + row * 38 }}" y2="{{ 180 + row * 38 }}" stroke="{{ style.rule }}" stroke-width="1.4"/>
  {% endfor %}
</svg>
"##;

const FINISHED: &str = r##"
[assets]
own = ["exports/*"]             # you made what lies there

[notebook]
file = "exports/FILE"           # taken as it is; tabs, tap areas and an outline are laid over it
section = [
  { name = "Start", page = 1 }, # a tab each: the page that it leads to, from 1
]

# [[notebook.link]]             # a tap area of your own
# pages = "all"
# to = "page/1"
# at = [10, 5, "40 mm", "12 mm"]
"##;
