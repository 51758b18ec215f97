//! Who touches what lies outside of the program: disk, net, other programs, the environment and the clock. Everything
//! else is a function of its arguments.

use crate::doors::room;
use crate::source::File;

/// A way out of the program, and who may take it.
struct Out {
    what: &'static str,
    /// Paths that begin so.
    paths: &'static [&'static str],
    /// Methods of these names.
    methods: &'static [&'static str],
    rooms: &'static [&'static str],
    /// Why these rooms may.
    why: &'static str,
}

const OUTS: &[Out] = &[
    Out {
        what: "touches the disk",
        paths: &[
            "std::fs",
            "walkdir",
            "tempfile",
            "notify",
            "rustix",
            "std::os",
            "image::open",
            "image::image_dimensions",
            "image::save_buffer",
            "image::ImageReader::open",
            "image::io",
            "lopdf::Document::load",
            "lopdf::Document::load_from",
            "std::path::absolute",
            "std::io::stdin",
        ],
        methods: &[
            "canonicalize",
            "read_dir",
            "read_link",
            "symlink_metadata",
            "try_exists",
            "load_system_fonts",
            "load_font_file",
            "load_fonts_dir",
            "load_from_glob",
            "save_with_format",
            "sync_all",
        ],
        rooms: &["world", "store"],
        why: "the one door in and the one door out",
    },
    Out {
        what: "asks the disk what lies at a path",
        paths: &[],
        methods: &["exists", "is_file", "is_dir", "is_symlink"],
        rooms: &["world", "store", "driver"],
        why: "the driver tells a product's folder from a bundle's, and those from files",
    },
    Out {
        what: "saves to a path",
        paths: &["lopdf::Document::save"],
        methods: &["save"],
        rooms: &[],
        why: "nobody: libraries give bytes, and the store writes them",
    },
    Out {
        what: "shows a path with the signs of the system",
        paths: &[],
        methods: &["display"],
        rooms: &[],
        why: "nobody: `base::files::slashed` writes every path with / on every system",
    },
    Out {
        what: "speaks with the net",
        paths: &["std::net", "socket2", "mio"],
        methods: &[],
        rooms: &["cli"],
        why: "watch and its page, on the loopback address",
    },
    Out {
        what: "runs or ends programs",
        paths: &["std::process::Command", "std::process::exit", "std::process::abort", "std::process::id"],
        methods: &[],
        rooms: &[],
        why: "nobody: tools outside of the house belong to the tests",
    },
    Out {
        what: "asks the environment",
        paths: &["std::env"],
        methods: &[],
        rooms: &["cli"],
        why: "what a terminal can show; it reaches no file",
    },
    Out {
        what: "knows what day it is",
        paths: &[
            "std::time::SystemTime",
            "std::time::UNIX_EPOCH",
            "chrono",
            "time",
            "jiff::Zoned",
            "jiff::Timestamp::now",
        ],
        methods: &["modified", "accessed", "created"],
        rooms: &["world", "store"],
        why: "a new product's date; the age of what lies in the cache, which is written nowhere",
    },
    Out {
        what: "measures time",
        paths: &["std::time::Instant"],
        methods: &["elapsed"],
        rooms: &["cli"],
        why: "how long a command took may be shown, and reaches no file",
    },
];

/// Crates that may be imported neither whole under another name nor with everything in them: their paths would be hidden.
const OPEN: [&str; 5] = ["std", "core", "image", "lopdf", "tera"];

fn takes(file: &File, out: &Out) -> Option<String> {
    let starts = |path: &[String]| {
        out.paths.iter().find(|way| {
            let way: Vec<&str> = way.split("::").collect();
            path.len() >= way.len() && path.iter().zip(&way).all(|(a, b)| a == b)
        })
    };
    let path = file.paths.iter().find(|p| starts(p).is_some()).map(|p| p.join("::"));
    path.or_else(|| out.methods.iter().find(|m| file.methods.contains(**m)).map(|m| format!(".{m}()")))
}

/// Ways out that a file takes and its room may not.
pub fn wrong(file: &File) -> Vec<String> {
    let mut out: Vec<String> = OUTS
        .iter()
        .filter(|o| !o.rooms.contains(&room(file)))
        .filter_map(|o| takes(file, o).map(|how| format!("it {} ({how})", o.what)))
        .collect();
    let renamed = file.imports.iter().filter(|(name, path)| path.len() == 1 && **name != path[0]);
    out.extend(renamed.map(|(name, path)| format!("{} is hidden behind the name {name}", path[0])));
    let whole = file.paths.iter().filter(|p| p.last().is_some_and(|l| l == "*") && OPEN.contains(&p[0].as_str()));
    // `std::io::prelude` and the like hold traits; a crate or a module as a whole holds anything.
    out.extend(
        whole.filter(|p| !p.iter().any(|part| part == "prelude")).map(|p| format!("{} hides names", p.join("::"))),
    );
    out
}

/// Rooms that may take a way out and do not.
pub fn spare(files: &[File]) -> Vec<String> {
    let mut out = Vec::new();
    for way in OUTS {
        assert!(!way.why.is_empty());
        for name in way.rooms {
            if !files.iter().any(|f| room(f) == *name && takes(f, way).is_some()) {
                out.push(format!("nobody in {name} {}", way.what));
            }
        }
    }
    out
}
