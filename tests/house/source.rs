//! The sources of the house, parsed: which paths a file names, where they lead, and which methods it calls.

use proc_macro2::{Delimiter, TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use syn::visit::{self, Visit};

/// A source file.
pub struct File {
    /// Its path below `pipeline/`.
    pub path: String,
    /// The crate that it belongs to, by the name of its library.
    pub krate: String,
    /// Its module inside of that crate.
    pub module: Vec<String>,
    /// Paths that it names, led back to a crate where they start at one: `super::x`, `crate::x` and imported names too.
    pub paths: BTreeSet<Vec<String>>,
    /// Names of methods that it calls.
    pub methods: BTreeSet<String>,
    /// What it imports, by the name that it has here.
    pub imports: BTreeMap<String, Vec<String>>,
    /// Modules below it that only tests compile.
    of_tests: Vec<String>,
}

impl File {
    /// Parses a file; `tests` says whether what only tests compile counts.
    pub fn parse(path: &str, krate: &str, text: &str, tests: bool) -> File {
        let syntax = syn::parse_file(text).unwrap_or_else(|e| panic!("{path}: {e}"));
        let module = module_of(path, krate);
        let mut visitor = Visitor { tests, at: vec![krate.to_owned()], ..Visitor::default() };
        visitor.at.extend(module.iter().cloned());
        visitor.visit_file(&syntax);
        // A path that begins with a module of this file is meant so, whatever crates are called.
        let lead = |at: &[String], path: &[String]| match path.first() {
            Some(first) if visitor.mods.contains(&(at.to_vec(), first.clone())) => [at, path].concat(),
            _ => absolute(at, path),
        };
        let mut paths: BTreeSet<Vec<String>> = visitor.found.iter().map(|(at, p)| lead(at, p)).collect();
        let imports: BTreeMap<String, Vec<String>> =
            visitor.imports.iter().map(|(at, name, p)| (name.clone(), lead(at, p))).collect();
        // A name that was imported stands for its path.
        let through: Vec<Vec<String>> = paths
            .iter()
            .filter_map(|p| Some(imports.get(p.first()?)?.iter().chain(&p[1..]).cloned().collect()))
            .collect();
        // Where the name of an import is also the name of a crate, the import is meant.
        paths.retain(|p| imports.get(&p[0]).is_none_or(|to| to[0] == p[0]));
        paths.extend(through);
        File {
            path: path.to_owned(),
            krate: krate.to_owned(),
            module,
            paths,
            methods: visitor.methods,
            imports,
            of_tests: visitor.of_tests,
        }
    }
}

/// The module that a file is: its path inside of its crate, without `mod`, `lib` and `main`.
fn module_of(path: &str, krate: &str) -> Vec<String> {
    let inside = path.strip_prefix(&format!("{krate}/")).unwrap_or(path).trim_end_matches(".rs");
    inside.split('/').filter(|part| !["mod", "lib", "main"].contains(part)).map(str::to_owned).collect()
}

/// A path as it is seen from the root of a crate.
fn absolute(at: &[String], path: &[String]) -> Vec<String> {
    let (mut base, mut rest) = (None, path);
    while let Some((first, more)) = rest.split_first() {
        match first.as_str() {
            "crate" => base = Some(at[..1].to_vec()),
            "self" => base = base.or(Some(at.to_vec())),
            "super" => {
                let mut up = base.unwrap_or_else(|| at.to_vec());
                up.pop();
                base = Some(up);
            }
            _ => break,
        }
        rest = more;
    }
    base.unwrap_or_default().into_iter().chain(rest.iter().cloned()).collect()
}

/// Walks a file.
#[derive(Default)]
struct Visitor {
    tests: bool,
    /// Crate and module.
    at: Vec<String>,
    found: Vec<(Vec<String>, Vec<String>)>,
    imports: Vec<(Vec<String>, String, Vec<String>)>,
    methods: BTreeSet<String>,
    of_tests: Vec<String>,
    /// Modules, with where they are declared.
    mods: BTreeSet<(Vec<String>, String)>,
}

impl Visitor {
    fn note(&mut self, path: Vec<String>) {
        self.found.push((self.at.clone(), path));
    }

    /// A name alone is a variable or an item; only imports of one name lead somewhere.
    fn note_longer(&mut self, path: Vec<String>) {
        if path.len() > 1 {
            self.note(path);
        }
    }

    fn import(&mut self, tree: &syn::UseTree, mut head: Vec<String>) {
        match tree {
            syn::UseTree::Path(p) => {
                head.push(p.ident.to_string());
                self.import(&p.tree, head);
            }
            syn::UseTree::Group(g) => g.items.iter().for_each(|item| self.import(item, head.clone())),
            syn::UseTree::Glob(_) => {
                head.push("*".to_owned());
                self.note(head);
            }
            syn::UseTree::Name(n) => self.bring(head, &n.ident.to_string(), None),
            syn::UseTree::Rename(r) => self.bring(head, &r.ident.to_string(), Some(r.rename.to_string())),
        }
    }

    fn bring(&mut self, mut head: Vec<String>, name: &str, renamed: Option<String>) {
        if name != "self" {
            head.push(name.to_owned());
        }
        let name = renamed.unwrap_or_else(|| head.last().cloned().unwrap_or_default());
        self.imports.push((self.at.clone(), name, head.clone()));
        self.note(head);
    }

    /// Paths and calls inside of a macro, whose grammar is its own.
    fn tokens(&mut self, tokens: TokenStream) {
        let mut path: Vec<String> = Vec::new();
        let (mut colons, mut dot) = (0, false);
        for token in tokens {
            match token {
                TokenTree::Ident(ident) => {
                    if dot {
                        self.methods.insert(ident.to_string());
                    }
                    if colons != 2 && !path.is_empty() {
                        let whole = std::mem::take(&mut path);
                        self.note_longer(whole);
                    }
                    if !dot {
                        path.push(ident.to_string());
                    }
                    (colons, dot) = (0, false);
                    continue;
                }
                TokenTree::Punct(p) if p.as_char() == ':' && colons < 2 => {
                    colons += 1;
                    continue;
                }
                TokenTree::Punct(p) => dot = p.as_char() == '.',
                TokenTree::Group(g) => {
                    // `path::{a, b}` of a use inside of a macro: each begins with the path.
                    if colons == 2 && g.delimiter() == Delimiter::Brace {
                        let head = path.clone();
                        for inner in g.stream() {
                            if let TokenTree::Ident(ident) = inner {
                                self.note(head.iter().cloned().chain([ident.to_string()]).collect());
                            }
                        }
                    }
                    self.tokens(g.stream());
                    dot = false;
                }
                TokenTree::Literal(_) => dot = false,
            }
            colons = 0;
            if !path.is_empty() {
                let whole = std::mem::take(&mut path);
                self.note_longer(whole);
            }
        }
        if !path.is_empty() {
            self.note_longer(path);
        }
    }

    fn left_out(&self, attributes: &[syn::Attribute]) -> bool {
        !self.tests && of_tests(attributes)
    }
}

/// Whether only tests compile it.
fn of_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|a| {
        a.path().is_ident("test")
            || a.path().is_ident("cfg") && a.meta.require_list().is_ok_and(|l| l.tokens.to_string() == "test")
    })
}

