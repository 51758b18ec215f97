//! What is said round the files: whose they are, guide, terms, listing, limits, delivery, versions.

use super::Word;
use base::keys::{Described, Shape};
use serde::de::{Error, Unexpected, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

/// Whose the files of the product are.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Assets {
    /// Files that you made yourself: paths, with * for any part of a name.
    /// Default: none.
    /// Example: `own = ["art/*", "texts/*"]`
    pub own: Vec<Spanned<String>>,
    /// Files of others, with what you may do with them.
    /// Default: none.
    /// Example: `item = [{ file = "fonts/Hedgerow.ttf", by = "Ada Quill", source = "https://hedgerow.example", licence = "OFL-1.1" }]`
    pub item: Vec<Spanned<AssetItem>>,
}

/// A file of somebody else's.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct AssetItem {
    /// The file, or a pattern for several.
    /// Default: it must be given.
    /// Example: `file = "fonts/Hedgerow.ttf"`
    pub file: Word,
    /// What the work is called.
    /// Default: the file's name.
    /// Example: `title = "Hedgerow"`
    pub title: Word,
    /// Who made it.
    /// Default: it must be given, or `credit`.
    /// Example: `by = "Ada Quill"`
    pub by: Word,
    /// Where it is from: an address, or the name of the pack that it came in.
    /// Default: it must be given.
    /// Example: `source = "https://hedgerow.example"`
    pub source: Word,
    /// Its licence, as an SPDX id. An id is no licence: its text governs, and local law above it.
    /// Default: none; then a receipt has to say what you may do.
    /// Example: `licence = "OFL-1.1"`
    pub licence: Word,
    /// What you bought it with, for your own records.
    /// Default: none.
    /// Example: `receipt = "order 311"`
    /// `allows = ["sell"]`
    pub receipt: Word,
    /// What the receipt allows: to sell, to change, to hand out files of their own, to embed.
    /// Default: it goes with a receipt; a licence says by itself what it allows.
    /// Example: `receipt = "order 311"`
    /// `allows = ["sell", "change"]`
    pub allows: Option<Spanned<Vec<Spanned<String>>>>,
    /// The words of its credit in the licence terms.
    /// Default: made of title, maker and licence where the licence asks for one.
    /// Example: `credit = "Hedgerow by Ada Quill"`
    pub credit: Word,
}

/// The how-to guide.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Guide {
    /// Whether there is one.
    /// Default: true.
    pub wanted: Option<bool>,
    /// A text of your own in Markdown, with the guide's own words for `{{ … }}`. Where it does not name the products of a set, or
    /// those that go with this one, a sentence that does is added. Beside files, it can show the product's own pages: `![](page:cover)`,
    /// `page:links` (a page with its tabs), `page:index`, `page:templates`, `page:covers`, `page:stickers` (a sheet with one of them
    /// marked), `page:files` (cover, page, another cover and sheet or index together), and `page:day` of a planner, as far as the
    /// product has them; those of a member of a set have its short name before theirs, as in `page:tide-log/index`. What follows such a
    /// picture up to the next heading stands beside it where the page is wide enough.
    /// Default: the tool's text.
    /// Example: `text = "texts/guide.md"`
    pub text: Word,
}

/// What the licence terms say. They are a draft for your own review: the law where you sell stands above them.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Licence {
    /// How many copies of things made with it a small business may sell; 0 for none.
    /// Range: 0 or more copies. Default: 0.
    /// Example: `small-commercial = 200`
    pub small_commercial: Option<u32>,
    /// How many people one purchase is for in a classroom; 0 for none.
    /// Range: 0 or more seats. Default: 0.
    /// Example: `classroom-seats = 30`
    pub classroom_seats: Option<u32>,
    /// Within how many days money is given back, or that it is not once a file was downloaded. Local law may say more.
    /// Range: 1 to 3650 days. Default: "unstated".
    /// Example: `refunds = 14`
    pub refunds: Option<Spanned<Refunds>>,
    /// Credits beside those of the ledger.
    /// Default: none.
    /// Example: `credits = ["Paper texture: Mill Lane"]`
    pub credits: Vec<String>,
    /// A paragraph of your own.
    /// Default: none.
    /// Example: `extra = "Please do not share the files."`
    pub extra: Option<String>,
}

/// When money is given back.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Refunds {
    Days(u32),
    NoneOnceDownloaded,
    Unstated,
}

impl Described for Refunds {
    fn shape() -> Shape {
        use base::keys::Word;
        let words = vec![
            Word { word: "none-once-downloaded", doc: "None once a file was downloaded." },
            Word { word: "unstated", doc: "The terms do not say." },
        ];
        Shape::Either(vec![u32::shape(), Shape::Words(words)])
    }
}

