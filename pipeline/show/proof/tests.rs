#![allow(clippy::unwrap_used)]

use super::*;

fn sheet<'a>(files: Vec<(&'a Inspected, &'a Blob)>) -> ProofInput<'a> {
    ProofInput {
        name: "Tide <Tables> & more",
        version: "1.0.0",
        released: "2027-01-15",
        shop: "Fernlea Paper Room",
        language: "en-GB",
        right_to_left: false,
        limits: None,
        files,
        variants: &[],
        findings: &[],
        stopped: false,
        live: None,
        since: None,
    }
}

#[test]
fn what_the_maker_wrote_cannot_become_markup() {
    let text = &b"# </script><script>alert(1)</script>\n\n<img src=x>\n"[..];
    let file = inspect::inspect("listing/description.md", Some(Kind::Listing), &text.to_vec().into());
    let page = write(&sheet(vec![(&file, &text.into())]), &Uncached).unwrap().page;
    assert!(page.contains("Tide &lt;Tables&gt; &amp; more"), "the name is escaped");
    assert!(!page.contains("<script>alert") && !page.contains("<img src=x>"), "texts are escaped");
    assert_eq!(page.matches("</script>").count(), 2, "one block of data, one of script");
}

/// Three pages, two of which draw the same; without a table of objects, which the reader then makes itself.
const THREE: &str = "%PDF-1.7
1 0 obj << /Type /Catalog /Pages 2 0 R >> endobj
2 0 obj << /Type /Pages /Count 3 /Kids [3 0 R 4 0 R 5 0 R] /MediaBox [0 0 200 100] >> endobj
3 0 obj << /Type /Page /Parent 2 0 R /Contents 6 0 R /Annots [8 0 R] >> endobj
4 0 obj << /Type /Page /Parent 2 0 R /Contents 7 0 R >> endobj
5 0 obj << /Type /Page /Parent 2 0 R /Contents 6 0 R >> endobj
6 0 obj << /Length 26 >> stream
1 0 0 rg 10 10 50 20 re f 
endstream endobj
7 0 obj << /Length 26 >> stream
0 0 1 rg 10 10 50 20 re f 
endstream endobj
8 0 obj << /Type /Annot /Subtype /Link /Rect [10 70 60 90] /Border [0 0 0] /Dest [4 0 R /XYZ 0 100 null] >> endobj
trailer << /Root 1 0 R >>
%%EOF
";

/// The block of data in a page.
fn data(page: &str) -> serde_json::Value {
    let (_, rest) = page.split_once("id=\"data\">").unwrap();
    serde_json::from_str(rest.split_once("</script>").unwrap().0).unwrap()
}

/// Notes the pages that it is asked for.
#[derive(Default)]
struct Listens(std::sync::Mutex<Vec<Sha>>);

impl Reader for Listens {}

impl Source for Listens {
    fn small(&self, of: Small, make: &dyn Fn() -> Option<String>) -> Result<Option<String>, Stop> {
        if let Small::Page(look, _) = of {
            self.0.lock().unwrap().push(look);
        }
        Ok(make())
    }
}

#[test]
fn pages_that_draw_the_same_are_drawn_once_and_taps_lead_where_the_file_says() {
    let file = inspect::inspect("contents/a.pdf", Some(Kind::Notebook), &THREE.as_bytes().to_vec().into());
    let source = Listens::default();
    let page = write(&sheet(vec![(&file, &THREE.as_bytes().into())]), &source).unwrap().page;
    let drawn: std::collections::BTreeSet<Sha> = source.0.into_inner().unwrap().into_iter().collect();
    assert_eq!(drawn.len(), 2);
    let data = data(&page);
    let document = &data["documents"][0];
    let pictures: Vec<u64> = (0..3).map(|n| document["pages"][n]["picture"].as_u64().unwrap()).collect();
    assert_eq!(
        (pictures[0], pictures[0] == pictures[1], data["pictures"].as_array().unwrap().len()),
        (pictures[2], false, 2)
    );
    assert_eq!(document["pages"][0]["links"], serde_json::json!([0]));
    assert_eq!(document["links"][0], serde_json::json!([[10.0, 10.0, 50.0, 20.0], 1, null, null]));
}

#[test]
fn variants_have_files_of_their_own_and_share_pictures_that_look_the_same() {
    let blue = THREE.replace("1 0 0 rg", "0 1 0 rg");
    let read = |path: &str, text: &str| inspect::inspect(path, Some(Kind::Notebook), &text.as_bytes().to_vec().into());
    // By the alphabet clay comes first; the product leads with moss.
    let clay = read("contents/clay/a-clay.pdf", &blue);
    let moss = read("contents/moss/a-moss.pdf", THREE);
    let cell = |name: &str| Variant { name: name.to_owned(), title: name.to_uppercase(), ..Variant::default() };
    let variants = [cell("moss"), cell("clay")];
    let (of_clay, of_moss) = (Blob::from(blue.as_bytes()), Blob::from(THREE.as_bytes()));
    let made = ProofInput { variants: &variants, ..sheet(vec![(&clay, &of_clay), (&moss, &of_moss)]) };
    let page = write(&made, &Uncached).unwrap().page;
    let data = data(&page);
    let told = |key: &str| (0..2).map(|n| data["documents"][n][key].clone()).collect::<Vec<_>>();
    assert_eq!(told("variant"), [0, 1]);
    assert_eq!(told("kin"), ["contents/a.pdf", "contents/a.pdf"]);
    // Three different pages: red, green, and the second one, which is the same in both.
    assert_eq!(data["pictures"].as_array().unwrap().len(), 3);
    assert_eq!(data["documents"][0]["pages"][1]["picture"], data["documents"][1]["pages"][1]["picture"]);
    assert!(page.contains("<dd>3</dd>") && page.contains("MOSS, one of 2 variants"));
    // One variant alone, or none, is nothing to switch.
    for few in [&variants[..0], &variants[..1]] {
        let page = write(&ProofInput { variants: few, files: made.files.clone(), ..made }, &Uncached).unwrap().page;
        assert!(
            !page.contains("data-variant=\"") && !page.contains("id=\"variants\"") && !page.contains("class=\"helm")
        );
        assert!(!page.contains("\"variants\":") && !page.contains("\"kin\":"));
        assert_eq!(self::data(&page)["documents"].as_array().unwrap().len(), 2);
    }
}

#[test]
fn figures_have_commas() {
    assert_eq!([0, 12, 999, 1_000, 1_234_567].map(grouped).join(" "), "0 12 999 1,000 1,234,567");
}
