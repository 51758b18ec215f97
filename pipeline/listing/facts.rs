//! What the finished files are, in the figures that a buyer asks for.

use super::{counted, grouped, in_a_row};
use base::model::facts::{Inspected, Leads, PdfFacts, PngFacts};
use base::model::units::{Mm, Pt, byte_size, trim_number};
use base::model::variant;
use base::model::{Facts, Fault, Kind, Product, Size};
use serde::Serialize;

/// Pixels are given for a screen of this density, which many tablets have (common practice, no source).
pub const SCREEN_DPI: f64 = 264.0;

/// The figures of a bundle, read off its files.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct BundleFacts {
    /// The loose files, in the order in which a buyer looks at them.
    pub contents: Vec<File>,
    /// The files to download, in the order of their paths.
    pub uploads: Vec<File>,
    /// The page that the PDF files share.
    pub page: Option<PageSize>,
    /// The notebook.
    pub notebook: Option<NotebookFacts>,
    /// The alternate covers.
    pub covers: Option<CoverFacts>,
    /// The stickers.
    pub stickers: Option<StickerFacts>,
    /// Pages of the sticker sheets.
    pub sheets: usize,
    /// Sticker sheets that are pictures.
    pub sheet_pictures: usize,
    /// Pages of the guide.
    pub guide: usize,
    /// The variants that it comes in; figures outside of them are those of the first, and of what all share.
    pub variants: Vec<VariantFacts>,
    /// Whether the page is the same in all variants.
    pub same_page: bool,
    /// A sentence on the dated pages, where there are some.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dated: Option<String>,
    /// Figures over all variants: the least and the most.
    pub spans: Spans,
    /// The same as they are written: `12`, `12–14`.
    pub said: Said,
}

/// Figures over all variants, the least and the most of each; of a product without variants both are the same.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Spans {
    /// Pages of the notebook.
    pub pages: [usize; 2],
    /// Its links from page to page.
    pub links: [usize; 2],
    /// Its sections.
    pub sections: [usize; 2],
    /// Sections within its sections.
    pub within: [usize; 2],
    /// Its templates.
    pub templates: [usize; 2],
    /// Covers.
    pub covers: [usize; 2],
    /// Stickers.
    pub stickers: [usize; 2],
    /// Sticker sheets, as pages of a PDF or else as pictures.
    pub sheets: [usize; 2],
    /// Those that are pages of a PDF.
    pub sheet_pages: [usize; 2],
    /// Sticker sheets that are pictures.
    pub sheet_pictures: [usize; 2],
    /// Pages of the guide.
    pub guide: [usize; 2],
}

/// Figures as they are written on pictures.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Said {
    /// Pages of the notebook.
    pub pages: String,
    /// Its links from page to page.
    pub links: String,
    /// Its sections.
    pub sections: String,
    /// Its templates.
    pub templates: String,
    /// Covers.
    pub covers: String,
    /// Stickers.
    pub stickers: String,
}

/// A variant as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VariantFacts {
    /// What it is called.
    pub title: String,
    /// Its folder below `contents/`; empty where all of its files are those of all variants.
    pub folder: String,
    /// Its notebook.
    pub notebook: Option<NotebookFacts>,
    /// Whether that notebook is its own, and not the one of all variants.
    pub own_notebook: bool,
    /// Its page.
    pub page: Option<PageSize>,
    /// Its covers.
    pub covers: Option<CoverFacts>,
    /// Its stickers.
    pub stickers: usize,
    /// Its sticker sheets, as pages of a PDF or else as pictures.
    pub sheets: usize,
    /// Those that are pages of a PDF.
    pub sheet_pages: usize,
    /// Its sticker sheets that are pictures.
    pub sheet_pictures: usize,
    /// Pages of its guide.
    pub guide: usize,
}

