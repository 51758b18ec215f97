//! Arguments.

use clap::{Parser, Subcommand};
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
    New {
        /// Folder of the new product; it must not hold a product yet
        dir: PathBuf,
        /// A dated planner for the next year
        #[arg(long)]
        planner: bool,
    },
    /// Build a product: render, read back, check, sum, package and list
    Build {
        /// Folder of the product, or its product.toml
        product: PathBuf,
        /// Where bundles land
        #[arg(long, value_name = "DIR", default_value = "dist")]
        out: PathBuf,
        /// How many things are made at once; as many as there are cores by default
        #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=512))]
        jobs: Option<u16>,
        /// Let warnings stop the build as errors do
        #[arg(long)]
        strict: bool,
        /// Report as JSON on standard output
        #[arg(long)]
        json: bool,
    },
    /// Check a product, a bundle, or any PDF, PNG or ZIP, whoever made it
    Check {
        /// Product folders, bundle folders, or files
        #[arg(required = true)]
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
    /// Say what a check looks for, why, and how to mend what it finds; without a name, list all checks
    Explain {
        /// Name of the check
        check: Option<String>,
    },
}
