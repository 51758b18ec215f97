//! `description.md`: the listing, ready to paste, in the language of the product.

use super::facts::{BundleFacts, CoverFacts, NotebookFacts, VariantFacts};
use base::model::Product;
use base::model::product::Refunds;
use wording::listing::Listing;
use wording::{Tongue, fill};

/// The listing's text from the facts.
pub fn description(product: &Product, facts: &BundleFacts) -> String {
    let tongue = Tongue::of(product);
    let writer = Writer { product, facts, tongue: &tongue, says: &tongue.documents().listing };
    let title = if product.listing.title.is_empty() { &product.name } else { &product.listing.title };
    let mut blocks = vec![format!("# {}", plain(title)), product.listing.summary.trim().to_owned()];
    blocks.extend(writer.get());
    if product.is_set() {
        blocks.extend(writer.members());
    } else {
        blocks.extend(writer.inside());
        blocks.extend(writer.page());
    }
    blocks.extend(writer.download());
    blocks.extend(writer.need());
    blocks.extend(writer.terms());
    blocks.retain(|block| !block.is_empty());
    tongue.directed(&tidy(&blocks.join("\n\n")))
}

/// What the parts of the text are written from.
struct Writer<'a> {
    product: &'a Product,
    facts: &'a BundleFacts,
    tongue: &'a Tongue,
    says: &'a Listing,
}

/// A list in Markdown.
fn list(items: &[String]) -> String {
    items.iter().map(|item| format!("- {item}")).collect::<Vec<_>>().join("\n")
}

fn heading(text: &str) -> String {
    format!("## {text}")
}