fn attributes(item: &syn::Item) -> &[syn::Attribute] {
    match item {
        syn::Item::Const(i) => &i.attrs,
        syn::Item::Enum(i) => &i.attrs,
        syn::Item::ExternCrate(i) => &i.attrs,
        syn::Item::Fn(i) => &i.attrs,
        syn::Item::Impl(i) => &i.attrs,
        syn::Item::Macro(i) => &i.attrs,
        syn::Item::Mod(i) => &i.attrs,
        syn::Item::Static(i) => &i.attrs,
        syn::Item::Struct(i) => &i.attrs,
        syn::Item::Trait(i) => &i.attrs,
        syn::Item::Type(i) => &i.attrs,
        syn::Item::Use(i) => &i.attrs,
        _ => &[],
    }
}

impl<'a> Visit<'a> for Visitor {
    fn visit_item(&mut self, item: &'a syn::Item) {
        if let syn::Item::Mod(i) = item
            && of_tests(&i.attrs)
        {
            self.of_tests.push(i.ident.to_string());
        }
        if !self.left_out(attributes(item)) {
            visit::visit_item(self, item);
        }
    }

    fn visit_impl_item_fn(&mut self, item: &'a syn::ImplItemFn) {
        if !self.left_out(&item.attrs) {
            visit::visit_impl_item_fn(self, item);
        }
    }

