//! What all rulings promise: nothing leaves the areas, bad parameters are refused in words, defaults are good, small pictures
//! have no words.

use super::super::TABLE;
use super::{areas, assert_inside, complaint, context, drawn};
use base::model::Rect;
use base::model::drawing::Shape;
use draw::ruling::find;
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn everything_lies_within_the_areas(areas in areas(), small in proptest::option::of(0.06..0.5)) {
        for entry in TABLE {
            let d = entry.draw(&toml::Table::new(), &context(areas.clone(), small)).unwrap();
            assert_inside(entry.name, &d, &areas);
        }
    }

    #[test]
    fn unusual_parameters_stay_within_too(areas in areas(), pitch in 2.0..50.0) {
        for (name, with) in [
            ("titled", "head = 6".to_owned()),
            ("chart", "columns = 12\nhead = 3\nlabels = ['A long heading', 'B']".into()),
            ("two-column-list", "columns = 6\nlabels = ['One', 'Two', 'Three']".into()),
            ("checklist", "columns = 3\ntitle = 'A list'\nmark = 'circle'".into()),
            ("cue-notes", "cue = 0.6\nsummary-rows = 20".into()),
            ("day", "from = 0\nto = 23\nclock = 12".into()),
            ("week", "first-day = 'sunday'\nlabels = ['Donnerstagabend', 'b', 'c', 'd', 'e', 'f', 'g']".into()),
            ("open-week", "labels = ['Donnerstagabend', 'b', 'c', 'd', 'e', 'f', 'g']".into()),
            ("month", "rows = 5\nfirst-day = 'saturday'".into()),
            ("year", "layout = 'days'\nfirst-month = 9".into()),
            ("habits", "days = 7\nrows = 30\nmark = 'box'\nlabels = ['Water']".into()),
            ("habits", "days = 62".into()),
            ("staves", "joined = 4".into()),
            ("staves", "joined = 2\nbetween = 4".into()),
            ("storyboard", "ratio = 0.5\ncolumns = 8\nlines = 0".into()),
            ("isometric", "style = 'dots'".into()),
            ("perspective", "points = 2\nhorizon = 0.9\nrays = 240".into()),
            ("calligraphy", "x-height = 14\nslant = 90\nascender = 2".into()),
            ("mind-map", "branches = 11".into()),
            ("mood-year", "first-month = 9\nkey = ['so', 'and so']".into()),
            ("goals", "count = 6\nheadings = ['Donnerstagabendgesellschaft']".into()),
            ("ledger", format!("pitch = {pitch}\nrows = 9")),
            ("recipe", format!("pitch = {pitch}\nmark = 'circle'")),
            ("contacts", format!("pitch = {pitch}")),
            ("sleep-and-water", format!("pitch = {pitch}\nfirst-day = 'sunday'")),
            ("lined", format!("pitch = {pitch}")),
            ("chart", format!("pitch = {pitch}")),
            ("week", format!("pitch = {pitch}")),
            ("month", format!("pitch = {pitch}")),
            ("year", format!("pitch = {pitch}")),
            ("habits", format!("pitch = {pitch}")),
            ("day", format!("pitch = {pitch}")),
            ("storyboard", format!("pitch = {pitch}")),
            ("hexagons", format!("pitch = {pitch}")),
            ("isometric", format!("pitch = {pitch}")),
        ] {
            assert_eq!(complaint(name, &format!("{{ {} }}", with.replace('\n', ", "))), "", "{name} {with}");
            assert_inside(name, &drawn(name, &with, areas.clone()), &areas);
        }
    }
}