/// A file.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct File {
    /// Its name, with folders below `contents/` or `upload/`.
    pub name: String,
    /// What it is.
    pub kind: Kind,
    /// The same in words: `notebook`, `zip archive`.
    pub what: String,
    /// Size in bytes.
    pub bytes: u64,
    /// Size for people.
    pub size: String,
    /// Pages, for a PDF.
    pub pages: Option<usize>,
    /// Names of the entries, for an archive.
    pub entries: Option<Vec<String>>,
    /// Width and height, for a picture.
    pub pixels: Option<(u32, u32)>,
    /// Resolution in whole dots per inch, for a picture that says it.
    pub dpi: Option<u64>,
}

/// A page size in every unit that buyers ask in.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PageSize {
    /// `1024 × 768 pt`.
    pub pt: String,
    /// `361.2 × 270.9 mm`.
    pub mm: String,
    /// `14.22 × 10.67 in`.
    pub inches: String,
    /// `3,755 × 2,816 px`.
    pub px: String,
    /// The density that the pixels are for.
    pub px_dpi: u64,
    /// `4 : 3`.
    pub aspect: String,
    /// `landscape`, `portrait` or `square`.
    pub orientation: String,
}

/// The notebook as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NotebookFacts {
    /// Its file.
    pub file: String,
    /// Pages.
    pub pages: usize,
    /// Links to a page of the same file.
    pub links: usize,
    /// The same with commas.
    pub links_text: String,
    /// Links to an address.
    pub links_outside: usize,
    /// How many sections it has.
    pub sections: usize,
    /// How many sections there are within those, each with a tab at the top of its pages.
    pub within: usize,
    /// Those of them that have a name.
    pub section_names: Vec<String>,
    /// Templates by name.
    pub templates: Vec<String>,
    /// The finished file that it was taken from, if it was; pages and links are then those counted in that file and laid
    /// over it.
    pub from: Option<String>,
    /// Titles of the outline's top entries, where the notebook came finished and has no sections of the manifest.
    pub chapters: Vec<String>,
}

/// The alternate covers as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CoverFacts {
    /// Their file.
    pub file: String,
    /// How many there are.
    pub count: usize,
    /// Their names, where there are as many as pages.
    pub names: String,
    /// Links in their file.
    pub links: usize,
    /// Whether every one has the size of the notebook's pages.
    pub fits: bool,
    /// Whether each variant has a file of its own; the one named here is that of the first.
    pub of_variant: bool,
}

/// The stickers as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StickerFacts {
    /// How many there are.
    pub count: usize,
    /// `300`, or `150 to 300` where they differ; empty where none says it.
    pub dpi: String,
    /// Longest sides in pixels: `412 to 1,200`.
    pub longest: String,
    /// Whether every one has transparent pixels.
    pub transparent: bool,
    /// Size of them all.
    pub size: String,
}

impl BundleFacts {
    /// Works the figures out. Names of sections, templates and covers come from the product, but only those are
    /// counted that the file has: a section or template counts when the notebook's outline leads to it.
    ///
    /// `products` are the variants, the leading one first, or the product alone. Files that could not be read are faults,
    /// since a listing cannot speak of them.
    pub fn read(products: &[&Product], files: &[Inspected]) -> Result<BundleFacts, Vec<Fault>> {
        let Some(product) = products.first().copied() else { return Ok(BundleFacts::default()) };
        let faults: Vec<Fault> = files
            .iter()
            .filter_map(|f| match &f.facts {
                Facts::Unreadable(why) => Some(
                    Fault::new(format!("the listing cannot describe a file that cannot be read: {why}"))
                        .in_file(&f.path),
                ),
                _ => None,
            })
            .collect();
        if !faults.is_empty() {
            return Err(faults);
        }
        // What a buyer of each gets; without variants, of the whole.
        let each: Vec<VariantFacts> = products.iter().map(|p| of_variant(p, files)).collect();
        let lead = &each[0];
        let every = |f: &&Inspected| f.path.starts_with("contents/") && f.kind == Some(Kind::Sticker);
        let pngs: Vec<(&Inspected, &PngFacts)> = files.iter().filter(every).filter_map(png).collect();
        let spans = Spans::of(&each);
        Ok(BundleFacts {
            dated: super::dated::sentence(products),
            contents: loose(product, files),
            uploads: uploads(files),
            page: lead.page.clone(),
            notebook: lead.notebook.clone(),
            covers: lead.covers.clone().or_else(|| each.iter().find_map(|v| v.covers.clone())),
            stickers: (!pngs.is_empty()).then(|| StickerFacts { count: lead.stickers, ..stickers(&pngs) }),
            sheets: lead.sheet_pages,
            sheet_pictures: lead.sheet_pictures,
            guide: lead.guide,
            same_page: each.windows(2).all(|two| two[0].page == two[1].page),
            said: spans.said(),
            spans,
            variants: if product.variants.all.is_empty() { Vec::new() } else { each },
        })
    }

