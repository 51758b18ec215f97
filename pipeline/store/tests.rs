//! Whole or not at all: what a build leaves when all goes well, and when it does not.
#![allow(clippy::unwrap_used)]

use super::*;
use base::model::Kind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

fn file(path: &str, text: &str) -> Artifact {
    Artifact { path: path.into(), kind: Kind::Listing, bytes: text.as_bytes().into() }
}

fn bundle(text: &str) -> Vec<Artifact> {
    vec![
        file("bundle.json", &format!("{{\"of\": \"{text}\"}}\n")),
        file("contents/stickers/01-leaf.png", text),
        file("upload/allotment-year.pdf", text),
        file("listing/files.txt", text),
    ]
}

/// Written unless it is cancelled; no path if it was.
fn publish_unless(
    dist: &Path,
    slug: &str,
    version: &str,
    files: &[Artifact],
    frozen: bool,
    cancelled: &(dyn Fn() -> bool + Sync),
) -> Result<Option<PathBuf>, Vec<Fault>> {
    let kept = if frozen { Kept::AsItLies } else { Kept::No };
    match super::publish(dist, slug, version, files, kept, cancelled) {
        Ok(place) => Ok(Some(place)),
        Err(Stop::Cancelled) => Ok(None),
        Err(Stop::Faults(faults)) => Err(faults),
    }
}