#[test]
fn bad_parameters_are_refused_in_words() {
    for (name, with, says) in [
        ("lined", "{ pitch = 1 }", "2 to 50 mm"),
        ("lined", "{ pitch = 'colege' }", "college"),
        ("lined", "{ pitch = true }", "a number of mm"),
        ("lined", "{ pitch = nan }", "2 to 50 mm"),
        ("lined", "{ weight = 9 }", "0.1 to 4 pt"),
        ("lined", "{ colour = 'gray' }", "#8a8f98"),
        ("lined", "{ pich = 7 }", "pich"),
        ("blank", "{ pitch = 7 }", "pitch"),
        ("margin-ruled", "{ margin = 1 }", "5 to 80 mm"),
        ("margin-ruled", "{ side = 'middle' }", "outer"),
        ("titled", "{ head = 0 }", "1 to 6"),
        ("square-grid", "{ pitch = 0.2 }", "1 to 50 mm"),
        ("dot-grid", "{ size = 10 }", "0.3 to 4 pt"),
        ("isometric", "{ style = 'dotted' }", "dots"),
        ("hexagons", "{ pitch = 100 }", "2 to 50 mm"),
        ("chart", "{ columns = 0 }", "1 to 40"),
        ("chart", "{ columns = 1, labels = ['a', 'b'] }", "take some out"),
        ("chart", "{ columns = -1 }", "-1"),
        ("two-column-list", "{ columns = 7 }", "1 to 6"),
        ("checklist", "{ mark = 'tick' }", "circle"),
        ("cue-notes", "{ cue = 0.9 }", "0.15 to 0.6"),
        ("day", "{ from = 10, to = 8 }", "from 10 to 8"),
        ("day", "{ to = 24 }", "0 to 23"),
        ("day", "{ clock = 13 }", "24 or 12"),
        ("week", "{ labels = ['a'] }", "give 7"),
        ("week", "{ first-day = 'mon' }", "monday"),
        ("open-week", "{ labels = ['a'] }", "give 7"),
        ("month", "{ rows = 4 }", "5 to 6"),
        ("year", "{ labels = [] }", "give 12"),
        ("year", "{ first-month = 13 }", "1 to 12"),
        ("habits", "{ days = 0 }", "1 to 62"),
        ("staves", "{ joined = 0 }", "1 to 8"),
        ("staves", "{ between = 1 }", "2 to 20"),
        ("storyboard", "{ ratio = 9 }", "0.4 to 4"),
        ("meal-plan", "{ days = ['a'] }", "give 7"),
        ("meal-plan", "{ headings = ['a', 'b', 'c', 'd', 'e', 'f'] }", "Breakfast, Lunch"),
        ("meal-plan", "{ language = 'tlh' }", "give one of ar, de"),
        ("meal-plan", "{ rows = 7 }", "rows"),
        ("ledger", "{ rows = 1 }", "2 to 200"),
        ("goals", "{ count = 7 }", "1 to 6"),
        ("birthdays", "{ first-month = 0 }", "1 to 12"),
        ("mood-year", "{ key = ['one'] }", "2 to 8"),
        ("mind-map", "{ branches = 1 }", "2 to 12"),
        ("perspective", "{ points = 3 }", "1 to 2"),
        ("calligraphy", "{ slant = 10 }", "30 to 90 degrees"),
        ("parts", "{ parts = [] }", "at least one"),
        ("parts", "{ parts = [{ part = 'list' }] }", "ticks"),
        ("parts", "{ parts = [{ part = 'lines', colums = 2 }] }", "colums"),
        ("parts", "{ parts = [{ part = 'lines', count = 2 }] }", "part 1 (lines): it has no use for count"),
        ("parts", "{ parts = [{ part = 'lines', beside = true }] }", "stands beside none"),
        ("parts", "{ parts = [{ part = 'table' }] }", "part 1 (table): it needs labels"),
        (
            "parts",
            "{ parts = [{ part = 'lines' }, { part = 'table', labels = ['A'], widths = [1, 2] }] }",
            "part 2 (table)",
        ),
    ] {
        let said = complaint(name, with);
        assert!(said.contains(says), "{name} {with}: {said:?}");
        let table: toml::Table = format!("x = {with}").parse().unwrap();
        let refused = find(TABLE, name).unwrap().draw(table["x"].as_table().unwrap(), &context(vec![], None));
        assert!(refused.is_none(), "{name} {with} is drawn");
    }
}

#[test]
fn defaults_are_good_and_names_are_their_own() {
    let mut names: Vec<&str> = TABLE.iter().map(|e| e.name).collect();
    for name in &names {
        assert_eq!(complaint(name, "{}"), "", "{name}");
        assert!(name.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{name}");
        assert!(!find(TABLE, name).unwrap().what.is_empty());
    }
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), TABLE.len());
    assert!(find(TABLE, "linned").is_none());
}

#[test]
fn small_pictures_have_no_text_and_no_empty_desk_fails() {
    let area = vec![Rect::new(0.0, 0.0, 360.0, 520.0)];
    for entry in TABLE {
        let d = entry.draw(&toml::Table::new(), &context(area.clone(), Some(0.2))).unwrap();
        assert!(!d.shapes.iter().any(|s| matches!(s, Shape::Text(_))), "{}", entry.name);
        assert_eq!(d.shapes.is_empty(), entry.name == "blank", "{}", entry.name);
        entry.draw(&toml::Table::new(), &context(Vec::new(), None)).unwrap();
    }
}