    /// Whether any notebook has links.
    pub fn has_links(&self) -> bool {
        let books = self.notebook.iter().chain(self.variants.iter().filter_map(|v| v.notebook.as_ref()));
        books.into_iter().any(|n| n.links + n.links_outside > 0)
    }
}

impl Spans {
    fn of(each: &[VariantFacts]) -> Spans {
        let span = |figure: &dyn Fn(&VariantFacts) -> usize| {
            let all = || each.iter().map(figure);
            [all().min().unwrap_or(0), all().max().unwrap_or(0)]
        };
        let book = |figure: fn(&NotebookFacts) -> usize| span(&|v| v.notebook.as_ref().map_or(0, figure));
        Spans {
            pages: book(|n| n.pages),
            links: book(|n| n.links),
            sections: book(|n| n.sections),
            within: book(|n| n.within),
            templates: book(|n| n.templates.len()),
            covers: span(&|v| v.covers.as_ref().map_or(0, |c| c.count)),
            stickers: span(&|v| v.stickers),
            sheets: span(&|v| v.sheets),
            sheet_pages: span(&|v| v.sheet_pages),
            sheet_pictures: span(&|v| v.sheet_pictures),
            guide: span(&|v| v.guide),
        }
    }

    fn said(&self) -> Said {
        let said = |[least, most]: [usize; 2]| match least == most {
            true => grouped(most as u64),
            false => format!("{}\u{2013}{}", grouped(least as u64), grouped(most as u64)),
        };
        Said {
            pages: said(self.pages),
            links: said(self.links),
            sections: said(self.sections),
            templates: said(self.templates),
            covers: said(self.covers),
            stickers: said(self.stickers),
        }
    }
}

/// What a buyer of a variant gets: its own files and those of all.
fn of_variant(product: &Product, files: &[Inspected]) -> VariantFacts {
    let mine = |f: &&Inspected| f.path.starts_with("contents/") && product.variants.has(&f.path);
    let of = |kind: Kind| files.iter().filter(mine).filter(move |f| f.kind == Some(kind));
    let pdfs = |kind: Kind| of(kind).filter_map(|f| pdf(f).map(|p| (f, p)));
    let pages = |kind: Kind| pdfs(kind).map(|(_, p)| p.pages.len()).sum::<usize>();
    let main = pdfs(Kind::Notebook).next();
    let first_page = main.or_else(|| pdfs(Kind::Covers).next()).or_else(|| pdfs(Kind::Sheet).next());
    let first_page = first_page.or_else(|| pdfs(Kind::Guide).next());
    let (sheet_pages, sheet_pictures) = (pages(Kind::Sheet), of(Kind::Sheet).filter_map(png).count());
    let own = |f: &Inspected| variant::of(&product.variants.all, &f.path).is_some();
    let folder = product.variants.mine().filter(|_| files.iter().filter(mine).any(own));
    VariantFacts {
        title: product.variants.mine().map_or(String::new(), |v| v.title.clone()),
        folder: folder.map_or(String::new(), |v| format!("{}/", v.name)),
        notebook: main.map(|(f, p)| notebook(product, f, p)),
        own_notebook: main.is_some_and(|(f, _)| own(f)),
        page: first_page.and_then(|(_, p)| p.pages.first()).map(|p| page_size(p.shown())),
        covers: pdfs(Kind::Covers).next().map(|(f, p)| covers(product, f, p, main.map(|(_, p)| p))),
        stickers: of(Kind::Sticker).filter_map(png).count(),
        sheets: if sheet_pages > 0 { sheet_pages } else { sheet_pictures },
        sheet_pages,
        sheet_pictures,
        guide: pages(Kind::Guide),
    }
}

