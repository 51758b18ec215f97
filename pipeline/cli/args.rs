//! Arguments.

use super::names;
use crate::driver::Shard;
use clap::{Args as Group, Parser, Subcommand};
use clap_complete::engine::ArgValueCompleter;
use manifest::add::Thing;
use std::path::PathBuf;

/// Turns one manifest into everything that a launch of a digital notebook needs.
#[derive(Debug, Parser)]
#[command(name = "sheafwright", version, max_term_width = 100)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Make a small product that builds at once, to change from there
    New(New),
    /// Add a template, section, sticker, cover or variant to a product's manifest; comments and order stay
    Add(Add),
    /// Look a folder over that may not build yet: what lies there, what is used by nothing, what the next step is
    Look {
        /// The folder
        #[arg(value_hint = clap::ValueHint::DirPath)]
        folder: PathBuf,
    },
    /// Build products: render, read back, check, sum, package and list
    Build(Build),
    /// Write a catalogue of products and their bundles: one page for the browser, a table and JSON
    Catalogue {
        /// Folders of products, or a folder of such folders
        #[arg(required = true, add = ArgValueCompleter::new(names::products))]
        products: Vec<PathBuf>,
        /// Where bundles lie; catalogue.html, catalogue.csv and catalogue.json are written there
        #[arg(long, value_name = "DIR", default_value = "dist")]
        out: PathBuf,
    },
    /// Show the plan of a launch: what is to be done by when, what of it is done, what is late
    Launch(Launch),
    /// Put the reports of several builds together: one table of all products
    Table {
        /// What `build --json` printed for many products
        #[arg(required = true, value_hint = clap::ValueHint::FilePath)]
        reports: Vec<PathBuf>,
        /// Give one report as JSON on standard output
        #[arg(long)]
        json: bool,
    },
    /// Check a product, a bundle, or any PDF, PNG or ZIP, whoever made it
    Check {
        /// Product folders, bundle folders, or files
        #[arg(required = true, add = ArgValueCompleter::new(names::products))]
        paths: Vec<PathBuf>,
        /// Count warnings as errors
        #[arg(long)]
        strict: bool,
        /// Report as JSON on standard output
        #[arg(long)]
        json: bool,
        /// Report as SARIF 2.1.0, for editors and build servers
        #[arg(long, conflicts_with = "json")]
        sarif: bool,
    },
    /// Say what changed between two versions of a bundle, or two files, page by page and link by link
    Diff {
        /// The older version: a bundle's folder, an archive, or a file
        old: PathBuf,
        /// The newer version
        new: PathBuf,
        /// Report as JSON on standard output
        #[arg(long)]
        json: bool,
        /// Print a change note for past buyers, ready to edit
        #[arg(long, conflicts_with = "json")]
        note: bool,
        /// Write a page for the browser: pictures side by side, laid over each other and with a slider
        #[arg(long, value_name = "FILE")]
        html: Option<PathBuf>,
        /// Put the change note into this product's CHANGES.md, unless it has an entry of the version
        #[arg(long, value_name = "PRODUCT")]
        changes: Option<PathBuf>,
        /// Write a pack for people who have the old version into this new or empty folder: the new and changed pages with
        /// notes where they go, other changed files, and the change note
        #[arg(long, value_name = "DIR")]
        pack: Option<PathBuf>,
    },
    /// Print the listing text of a bundle with its file list, ready to paste
    Listing {
        /// Folder of the bundle
        bundle: PathBuf,
    },
    /// Write the proof page of a bundle anew, as the checks of today see it
    Proof {
        /// Folder of the bundle
        bundle: PathBuf,
        /// Where the page is written, in place of what may be there; without it, proof.html, which must not be there yet
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Copy a planner's product and move it to other months, with a list of what was edited and what needs your eye
    Redate {
        /// Folder of the product, or its product.toml
        #[arg(add = ArgValueCompleter::new(names::products))]
        product: PathBuf,
        /// First month of the new planner, as 2028-01
        #[arg(long, value_name = "YYYY-MM")]
        from: String,
        /// Folder of the new product; it must not be there yet
        #[arg(long, value_name = "DIR", required_unless_present = "dry_run")]
        into: Option<PathBuf>,
        /// Only tell what would be done
        #[arg(long)]
        dry_run: bool,
        /// Report as JSON on standard output
        #[arg(long)]
        json: bool,
    },
    /// Rebuild a product whenever something in it is saved, with its proof in the browser
    Watch {
        /// Folder of the product, or its product.toml
        #[arg(add = ArgValueCompleter::new(names::products))]
        product: PathBuf,
        /// Where bundles land
        #[arg(long, value_name = "DIR", default_value = "dist")]
        out: PathBuf,
        /// Port of this machine on which the proof is shown; any that is free by default
        #[arg(long, value_name = "N", default_value_t = 0)]
        port: u16,
        /// Let warnings keep a bundle from being written as errors do
        #[arg(long)]
        strict: bool,
    },
    /// Seal the version of a bundle: buyers have it from now on, and no build changes it any more
    Release(Release),
    /// Re-read every byte of a bundle, or of what a buyer has of it, and say what is missing, altered or added
    Verify(Verify),
    /// Say what a key, ruling, motif, layout, word or check is for, and how it is written; without a name, list all checks
    Explain {
        /// The name, such as style.accent, lined or link-to-nowhere
        #[arg(add = ArgValueCompleter::new(names::known))]
        name: Option<String>,
        /// Say which file, line and column the value of a key comes from in a product: its own manifest, the shop.toml above
        /// it, a named style, a variant, a look, or the tool's default
        #[arg(long = "where", requires = "product")]
        origin: bool,
        /// The folder of the product that --where is asked of
        #[arg(requires = "origin", add = ArgValueCompleter::new(names::products))]
        product: Option<PathBuf>,
    },
    /// Write the manual: one page for the browser with every key, ruling, motif, cover, layout and check
    Manual(Manual),
    /// Print what a shell has to load to complete commands, products, checks, rulings and keys
    Completions {
        /// The shell: bash, elvish, fish, powershell or zsh
        shell: String,
    },
}

