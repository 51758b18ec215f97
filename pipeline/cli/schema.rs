//! The JSON Schema of the report for other programs, generated from the catalogue. It is published as
//! `pipeline/cli/report.schema.json`; a test holds the file current.

use crate::releases::compare::{How, Part};
use base::model::change::{Change, Verdict};
use base::model::finding::{Family, Severity};
use judge::validate::CATALOGUE;
use serde_json::{Value, json};

/// The schema (JSON Schema, draft 2020-12) of what `report::json` gives.
pub fn report() -> Value {
    let names: Vec<&str> = CATALOGUE.iter().map(|c| c.name).collect();
    let severities = [Severity::Error, Severity::Warning, Severity::Note].map(Severity::name);
    let count = json!({ "type": "integer", "minimum": 0 });
    let page = json!({ "type": ["integer", "null"], "minimum": 1, "description": "Page of a PDF, from 1." });
    let numbers = |n: usize| json!({ "type": "array", "items": { "type": "number" }, "minItems": n, "maxItems": n });
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Findings of a check or a build, version 1",
        "type": "object",
        "required": ["findings", "errors", "warnings", "notes"],
        "properties": {
            "findings": { "type": "array", "items": { "$ref": "#/$defs/finding" } },
            "errors": count,
            "warnings": count,
            "notes": count,
            "files": { "type": "array", "items": { "$ref": "#/$defs/file" }, "description": "Files that were read." },
            "folder": { "type": ["string", "null"], "description": "Where a build was written." },
        },
        "$defs": { "file": {
            "type": "object",
            "required": ["path", "size", "kind"],
            "properties": {
                "path": { "type": "string" },
                "size": count,
                "kind": { "enum": ["pdf", "png", "zip", "text", "picture", "unreadable"] },
                "pages": count,
                "links": count,
                "entries": count,
                "pixels": numbers(2),
                "boxes": { "type": "array", "description": "Runs of pages with the same boxes.", "items": {
                    "type": "object",
                    "required": ["pages", "media", "crop"],
                    "properties": { "pages": count, "media": numbers(4), "crop": numbers(4) },
                }},
                "taps": {
                    "type": "object",
                    "required": ["greatest", "mean", "apart"],
                    "description": "Taps from any page to any other; apart counts pairs without a way.",
                    "properties": { "greatest": count, "mean": { "type": "number", "minimum": 0 }, "apart": count },
                },
            },
        }, "finding": {
            "type": "object",
            "required": ["check", "severity", "family", "file", "page", "entry", "message", "help"],
            "properties": {
                "check": { "enum": names },
                "severity": { "enum": severities },
                "family": { "enum": Family::ALL.map(Family::name) },
                "file": { "type": "string" },
                "page": page,
                "entry": { "type": ["string", "null"], "description": "Name of an archive's entry." },
                "message": { "type": "string" },
                "help": { "type": "string" },
                "rect": { "allOf": [numbers(4)], "description": "x, y, width, height in points, from the top left." },
                "pixel": { "allOf": [numbers(2)], "description": "x and y, from the top left." },
                "line": { "type": "integer", "minimum": 1 },
                "column": { "type": "integer", "minimum": 1 },
                "lowered": { "type": "string", "description": "Why the manifest lowered the check." },
            },
        }},
    })
}