fn png(file: &Inspected) -> Option<(&Inspected, &PngFacts)> {
    if let Facts::Png(png) = &file.facts { Some((file, png)) } else { None }
}

fn pdf(file: &Inspected) -> Option<&PdfFacts> {
    match &file.facts {
        Facts::Pdf(pdf) => Some(pdf),
        _ => None,
    }
}

fn loose(product: &Product, files: &[Inspected]) -> Vec<File> {
    const ORDER: [Kind; 8] = [
        Kind::StartHere,
        Kind::Notebook,
        Kind::Covers,
        Kind::Guide,
        Kind::Licence,
        Kind::DeliveryCard,
        Kind::Sheet,
        Kind::Sticker,
    ];
    let mut out: Vec<File> =
        files.iter().filter_map(|f| Some(file(f, f.path.strip_prefix("contents/")?, files))).collect();
    let rank = |kind: Kind| ORDER.iter().position(|k| *k == kind).unwrap_or(ORDER.len());
    let variant = |f: &File| variant::of(&product.variants.all, &format!("contents/{}", f.name));
    out.sort_by(|a, b| (rank(a.kind), variant(a), &a.name).cmp(&(rank(b.kind), variant(b), &b.name)));
    out
}

/// The files to download: bare ones first, the notebook before all, as a buyer should see them.
fn uploads(files: &[Inspected]) -> Vec<File> {
    let mut out: Vec<File> =
        files.iter().filter_map(|f| Some(file(f, f.path.strip_prefix("upload/")?, files))).collect();
    out.sort_by(|a, b| {
        let rank = |f: &File| (f.what != words(Kind::Notebook), f.entries.is_some());
        (rank(a), &a.name).cmp(&(rank(b), &b.name))
    });
    out
}

fn file(f: &Inspected, name: &str, all: &[Inspected]) -> File {
    let kind = f.kind.unwrap_or(Kind::Upload);
    // A bare upload is one of the loose files: the one with the same bytes.
    let twin = || all.iter().find(|o| o.path.starts_with("contents/") && o.sha256 == f.sha256 && o.size == f.size);
    let what = match (&f.facts, kind) {
        (Facts::Zip(_), _) => "zip archive",
        (_, Kind::Upload) => twin().and_then(|t| t.kind).map_or("file", words),
        _ => words(kind),
    };
    let (mut pages, mut entries, mut pixels, mut dpi) = (None, None, None, None);
    match &f.facts {
        Facts::Pdf(p) => pages = Some(p.pages.len()),
        Facts::Zip(z) => entries = Some(z.entries.iter().map(|e| e.name.clone()).collect()),
        Facts::Png(p) => {
            pixels = Some((p.width, p.height));
            dpi = p.dpi().map(|d| d.round() as u64);
        }
        Facts::Picture(p) => pixels = Some((p.width, p.height)),
        Facts::Text(_) | Facts::Unreadable(_) => {}
    }
    File {
        name: name.to_owned(),
        kind,
        what: what.to_owned(),
        bytes: f.size,
        size: byte_size(f.size),
        pages,
        entries,
        pixels,
        dpi,
    }
}

