//! From the plan to bytes.

pub mod pdf;
