//! Portuguese of Portugal, where a binding is called as it is in Brazil.

/// The names.
pub const TABLE: super::Bindings = super::portuguese::TABLE;