/// The schema of what `diff_report::json` gives.
pub fn changes() -> Value {
    let page = json!({ "type": ["integer", "null"], "minimum": 1, "description": "Page of a PDF, from 1." });
    let count = json!({ "type": ["integer", "null"], "minimum": 0 });
    let text = json!({ "type": "string" });
    let text_or_none = json!({ "type": ["string", "null"] });
    let words = json!({ "type": "array", "items": text });
    let side = json!({ "type": "integer", "minimum": 0 });
    let verdicts = [Verdict::Same, Verdict::Patch, Verdict::Minor, Verdict::Major].map(Verdict::name);
    let severities = [Severity::Error, Severity::Warning, Severity::Note].map(Severity::name);
    let kinds = Change::ALL.map(Change::name);
    let corners = json!({ "type": "array", "items": side, "minItems": 4, "maxItems": 4 });
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "What changed between two versions, version 1",
        "type": "object",
        "required": ["same", "verdict", "download_again", "differences", "files", "facts", "checks", "numbers", "rule", "language"],
        "properties": {
            "same": { "type": "boolean", "description": "Whether not even the bytes differ." },
            "verdict": { "enum": verdicts },
            "download_again": { "type": "boolean", "description": "Whether past buyers gain by downloading again." },
            "differences": { "type": "array", "items": { "$ref": "#/$defs/difference" } },
            "files": { "type": "array", "description": "Files that are not what they were, as they lie there.", "items": {
                "type": "object",
                "required": ["path", "path_old", "size_old", "size_new", "sha256_old", "sha256_new"],
                "properties": {
                    "path": text, "path_old": text_or_none,
                    "size_old": count, "size_new": count,
                    "sha256_old": text_or_none, "sha256_new": text_or_none,
                },
            }},
            "facts": { "type": "array", "items": {
                "type": "object",
                "required": ["what", "old", "new"],
                "properties": { "what": text, "old": count, "new": count },
            }},
            "checks": {
                "type": "object",
                "required": ["mended", "new"],
                "properties": {
                    "mended": { "type": "array", "items": { "$ref": "#/$defs/told" } },
                    "new": { "type": "array", "items": { "$ref": "#/$defs/told" } },
                },
            },
            "numbers": {
                "type": ["object", "null"],
                "required": ["old", "new", "needed", "enough"],
                "properties": { "old": text, "new": text, "needed": text, "enough": { "type": "boolean" } },
            },
            "rule": {
                "type": "object",
                "description": "What makes each step of the version number: the rule of the new version, or the usual one.",
                "required": ["stated", "major", "minor", "patch", "download_again"],
                "properties": {
                    "stated": { "type": "boolean", "description": "Whether the new version states it." },
                    "major": words, "minor": words, "patch": words,
                    "download_again": { "enum": ["patch", "minor", "major", "never"], "description":
                        "The least step for which past buyers are told to download again." },
                },
            },
            "language": text_or_none,
            "pack": pack(),
        },
        "$defs": {
            "difference": {
                "type": "object",
                "required": ["path", "kind", "page_old", "page_new", "message", "weight"],
                "properties": {
                    "path": { "type": "string", "description": "Files in archives lie below them." },
                    "kind": { "enum": kinds },
                    "page_old": page,
                    "page_new": page,
                    "message": text,
                    "name": { "type": "string", "description": "The entry of the outline that the page belongs to." },
                    "weight": { "enum": ["patch", "minor", "major"], "description": "What it alone asks of the number." },
                    "boxes": { "type": "array", "items": corners, "description":
                        "x, y, width, height about what looks different: points of a page, pixels of a picture." },
                },
            },
            "told": {
                "type": "object",
                "required": ["check", "severity", "file", "page", "message"],
                "properties": {
                    "check": text,
                    "severity": { "enum": severities },
                    "file": text,
                    "page": page,
                    "message": text,
                },
            },
        },
    })
}

/// What `packs::json` gives.
fn pack() -> Value {
    let text = json!({ "type": "string" });
    let count = json!({ "type": "integer", "minimum": 0 });
    let page = json!({
        "type": "object",
        "required": ["page", "goes"],
        "properties": {
            "page": { "type": "integer", "minimum": 1, "description": "Page of the new version, from 1." },
            "goes": { "type": "string", "description": "Where it goes in the old version." },
        },
    });
    let document = json!({
        "type": "object",
        "required": ["path", "pages", "moved", "removed", "left_out", "links_cut"],
        "properties": {
            "path": text,
            "pages": { "type": "array", "items": page },
            "moved": count,
            "removed": count,
            "left_out": { "type": "integer", "minimum": 0, "description": "Pages of which only tabs and ways home changed." },
            "links_cut": { "type": "integer", "minimum": 0, "description": "Links that lead out of the pack." },
        },
    });
    json!({
        "type": "object",
        "description": "The update pack, where one was asked for; without files if there is nothing to take over.",
        "required": ["files", "documents"],
        "properties": {
            "files": { "type": "array", "items": text },
            "documents": { "type": "array", "items": document },
        },
    })
}

/// A list of files that are not what the papers of a bundle say.
fn differences() -> Value {
    let digest = json!({ "type": ["string", "null"], "description": "SHA-256 in hex digits." });
    json!({ "type": "array", "items": {
        "type": "object",
        "required": ["path", "kind", "stated", "found", "message"],
        "properties": {
            "path": { "type": "string" },
            "kind": { "enum": How::ALL.map(How::name) },
            "stated": digest,
            "found": digest,
            "message": { "type": "string" },
        },
    }})
}

/// The schema of what `verify --json` gives.
pub fn verified() -> Value {
    let (text, truth) = (json!({ "type": "string" }), json!({ "type": "boolean" }));
    let text_or_none = json!({ "type": ["string", "null"] });
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A bundle against its papers, version 1",
        "type": "object",
        "required": ["holds", "part", "product", "version", "files", "differences", "seal", "signature", "rebuilt"],
        "properties": {
            "holds": { "type": "boolean", "description": "Whether everything that was asked for holds." },
            "part": { "enum": Part::ALL.map(Part::name), "description":
                "What was looked at: a whole bundle, the uploads, or what was unpacked from them." },
            "product": text_or_none,
            "version": text_or_none,
            "files": { "type": "integer", "minimum": 0, "description": "Files that are stated." },
            "differences": differences(),
            "seal": {
                "type": ["object", "null"],
                "required": ["same", "version", "released", "record", "sums", "tool"],
                "properties": {
                    "same": truth, "version": text, "released": text, "record": text, "sums": text, "tool": text,
                },
            },
            "signature": {
                "type": ["object", "null"],
                "required": ["holds"],
                "properties": { "holds": truth, "key": text, "comment": text, "why": text },
            },
            "rebuilt": {
                "type": ["object", "null"],
                "required": ["same", "differences", "reasons"],
                "properties": {
                    "same": truth,
                    "differences": differences(),
                    "reasons": { "type": "array", "items": text, "description": "What is no longer as it was." },
                },
            },
        },
    })
}