/// What is built, and how.
#[derive(Debug, Group)]
pub struct Build {
    /// Folders of products, or a folder of such folders
    #[arg(required = true, add = ArgValueCompleter::new(names::products))]
    pub products: Vec<PathBuf>,
    /// Where bundles land
    #[arg(long, value_name = "DIR", default_value = "dist")]
    pub out: PathBuf,
    /// How many things are made at once; as many as there are cores by default
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=512))]
    pub jobs: Option<u16>,
    /// Megabytes that products which are built side by side may need together; one that needs more is built alone
    #[arg(long, value_name = "MB", default_value_t = 2_000, value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub memory: u32,
    /// Let warnings stop the build as errors do
    #[arg(long)]
    pub strict: bool,
    /// Report as JSON on standard output
    #[arg(long)]
    pub json: bool,
    /// Build one part of the products, as 2/5, where other runs build the others
    #[arg(long, value_name = "K/N")]
    pub shard: Option<Shard>,
    /// The report of an earlier build of all: parts are made even by the time that each product took. Without it, by the
    /// bytes of their folders. Every part needs the same
    #[arg(long, value_name = "FILE", requires = "shard", value_hint = clap::ValueHint::FilePath)]
    pub costs: Option<PathBuf>,
}

/// What a new product is.
#[derive(Debug, Group)]
pub struct New {
    /// Folder of the new product; it must not hold a product yet
    #[arg(value_hint = clap::ValueHint::DirPath)]
    pub dir: PathBuf,
    /// A notebook with sections and templates; this is what is made where nothing is said
    #[arg(long, group = "start")]
    pub notebook: bool,
    /// A dated planner for the next year
    #[arg(long, group = "start")]
    pub planner: bool,
    /// Stickers alone
    #[arg(long, group = "start")]
    pub stickers: bool,
    /// A notebook whose pages are drawings of yours, with two to begin from
    #[arg(long, group = "start")]
    pub art: bool,
    /// A finished PDF that you have, to get tabs and an outline
    #[arg(long, group = "start", value_name = "PDF")]
    pub finished: Option<PathBuf>,
}

/// What is to be added.
#[derive(Debug, Group)]
pub struct Add {
    /// Folder of the product, or its product.toml
    #[arg(add = ArgValueCompleter::new(names::products))]
    pub product: PathBuf,
    /// What it is
    pub what: What,
    /// Which one: a ruling, a motif, a design or pattern, a file of art, the name of a section, or row/choice of a variant
    #[arg(add = ArgValueCompleter::new(names::things))]
    pub which: String,
    /// The name that it is to have
    #[arg(long)]
    pub name: Option<String>,
    /// The colour of a section, sticker or cover; the accent of a variant
    #[arg(long, value_name = "COLOUR")]
    pub colour: Option<String>,
}

