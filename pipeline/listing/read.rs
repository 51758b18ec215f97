//! The figures of a bundle, read off its finished files.

use super::facts::{
    BundleFacts, CoverFacts, File, MemberFacts, NotebookFacts, Said, Spans, StickerFacts, VariantFacts, words,
};
use super::grouped;
use super::page_size::page_size;
use base::model::facts::{Inspected, Leads, PdfFacts, PngFacts};
use base::model::variant;
use base::model::{Facts, Fault, Kind, Product, Size};
use wording::{Tongue, fill};

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
        if product.is_set() {
            return set(product, files);
        }
        // What a buyer of each gets; without variants, of the whole.
        let tongue = Tongue::of(product);
        let each: Vec<VariantFacts> = products.iter().map(|p| of_variant(p, files, &tongue)).collect();
        let lead = &each[0];
        let every = |f: &&Inspected| f.path.starts_with("contents/") && f.kind == Some(Kind::Sticker);
        let pngs: Vec<(&Inspected, &PngFacts)> = files.iter().filter(every).filter_map(png).collect();
        let spans = Spans::of(&each);
        Ok(BundleFacts {
            dated: super::dated::facts(products, &tongue),
            contents: loose(product, files, &tongue),
            uploads: uploads(files, &tongue),
            page: lead.page.clone(),
            notebook: lead.notebook.clone(),
            covers: lead.covers.clone().or_else(|| each.iter().find_map(|v| v.covers.clone())),
            stickers: (!pngs.is_empty()).then(|| StickerFacts { count: lead.stickers, ..stickers(&pngs, &tongue) }),
            sheets: lead.sheet_pages,
            sheet_pictures: lead.sheet_pictures,
            guide: lead.guide,
            same_page: each.windows(2).all(|two| two[0].page == two[1].page),
            said: spans.said(&tongue),
            spans,
            variants: if product.variants.all.is_empty() { Vec::new() } else { each },
            members: Vec::new(),
        })
    }
}

