#![allow(clippy::unwrap_used)]

use super::*;

fn sheet<'a>(files: Vec<(&'a Inspected, &'a [u8])>) -> Sheet<'a> {
    Sheet {
        name: "Tide <Tables> & more",
        version: "1.0.0",
        released: "2027-01-15",
        shop: "Fernlea Paper Room",
        language: "en-GB",
        limits: None,
        files,
        findings: &[],
        stopped: false,
    }
}

#[test]
fn what_the_maker_wrote_cannot_become_markup() {
    let text = b"# </script><script>alert(1)</script>\n\n<img src=x>\n";
    let file = crate::inspect::inspect("listing/description.md", Some(Kind::Listing), text);
    let page = write(&sheet(vec![(&file, text)]), &|_, make| make()).unwrap();
    assert!(page.contains("Tide &lt;Tables&gt; &amp; more"), "the name is escaped");
    assert!(!page.contains("<script>alert") && !page.contains("<img src=x>"), "texts are escaped");
    assert_eq!(page.matches("</script>").count(), 2, "one block of data, one of script");
}

#[test]
fn a_page_is_drawn_once_and_kept_by_what_it_draws() {
    let bytes = std::fs::read("tests/fixtures/checks/pass/links.pdf").unwrap_or_default();
    if bytes.is_empty() {
        return;
    }
    let file = crate::inspect::inspect("contents/a.pdf", Some(Kind::Notebook), &bytes);
    let asked = std::sync::Mutex::new(Vec::new());
    let keep = |key: &str, make: &dyn Fn() -> Option<String>| {
        asked.lock().unwrap().push(key.to_owned());
        make()
    };
    let one = write(&sheet(vec![(&file, &bytes)]), &keep).unwrap();
    let two = write(&sheet(vec![(&file, &bytes)]), &|_, make| make()).unwrap();
    assert_eq!(one, two);
    assert!(!asked.lock().unwrap().is_empty());
}