impl<'de> Deserialize<'de> for Refunds {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Refunds, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = Refunds;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number of days, \"none-once-downloaded\" or \"unstated\"")
            }
            fn visit_i64<E: Error>(self, v: i64) -> Result<Refunds, E> {
                let days = u32::try_from(v).map_err(|_| E::invalid_value(Unexpected::Signed(v), &self))?;
                Ok(Refunds::Days(days))
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<Refunds, E> {
                match v {
                    "none-once-downloaded" => Ok(Refunds::NoneOnceDownloaded),
                    "unstated" => Ok(Refunds::Unstated),
                    _ => Err(E::unknown_variant(v, &["none-once-downloaded", "unstated"])),
                }
            }
        }
        d.deserialize_any(Reader)
    }
}

/// What the listing says beyond the counted facts.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Listing {
    /// The title in the shop.
    /// Default: the product's name.
    /// Example: `title = "Allotment Year: a gardener's notebook"`
    pub title: Word,
    /// The first paragraph. Numbers in it are held against the files; `{{ facts.said.pages }}` writes the true one.
    /// Default: none.
    /// Example: `summary = "A notebook for a year on the plot."`
    pub summary: Option<String>,
    /// Words to be found by.
    /// Default: none.
    /// Example: `tags = ["garden", "notebook"]`
    pub tags: Vec<String>,
}

/// What the shop takes.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Limits {
    /// How many files can be uploaded for a product.
    /// Range: 1 or more files. Default: 5.
    /// Example: `files = 10`
    pub files: Option<Spanned<u32>>,
    /// How large a file may be, in megabytes of 1,000,000 bytes.
    /// Range: more than 0 megabytes. Default: 20.
    /// Example: `megabytes = 50`
    pub megabytes: Option<Spanned<f64>>,
    /// How long the title of the listing may be.
    /// Range: 0 or more characters. Default: 140.
    /// Example: `title = 100`
    pub title: Option<u32>,
    /// How many tags there may be.
    /// Range: 0 or more tags. Default: 13.
    /// Example: `tags = 10`
    pub tags: Option<u32>,
    /// How long a tag may be.
    /// Range: 0 or more characters. Default: 20.
    /// Example: `tag = 24`
    pub tag: Option<u32>,
    /// How many listing pictures there may be.
    /// Range: 1 or more pictures. Default: no limit.
    /// Example: `pictures = 10`
    pub pictures: Option<Spanned<u32>>,
    /// How long the longest side of a listing picture may be.
    /// Range: 1 or more pixels. Default: no limit.
    /// Example: `picture-pixels = 4000`
    pub picture_pixels: Option<Spanned<u32>>,
    /// How large a listing picture may be, in megabytes of 1,000,000 bytes.
    /// Range: more than 0 megabytes. Default: no limit.
    /// Example: `picture-megabytes = 10`
    pub picture_megabytes: Option<Spanned<f64>>,
}

/// How the files reach buyers.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Delivery {
    /// An address from which buyers download what is too large for the shop; a card with it is made, which is uploaded in its place.
    /// Default: everything is uploaded.
    /// Example: `address = "https://files.example/allotment-year"`
    pub address: Word,
    /// Whether each variant is an archive of its own. It needs variants.
    /// Default: false.
    /// Example: `zip-per-variant = false`
    pub zip_per_variant: Option<Spanned<bool>>,
}

/// A check that is lowered for this product.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Lower {
    /// The check.
    /// Default: it must be given.
    /// Example: `check = "tap-area-small"`
    pub check: Word,
    /// What it is lowered to.
    /// Default: "note".
    pub to: Option<LowerTo>,
    /// Why; the report shows it.
    /// Default: it must be given.
    /// Example: `reason = "the squares are meant for a pen"`
    pub reason: Word,
}

/// What a check is lowered to.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum LowerTo {
    /// It is told, and stops nothing but a strict build.
    Warning,
    /// It is told, and stops nothing.
    Note,
    /// It is not looked for; the report says so.
    Off,
}

/// Which changes raise which number of the version.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Versions {
    /// Kinds of changes that raise the first number.
    /// Default: what makes pages that buyers have pasted no longer fit.
    /// Example: `major = ["page-removed"]`
    pub major: Vec<Spanned<String>>,
    /// Kinds of changes that raise the second.
    /// Default: what is new.
    /// Example: `minor = ["page-inserted"]`
    pub minor: Vec<Spanned<String>>,
    /// Kinds of changes that raise the third.
    /// Default: everything else.
    /// Example: `patch = ["text-changed"]`
    pub patch: Vec<Spanned<String>>,
    /// From which step on past buyers are told to download again.
    /// Default: "minor".
    pub download_again: Option<DownloadAgain>,
    /// Whether a build writes a pack for people who have the version before: the new and changed pages with notes where they go, changed covers and stickers, and the change note. It lies in `listing/update-pack`.
    /// Default: false.
    /// Example: `update-pack = true`
    pub update_pack: bool,
}

/// The least step for which buyers are told to download again.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum DownloadAgain {
    /// For any step.
    Patch,
    /// For the second number and the first.
    Minor,
    /// For the first number alone.
    Major,
    /// They are not told.
    Never,
}
