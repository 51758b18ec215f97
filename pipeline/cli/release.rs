//! `release` and `verify`: sealing a version, and proving later that it is still the same.

use super::args::{Release as ReleaseArgs, Verify as VerifyArgs};
use super::outcome::{CLEAN, ERRORS, complain, print};
use super::report;
use crate::driver;
use crate::driver::{Asked, Sealing, Verified};
use crate::releases::compare::Difference;
use crate::releases::sign::{self, Key};
use crate::world;
use base::files::slashed;
use base::model::{Fault, Severity};
use serde_json::{Value, json};
use std::fmt::Write;
use std::path::Path;

/// Where the password of a key is looked for before anybody is asked.
const PASSWORD: &str = "SHEAFWRIGHT_KEY_PASSWORD";

/// What a signature does not say.
const CAUTION: &str = "A signature shows that whoever holds the key signed these very bytes. It says nothing about rights: \
                       whether something may be sold is for its licence and for the law where you and your buyers live.";

/// Seals a version.
pub fn release(args: &ReleaseArgs) -> u8 {
    let key = match args.key.as_deref().map(key).transpose() {
        Ok(key) => key,
        Err(fault) => return complain(&[fault]),
    };
    let sealing = match driver::seal(&args.bundle, args.product.as_deref(), args.date, key.as_ref()) {
        Ok(sealing) => sealing,
        Err(stop) => return complain(stop.faults()),
    };
    if args.json {
        print(&format!("{:#}\n", sealing_json(&sealing)));
    } else {
        print(&sealing_people(&sealing));
    }
    if sealing.sealed.is_some() { CLEAN } else { ERRORS }
}

/// Verifies a bundle, or what a buyer has of it.
pub fn verify(args: &VerifyArgs) -> u8 {
    let asked = Asked {
        record: args.record.as_deref(),
        product: args.product.as_deref(),
        public_key: args.public_key.as_deref(),
        signature: args.signature.as_deref(),
        rebuild: args.rebuild,
    };
    let verified = match driver::verify(&args.path, &asked) {
        Ok(verified) => verified,
        Err(stop) => return complain(stop.faults()),
    };
    if args.json {
        print(&format!("{:#}\n", verified_json(&verified)));
    } else {
        print(&verified_people(&verified));
    }
    if verified.holds() { CLEAN } else { ERRORS }
}

/// The designer's key; its password comes from the environment, or from whoever sits at the terminal.
fn key(path: &Path) -> Result<Key, Fault> {
    let shown = slashed(path);
    let text = String::from_utf8(world::read_outside(path)?).map_err(|_| {
        Fault::new("it is not text")
            .in_file(&shown)
            .help("name a secret key in the form of minisign: two lines of text")
    })?;
    let mut password = std::env::var(PASSWORD).ok();
    if password.is_none() && sign::is_locked(&text) {
        let asked = rpassword::prompt_password(format!("Password of {shown}: "));
        password = Some(asked.map_err(|e| {
            Fault::new(format!("nobody can be asked for the password of this key: {e}"))
                .in_file(&shown)
                .help(format!("run it in a terminal, or put the password into the environment as {PASSWORD}"))
        })?);
    }
    Ok(Key { shown, text, password })
}

fn plural(n: usize, one: &str) -> String {
    format!("{n} {one}{}", if n == 1 { "" } else { "s" })
}

fn differences(out: &mut String, list: &[Difference]) {
    const SHOWN: usize = 40;
    for d in list.iter().take(SHOWN) {
        let _ = writeln!(out, "  {:<8} {}: {}", d.kind.name(), d.path, d.message);
    }
    if list.len() > SHOWN {
        let _ = writeln!(out, "  … and {} more", list.len() - SHOWN);
    }
}