/// Written by a build that nothing cancels.
fn publish(dist: &Path, slug: &str, version: &str, files: &[Artifact], frozen: bool) -> Result<PathBuf, Vec<Fault>> {
    publish_unless(dist, slug, version, files, frozen, &|| false).map(|place| place.expect("nothing overtook it"))
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

fn content(folder: &Path) -> String {
    fs::read_to_string(folder.join("upload/allotment-year.pdf")).unwrap()
}

#[test]
fn written_whole_and_replaced() {
    let dist = tempfile::tempdir().unwrap();
    let target = publish(dist.path(), "allotment-year", "1.0.0", &bundle("one"), false).unwrap();
    assert_eq!(target, dist.path().join("allotment-year/1.0.0"));
    assert_eq!(names(&target), ["bundle.json", "contents", "listing", "upload"]);
    publish(dist.path(), "allotment-year", "1.0.0", &bundle("two")[..3], false).unwrap();
    assert_eq!(names(&target), ["bundle.json", "contents", "upload"]);
    assert_eq!(content(&target), "two");
    assert_eq!(names(&dist.path().join("allotment-year")), [".1.0.0.lock", "1.0.0"]);
}

#[test]
fn the_same_files_are_not_written_again() {
    let dist = tempfile::tempdir().unwrap();
    let target = publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap();
    let path = target.join("bundle.json");
    let long_ago = fs::metadata(&path).unwrap().modified().unwrap() - Duration::from_secs(86_400);
    File::options().append(true).open(&path).unwrap().set_modified(long_ago).unwrap();
    publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap();
    assert_eq!(fs::metadata(&path).unwrap().modified().unwrap(), long_ago);
}

#[test]
fn a_renewal_writes_what_is_named_and_gives_way_to_who_built_meanwhile() {
    let dist = tempfile::tempdir().unwrap();
    let (place, files) = (("allotment-year", "1.0.0"), bundle("one"));
    let target = publish(dist.path(), place.0, place.1, &files, false).unwrap();
    let seen = record_digest(dist.path(), place.0, place.1);
    let renewed = [file("bundle.json", "{\"of\": \"one, in other words\"}\n")];
    let renew = || renew(dist.path(), place, seen.as_deref(), &renewed, &|| false).unwrap();
    assert!(renew());
    assert_eq!((content(&target), digest_of(&target)), ("one".to_owned(), sha256_hex(&renewed[0].bytes)));
    assert_eq!(names(&target), ["bundle.json", "contents", "listing", "upload"]);

    // Somebody else builds between the look at the bundle and its renewal.
    publish(dist.path(), place.0, place.1, &bundle("two"), false).unwrap();
    assert!(!renew());
    assert_eq!((content(&target), digest_of(&target)), ("two".to_owned(), sha256_hex(&bundle("two")[0].bytes)));
}

fn digest_of(target: &Path) -> String {
    sha256_hex(&fs::read(target.join("bundle.json")).unwrap())
}

#[test]
fn a_failure_leaves_the_previous_one() {
    let dist = tempfile::tempdir().unwrap();
    let target = publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap();
    // A file and a folder of the same name cannot both be written.
    let mut broken = bundle("two");
    broken.push(file("contents/stickers/01-leaf.png/more", "x"));
    publish(dist.path(), "a", "1.0.0", &broken, false).unwrap_err();
    // The same path twice is refused too.
    let mut twice = bundle("two");
    twice.push(file("bundle.json", "x"));
    publish(dist.path(), "a", "1.0.0", &twice, false).unwrap_err();
    assert_eq!(content(&target), "one");
    assert_eq!(names(&dist.path().join("a")), [".1.0.0.lock", "1.0.0"]);
}

#[test]
fn what_is_overtaken_leaves_nothing() {
    let dist = tempfile::tempdir().unwrap();
    let product_folder = dist.path().join("a");
    let target = publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap();
    // Overtaken at once, later, and so late that the bundle is there: whatever the moment, it is one or the other.
    let mut given_way = 0;
    for moment in 0..60 {
        let asked = AtomicUsize::new(0);
        let overtaken = || asked.fetch_add(1, Ordering::Relaxed) >= moment;
        let text = format!("moment {moment}");
        let place = publish_unless(dist.path(), "a", "1.0.0", &bundle(&text), false, &overtaken).unwrap();
        assert_eq!(place.is_some(), content(&target) == text, "{moment}");
        given_way += usize::from(place.is_none());
        assert_eq!(names(&product_folder), [".1.0.0.lock", "1.0.0"], "{moment}");
        assert_eq!(names(&target), ["bundle.json", "contents", "listing", "upload"], "{moment}");
    }
    assert!((8..50).contains(&given_way), "{given_way} gave way");
    // One that was never there does not begin.
    assert_eq!(publish_unless(dist.path(), "a", "2.0.0", &bundle("two"), false, &|| true).unwrap(), None);
    assert!(!product_folder.join("2.0.0").exists() && !product_folder.join(".2.0.0.new").exists());
    // The next build does not mind.
    publish(dist.path(), "a", "1.0.0", &bundle("three"), false).unwrap();
    assert_eq!(content(&target), "three");
}

#[test]
fn leftovers_of_a_killed_build_are_swept() {
    let dist = tempfile::tempdir().unwrap();
    let target = publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap();
    let product_folder = dist.path().join("a");
    // Killed while writing.
    fs::create_dir_all(product_folder.join(".1.0.0.new/contents")).unwrap();
    fs::write(product_folder.join(".1.0.0.new/contents/half.pdf"), "ha").unwrap();
    publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap();
    assert_eq!(names(&product_folder), [".1.0.0.lock", "1.0.0"]);
    // Killed between the two steps of the change: the previous one comes back before anything else is done.
    fs::rename(&target, product_folder.join(".1.0.0.old")).unwrap();
    let mut broken = bundle("two");
    broken.push(file("bundle.json", "x"));
    publish(dist.path(), "a", "1.0.0", &broken, false).unwrap_err();
    assert_eq!(content(&target), "one");
    assert_eq!(names(&product_folder), [".1.0.0.lock", "1.0.0"]);
}

/// Off Linux, and on file systems that cannot let two folders change places, it takes two renames.
#[test]
fn two_renames_do_for_a_change_of_places() {
    let dist = tempfile::tempdir().unwrap();
    let target = publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap();
    let product_folder = dist.path().join("a");
    let new = product_folder.join(".1.0.0.new");
    fs::create_dir_all(new.join("upload")).unwrap();
    fs::write(new.join("upload/allotment-year.pdf"), "two").unwrap();
    swap::in_two_renames(&new, &target, &product_folder).unwrap();
    assert_eq!(content(&target), "two");
    assert_eq!(names(&product_folder), [".1.0.0.lock", "1.0.0"]);
    // The new one cannot step in: the previous one is back, and nothing else is left.
    swap::in_two_renames(&new, &target, &product_folder).unwrap_err();
    assert_eq!(content(&target), "two");
    assert_eq!(names(&product_folder), [".1.0.0.lock", "1.0.0"]);
}

#[test]
fn two_builds_at_once() {
    let dist = tempfile::tempdir().unwrap();
    fs::create_dir_all(dist.path().join("a")).unwrap();
    let held = File::create(dist.path().join("a/.1.0.0.lock")).unwrap();
    held.lock().unwrap();
    let faults = publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap_err();
    assert!(faults[0].message.contains("another build"), "{}", faults[0]);
    // Another version is another matter.
    publish(dist.path(), "a", "1.0.1", &bundle("one"), false).unwrap();
    drop(held);
    publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap();
}

#[test]
fn a_released_version_stays() {
    let dist = tempfile::tempdir().unwrap();
    // Declared released at its first build: there is nothing yet that could change.
    let target = publish(dist.path(), "a", "1.0.0", &bundle("one"), true).unwrap();
    let mut files = bundle("two");
    files.remove(1);
    files.push(file("contents/guide.pdf", "new"));
    let faults = publish(dist.path(), "a", "1.0.0", &files, true).unwrap_err();
    let message = &faults[0].message;
    for part in
        ["upload/allotment-year.pdf has changed", "contents/stickers/01-leaf.png is gone", "contents/guide.pdf is new"]
    {
        assert!(message.contains(part), "{message}");
    }
    assert!(faults[0].help.as_ref().unwrap().contains("new version number"));
    assert_eq!(content(&target), "one");
    // Buyers' files are the same, the designer's own record is not: fine, and nothing is touched.
    let mut record = bundle("one");
    record[0] = file("bundle.json", "{}");
    publish(dist.path(), "a", "1.0.0", &record, true).unwrap();
    assert!(fs::read_to_string(target.join("bundle.json")).unwrap().contains("one"));
}

/// A sealed version is what its digest says, wherever it lies and whatever became of it there.
#[test]
fn a_sealed_version_is_the_one_with_its_digest() {
    let dist = tempfile::tempdir().unwrap();
    let digest = sha256_hex(&bundle("one")[0].bytes);
    let seal = |text: &str| super::publish(dist.path(), "a", "1.0.0", &bundle(text), Kept::Sealed(&digest), &|| false);
    // Not there: only the very same is written.
    let faults = seal("two").unwrap_err();
    assert!(faults.faults()[0].message.contains("bundle.json is not the one that was sealed"));
    let target = seal("one").unwrap();
    seal("one").unwrap();
    assert!(seal("two").unwrap_err().faults()[0].message.contains("upload/allotment-year.pdf has changed"));
    assert_eq!(content(&target), "one");
    // A file of it was harmed: the very same bytes mend it, others do not.
    fs::write(target.join("upload/allotment-year.pdf"), "harmed").unwrap();
    seal("two").unwrap_err();
    assert_eq!(content(&target), "harmed");
    seal("one").unwrap();
    assert_eq!(content(&target), "one");
    // Another bundle lies in its place.
    fs::remove_dir_all(&target).unwrap();
    publish(dist.path(), "a", "1.0.0", &bundle("three"), false).unwrap();
    seal("three").unwrap_err();
    seal("one").unwrap();
    assert_eq!(content(&target), "one");
}

#[test]
fn a_folder_that_is_not_ours_stays() {
    let dist = tempfile::tempdir().unwrap();
    let target = dist.path().join("a/1.0.0");
    fs::create_dir_all(&target).unwrap();
    fs::write(target.join("letter.txt"), "dear all").unwrap();
    let faults = publish(dist.path(), "a", "1.0.0", &bundle("one"), false).unwrap_err();
    assert!(faults[0].message.contains("no bundle of ours"), "{}", faults[0]);
    assert_eq!(names(&target), ["letter.txt"]);
}

#[test]
fn paths_that_climb_out() {
    let dist = tempfile::tempdir().unwrap();
    for path in ["../x", "/etc/x", "a/../../x", "", "a/", "a\\..\\x"] {
        publish(dist.path(), "a", "1.0.0", &[file(path, "x")], false).expect_err(path);
    }
    for (slug, version) in [("..", "1"), ("a/b", "1"), ("a", "../1"), ("a", ""), (".a", "1")] {
        publish(dist.path(), slug, version, &[], false).unwrap_err();
    }
    assert!(names(dist.path()).is_empty());
}

#[test]
fn dist_that_cannot_be_written() {
    let folder = tempfile::tempdir().unwrap();
    let dist = folder.path().join("dist");
    check_writable(&dist).unwrap();
    assert!(names(&dist).is_empty());
    // A file where the folder should be (permissions would not stop a test that runs as root).
    let blocked = folder.path().join("blocked");
    fs::write(&blocked, "x").unwrap();
    let fault = check_writable(&blocked).unwrap_err();
    assert!(fault.help.is_some(), "{fault}");
    publish(&blocked, "a", "1.0.0", &bundle("one"), false).unwrap_err();
    assert_eq!(fs::read_to_string(&blocked).unwrap(), "x");
}

#[cfg(target_os = "linux")]
#[test]
fn disk_full() {
    // /dev/full gives ENOSPC on every write (full(4)): a bundle folder that leads there cannot be filled.
    let e = File::options().write(true).open("/dev/full").unwrap().write_all(b"x").unwrap_err();
    let fault = cannot("write", Path::new("contents/notebook.pdf"), &e);
    assert!(fault.help.unwrap().contains("room on the disk"));
}

#[test]
fn cache_gives_back_what_was_put_in() {
    let folder = tempfile::tempdir().unwrap();
    let cache = Cache::open(folder.path());
    assert_eq!(cache.get("key"), None);
    cache.put("key", b"bytes");
    cache.put("empty", b"");
    assert_eq!(cache.get("key").unwrap(), b"bytes");
    assert_eq!(cache.get("empty").unwrap(), b"");
    cache.put("key", b"other");
    assert_eq!(Cache::open(folder.path()).get("key").unwrap(), b"other");
    let none = Cache::none();
    none.put("key", b"x");
    assert_eq!(none.get("key"), None);
    let blocked = folder.path().join("file");
    fs::write(&blocked, "x").unwrap();
    Cache::open(&blocked).put("key", b"x");
}

#[test]
fn cache_notices_damage() {
    let folder = tempfile::tempdir().unwrap();
    let cache = Cache::open(folder.path());
    for damage in [&b"short"[..], b"", &[b'x'; 100]] {
        cache.put("key", b"bytes");
        let entry =
            walkdir::WalkDir::new(folder.path()).into_iter().find(|e| e.as_ref().unwrap().file_type().is_file());
        let path = entry.unwrap().unwrap().into_path();
        fs::write(&path, damage).unwrap();
        assert_eq!(cache.get("key"), None);
        assert!(!path.exists());
    }
}

/// An entry that lies in the place of another one, as after a copy by hand, is none.
#[test]
fn cache_notices_an_entry_in_the_wrong_place() {
    let folder = tempfile::tempdir().unwrap();
    let cache = Cache::open(folder.path());
    cache.put("one", b"first");
    let files = || -> Vec<PathBuf> {
        let all = walkdir::WalkDir::new(folder.path()).into_iter().map(|e| e.unwrap());
        all.filter(|e| e.file_type().is_file()).map(walkdir::DirEntry::into_path).collect()
    };
    let one = files().remove(0);
    cache.put("two", b"second");
    let two = files().into_iter().find(|path| *path != one).unwrap();
    fs::copy(&one, &two).unwrap();
    assert_eq!(cache.get("two"), None);
    assert_eq!(cache.get("one").unwrap(), b"first");
}

#[test]
fn cache_keeps_its_size() {
    let folder = tempfile::tempdir().unwrap();
    let cache = Cache::with_limit(folder.path(), 10_000);
    let old = "the first".to_owned();
    cache.put(&old, &[1; 900]);
    let path = walkdir::WalkDir::new(folder.path()).into_iter().find_map(|e| {
        let e = e.unwrap();
        e.file_type().is_file().then(|| e.into_path())
    });
    let f = File::options().append(true).open(path.unwrap()).unwrap();
    f.set_modified(std::time::UNIX_EPOCH + Duration::from_secs(1_000)).unwrap();
    for i in 0..40 {
        cache.put(&format!("key {i}"), &[2; 900]);
    }
    let size: u64 = walkdir::WalkDir::new(folder.path())
        .into_iter()
        .map(|e| e.unwrap().metadata().unwrap())
        .filter(|m| m.is_file())
        .map(|m| m.len())
        .sum();
    assert!(size <= 13_000, "{size}");
    assert_eq!(cache.get(&old), None, "the oldest goes first");
    assert!(cache.get("key 39").is_some());
}

#[test]
fn cache_is_safe_with_builds_side_by_side() {
    let folder = tempfile::tempdir().unwrap();
    (0..64).into_par_iter().for_each(|i| {
        let cache = Cache::open(folder.path());
        let key = format!("key {}", i % 4);
        cache.put(&key, &vec![(i % 4) as u8; 50_000]);
        if let Some(found) = cache.get(&key) {
            assert_eq!(found, vec![(i % 4) as u8; 50_000]);
        }
    });
}
