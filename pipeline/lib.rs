//! Sheafwright turns one manifest into everything that a launch of a digital notebook needs.
//!
//! ```text
//! product.toml ─ manifest ─▶ Product ─ plan ─▶ Plan ─ render ─▶ Artifacts ─ inspect ─▶ Facts
//!                                                                                   │ validate
//!        dist/<slug>/<version>/ ◀─ listing ◀─ package ◀─ checksum ◀──────── Findings ┘
//! ```
//!
//! `driver` is the only file that knows this order. Each stage is a room of its own and imports only `inspect`,
//! `draw`, `rulings` and the hand-over types of `model`; `world` is the one door for outside input, `store` for what
//! goes out. `DEVELOPERS.md` has the map with the reasons.

pub mod checksum;
pub mod cli;
pub mod diff;
pub mod draw;
pub mod driver;
pub mod inspect;
pub mod listing;
pub mod manifest;
pub mod model;
pub mod package;
pub mod pictures;
pub mod plan;
pub mod proof;
pub mod render;
pub mod rulings;
pub mod store;
pub mod validate;
pub mod world;
