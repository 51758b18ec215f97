//! The dated side of a notebook: the manifest's `[calendar]` and `[[notebook.dated]]`, resolved. Plain words and numbers,
//! so that they can stand in keys; the calendar reads them back into its own types.

use super::art::ArtPage;
use super::dated::DatedKind;
use super::plan::Remark;
use super::units::Rgb;
use super::weekday::Weekday;
use borsh::BorshSerialize;

/// Everything that dated pages follow from, beside the language of the product.
#[derive(Clone, Debug, PartialEq, BorshSerialize)]
pub struct Dated {
    /// The first month: year, and month from 1.
    pub first: (i16, i8),
    /// How many months, 1 to 24.
    pub months: u8,
    /// The day on which weeks begin.
    pub first_day: Weekday,
    /// How weeks are numbered, by the manifest's word.
    pub week_numbers: String,
    /// The days of the weekend.
    pub weekend: Vec<Weekday>,
    /// Hours of the clock, 12 or 24.
    pub hours: u8,
    /// Whether pages stand kind by kind, and not month by month.
    pub by_kind: bool,
    /// Whether grids of a month leave the days of other months blank.
    pub blank_neighbours: bool,
    /// A second calendar, in small figures, by the manifest's word.
    pub beside: Option<String>,
    /// Sets of pages, in the order of the manifest.
    pub sets: Vec<DatedSet>,
    /// The tabs of the months.
    pub tabs: MonthTabs,
    /// Lists of events, and at last the single events of the manifest.
    pub lists: Vec<EventList>,
    /// What happens in the span, in order.
    pub happenings: Vec<Happening>,
    /// What is worth telling of lists and events.
    pub remarks: Vec<Remark>,
}

/// A set of dated pages.
#[derive(Clone, Debug, PartialEq, BorshSerialize)]
pub struct DatedSet {
    /// Of which periods there is a page.
    pub kind: DatedKind,
    /// Its name among sets of its kind.
    pub name: Option<String>,
    /// Of a set of days: which of them.
    pub days: DaysWanted,
    /// How its pages are drawn.
    pub design: Design,
    /// The pages behind each of them, one entry a page.
    pub companions: Vec<Companion>,
}

/// Which days have a page.
#[derive(Clone, Debug, PartialEq, BorshSerialize)]
pub enum DaysWanted {
    /// Each.
    All,
    /// Those that are not of the weekend.
    Workdays,
    /// Each; days of a weekend share one.
    Joined,
    /// These.
    Only(Vec<Weekday>),
    /// These; where the second is true, the day after shares the page.
    Shared(Vec<(Weekday, bool)>),
}

/// A page behind a dated one.
#[derive(Clone, Debug, PartialEq, BorshSerialize)]
pub struct Companion {
    /// Its name, as its tap says it.
    pub name: String,
    /// How it is drawn.
    pub design: Design,
}

/// How a dated page is drawn.
#[derive(Clone, Debug, PartialEq, BorshSerialize)]
pub enum Design {
    /// By a dated ruling, with its parameters.
    Dated(String, Parameters),
    /// By a ruling that knows no dates, below a head with the date.
    Plain(String, Parameters),
    /// By the designer's own art.
    Art(Box<ArtPage>),
}

/// Parameters of a ruling, already checked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Parameters(pub toml::Table);

impl BorshSerialize for Parameters {
    fn serialize<W: borsh::io::Write>(&self, out: &mut W) -> borsh::io::Result<()> {
        let text = serde_json::to_string(&self.0).map_err(borsh::io::Error::other)?;
        BorshSerialize::serialize(&text, out)
    }
}

/// The tabs of the months.
#[derive(Clone, Debug, Default, PartialEq, BorshSerialize)]
pub struct MonthTabs {
    /// On which edge; `None` lets the sizes decide.
    pub edge: Option<TabEdge>,
    /// What stands on them.
    pub label: TabLabel,
    /// Their colours, one a month of the span.
    pub colours: Vec<Rgb>,
}

/// Where tabs of months are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, BorshSerialize)]
pub enum TabEdge {
    /// On the side of the hand.
    Side,
    /// On the top edge.
    Top,
}

/// What stands on the tab of a month.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, BorshSerialize)]
pub enum TabLabel {
    /// "Mar".
    #[default]
    Short,
    /// "M".
    Narrow,
    /// "3".
    Number,
}

/// A list of events.
#[derive(Clone, Debug, PartialEq, BorshSerialize)]
pub struct EventList {
    /// The heading of its legend; `None` for the single events of the manifest.
    pub name: Option<String>,
    /// The file that it is from.
    pub file: Option<String>,
    /// The colour of its marks.
    pub colour: Option<Rgb>,
    /// Colours of single events, by their index.
    pub each: Vec<Option<Rgb>>,
    /// On which kinds of pages it is shown.
    pub on: Vec<DatedKind>,
    /// Whether all of its events are holidays.
    pub holidays: bool,
}

/// An event on one of its dates.
#[derive(Clone, Debug, PartialEq, BorshSerialize)]
pub struct Happening {
    /// What it is called.
    pub name: String,
    /// Its kind, where the list says one.
    pub kind: Option<String>,
    /// The first day: year, month, day.
    pub first: (i16, i8, i8),
    /// The last day.
    pub last: (i16, i8, i8),
    /// When it begins, hour and minute; `None` for whole days.
    pub start: Option<(i8, i8)>,
    /// The index of its list.
    pub list: usize,
    /// Its index in the list.
    pub event: usize,
}