/// What a kind of file is called.
pub fn words(kind: Kind) -> &'static str {
    match kind {
        Kind::Notebook => "notebook",
        Kind::Covers => "covers",
        Kind::Sticker => "sticker",
        Kind::Sheet => "sticker sheet",
        Kind::Guide => "how-to guide",
        Kind::Licence => "licence terms",
        Kind::StartHere => "text to read first",
        Kind::DeliveryCard => "card with a download link",
        Kind::Upload => "file to download",
        Kind::Listing => "text of the listing",
        Kind::Picture => "picture of the listing",
    }
}

fn notebook(product: &Product, f: &Inspected, pdf: &PdfFacts) -> NotebookFacts {
    let leads = || pdf.pages.iter().flat_map(|p| &p.links).map(|l| &l.leads);
    let links = leads().filter(|l| matches!(l, Leads::Page { .. })).count();
    // A file without an outline cannot be asked for its chapters.
    let has = |title: &str| {
        pdf.outline.is_empty()
            || pdf.outline.iter().any(|o| matches!(o.leads, Leads::Page { .. }) && same_title(&o.title, title))
    };
    let (mut sections, mut within, mut section_names, mut templates) = (0, 0, Vec::new(), Vec::new());
    let (mut from, mut chapters) = (None, Vec::new());
    if let Some((book, finished)) = product.notebook.as_ref().and_then(|b| Some((b, b.finished.as_ref()?))) {
        from = Some(finished.file.clone());
        // Their tabs are links that are held against the plan one by one.
        sections = book.sections.len();
        section_names = book.sections.iter().map(|s| s.name.clone()).filter(|n| !n.is_empty()).collect();
        if sections == 0 {
            let tops = pdf.outline.iter().filter(|o| o.depth == 0 && matches!(o.leads, Leads::Page { .. }));
            chapters = tops.map(|o| o.title.trim().to_owned()).filter(|t| !t.is_empty()).collect();
        }
    } else if let Some(book) = &product.notebook {
        for (i, section) in book.sections.iter().enumerate() {
            let number = (i + 1).to_string();
            if has(&section.name) && !section.name.is_empty() {
                sections += 1;
                section_names.push(section.name.clone());
            } else if section.name.is_empty() && (has(&number) || has(&format!("Section {number}"))) {
                sections += 1;
            }
        }
        let inner = book
            .sections
            .iter()
            .enumerate()
            .flat_map(|(i, s)| s.within.iter().enumerate().map(move |(w, s)| (i, w, s)));
        within = inner
            .filter(|(i, w, s)| match s.name.is_empty() {
                true => has(&format!("Section {}.{}", i + 1, w + 1)),
                false => has(&s.name),
            })
            .count();
        templates = book.offered().map(|(_, t)| t.name.clone()).filter(|name| has(name)).collect();
    }
    NotebookFacts {
        file: f.path.trim_start_matches("contents/").to_owned(),
        pages: pdf.pages.len(),
        links,
        links_text: grouped(links as u64),
        links_outside: leads().filter(|l| matches!(l, Leads::Uri(_))).count(),
        sections,
        within,
        section_names,
        templates,
        from,
        chapters,
    }
}

/// Whether an outline's title is this name, perhaps with a number or a word before it.
fn same_title(title: &str, name: &str) -> bool {
    let (title, name) = (title.trim().to_lowercase(), name.trim().to_lowercase());
    title == name || title.strip_suffix(&name).is_some_and(|front| front.ends_with([' ', '\u{a0}']) && !name.is_empty())
}

fn covers(product: &Product, f: &Inspected, pdf: &PdfFacts, notebook: Option<&PdfFacts>) -> CoverFacts {
    let wanted = notebook.and_then(|n| n.pages.first()).map(|p| p.shown());
    // Sizes in a PDF are written with a few decimals.
    let alike = |a: Size, b: Size| (a.w - b.w).abs() < 0.01 && (a.h - b.h).abs() < 0.01;
    let names: Vec<String> = product.covers.iter().map(|c| c.name.clone()).filter(|n| !n.is_empty()).collect();
    CoverFacts {
        file: f.path.trim_start_matches("contents/").to_owned(),
        count: pdf.pages.len(),
        names: if names.len() == pdf.pages.len() { in_a_row(&names) } else { String::new() },
        links: pdf.pages.iter().map(|p| p.links.len()).sum(),
        of_variant: variant::of(&product.variants.all, &f.path).is_some(),
        fits: wanted.is_some_and(|size| pdf.pages.iter().all(|p| alike(p.shown(), size))),
    }
}