impl Writer<'_> {
    /// The figures of all members of a set, or its own.
    fn every(&self) -> Vec<&BundleFacts> {
        if self.product.is_set() { self.facts.members.iter().map(|m| &m.facts).collect() } else { vec![self.facts] }
    }

    fn colon(&self) -> &'static str {
        self.tongue.documents().start.colon
    }

    fn pages(&self, n: usize) -> String {
        self.tongue.count(n, self.tongue.documents().start.pages)
    }

    /// “, by variant” where a figure differs.
    fn by(&self, span: [usize; 2]) -> &'static str {
        if span[0] == span[1] { "" } else { self.says.by_variant }
    }

    /// What one gets, thing by thing.
    fn get(&self) -> Vec<String> {
        let (facts, says) = (self.facts, self.says);
        let mut items = if self.product.is_set() { self.set() } else { self.things() };
        items.extend(self.guide());
        let start = facts.contents.iter().any(|f| f.kind == base::model::Kind::StartHere);
        items.push(if start { says.terms_and_start } else { says.terms }.to_owned());
        let names: Vec<String> = self.product.sisters.iter().map(|s| s.name.clone()).collect();
        let sisters = if names.is_empty() {
            String::new()
        } else {
            self.tongue.count_with(names.len(), says.goes_with, &[("names", &plain(&self.tongue.row(&names)))])
        };
        vec![heading(says.get), list(&items), sisters]
    }

    /// What a set has: its members, and their figures together.
    fn set(&self) -> Vec<String> {
        let (spans, says) = (&self.facts.spans, self.says);
        let mut lines = vec![self.tongue.count(self.facts.members.len(), says.set_of)];
        lines.extend(self.facts.members.iter().map(|m| format!("  - {} (`{}`)", plain(&m.name), m.folder)));
        let figures = [
            (spans.pages, self.tongue.documents().start.pages),
            (spans.links, says.links),
            (spans.templates, says.templates),
            (spans.covers, says.covers),
            (spans.stickers, says.stickers_n),
        ];
        let figures: Vec<String> = figures
            .into_iter()
            .filter(|(span, _)| span[1] > 0)
            .map(|(span, noun)| self.tongue.span(span, noun))
            .collect();
        let together = fill(says.set_together, &[("figures", &figures.join(self.tongue.documents().start.comma))]);
        vec![lines.join("\n"), together]
    }

    /// Every member of a set under a heading of its own, as it would describe itself.
    fn members(&self) -> Vec<String> {
        let mut blocks = Vec::new();
        for (member, read) in self.product.members.iter().zip(&self.facts.members) {
            let one = Writer { product: member.lead(), facts: &read.facts, ..*self };
            blocks.push(heading(&plain(&read.name)));
            blocks.push(list(&one.things()));
            let parts = one.inside().into_iter().chain(one.page());
            blocks.extend(parts.map(|block| if block.starts_with("## ") { format!("#{block}") } else { block }));
        }
        blocks
    }

    /// What a product has, but for texts.
    fn things(&self) -> Vec<String> {
        let (facts, spans, says) = (self.facts, &self.facts.spans, self.says);
        let mut items = Vec::new();
        let own = facts.variants.iter().any(|v| v.own_notebook);
        if facts.notebook.is_some() || spans.pages[1] > 0 {
            items.extend(self.book(own));
        }
        items.extend(facts.dated.as_ref().map(|dated| dated.sentence.clone()));
        if !facts.variants.is_empty() && !own {
            let mut lines = vec![self.tongue.count(facts.variants.len(), says.in_variants)];
            lines.extend(facts.variants.iter().map(|v| self.variant(v, &plain(&v.title))));
            items.push(lines.join("\n"));
        }
        items.extend(facts.covers.as_ref().map(|covers| self.covers(covers)));
        items.extend(self.stickers());
        items.extend(self.sheets());
        items
    }

    /// A line for a variant, with what it has in figures.
    fn variant(&self, v: &VariantFacts, title: &str) -> String {
        match self.details(v) {
            details if details.is_empty() => format!("  - {title}"),
            details => format!("  - {title}{}{details}", self.colon()),
        }
    }

    fn book(&self, own: bool) -> Option<String> {
        let (facts, spans, says) = (self.facts, &self.facts.spans, self.says);
        let link_count = |n: usize| self.tongue.count(n, says.links);
        if !own {
            let book = facts.notebook.as_ref()?;
            let (pages, links) = (self.pages(book.pages), link_count(book.links));
            let sentence = if book.links > 0 { says.book_linked } else { says.book };
            return Some(fill(sentence, &[("file", &book.file), ("pages", &pages), ("links", &links)]));
        }
        let pages = self.tongue.span(spans.pages, self.tongue.documents().start.pages);
        let links = self.tongue.span(spans.links, says.links);
        let each = match () {
            () if !self.same(&|n| n.pages.to_string()) => String::new(),
            () if spans.links[0] > 0 && self.same(&|n| n.links.to_string()) => {
                fill(says.each_linked, &[("pages", &pages), ("links", &links)])
            }
            () => fill(says.each_of, &[("pages", &pages)]),
        };
        let what = if spans.links[1] > 0 { says.linked_books } else { says.books };
        let mut lines = vec![self.tongue.count_with(facts.variants.len(), what, &[("each", &each)])];
        for v in &facts.variants {
            match &v.notebook {
                Some(book) => lines.push(self.variant(v, &format!("{} (`{}`)", plain(&v.title), book.file))),
                None if !self.details(v).is_empty() => lines.push(self.variant(v, &plain(&v.title))),
                None => {}
            }
        }
        Some(lines.join("\n"))
    }

    /// Whether the notebooks of all variants say the same.
    fn same(&self, of: &dyn Fn(&NotebookFacts) -> String) -> bool {
        let all: Vec<Option<String>> = self.facts.variants.iter().map(|v| v.notebook.as_ref().map(of)).collect();
        all.windows(2).all(|two| two[0] == two[1])
    }

    fn covers(&self, covers: &CoverFacts) -> String {
        let (says, span) = (self.says, self.facts.spans.covers);
        let all: Vec<&CoverFacts> = match self.facts.variants.is_empty() {
            true => vec![covers],
            false => self.facts.variants.iter().filter_map(|v| v.covers.as_ref()).collect(),
        };
        let by = match () {
            () if span[0] != span[1] => says.by_variant.to_owned(),
            () if covers.of_variant => says.each_variant.to_owned(),
            () => fill(says.in_file, &[("file", &covers.file)]),
        };
        let same = all.windows(2).all(|two| two[0].names == two[1].names);
        let names = all.first().filter(|c| same && !c.names.is_empty()).map(|c| plain(&c.names));
        let names = names.map(|names| fill(says.named, &[("names", &names)])).unwrap_or_default();
        let fits = if all.iter().all(|c| c.fits) { says.fits } else { "" };
        format!("**{}**{by}{names}{}{fits}", self.tongue.span(span, says.covers), self.tongue.documents().start.stop)
    }

    fn stickers(&self) -> Option<String> {
        let (facts, says, span) = (self.facts.stickers.as_ref()?, self.says, self.facts.spans.stickers);
        let what = match (span[1] == 1, facts.transparent) {
            (true, false) => says.png_one,
            (true, true) => says.png_one_clear,
            (false, false) => says.png_many,
            (false, true) => says.png_many_clear,
        };
        let mut all = vec![what.to_owned()];
        if !facts.dpi.is_empty() {
            all.push(fill(says.dpi, &[("n", &facts.dpi)]));
        }
        all.push(fill(says.longest, &[("n", &facts.longest)]));
        let what = all.join(self.tongue.documents().start.comma);
        let stickers = self.tongue.span(span, says.stickers_n);
        Some(fill(says.stickers, &[("stickers", &stickers), ("by", self.by(span)), ("what", &what)]))
    }

    fn sheets(&self) -> Option<String> {
        let (spans, says) = (&self.facts.spans, self.says);
        let ([pages, most_pages], [pictures, most_pictures]) = (spans.sheet_pages, spans.sheet_pictures);
        let sentence = match () {
            () if spans.sheets[1] == 0 => return None,
            () if pages > 0 && pictures > 0 => says.sheets_pdf_png,
            () if pages > 0 && most_pictures > 0 => says.sheets_pdf_some_png,
            () if pages > 0 => says.sheets_pdf,
            () if most_pages > 0 => says.sheets_either,
            () => says.sheets_png,
        };
        let by = if spans.sheets[0] == spans.sheets[1] { "" } else { says.by_variant_inner };
        Some(fill(sentence, &[("sheets", &self.tongue.span(spans.sheets, says.sheets)), ("by", by)]))
    }

    fn guide(&self) -> Option<String> {
        let (says, span) = (self.says, self.facts.spans.guide);
        if span[1] == 0 {
            return None;
        }
        let mut topics = vec![says.topic_unzip];
        let every = self.every();
        if every.iter().any(|f| f.notebook.is_some()) {
            topics.push(says.topic_book);
            topics.extend(every.iter().find_map(|f| f.covers.as_ref()).map(|_| says.topic_cover));
        }
        topics.extend(every.iter().find_map(|f| f.stickers.as_ref()).map(|_| says.topic_stickers));
        let topics = topics.join(self.tongue.documents().start.comma);
        let pages = self.tongue.span(span, self.tongue.documents().start.pages);
        Some(fill(says.guide, &[("pages", &pages), ("by", self.by(span)), ("topics", &topics)]))
    }

    /// Sections and templates, or what the outline of a finished notebook has.
    fn inside(&self) -> Vec<String> {
        let (facts, spans, says) = (self.facts, &self.facts.spans, self.says);
        let Some(book) = &facts.notebook else { return Vec::new() };
        if book.sections == 0 && book.templates.is_empty() && book.chapters.is_empty() {
            return Vec::new();
        }
        let mut blocks = vec![heading(says.inside)];
        if book.sections > 0 {
            blocks.push(self.sections(book));
            if spans.within[1] > 0 {
                blocks.push(self.tongue.span(spans.within, says.further));
            }
        }
        if !book.chapters.is_empty() {
            let names = plain(&self.tongue.row(&book.chapters));
            blocks.push(self.tongue.count_with(book.chapters.len(), says.entries, &[("names", &names)]));
        }
        if !book.templates.is_empty() {
            let copies = if spans.templates[1] == 1 { says.copy_one } else { says.copy_each };
            let among = if self.same(&|n| n.templates.join("\n")) { "" } else { says.among };
            let (count, by) = (self.tongue.span(spans.templates, says.templates), self.by(spans.templates));
            blocks.push(format!("{count}{by}{copies}{among}{}", self.colon().trim_end()));
            blocks.push(list(&self.templates()));
        }
        blocks
    }

    fn sections(&self, book: &NotebookFacts) -> String {
        let (spans, says) = (&self.facts.spans, self.says);
        let divided = book.from.is_none() && self.product.notebook.as_ref().is_none_or(|n| n.parts.dividers);
        let tabs = match (spans.sections[1] == 1, divided) {
            (true, false) => says.with_tab,
            (true, true) => says.with_tab_divider,
            (false, false) => says.each_tab,
            (false, true) => says.each_tab_divider,
        };
        let names = plain(&self.tongue.row(&book.section_names));
        let names = match () {
            () if !self.same(&|n| n.section_names.join("\n")) => says.names_differ.to_owned(),
            () if names.is_empty() => says.names_none.to_owned(),
            () if book.section_names.len() == book.sections => fill(says.named, &[("names", &names)]),
            () => fill(says.names_some, &[("names", &names)]),
        };
        let (count, by) = (self.tongue.span(spans.sections, says.sections), self.by(spans.sections));
        format!("{count}{by}{tabs}{names}{}", self.tongue.documents().start.stop)
    }

    /// Every template once, with the variants that have it where not all do.
    fn templates(&self) -> Vec<String> {
        let books: Vec<(&str, &NotebookFacts)> = match self.facts.variants.is_empty() {
            true => self.facts.notebook.iter().map(|n| ("", n)).collect(),
            false => {
                self.facts.variants.iter().filter_map(|v| Some((v.title.as_str(), v.notebook.as_ref()?))).collect()
            }
        };
        let mut names: Vec<&String> = Vec::new();
        for name in books.iter().flat_map(|(_, n)| &n.templates) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let line = |name: &String| {
            let having: Vec<&str> =
                books.iter().filter(|(_, n)| n.templates.contains(name)).map(|(title, _)| *title).collect();
            match having.len() < books.len() {
                true => format!("{} ({})", plain(name), plain(&having.join(self.tongue.documents().start.semicolon))),
                false => plain(name),
            }
        };
        names.into_iter().map(line).collect()
    }

    fn page(&self) -> Vec<String> {
        let (facts, says, comma) = (self.facts, self.says, self.tongue.documents().start.comma);
        let Some(page) = &facts.page else { return Vec::new() };
        let items: Vec<String> = if facts.variants.is_empty() || facts.same_page {
            let spread = if self.product.page.spread { says.spread } else { "" };
            vec![
                format!("{}{comma}{}{spread}", page.pt, page.orientation),
                page.mm.clone(),
                page.inches.clone(),
                fill(says.on_screen, &[("size", &page.px), ("n", &page.px_dpi.to_string())]),
                fill(says.proportion, &[("sides", &page.aspect)]),
            ]
        } else {
            let sized = facts.variants.iter().filter_map(|v| Some((v, v.page.as_ref()?)));
            let line = |(v, p): (&VariantFacts, &super::facts::PageSize)| {
                let sizes = [p.pt.as_str(), &p.mm, &p.inches, &p.orientation].join(comma);
                format!("{}{}{sizes}", plain(&v.title), self.colon())
            };
            sized.map(line).collect()
        };
        vec![heading(says.page_size), list(&items)]
    }

    fn download(&self) -> Vec<String> {
        let start = &self.tongue.documents().start;
        if self.facts.uploads.is_empty() {
            return Vec::new();
        }
        let line = |file: &super::facts::File| {
            let mut all = vec![file.what.clone(), file.size.clone()];
            all.extend(file.pages.map(|n| self.pages(n)));
            all.extend(file.entries.as_ref().map(|e| self.tongue.count(e.len(), start.files)));
            format!("`{}`{}{}", file.name, start.colon, all.join(start.comma))
        };
        vec![heading(self.says.download), list(&self.facts.uploads.iter().map(line).collect::<Vec<_>>())]
    }

    /// What one needs, and what is not there.
    fn need(&self) -> Vec<String> {
        let (facts, says, every) = (self.facts, self.says, self.every());
        let books = || every.iter().filter_map(|f| f.notebook.as_ref());
        let mut needs = vec![match () {
            () if books().any(|book| book.links > 0) => says.need_links,
            () if books().next().is_some() => says.need_book,
            () => says.need_files,
        }];
        if books().any(|n| !n.templates.is_empty()) {
            needs.push(says.need_copy);
        }
        needs.extend(every.iter().find_map(|f| f.stickers.as_ref()).map(|_| says.need_stickers));
        if facts.uploads.iter().any(|f| f.entries.is_some()) {
            needs.push(says.need_zip);
        }
        let mut lacks = vec![says.not_posted, says.not_tablet];
        lacks.extend(every.iter().find_map(|f| f.covers.as_ref().filter(|c| c.links == 0)).map(|_| says.not_linked));
        let own = |all: Vec<&str>| list(&all.into_iter().map(str::to_owned).collect::<Vec<_>>());
        vec![heading(says.need), own(needs), heading(says.not_included), own(lacks)]
    }

    fn terms(&self) -> Vec<String> {
        let (product, licence, says) = (self.product, &self.product.licence, self.says);
        let mut items = vec![says.personal.to_owned()];
        items.extend(licence.small_commercial.map(|n| self.tongue.count(n as usize, says.commercial)));
        items.extend(licence.classroom_seats.map(|n| self.tongue.count(n as usize, says.classroom)));
        items.push(says.resell.to_owned());
        match licence.refunds {
            Refunds::NoneOnceDownloaded => items.push(says.no_refunds.to_owned()),
            Refunds::Days(n) => items.push(self.tongue.count(n as usize, says.refund_days)),
            Refunds::Unstated => {}
        }
        items.push(says.full.to_owned());
        let questions = product
            .shop
            .contact
            .as_ref()
            .map(|contact| fill(says.questions, &[("shop", &plain(&product.shop.name)), ("contact", contact)]));
        let released = self.tongue.date(product.released);
        let version = fill(says.version, &[("version", &product.version.to_string()), ("released", &released)]);
        vec![heading(says.short), list(&items), questions.unwrap_or_default(), version]
    }

    /// What a variant has in figures, as far as the variants differ in them.
    fn details(&self, v: &VariantFacts) -> String {
        let (spans, says, start) = (&self.facts.spans, self.says, &self.tongue.documents().start);
        let book = |figure: fn(&NotebookFacts) -> usize| v.notebook.as_ref().map_or(0, figure);
        let mut words: Vec<String> = [
            (spans.pages, book(|n| n.pages), start.pages, says.no_pages),
            (spans.links, book(|n| n.links), says.links, says.no_links),
            (spans.sections, book(|n| n.sections), says.sections, says.no_sections),
            (spans.within, book(|n| n.within), says.within, says.no_within),
            (spans.templates, book(|n| n.templates.len()), says.templates, says.no_templates),
            (spans.covers, v.covers.as_ref().map_or(0, |c| c.count), says.covers, says.no_covers),
            (spans.stickers, v.stickers, says.stickers_n, says.no_stickers),
            (spans.sheets, v.sheets, says.sheets, says.no_sheets),
        ]
        .into_iter()
        .filter(|(span, ..)| span[0] != span[1])
        .map(|(_, n, noun, none)| if n == 0 { none.to_owned() } else { self.tongue.count(n, noun) })
        .collect();
        if spans.guide[0] != spans.guide[1] {
            words.push(match v.guide {
                0 => says.no_guide.to_owned(),
                n => fill(says.guide_of, &[("pages", &self.pages(n))]),
            });
        }
        if let (false, Some(page)) = (self.facts.same_page, &v.page) {
            words.push(page.mm.clone());
        }
        words.join(start.comma)
    }
}

/// A name as Markdown shows it: marks that would mean something get a backslash.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if "\\`*_[]<>#".contains(c) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// At most one empty line in a row, none at the ends, no space at the end of a line.
fn tidy(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut empty = true;
    for line in text.lines().map(str::trim_end) {
        if !(line.is_empty() && empty) {
            out.push_str(line);
            out.push('\n');
        }
        empty = line.is_empty();
    }
    format!("{}\n", out.trim_end())
}
