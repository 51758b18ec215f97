//! Reads a finished PDF while there is a line of the manifest to blame.

use crate::{Context, raw};
use base::model::fault::suggest_file;
use base::model::finished::PageView;
use base::model::product::PageSetup;
use base::model::{Blob, Facts};
use std::sync::Arc;
use toml::Spanned;

/// A finished PDF that could be read: its path, its bytes, its facts.
pub struct Read {
    pub(super) file: String,
    pub(super) bytes: Blob,
    pub(super) facts: Arc<base::model::facts::PdfFacts>,
}

/// Reads a finished PDF; what no reader app is sure to open is refused with the reason.
pub fn read(cx: &mut Context, file: &Spanned<String>) -> Option<Read> {
    let path = file.get_ref();
    let bytes = match cx.world.read(path) {
        Ok(bytes) => bytes,
        Err(fault) => {
            let near = cx.world.nearby(path);
            let help = fault
                .help
                .clone()
                .or_else(|| fault.message.contains("no such file").then(|| suggest_file(path, &near)));
            cx.source.fault(file.span(), fault.message, help);
            return None;
        }
    };
    let again = "export it anew from the program that made it, or copy it again".to_owned();
    let mut refuse = |message: String, help: String| {
        cx.source.fault(file.span(), format!("{path:?} {message}"), Some(help));
        None
    };
    let facts = match inspect::read(path, &bytes) {
        Facts::Pdf(facts) => facts,
        Facts::Unreadable(why) => return refuse(format!("cannot be used: {why}"), again),
        _ => return refuse("is no PDF".to_owned(), "name a PDF file; art for single pages is art = \"…\"".to_owned()),
    };
    if facts.encrypted {
        let locked = facts.damage.iter().find(|d| d.contains("password")).map_or("it is encrypted", String::as_str);
        let help = "save it without a password and without restrictions; with the password at hand, `qpdf --decrypt \
                    --password=… locked.pdf open.pdf` does that"
            .to_owned();
        return refuse(format!("cannot be used: {locked}; buyers' reader apps would ask for it too"), help);
    }
    if !facts.damage.is_empty() {
        let help = format!("{again}; `qpdf broken.pdf mended.pdf` mends what can be mended: look at every page then");
        return refuse(format!("is damaged: {}", facts.damage.join("; ")), help);
    }
    if facts.pages.is_empty() {
        return refuse("has no page".to_owned(), again);
    }
    Some(Read { file: path.clone(), bytes, facts })
}

/// The product's page is the finished file's first one, unless the manifest has a size: covers and sheets then fit.
pub fn take_size(read: &Read, raw: &raw::Page, page: &mut PageSetup) {
    if raw.size.is_none()
        && let Some(first) = read.facts.pages.first()
    {
        page.size = PageView::of(first).shown();
        page.named = read.file.clone();
        page.spread = raw.layout == Some(raw::Layout::Spread);
    }
}
