//! Pages that are composed of parts of the kit: each is a list of parts with words, a line or two a part.
//!
//! A page says in [`Design::parts`] what it is made of. What a designer may change of it is what its form has keys for: all
//! have their words (`headings`), rows that are tables have `rows`, and so on.

mod home;
mod kitchen;
mod logs;
mod money;
mod work;

pub use home::{Birthdays, CleaningRota, Contacts, GiftList, PackingList, PasswordHints, PlantCare, TripDay};
pub use kitchen::{MealPlan, Recipe, Shopping};
pub use logs::{FilmLog, ReadingLog, SleepAndWater, SymptomLog, TrainingLog};
pub use money::{Bills, BudgetMonth, Inventory, Ledger, SavingsGoal};
pub use work::{Decision, Goals, LessonPlan, MeetingNotes, ProjectBoard, Timeline, YearGoals};

use super::kit::{Fill, Holds, Kind, Part, draw};
use super::params::{Colour, Mark, Pitch, labels, named, pen};
use super::parts::phone;
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::calendar::{MONTHS, WEEKDAYS};
use base::model::weekday::Weekday;
use base::model::words::templates::{LANGUAGES, TemplateWords};
use base::model::{Drawing, Mm, Rect};
use serde::Deserialize;
use std::marker::PhantomData;

/// A page that is composed of parts.
pub trait Design: 'static {
    /// Its parts, from the top down.
    fn parts(t: &mut Said) -> Vec<Part>;
}

/// What a page says and is told.
pub struct Said<'a> {
    /// The words of its language.
    pub w: &'static TemplateWords,
    /// Texts of the designer's own, in the order in which the page asks for words.
    own: &'a [String],
    /// How many texts it has asked for, and those of the tool.
    asked: Vec<&'static str>,
    /// Names of days or months, as the page begins with them.
    names: Vec<String>,
    /// Rows of its main table.
    rows: Option<usize>,
    /// How many of its main thing there are, where the designer says so.
    many: Option<usize>,
    /// How many papers it has, 1 or 2.
    papers: usize,
    /// Whether its page is that of a phone, and a low one.
    low: bool,
    /// What is ticked.
    mark: Mark,
}

