//! The JSON Schemas of `product.toml` and `shop.toml`, draft 2020-12, for editors that complete and check while one writes.
//!
//! It knows what each key takes, words, ranges of numbers, and the parameters of each ruling. What only the whole manifest
//! shows (a file that is not there, two keys that do not go together) is told by `build` and `check` alone. A date of TOML
//! is a text in JSON, so a date in quotes is not told from one without.

use super::{PARAMETERS, of, parameters};
use base::keys::{Bounds, Doc, Key, Shape, Table};
use serde_json::{Map, Value, json};

/// The words by which a key's comment says that it cannot be left out.
pub const NEEDED: &str = "it must be given";

/// The schema of a product's manifest, as it is published.
pub fn schema() -> Value {
    of_file("product.toml", &manifest::keys())
}

/// The schema of a shop's file, as it is published.
pub fn shop() -> Value {
    of_file("shop.toml", &manifest::shop_keys())
}

fn of_file(name: &str, top: &Table) -> Value {
    let mut defs = Defs(Map::new());
    let mut whole = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": name,
    });
    let table = table(top, &mut defs);
    if let (Value::Object(whole), Value::Object(table)) = (&mut whole, table) {
        whole.extend(table);
        whole.insert("$defs".to_owned(), Value::Object(defs.0));
    }
    whole
}

/// Tables that stand at several places are described once.
struct Defs(Map<String, Value>);

impl Defs {
    fn refer(&mut self, name: &str, build: impl FnOnce(&mut Defs) -> Value) -> Value {
        if !self.0.contains_key(name) {
            // It may lead back to itself.
            self.0.insert(name.to_owned(), Value::Null);
            let built = build(self);
            self.0.insert(name.to_owned(), built);
        }
        json!({ "$ref": format!("#/$defs/{}", name.replace('~', "~0").replace('/', "~1").replace(' ', "%20")) })
    }
}

/// The key of a product that is another one in a language of its own.
const ORIGINAL: &str = "translation-of";

fn table(table: &Table, defs: &mut Defs) -> Value {
    let mut properties = Map::new();
    let mut needed = Vec::new();
    for key in &table.keys {
        let told = key.told();
        if key.needed || told.default.as_deref() == Some(NEEDED) {
            needed.push(key.name);
        }
        properties.insert(key.name.to_owned(), property(key, &told, defs));
    }
    let mut out = json!({
        "type": "object",
        "description": table.doc.replace('\n', " "),
        "properties": properties,
        "additionalProperties": false,
    });
    if !needed.is_empty() && table.key(ORIGINAL).is_some() {
        // A translation has from its original what it does not say itself.
        out["if"] = json!({ "required": [ORIGINAL] });
        out["then"] = json!(true);
        out["else"] = json!({ "required": needed });
    } else if !needed.is_empty() {
        out["required"] = json!(needed);
    }
    let rules = of_rulings(table, defs);
    if !rules.is_empty() {
        out["allOf"] = Value::Array(rules);
    }
    out
}

/// What the parameters may be once the ruling is known.
fn of_rulings(table: &Table, defs: &mut Defs) -> Vec<Value> {
    let mut out = Vec::new();
    for (ruling, with) in PARAMETERS {
        let (Some(key), Some(_)) = (table.key(ruling), table.key(with)) else { continue };
        let dated = key.of == Some("dated ruling");
        for (name, _) in of(key.of.unwrap_or_default()) {
            let some: Vec<Value> = parameters(name, dated).iter().map(|with| of_ruling(name, with, defs)).collect();
            let takes = if let [one] = some.as_slice() { one.clone() } else { json!({ "anyOf": some }) };
            out.push(json!({
                "if": { "properties": { ruling: { "const": name } }, "required": [ruling] },
                "then": { "properties": { with: takes } },
            }));
        }
    }
    out
}