/// A schema that stands within another one under `$defs/report`: what it refers to stands below it.
fn within(mut schema: Value) -> Value {
    if let Some(top) = schema.as_object_mut() {
        top.remove("$schema");
    }
    fn lead(value: &mut Value) {
        match value {
            Value::String(text) if text.starts_with("#/$defs/") => *text = text.replacen('#', "#/$defs/report", 1),
            Value::Array(items) => items.iter_mut().for_each(lead),
            Value::Object(items) => items.values_mut().for_each(lead),
            _ => {}
        }
    }
    lead(&mut schema);
    schema
}

/// The schema of what `release --json` gives.
pub fn sealing() -> Value {
    let (text, truth) = (json!({ "type": "string" }), json!({ "type": "boolean" }));
    let text_or_none = json!({ "type": ["string", "null"] });
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "The sealing of a version, version 1",
        "type": "object",
        "required": ["sealed", "already", "version", "released", "record", "sums", "file", "signature", "notes",
            "differences", "checks"],
        "properties": {
            "sealed": truth,
            "already": { "type": "boolean", "description": "Whether it was sealed before, with the same bytes." },
            "version": text,
            "released": text_or_none,
            "record": text_or_none,
            "sums": text_or_none,
            "file": { "type": ["string", "null"], "description": "Where the entry stands." },
            "signature": { "type": ["string", "null"], "description": "Where the signature was written." },
            "notes": { "type": "array", "items": text },
            "differences": differences(),
            "checks": { "$ref": "#/$defs/report" },
        },
        "$defs": { "report": within(report()) },
    })
}

/// The schema of what `build --json` gives for many products, and `table --json`.
pub fn products() -> Value {
    let (text, text_or_none) = (json!({ "type": "string" }), json!({ "type": ["string", "null"] }));
    let count = json!({ "type": "integer", "minimum": 0 });
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A build of many products, version 1",
        "type": "object",
        "required": ["products", "errors", "warnings", "notes", "seconds"],
        "properties": {
            "products": { "type": "array", "items": {
                "type": "object",
                "required": ["path", "product", "version", "state", "uploads", "bytes", "errors", "warnings", "notes",
                    "changed", "seconds", "folder", "proof", "faults", "findings"],
                "properties": {
                    "path": { "type": "string", "description": "Its folder, as the command line has it." },
                    "product": { "type": "string", "description": "Its slug; its folder's name where it has none." },
                    "version": text_or_none,
                    "state": { "enum": ["built", "stopped", "failed"] },
                    "uploads": count,
                    "bytes": count,
                    "errors": count,
                    "warnings": count,
                    "notes": count,
                    "changed": text_or_none,
                    "seconds": { "type": "number", "minimum": 0 },
                    "folder": text_or_none,
                    "proof": text_or_none,
                    "faults": { "type": "array", "items": text, "description": "Why it could not be made." },
                    "findings": { "type": "array", "items": { "$ref": "#/$defs/report/$defs/finding" } },
                },
            }},
            "errors": count,
            "warnings": count,
            "notes": count,
            "seconds": { "type": ["number", "null"], "minimum": 0, "description": "All of it; null in merged reports." },
        },
        "$defs": { "report": within(report()) },
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_published_schema_of_products_is_current() {
        held("products", &super::products());
    }

    #[test]
    fn the_published_schema_of_verify_is_current() {
        held("verified", &super::verified());
    }

    #[test]
    fn the_published_schema_of_release_is_current() {
        held("sealing", &super::sealing());
    }

    /// After a change of the catalogue, run the tests with `SHEAFWRIGHT_BLESS=1` to write the files anew.
    #[test]
    fn the_published_schema_is_current() {
        held("report", &super::report());
    }

    #[test]
    fn the_published_schema_of_changes_is_current() {
        held("changes", &super::changes());
    }

    fn held(name: &str, schema: &serde_json::Value) {
        let path = format!("{}/pipeline/cli/{name}.schema.json", env!("CARGO_MANIFEST_DIR"));
        let current = format!("{schema:#}\n");
        if std::env::var_os("SHEAFWRIGHT_BLESS").is_some() {
            std::fs::write(&path, &current).expect("the schema can be written");
        }
        let published = std::fs::read_to_string(&path).expect("the schema is published");
        assert_eq!(published, current, "run the test with SHEAFWRIGHT_BLESS=1");
    }
}
