//! The words on templates that are composed of parts, a table a language. A table that lacks one does not compile.

mod arabic;
mod dutch;
mod english;
mod french;
mod german;
mod hebrew;
mod italian;
mod japanese;
mod polish;
mod portuguese;
mod portuguese_portugal;
mod spanish;
mod swedish;

/// Labels of templates.
#[derive(Debug, PartialEq, Eq)]
pub struct TemplateWords {
    /// The first meal of a day.
    pub breakfast: &'static str,
    /// The meal at noon.
    pub lunch: &'static str,
    /// The meal in the evening.
    pub dinner: &'static str,
    /// Above what is to be bought.
    pub shopping: &'static str,
    /// Above room for notes.
    pub notes: &'static str,
    /// Aisle of fruit and vegetables.
    pub produce: &'static str,
    /// Aisle of bread.
    pub bread: &'static str,
    /// Aisle of milk, cheese, eggs.
    pub dairy: &'static str,
    /// Aisle of meat and fish.
    pub meat_fish: &'static str,
    /// Aisle of food that keeps.
    pub larder: &'static str,
    /// Aisle of frozen food.
    pub frozen: &'static str,
    /// Aisle of drinks.
    pub drinks: &'static str,
    /// Aisle of things for the household.
    pub household: &'static str,
    /// The name of a dish.
    pub dish: &'static str,
    /// For how many a dish is.
    pub serves: &'static str,
    /// How long it takes.
    pub takes: &'static str,
    /// What goes into a dish.
    pub ingredients: &'static str,
    /// How a dish is made.
    pub method: &'static str,
    /// Before room for a month.
    pub month: &'static str,
    /// Money that comes in.
    pub income: &'static str,
    /// Money that goes out.
    pub spending: &'static str,
    /// A thing in a list.
    pub item: &'static str,
    /// An amount that is planned.
    pub planned: &'static str,
    /// An amount as it was.
    pub actual: &'static str,
    /// What is left of an amount.
    pub left: &'static str,
    /// What is saved for.
    pub saving_for: &'static str,
    /// An amount of money.
    pub amount: &'static str,
    /// By when.
    pub until: &'static str,
    /// How far one has come.
    pub progress: &'static str,
    /// Before room for a date.
    pub date: &'static str,
    /// An amount that was put aside.
    pub paid_in: &'static str,
    /// The amount so far.
    pub total: &'static str,
    /// Above bills.
    pub bills: &'static str,
    /// Above subscriptions.
    pub subscriptions: &'static str,
    /// Before room for a name.
    pub name: &'static str,
    /// When a bill is due.
    pub due: &'static str,
    /// Whether it is paid: short.
    pub paid: &'static str,
    /// When a subscription renews itself.
    pub renews: &'static str,
    /// Whether to keep it: short.
    pub keep: &'static str,
    /// Before room for the name of an account.
    pub account: &'static str,
    /// Amounts that come in: short.
    pub money_in: &'static str,
    /// Amounts that go out: short.
    pub money_out: &'static str,
    /// What an account holds.
    pub balance: &'static str,
    /// Where a thing is kept.
    pub stands: &'static str,
    /// When, or whether, a thing was bought: short.
    pub bought: &'static str,
    /// What a thing is worth.
    pub worth: &'static str,
    /// Until when a guarantee runs.
    pub guarantee: &'static str,
    /// Before room for the name of a project.
    pub project: &'static str,
    /// Above what is to be done.
    pub to_do: &'static str,
    /// Above what is being done.
    pub doing: &'static str,
    /// Above what is done.
    pub done: &'static str,
    /// What a meeting is about.
    pub topic: &'static str,
    /// Who is there.
    pub present: &'static str,
    /// What is to be talked about.
    pub agenda: &'static str,
    /// What is to be done after it.
    pub actions: &'static str,
    /// What is to be done.
    pub what: &'static str,
    /// Who does it.
    pub who: &'static str,
    /// What is to be decided.
    pub question: &'static str,
    /// What speaks for it.
    pub speaks_for: &'static str,
    /// What speaks against it.
    pub speaks_against: &'static str,
    /// What was decided.
    pub decision: &'static str,
    /// Before room for a goal.
    pub goal: &'static str,
    /// Why one wants it.
    pub why: &'static str,
    /// Steps towards a goal.
    pub steps: &'static str,
    /// A word for the year.
    pub word_of_year: &'static str,
    /// A school subject.
    pub subject: &'static str,
    /// A school class.
    pub class: &'static str,
    /// What a lesson aims at.
    pub aims: &'static str,
    /// A time, or how long.
    pub time: &'static str,
    /// What is needed for it.
    pub material: &'static str,
    /// Homework.
    pub homework: &'static str,
    /// How it went.
    pub looking_back: &'static str,
    /// A thing to do.
    pub task: &'static str,
    /// What is done every day.
    pub every_day: &'static str,
    /// What is done every week.
    pub every_week: &'static str,
    /// What is done every month.
    pub every_month: &'static str,
    /// Before room for the name of a journey.
    pub trip: &'static str,
    /// Clothes to pack.
    pub clothes: &'static str,
    /// What goes into the wash bag.
    pub wash_bag: &'static str,
    /// Papers to take along.
    pub papers: &'static str,
    /// Devices and chargers.
    pub devices: &'static str,
    /// What one needs for one's health.
    pub health: &'static str,
    /// What is wanted on the way.
    pub on_the_way: &'static str,
    /// A place.
    pub place: &'static str,
    /// What there is to see.
    pub to_see: &'static str,
    /// Where to eat.
    pub eating: &'static str,
    /// Where to sleep.
    pub overnight: &'static str,
    /// What is worth remembering.
    pub remember: &'static str,
    /// For whom a gift is.
    pub for_whom: &'static str,
    /// An idea for a gift.
    pub idea: &'static str,
    /// What it costs.
    pub price: &'static str,
    /// Whether it is wrapped: short.
    pub wrapped: &'static str,
    /// A telephone number.
    pub phone: &'static str,
    /// An e-mail address.
    pub mail: &'static str,
    /// A postal address.
    pub address: &'static str,
    /// A caution on a page for hints at passwords.
    pub caution: &'static str,
    /// What a password is for.
    pub site: &'static str,
    /// Under which name one logs in.
    pub user_name: &'static str,
    /// A hint at a password.
    pub hint: &'static str,
    /// When it was last changed.
    pub changed: &'static str,
    /// The name of a plant.
    pub plant: &'static str,
    /// How often it is watered.
    pub watered: &'static str,
    /// When it was fed.
    pub fed: &'static str,
    /// When it was repotted.
    pub repotted: &'static str,
    /// The title of a book or film.
    pub title: &'static str,
    /// Who wrote it.
    pub author: &'static str,
    /// When it was begun.
    pub begun: &'static str,
    /// When it was finished.
    pub finished: &'static str,
    /// How good it was.
    pub stars: &'static str,
    /// Before room for a year.
    pub year: &'static str,
    /// With whom it was seen.
    pub seen_with: &'static str,
    /// What was trained.
    pub training: &'static str,
    /// An exercise.
    pub exercise: &'static str,
    /// How it felt.
    pub felt: &'static str,
    /// One end of a scale.
    pub easy: &'static str,
    /// The other end of it.
    pub hard: &'static str,
    /// Before room for a week.
    pub week: &'static str,
    /// When one went to bed.
    pub to_bed: &'static str,
    /// When one got up: short.
    pub up: &'static str,
    /// Hours of sleep.
    pub asleep: &'static str,
    /// Glasses of water.
    pub water: &'static str,
    /// How strong it was.
    pub strength: &'static str,
    /// What helped.
    pub helped: &'static str,
    /// The best of five moods.
    pub mood_best: &'static str,
    /// The second.
    pub mood_good: &'static str,
    /// The third.
    pub mood_even: &'static str,
    /// The fourth.
    pub mood_low: &'static str,
    /// The last.
    pub mood_worst: &'static str,
}

/// The languages that have a table.
pub const LANGUAGES: [&str; 13] = ["ar", "de", "en", "es", "fr", "he", "it", "ja", "nl", "pl", "pt", "pt-PT", "sv"];

impl TemplateWords {
    /// The words of a table, English where there is none.
    pub fn of(table: &str) -> &'static TemplateWords {
        match table {
            "ar" => &arabic::TABLE,
            "de" => &german::TABLE,
            "es" => &spanish::TABLE,
            "fr" => &french::TABLE,
            "he" => &hebrew::TABLE,
            "it" => &italian::TABLE,
            "ja" => &japanese::TABLE,
            "nl" => &dutch::TABLE,
            "pl" => &polish::TABLE,
            "pt" => &portuguese::TABLE,
            "pt-PT" => &portuguese_portugal::TABLE,
            "sv" => &swedish::TABLE,
            _ => &english::TABLE,
        }
    }
}
