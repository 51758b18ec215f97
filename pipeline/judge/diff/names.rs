//! What the path of a file tells: what it holds, and whether buyers get it.

/// Files that follow from all others: the sums, the record, the page for looking everything over.
pub const DERIVED: [&str; 3] = ["SHA256SUMS", "bundle.json", "proof.html"];

/// The last part of a path.
pub fn name(path: &str) -> &str {
    path.rsplit('/').next().unwrap_or(path)
}

/// Whether a file holds licence terms, by its name (common practice, no source).
pub fn is_licence(path: &str) -> bool {
    let name = name(path).to_lowercase();
    ["licence", "license", "terms"].iter().any(|word| name.contains(word))
}

/// Whether buyers get this file.
pub fn is_for_buyers(path: &str) -> bool {
    !path.starts_with("listing/") && !DERIVED.contains(&name(path))
}