fn stickers(pngs: &[(&Inspected, &PngFacts)]) -> StickerFacts {
    let range = |values: Vec<u64>| match (values.iter().min(), values.iter().max()) {
        (Some(a), Some(b)) if a == b => grouped(*a),
        (Some(a), Some(b)) => format!("{} to {}", grouped(*a), grouped(*b)),
        _ => String::new(),
    };
    StickerFacts {
        count: pngs.len(),
        dpi: range(pngs.iter().filter_map(|(_, p)| p.dpi()).map(|d| d.round() as u64).collect()),
        longest: range(pngs.iter().map(|(_, p)| u64::from(p.width.max(p.height))).collect()),
        transparent: pngs.iter().all(|(_, p)| p.has_transparency),
        size: byte_size(pngs.iter().map(|(f, _)| f.size).sum()),
    }
}

/// A page size in words.
pub fn page_size(size: Size) -> PageSize {
    let pair = |f: &dyn Fn(f64) -> String, unit: &str| format!("{} × {} {unit}", f(size.w), f(size.h));
    let px = |v: f64| grouped((v / 72.0 * SCREEN_DPI).round() as u64);
    let orientation = match size.w.total_cmp(&size.h) {
        std::cmp::Ordering::Greater => "landscape",
        std::cmp::Ordering::Less => "portrait",
        std::cmp::Ordering::Equal => "square",
    };
    PageSize {
        pt: pair(&|v| trim_number(v, 2), "pt"),
        mm: pair(&|v| trim_number(Mm::from(Pt(v)).0, 1), "mm"),
        inches: pair(&|v| trim_number(v / 72.0, 2), "in"),
        px: pair(&px, "px"),
        px_dpi: SCREEN_DPI as u64,
        aspect: aspect(size),
        orientation: orientation.to_owned(),
    }
}

/// Sides in proportion: in small whole numbers where they are that to a thousandth, else as a decimal.
fn aspect(size: Size) -> String {
    let ratio = size.w / size.h;
    let near = |r: f64| (ratio / r - 1.0).abs() < 0.001;
    for low in 1..=16_u32 {
        for high in low..=25_u32 {
            if gcd(low, high) != 1 {
                continue;
            }
            let r = f64::from(high) / f64::from(low);
            if near(r) {
                return format!("{high} : {low}");
            }
            if near(1.0 / r) {
                return format!("{low} : {high}");
            }
        }
    }
    if ratio >= 1.0 { format!("{} : 1", trim_number(ratio, 3)) } else { format!("1 : {}", trim_number(1.0 / ratio, 3)) }
}

fn gcd(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl File {
    /// Its figures in one line: `notebook, 312,345 bytes (312.3 kB), 128 pages`.
    pub fn figures(&self) -> String {
        let mut out = format!("{}, {}", self.what, counted(self.bytes as usize, "byte", "bytes"));
        if self.bytes >= 1_000 {
            out.push_str(&format!(" ({})", self.size));
        }
        if let Some(pages) = self.pages {
            out.push_str(&format!(", {}", counted(pages, "page", "pages")));
        }
        if let Some(entries) = &self.entries {
            out.push_str(&format!(", {}", counted(entries.len(), "file", "files")));
        }
        if let Some((w, h)) = self.pixels {
            out.push_str(&format!(", {} × {} px", grouped(u64::from(w)), grouped(u64::from(h))));
        }
        if let Some(dpi) = self.dpi {
            out.push_str(&format!(" at {dpi} dpi"));
        }
        out
    }
}
