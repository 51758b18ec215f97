//! A file in the cache together with what there is to say of it.

use super::memory::Memory;
use crate::store::Cache;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// Puts a file into the cache: first the length of what is said, then that, then the bytes.
pub fn keep(cache: &Cache, memory: &Memory, key: &str, said: &impl Serialize, file: &[u8]) {
    let Ok(said) = serde_json::to_vec(said) else { return };
    let mut bytes = (said.len() as u64).to_le_bytes().to_vec();
    bytes.extend(said);
    bytes.extend(file);
    memory.put(cache, key, &bytes);
}

/// Takes it out again.
pub fn recall<T: DeserializeOwned>(cache: &Cache, memory: &Memory, key: &str) -> Option<(Vec<u8>, T)> {
    let bytes = memory.get(cache, key)?;
    let length = u64::from_le_bytes(bytes.get(..8)?.try_into().ok()?);
    let end = usize::try_from(length).ok()?.checked_add(8)?;
    let said = serde_json::from_slice(bytes.get(8..end)?).ok()?;
    Some((bytes.get(end..)?.to_vec(), said))
}