    fn visit_item_mod(&mut self, item: &'a syn::ItemMod) {
        let inside = item.content.is_some();
        self.mods.insert((self.at.clone(), item.ident.to_string()));
        if inside {
            self.at.push(item.ident.to_string());
        }
        visit::visit_item_mod(self, item);
        if inside {
            self.at.pop();
        }
    }

    fn visit_item_use(&mut self, item: &'a syn::ItemUse) {
        self.import(&item.tree, Vec::new());
    }

    fn visit_item_extern_crate(&mut self, item: &'a syn::ItemExternCrate) {
        let renamed = item.rename.as_ref().map(|(_, name)| name.to_string());
        self.bring(Vec::new(), &item.ident.to_string(), renamed);
    }

    fn visit_path(&mut self, path: &'a syn::Path) {
        self.note_longer(path.segments.iter().map(|s| s.ident.to_string()).collect());
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, mac: &'a syn::Macro) {
        visit::visit_macro(self, mac);
        self.tokens(mac.tokens.clone());
    }

    fn visit_attribute(&mut self, attribute: &'a syn::Attribute) {
        if let syn::Meta::List(list) = &attribute.meta {
            self.tokens(list.tokens.clone());
        }
    }

    fn visit_expr_method_call(&mut self, call: &'a syn::ExprMethodCall) {
        self.methods.insert(call.method.to_string());
        visit::visit_expr_method_call(self, call);
    }
}

/// A crate of the house and what its Cargo.toml lets it use, by the names of libraries.
pub struct Krate {
    /// The name of its library.
    pub name: String,
    /// What its code may use.
    pub uses: BTreeSet<String>,
    /// What only its tests may use.
    pub in_tests: BTreeSet<String>,
}

/// The repository.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn table(path: &Path) -> toml::Table {
    let text = fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    text.parse().unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// Every crate of the workspace, the program first.
pub fn crates() -> Vec<Krate> {
    let whole = table(&root().join("Cargo.toml"));
    let members = whole["workspace"]["members"].as_array().expect("the workspace lists its members");
    let folders = members.iter().map(|m| root().join(m.as_str().expect("a member is a path")));
    let names = |table: Option<&toml::Value>| -> BTreeSet<String> {
        table.and_then(|t| t.as_table()).into_iter().flatten().map(|(name, _)| name.replace('-', "_")).collect()
    };
    [root().to_owned()]
        .into_iter()
        .chain(folders)
        .map(|folder| {
            let table = table(&folder.join("Cargo.toml"));
            let mut uses = names(table.get("dependencies"));
            for target in table.get("target").and_then(|t| t.as_table()).into_iter().flatten() {
                uses.extend(names(target.1.get("dependencies")));
            }
            let name = table["lib"]["name"].as_str().expect("the library has a name").to_owned();
            Krate { name, uses, in_tests: names(table.get("dev-dependencies")) }
        })
        .collect()
}

/// Every source file below `pipeline/`; `tests` says whether what only tests compile counts.
pub fn files(crates: &[Krate], tests: bool) -> Vec<File> {
    let pipeline = root().join("pipeline");
    let (mut folders, mut paths) = (vec![pipeline.clone()], Vec::<PathBuf>::new());
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("the folder is there") {
            let path = entry.expect("the entry can be read").path();
            if path.is_dir() {
                folders.push(path);
            // What runs while it is compiled is of no room.
            } else if path.extension().is_some_and(|e| e == "rs") && !path.ends_with("build.rs") {
                paths.push(path);
            }
        }
    }
    paths.sort();
    let files: Vec<File> = paths
        .iter()
        .map(|full| {
            let path = full.strip_prefix(&pipeline).expect("it lies below").to_string_lossy().replace('\\', "/");
            let first = path.split('/').next().unwrap_or_default();
            let krate = crates.iter().find(|c| c.name == first).map_or("sheafwright", |c| &c.name);
            File::parse(&path, krate, &fs::read_to_string(full).expect("it is text"), tests)
        })
        .collect();
    let of_tests: BTreeSet<(String, Vec<String>)> = files
        .iter()
        .flat_map(|f| f.of_tests.iter().map(|m| (f.krate.clone(), [&f.module[..], std::slice::from_ref(m)].concat())))
        .collect();
    let from_outside = |f: &File| f.path.split('/').nth(1) == Some("tests");
    let below_tests =
        |f: &File| (1..=f.module.len()).any(|n| of_tests.contains(&(f.krate.clone(), f.module[..n].to_vec())));
    files.into_iter().filter(|f| tests || !(below_tests(f) || from_outside(f))).collect()
}
