//! Sheafwright turns one manifest into everything that a launch of a digital notebook needs.
//!
//! ```text
//! product.toml ─ manifest ─▶ Product ─ plan ─▶ Plan ─ render ─▶ Artifacts ─ inspect ─▶ Facts
//!                                                                                       │ package, listing
//!            dist/<slug>/<version>/ ◀─ store ◀─ proof ◀─ Findings ◀─ validate ◀──── the bundle
//! ```
//!
//! `driver` is the only file that knows this order. The stages are crates of their own below `pipeline/`, so that the
//! compiler holds what may use what; what one hands to the next is a type of `base::model`. This crate is the program:
//! it alone reads files (`world`) and writes them (`store`), packs them (`package`) and describes them (`listing`).
//! `DEVELOPERS.md` has the map with the reasons.

pub mod catalogue;
pub mod cli;
pub mod driver;
pub mod launch;
pub mod listing;
pub mod manual;
pub mod package;
pub mod releases;
pub mod store;
pub mod world;
