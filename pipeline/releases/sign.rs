//! Signatures in the form of minisign: Ed25519 over BLAKE2b of the file, with a comment that is signed as well.
//!
//! Keys belong to the designer. None is made here and none is kept.

use base::model::Fault;
use base::model::panics::caught;
use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use minisign::{PublicKey, PublicKeyBox, SecretKeyBox, SignatureBox};
use std::io::Cursor;

/// The designer's secret key, as its file has it, and what opens it.
pub struct Key {
    /// The file's name in messages.
    pub shown: String,
    /// Its text.
    pub text: String,
    /// The password, for a key that has one.
    pub password: Option<String>,
}

/// What is known of a signature that holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signed {
    /// The key's number, as minisign shows it.
    pub key: String,
    /// The comment that is signed along with the file.
    pub comment: String,
}

/// Whether a secret key is locked by a password: the third and fourth byte name the way it is (minisign's key format).
pub fn is_locked(text: &str) -> bool {
    let bytes = text.lines().nth(1).and_then(|line| BASE64_STANDARD.decode(line.trim()).ok());
    bytes.is_some_and(|bytes| bytes.get(2..4) == Some(b"Sc"))
}

/// Signs a file; gives the text of the signature.
///
/// # Errors
/// A key that is none, or that the password does not open.
pub fn sign(key: &Key, bytes: &[u8], comment: &str) -> Result<String, Fault> {
    let fault = |why: String| {
        Fault::new(format!("this key cannot sign: {why}"))
            .in_file(&key.shown)
            .help("name a secret key in the form of minisign, and the password that it was made with")
    };
    let made = caught(|| {
        let boxed = SecretKeyBox::from_string(&key.text)?;
        let secret = if is_locked(&key.text) {
            // Never `None`: with that, the library would ask on the terminal by itself.
            boxed.into_secret_key(Some(key.password.clone().unwrap_or_default()))?
        } else {
            boxed.into_unencrypted_secret_key()?
        };
        let own = PublicKey::from_secret_key(&secret)?;
        minisign::sign(Some(&own), &secret, Cursor::new(bytes), Some(comment), Some("signature of SHA256SUMS"))
    });
    match made {
        Ok(Ok(signature)) => Ok(signature.into_string()),
        Ok(Err(why)) => Err(fault(why.to_string())),
        Err(gave_up) => Err(fault(gave_up.0)),
    }
}

/// Reads a public key: the file that minisign writes, or its second line alone.
///
/// # Errors
/// When it is none.
pub fn public_key(text: &str, shown: &str) -> Result<PublicKey, Fault> {
    let lines: Vec<&str> = text.lines().map(str::trim).filter(|l| !l.is_empty()).collect();
    let read = caught(|| match lines.as_slice() {
        [one] => PublicKey::from_base64(one),
        _ => PublicKeyBox::from_string(text)?.into_public_key(),
    });
    let fault = |why: String| {
        Fault::new(format!("it is no public key in the form of minisign: {why}"))
            .in_file(shown)
            .help("name the file that goes with the secret key; its second line begins with RW")
    };
    read.map_err(|gave_up| fault(gave_up.0))?.map_err(|why| fault(why.to_string()))
}

/// Holds a signature against a file. `Ok(Err(why))`: it is a signature, and not one of this key over these bytes.
///
/// # Errors
/// When it is no signature at all.
pub fn verify(key: &PublicKey, signature: &str, shown: &str, bytes: &[u8]) -> Result<Result<Signed, String>, Fault> {
    let fault = |why: String| {
        Fault::new(format!("it is no signature in the form of minisign: {why}"))
            .in_file(shown)
            .help("name the file of four lines that was made along with the signature")
    };
    let read = caught(|| SignatureBox::from_string(signature)).map_err(|gave_up| fault(gave_up.0))?;
    let read = read.map_err(|why| fault(why.to_string()))?;
    let held = caught(|| minisign::verify(key, &read, Cursor::new(bytes), true, false, false));
    Ok(match held {
        Ok(Ok(())) => {
            let number: [u8; 8] = read.keynum().try_into().unwrap_or_default();
            let comment = read.trusted_comment().unwrap_or_default();
            Ok(Signed { key: format!("{:016X}", u64::from_le_bytes(number)), comment })
        }
        Ok(Err(why)) => Err(why.to_string()),
        Err(gave_up) => Err(gave_up.0),
    })
}