fn of_ruling(name: &str, with: &Table, defs: &mut Defs) -> Value {
    defs.refer(&format!("{name} {}", with.name), |defs| table(with, defs))
}

fn property(key: &Key, told: &Doc, defs: &mut Defs) -> Value {
    let mut out = match key.of {
        None => shape(&(key.shape)(), told.bounds(), defs),
        Some(what) => {
            let words = json!({ "enum": of(what).iter().map(|(name, _)| *name).collect::<Vec<_>>() });
            // A layout may be a file as well, and so may a look, under the name of its file.
            match what {
                "layout" => json!({ "anyOf": [words, { "type": "string", "pattern": r"\.[sS][vV][gG]$" }] }),
                "look" => json!({ "anyOf": [words, { "type": "string" }] }),
                _ => words,
            }
        }
    };
    if let Value::Object(out) = &mut out {
        let said = [
            Some(told.text.clone()),
            told.range.as_ref().map(|r| format!("Range: {r}.")),
            told.default.as_ref().map(|d| format!("Default: {d}.")),
        ];
        out.insert("description".to_owned(), said.into_iter().flatten().collect::<Vec<_>>().join(" ").into());
        if let Some(example) = example(key, told) {
            out.insert("examples".to_owned(), json!([example]));
        }
    }
    out
}

/// What an example gives the key, as JSON.
fn example(key: &Key, told: &Doc) -> Option<Value> {
    let lines: toml::Table = told.example.as_ref()?.parse().ok()?;
    lines.get(key.name).map(json_of)
}

/// A value of TOML in JSON. Dates become texts.
pub fn json_of(value: &toml::Value) -> Value {
    match value {
        toml::Value::String(text) => text.clone().into(),
        toml::Value::Integer(n) => (*n).into(),
        toml::Value::Float(n) => (*n).into(),
        toml::Value::Boolean(yes) => (*yes).into(),
        toml::Value::Datetime(date) => date.to_string().into(),
        toml::Value::Array(list) => list.iter().map(json_of).collect(),
        toml::Value::Table(table) => table.iter().map(|(k, v)| (k.clone(), json_of(v))).collect::<Map<_, _>>().into(),
    }
}

fn shape(what: &Shape, bounds: Option<Bounds>, defs: &mut Defs) -> Value {
    match what {
        Shape::Text => json!({ "type": "string" }),
        Shape::Form(_, pattern) => json!({ "type": "string", "pattern": pattern }),
        Shape::Whole(from, to) => {
            let mut out = json!({ "type": "integer", "minimum": from });
            if *to < i64::MAX {
                out["maximum"] = json!(to);
            }
            bounded(out, bounds, |n| json!(n as i64))
        }
        Shape::Number => bounded(json!({ "type": "number" }), bounds, |n| json!(n)),
        Shape::YesOrNo => json!({ "type": "boolean" }),
        Shape::Date => json!({ "type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$" }),
        Shape::Words(words) => json!({ "enum": words.iter().map(|w| w.word).collect::<Vec<_>>() }),
        Shape::Numbers(numbers) => json!({ "enum": numbers }),
        Shape::Table(inner) => defs.refer(inner.name, |defs| table(inner, defs)),
        Shape::List(inner) => json!({ "type": "array", "items": shape(inner, bounds, defs) }),
        Shape::Map(inner) => json!({ "type": "object", "additionalProperties": shape(inner, None, defs) }),
        Shape::Free => json!({}),
        Shape::Either(some) => {
            let some: Vec<Value> = some.iter().map(|one| shape(one, bounds, defs)).collect();
            json!({ "anyOf": some })
        }
    }
}

fn bounded(mut out: Value, bounds: Option<Bounds>, number: impl Fn(f64) -> Value) -> Value {
    if let Some(bounds) = bounds {
        out[if bounds.beyond { "exclusiveMinimum" } else { "minimum" }] = number(bounds.from);
        if let Some(to) = bounds.to {
            out["maximum"] = number(to);
        }
    }
    out
}