/// The figures of a set: those of its members, each read as if its files lay alone, and their sums.
fn set(product: &Product, files: &[Inspected]) -> Result<BundleFacts, Vec<Fault>> {
    let tongue = Tongue::of(product);
    let mut members = Vec::new();
    for member in &product.members {
        let own = files.iter().filter_map(|f| Some(Inspected { path: member.own(&f.path)?, ..f.clone() }));
        let own: Vec<Inspected> = own.collect();
        let products: Vec<&Product> = member.products.iter().collect();
        let folder = format!("{}/", member.lead().slug);
        let mut facts = BundleFacts::read(&products, &own)?;
        let variants = facts
            .variants
            .iter_mut()
            .flat_map(|v| [v.notebook.as_mut().map(|n| &mut n.file), v.covers.as_mut().map(|c| &mut c.file)]);
        let lead = [facts.notebook.as_mut().map(|n| &mut n.file), facts.covers.as_mut().map(|c| &mut c.file)];
        for file in variants.chain(lead).flatten() {
            file.insert_str(0, &folder);
        }
        members.push(MemberFacts { name: member.lead().name.clone(), folder, facts });
    }
    let guides = || files.iter().filter(|f| f.path.starts_with("contents/") && f.kind == Some(Kind::Guide));
    let guide = guides().filter_map(pdf).map(|p| p.pages.len()).sum();
    let spans = members.iter().fold(Spans::default(), |sum, member| sum.and(&member.facts.spans));
    let spans = Spans { guide: [guide, guide], ..spans };
    Ok(BundleFacts {
        contents: loose(product, files, &tongue),
        uploads: uploads(files, &tongue),
        sheets: spans.sheets[0],
        sheet_pictures: spans.sheet_pictures[0],
        guide,
        same_page: true,
        said: spans.said(&tongue),
        spans,
        members,
        ..BundleFacts::default()
    })
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

    /// The figures of both together.
    fn and(self, other: &Spans) -> Spans {
        let sum = |a: [usize; 2], b: [usize; 2]| [a[0] + b[0], a[1] + b[1]];
        Spans {
            pages: sum(self.pages, other.pages),
            links: sum(self.links, other.links),
            sections: sum(self.sections, other.sections),
            within: sum(self.within, other.within),
            templates: sum(self.templates, other.templates),
            covers: sum(self.covers, other.covers),
            stickers: sum(self.stickers, other.stickers),
            sheets: sum(self.sheets, other.sheets),
            sheet_pages: sum(self.sheet_pages, other.sheet_pages),
            sheet_pictures: sum(self.sheet_pictures, other.sheet_pictures),
            guide: sum(self.guide, other.guide),
        }
    }

    fn said(&self, tongue: &Tongue) -> Said {
        let number = |n: usize| tongue.number(n as u64);
        let said = |[least, most]: [usize; 2]| match least == most {
            true => number(most),
            false => format!("{}\u{2013}{}", number(least), number(most)),
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
fn of_variant(product: &Product, files: &[Inspected], tongue: &Tongue) -> VariantFacts {
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
        page: first_page.and_then(|(_, p)| p.pages.first()).map(|p| page_size(p.shown(), tongue)),
        covers: pdfs(Kind::Covers).next().map(|(f, p)| covers(product, f, p, main.map(|(_, p)| p), tongue)),
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

fn loose(product: &Product, files: &[Inspected], tongue: &Tongue) -> Vec<File> {
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
        files.iter().filter_map(|f| Some(file(f, f.path.strip_prefix("contents/")?, files, tongue))).collect();
    let rank = |kind: Kind| ORDER.iter().position(|k| *k == kind).unwrap_or(ORDER.len());
    let folders = product.folders();
    let variant = |f: &File| variant::of(&folders, &format!("contents/{}", f.name));
    out.sort_by(|a, b| (rank(a.kind), variant(a), &a.name).cmp(&(rank(b.kind), variant(b), &b.name)));
    out
}

/// The files to download: bare ones first, the notebook before all, as a buyer should see them.
fn uploads(files: &[Inspected], tongue: &Tongue) -> Vec<File> {
    let mut out: Vec<File> =
        files.iter().filter_map(|f| Some(file(f, f.path.strip_prefix("upload/")?, files, tongue))).collect();
    out.sort_by(|a, b| {
        let rank = |f: &File| (f.what != words(Kind::Notebook, tongue), f.entries.is_some());
        (rank(a), &a.name).cmp(&(rank(b), &b.name))
    });
    out
}

fn file(f: &Inspected, name: &str, all: &[Inspected], tongue: &Tongue) -> File {
    let says = &tongue.documents().start;
    let kind = f.kind.unwrap_or(Kind::Upload);
    // A bare upload is one of the loose files: the one with the same bytes.
    let twin = || all.iter().find(|o| o.path.starts_with("contents/") && o.sha256 == f.sha256 && o.size == f.size);
    let what = match (&f.facts, kind) {
        (Facts::Zip(_), _) => says.archive,
        (_, Kind::Upload) => twin().and_then(|t| t.kind).map_or(says.file, |kind| words(kind, tongue)),
        _ => words(kind, tongue),
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
        size: tongue.size(f.size),
        pages,
        entries,
        pixels,
        dpi,
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
        let words = &product.words;
        for (i, section) in book.sections.iter().enumerate() {
            if has(&section.name) && !section.name.is_empty() {
                sections += 1;
                section_names.push(section.name.clone());
            } else if section.name.is_empty() && (has(&words.figure(i + 1)) || has(&words.section_number(i))) {
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
                true => has(&words.within_number(*i, *w)),
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

fn covers(
    product: &Product,
    f: &Inspected,
    pdf: &PdfFacts,
    notebook: Option<&PdfFacts>,
    tongue: &Tongue,
) -> CoverFacts {
    let wanted = notebook.and_then(|n| n.pages.first()).map(|p| p.shown());
    // Sizes in a PDF are written with a few decimals.
    let alike = |a: Size, b: Size| (a.w - b.w).abs() < 0.01 && (a.h - b.h).abs() < 0.01;
    let names: Vec<String> = product.covers.iter().map(|c| c.name.clone()).filter(|n| !n.is_empty()).collect();
    CoverFacts {
        file: f.path.trim_start_matches("contents/").to_owned(),
        count: pdf.pages.len(),
        names: if names.len() == pdf.pages.len() { tongue.row(&names) } else { String::new() },
        links: pdf.pages.iter().map(|p| p.links.len()).sum(),
        of_variant: variant::of(&product.variants.all, &f.path).is_some(),
        fits: wanted.is_some_and(|size| pdf.pages.iter().all(|p| alike(p.shown(), size))),
    }
}

fn stickers(pngs: &[(&Inspected, &PngFacts)], tongue: &Tongue) -> StickerFacts {
    let from_to = tongue.documents().listing.from_to;
    let range = |values: Vec<u64>| match (values.iter().min(), values.iter().max()) {
        (Some(a), Some(b)) if a == b => tongue.number(*a),
        (Some(a), Some(b)) => fill(from_to, &[("least", &tongue.number(*a)), ("n", &tongue.number(*b))]),
        _ => String::new(),
    };
    StickerFacts {
        count: pngs.len(),
        dpi: range(pngs.iter().filter_map(|(_, p)| p.dpi()).map(|d| d.round() as u64).collect()),
        longest: range(pngs.iter().map(|(_, p)| u64::from(p.width.max(p.height))).collect()),
        transparent: pngs.iter().all(|(_, p)| p.has_transparency),
        size: tongue.size(pngs.iter().map(|(f, _)| f.size).sum()),
    }
}