/// What came of verifying, for people.
pub fn verified_people(v: &Verified) -> String {
    let mut out = String::new();
    let name = match (v.product.as_str(), v.version.as_str()) {
        ("", _) => "the list of checksums".to_owned(),
        (product, version) => format!("{product} {version}"),
    };
    let files = plural(v.files, "file");
    if v.differences.is_empty() {
        let _ = writeln!(out, "{name}, {}: every byte is as recorded, {files}.", v.part.name());
    } else {
        let _ = writeln!(out, "{name}, {}: not as recorded, {} of {files}.", v.part.name(), v.differences.len());
        differences(&mut out, &v.differences);
    }
    match &v.seal {
        Some((release, true)) => {
            let _ = writeln!(out, "Sealed: this is the version that was released on {}.", release.released);
        }
        Some((release, false)) => {
            let _ = writeln!(
                out,
                "Sealed, but not with these papers: version {} was released on {} with record {} and list {}.",
                release.version, release.released, release.record, release.sums
            );
        }
        None => {
            let _ = writeln!(
                out,
                "No seal was found, so that only the bundle's own papers speak for it (--product DIR names its product)."
            );
        }
    }
    match &v.signature {
        Some(Ok(signed)) => {
            let _ = writeln!(out, "Signed with key {}: {}\n{CAUTION}", signed.key, signed.comment);
        }
        Some(Err(why)) => {
            let _ = writeln!(out, "The signature does not hold: {why}.");
        }
        None => {}
    }
    if let Some(rebuilt) = &v.rebuilt {
        if rebuilt.differences.is_empty() {
            let _ = writeln!(out, "Built again: the same bytes.");
        } else {
            let _ = writeln!(out, "Built again: {} came out otherwise.", plural(rebuilt.differences.len(), "file"));
            differences(&mut out, &rebuilt.differences);
        }
        for reason in &rebuilt.reasons {
            let _ = writeln!(out, "  since then: {reason}");
        }
    }
    out
}

/// The same for other programs, version 1.
pub fn verified_json(v: &Verified) -> Value {
    let text = |text: &str| if text.is_empty() { Value::Null } else { text.into() };
    json!({
        "holds": v.holds(),
        "part": v.part,
        "product": text(&v.product),
        "version": text(&v.version),
        "files": v.files,
        "differences": v.differences,
        "seal": v.seal.as_ref().map(|(release, same)| json!({
            "same": same,
            "version": release.version,
            "released": release.released.to_string(),
            "record": release.record,
            "sums": release.sums,
            "tool": release.tool,
        })),
        "signature": v.signature.as_ref().map(|signature| match signature {
            Ok(signed) => json!({ "holds": true, "key": signed.key, "comment": signed.comment }),
            Err(why) => json!({ "holds": false, "why": why }),
        }),
        "rebuilt": v.rebuilt.as_ref().map(|r| json!({
            "same": r.differences.is_empty(),
            "differences": r.differences,
            "reasons": r.reasons,
        })),
    })
}

/// What came of sealing, for people.
pub fn sealing_people(sealing: &Sealing) -> String {
    let Some(sealed) = &sealing.sealed else {
        let mut out = String::new();
        if !sealing.verified.differences.is_empty() {
            out.push_str("Not sealed: the bundle is not as it was built.\n");
            differences(&mut out, &sealing.verified.differences);
        }
        if sealing.findings.iter().any(|f| f.severity == Severity::Error) {
            out.push_str("Not sealed: an error stands.\n");
            out.push_str(&report::people(&sealing.findings, false, None));
        }
        return out;
    };
    let (release, file) = (&sealed.release, slashed(&sealed.file));
    let mut out = if sealed.already {
        format!("Version {} is sealed already, with these very bytes, in {file}.\n", release.version)
    } else {
        format!("Sealed version {}, released on {}, in {file}.\n", release.version, release.released)
    };
    let _ = writeln!(out, "Its record has SHA-256 {}.", release.record);
    if let Some(path) = &sealed.signature {
        let _ = writeln!(out, "Wrote {}: the signature of SHA256SUMS.\n{CAUTION}", slashed(path));
    }
    for note in &sealed.notes {
        let _ = writeln!(out, "note: {note}");
    }
    out
}

/// The same for other programs, version 1.
pub fn sealing_json(sealing: &Sealing) -> Value {
    let sealed = sealing.sealed.as_ref();
    json!({
        "sealed": sealed.is_some(),
        "already": sealed.is_some_and(|s| s.already),
        "version": sealing.verified.version,
        "released": sealed.map(|s| s.release.released.to_string()),
        "record": sealed.map(|s| &s.release.record),
        "sums": sealed.map(|s| &s.release.sums),
        "file": sealed.map(|s| slashed(&s.file)),
        "signature": sealed.and_then(|s| s.signature.as_ref()).map(|p| slashed(p)),
        "notes": sealed.map(|s| s.notes.clone()).unwrap_or_default(),
        "differences": sealing.verified.differences,
        "checks": report::json(&sealing.findings),
    })
}
