//! Packs the typefaces that the tool brings along: as they are they would be a tenth of the program.

use flate2::Compression;
use flate2::write::ZlibEncoder;
use std::error::Error;
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=fonts");
    let fonts = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("fonts");
    let out = PathBuf::from(env::var("OUT_DIR")?);
    let mut faces = Vec::new();
    for family in fs::read_dir(fonts)? {
        let files = fs::read_dir(family?.path())?.map(|file| Ok(file?.path()));
        let files: Vec<PathBuf> = files.collect::<Result<_, std::io::Error>>()?;
        faces.extend(files.into_iter().filter(|path| path.extension().is_some_and(|ending| ending == "ttf")));
    }
    faces.sort();
    let mut table = String::from(
        "/// Faces by PostScript name, each packed, with its length.\npub const PACKED: &[(&str, &[u8], usize)] = &[\n",
    );
    for path in faces {
        let name = path.file_stem().and_then(|stem| stem.to_str()).ok_or("a face has a name that is no text")?;
        let bytes = fs::read(&path)?;
        let mut packed = ZlibEncoder::new(Vec::new(), Compression::best());
        packed.write_all(&bytes)?;
        fs::write(out.join(name), packed.finish()?)?;
        let length = bytes.len();
        writeln!(table, "    ({name:?}, include_bytes!(concat!(env!(\"OUT_DIR\"), \"/{name}\")), {length}),")?;
    }
    table.push_str("];\n");
    fs::write(out.join("faces.rs"), table)?;
    Ok(())
}