impl Said<'_> {
    /// A word: the designer's own, else the tool's.
    fn say(&mut self, word: &'static str) -> String {
        let own = self.own.get(self.asked.len());
        self.asked.push(word);
        own.map_or_else(|| word.to_owned(), String::clone)
    }

    /// Several words.
    fn all(&mut self, words: &[&'static str]) -> Vec<String> {
        words.iter().map(|word| self.say(word)).collect()
    }

    /// Fields side by side.
    fn fields(&mut self, words: &[&'static str], widths: &[f64]) -> Part {
        Part { part: Kind::Fields, labels: self.all(words), widths: widths.to_vec(), ..Part::default() }
    }

    /// Lines under a name.
    fn lines(&mut self, word: &'static str) -> Part {
        Part { label: self.say(word), ..Part::default() }
    }

    /// Rows to tick under a name.
    fn ticks(&mut self, word: &'static str) -> Part {
        Part { part: Kind::Ticks, label: self.say(word), mark: self.mark, ..Part::default() }
    }

    /// A table; columns of the width 0 are to be ticked.
    fn table(&mut self, columns: &[(&'static str, f64)]) -> Part {
        let words: Vec<&'static str> = columns.iter().map(|(word, _)| *word).collect();
        let hold = |w: f64| if w > 0.0 { Holds::Text } else { Holds::Tick };
        Part {
            part: Kind::Table,
            labels: words.iter().map(|word| if word.is_empty() { String::new() } else { self.say(word) }).collect(),
            widths: columns.iter().map(|(_, w)| if *w > 0.0 { *w } else { 0.3 }).collect(),
            holds: columns.iter().map(|(_, w)| hold(*w)).collect(),
            mark: self.mark,
            ..Part::default()
        }
    }

    /// A table under a name.
    fn table_of(&mut self, word: &'static str, columns: &[(&'static str, f64)]) -> Part {
        let label = self.say(word);
        Part { label, ..self.table(columns) }
    }

    /// Boxes with names.
    fn boxes(&mut self, fill: Fill, words: &[&'static str]) -> Part {
        Part { part: Kind::Boxes, labels: self.all(words), fill, mark: self.mark, ..Part::default() }
    }

    /// Cards with named lines.
    fn cards(&mut self, words: &[&'static str]) -> Part {
        Part { part: Kind::Cards, labels: self.all(words), ..Part::default() }
    }
}

/// Whether an area is that of a phone's page with fewer lines than most have.
fn low(area: Rect) -> bool {
    phone(area) && area.h < Mm(150.0).pt()
}

macro_rules! forms {
    ($( $(#[$doc:meta])* $name:ident { $( $(#[$key:meta])* $field:ident: $kind:ty = $usual:expr; )* } )*) => { $(
        $(#[$doc])*
        #[derive(Debug, Deserialize, Described)]
        #[serde(deny_unknown_fields, default, rename_all = "kebab-case", bound = "D: Design")]
        pub struct $name<D> {
            /// Distance of the lines; college ruling by default.
            /// Range: 2 to 50 mm.
            pitch: Pitch,
            /// Texts of the page in the order in which they are read, in the place of the tool's own; `""` leaves one out.
            headings: Vec<String>,
            $( $(#[$key])* $field: $kind, )*
            /// Language of the tool's own texts, such as `de`; that of the product by default.
            language: Option<String>,
            /// Width of the lines in points.
            /// Range: 0.1 to 4 pt.
            weight: Option<f64>,
            /// Colour of the lines.
            colour: Option<Colour>,
            #[serde(skip)]
            design: PhantomData<D>,
        }

        impl<D: Design> Default for $name<D> {
            fn default() -> Self {
                $name {
                    pitch: Pitch::COLLEGE,
                    headings: Vec::new(),
                    $( $field: $usual, )*
                    language: None,
                    weight: None,
                    colour: None,
                    design: PhantomData,
                }
            }
        }

        impl<D: Design> $name<D> {
            fn said(&self) -> Said<'_> {
                let said = Said {
                    w: TemplateWords::of(self.language.as_deref().unwrap_or("en")),
                    own: &self.headings,
                    asked: Vec::new(),
                    names: Vec::new(),
                    rows: None,
                    many: None,
                    papers: 1,
                    low: false,
                    mark: Mark::Box,
                };
                $( let said = { let mut said = said; self.$field.tell(&mut said); said }; )*
                said
            }
        }

        impl<D: Design> Ruling for $name<D> {
            fn check(&self) -> Result<(), String> {
                $( self.$field.good()?; )*
                let language = self.language.as_deref().unwrap_or("en");
                if !LANGUAGES.contains(&language) {
                    return Err(format!("there are no words in `{language}`; give one of {}", LANGUAGES.join(", ")));
                }
                let mut said = self.said();
                D::parts(&mut said);
                let (given, asked) = (self.headings.len(), said.asked);
                if given > asked.len() {
                    let list = asked.join(", ");
                    return Err(format!("headings has {given} entries for {} texts: {list}", asked.len()));
                }
                Ok(())
            }

            fn pitch(&self) -> Option<f64> {
                Some(self.pitch.pt())
            }

            fn draw(&self, context: &RulingContext) -> Drawing {
                let low = context.areas.first().is_some_and(|area| low(*area));
                let mut said = Said { papers: context.areas.len(), low, ..self.said() };
                let parts = D::parts(&mut said);
                draw(&context.with(pen(&context.pen, self.weight, self.colour)), &parts, self.pitch.pt())
            }
        }
    )* };
}

/// A value that a page is told.
trait Told {
    /// What is wrong with it.
    fn good(&self) -> Result<(), String> {
        Ok(())
    }

    /// Tells it.
    fn tell(&self, said: &mut Said);
}

forms! {
    /// A page composed of parts.
    Form {}

    /// A page with a table of as many rows as one likes.
    Listed {
        /// Rows of its first table; as many as there is room for by default.
        /// Range: 2 to 200.
        rows: Rows = Rows(None);
    }

    /// A page with boxes to tick.
    Ticked {
        /// Box or circle.
        mark: Mark = Mark::Box;
    }

    /// A page with the same thing several times.
    Several {
        /// How many there are; by default as many as fill the page: 3, or 4 on two papers.
        /// Range: 1 to 6.
        count: Times = Times(None);
    }

    /// A page with the days of a week.
    Weekly {
        /// Names of the days, Monday first whatever day the week begins on.
        days: Days = Days(named(&WEEKDAYS));
        /// The day that the week begins on.
        first_day: Weekday = Weekday::Monday;
    }

    /// A page with the days of a week, on which things are ticked.
    WeeklyTicked {
        /// Names of the days, Monday first whatever day the week begins on.
        days: Days = Days(named(&WEEKDAYS));
        /// The day that the week begins on.
        first_day: Weekday = Weekday::Monday;
        /// Box or circle.
        mark: Mark = Mark::Box;
    }

    /// A page with the months of a year.
    Monthly {
        /// Names of the months, January first whatever month the year begins with.
        months: Months = Months(named(&MONTHS));
        /// The month that the year begins with.
        /// Range: 1 to 12.
        first_month: FirstMonth = FirstMonth(1);
    }
}

macro_rules! told {
    ($( $name:ident($kind:ty) )*) => { $(
        #[derive(Clone, Debug, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub $kind);

        impl Described for $name {
            fn shape() -> base::keys::Shape {
                <$kind>::shape()
            }
        }
    )* };
}

told! { Rows(Option<usize>) Times(Option<usize>) Days(Vec<String>) Months(Vec<String>) FirstMonth(usize) }

impl Told for Rows {
    fn tell(&self, said: &mut Said) {
        said.rows = self.0;
    }
}

impl Told for Times {
    fn tell(&self, said: &mut Said) {
        said.many = self.0;
    }
}

impl Told for Days {
    fn good(&self) -> Result<(), String> {
        labels("days", self.0.len(), 7, "one for each day from Monday")
    }

    fn tell(&self, said: &mut Said) {
        said.names.clone_from(&self.0);
    }
}

impl Told for Months {
    fn good(&self) -> Result<(), String> {
        labels("months", self.0.len(), 12, "one for each month from January")
    }

    fn tell(&self, said: &mut Said) {
        said.names.clone_from(&self.0);
    }
}

impl Told for FirstMonth {
    fn tell(&self, said: &mut Said) {
        let from = self.0.saturating_sub(1) % said.names.len().max(1);
        said.names.rotate_left(from);
    }
}

impl Told for Weekday {
    fn tell(&self, said: &mut Said) {
        said.names = self.first_of(&said.names);
    }
}

impl Told for Mark {
    fn tell(&self, said: &mut Said) {
        said.mark = *self;
    }
}
