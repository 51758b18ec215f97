//! Gives the program a digest of its own sources, so that its cache never hands out what an older one rendered.

use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

fn main() {
    println!("cargo:rerun-if-changed=pipeline");
    println!("cargo:rerun-if-changed=Cargo.lock");
    let mut files = vec![PathBuf::from("Cargo.lock")];
    collect(Path::new("pipeline"), &mut files);
    files.sort();
    let mut hasher = DefaultHasher::new();
    for file in files {
        file.hash(&mut hasher);
        fs::read(&file).unwrap_or_default().hash(&mut hasher);
    }
    println!("cargo:rustc-env=SHEAFWRIGHT_SOURCES={:016x}", hasher.finish());
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            collect(&path, files);
        } else {
            files.push(path);
        }
    }
}