/// What can be added to a manifest.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
pub enum What {
    /// A page design that buyers copy from
    Template,
    /// A section with its tab and divider
    Section,
    /// A sticker
    Sticker,
    /// An alternate cover
    Cover,
    /// A choice of a row of variants, as colourway/dusk
    Variant,
}

impl From<What> for Thing {
    fn from(what: What) -> Thing {
        match what {
            What::Template => Thing::Template,
            What::Section => Thing::Section,
            What::Sticker => Thing::Sticker,
            What::Cover => Thing::Cover,
            What::Variant => Thing::Variant,
        }
    }
}

/// The forms of the manual.
#[derive(Debug, Group)]
#[group(required = true, multiple = true)]
pub struct Manual {
    /// Write the page for the browser
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// Write the JSON Schema of product.toml, for editors
    #[arg(long, value_name = "FILE")]
    pub schema: Option<PathBuf>,
    /// Where the JSON Schema of `shop.toml` for editors is written
    #[arg(long, value_name = "FILE")]
    pub shop_schema: Option<PathBuf>,
    /// Write the page for man
    #[arg(long, value_name = "FILE")]
    pub man: Option<PathBuf>,
}

/// Whose launch is planned, and what is written of it.
#[derive(Debug, Group)]
pub struct Launch {
    /// Folders of products, or a folder of such folders; what they plan stands in `[launch]`
    #[arg(required = true, add = ArgValueCompleter::new(names::products))]
    pub products: Vec<PathBuf>,
    /// Where bundles lie
    #[arg(long, value_name = "DIR", default_value = "dist")]
    pub out: PathBuf,
    /// The day that counts as today, as 2027-09-15; by default the clock's (UTC)
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub today: Option<toml::value::Datetime>,
    /// Write the plan as a calendar file (iCalendar), an event of a whole day for each step
    #[arg(long, value_name = "FILE")]
    pub ics: Option<PathBuf>,
    /// Tick this step off before, in launch-done.toml beside the manifest
    #[arg(long, value_name = "STEP")]
    pub done: Vec<String>,
    /// Report as JSON on standard output
    #[arg(long)]
    pub json: bool,
}

/// How a version is to be sealed.
#[derive(Debug, Group)]
pub struct Release {
    /// Folder of the bundle
    pub bundle: PathBuf,
    /// Folder of the product, whose releases.toml gets the entry; by default the one that the bundle was built from
    #[arg(long, value_name = "DIR")]
    pub product: Option<PathBuf>,
    /// The day of the release, as 2027-01-15; by default the one in the bundle's record
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub date: Option<toml::value::Datetime>,
    /// Sign with this secret key of yours, in the form of minisign; the signature is written beside the bundle
    #[arg(long, value_name = "FILE")]
    pub key: Option<PathBuf>,
    /// Report as JSON on standard output
    #[arg(long)]
    pub json: bool,
}

/// What a bundle is to be held against.
#[derive(Debug, Group)]
pub struct Verify {
    /// Folder or archive of a bundle, or the files of it that a buyer has
    pub path: PathBuf,
    /// The bundle.json or the SHA256SUMS of the bundle, where it does not lie among the files
    #[arg(long, value_name = "FILE")]
    pub record: Option<PathBuf>,
    /// Folder of the product, whose releases.toml has the seals; by default the one that the bundle was built from
    #[arg(long, value_name = "DIR")]
    pub product: Option<PathBuf>,
    /// Verify the signature as well, with this public key in the form of minisign
    #[arg(long, value_name = "FILE")]
    pub public_key: Option<PathBuf>,
    /// The signature; by default the file beside the bundle that ends in .minisig
    #[arg(long, value_name = "FILE", requires = "public_key")]
    pub signature: Option<PathBuf>,
    /// Build the version again from the product and compare: the same bytes, or what is no longer as it was
    #[arg(long)]
    pub rebuild: bool,
    /// Report as JSON on standard output
    #[arg(long)]
    pub json: bool,
}

/// A day without a time.
fn date(text: &str) -> Result<toml::value::Datetime, String> {
    let read: toml::value::Datetime = text.parse().map_err(|_| "a date is written as 2027-01-15".to_owned())?;
    if read.date.is_some() && read.time.is_none() && read.offset.is_none() {
        Ok(read)
    } else {
        Err("a date without a time is written as 2027-01-15".to_owned())
    }
}
