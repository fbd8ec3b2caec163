//! Copy in several places: every page tells of each.

use std::fs;

use serde_json::Value;

use super::book::Book;

const BRIEF: &str = "panel:
  trim: 8.5 x 8.5 in
  margins: 0.5 in
  binding: jacket
  keep_out: [{ barcode: EAN-13, scale: 80%, corner: foot-spine }]
  places:
    - { name: bubble, holds: headline, shape: ellipse, size: 110 x 45 mm, at: { head: 0.5 in, fore-edge: 0.5 in } }
    - { name: praise, holds: quote, size: 100 x 22 mm, at: { head: 5.5 in, fore-edge: 0.5 in } }
front_flap: { width: 90 mm, holds: note on the author }
type: { size: 12 pt, leading: 16 pt }
";

/// The quote takes four lines and its credit one, of the three that its place holds; the other draft's takes one.
const LONG: &str = "# Up and down\n\nOne letter, one wall, and a snail that never hurries.\n\n> \"Slow and sly, and I \
                    wanted another one at once, and so did the class, and so did the caretaker who had come to lock \
                    the room at the end of a long day in the rain, and who stayed for all of it.\"\n> — Ida \
                    Voss\n\n## Note on the author\n\nUna Berg keeps snails on a windowsill.\n";
const SHORT: &str = "# Up and down\n\nOne letter, one wall, and a snail that never hurries.\n\n> \"Slow and sly.\"\n> \
                     — Ida Voss\n\n## Note on the author\n\nUna Berg keeps snails on a windowsill.\n";

fn book() -> Book {
    Book::empty().file("brief.yaml", BRIEF).file("long.md", LONG).file("short.md", SHORT)
}

/// What the program prints, read as JSON.
fn json(book: &Book, arguments: &[&str]) -> Value {
    serde_json::from_str(&book.run(arguments).printed).expect("JSON")
}

/// A page without its line endings.
fn flat(page: &str) -> String {
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn sizes_tell_which_place_holds_the_largest_down() {
    let page = flat(&book().run(["fit", "long.md"]).answers(1).printed);
    assert!(page.contains(" pt, held by \"praise\"."), "{page}");
    let praise = "- \"praise\" (quote): fits up to ";
    assert!(
        page.contains(praise) && page.contains("- the front flap (note on the author): fits up to 40 pt;"),
        "{page}"
    );
    let json = json(&book(), &["fit", "long.md", "--format", "json"]);
    assert_eq!(json["held_by"], serde_json::json!(["praise"]));
    let names: Vec<&str> =
        json["places"].as_array().expect("places").iter().filter_map(|it| it["name"].as_str()).collect();
    assert_eq!(names, ["bubble", "praise", "front flap", "live area"]);
    assert_eq!(json["places"][1]["largest_size_pt"], json["largest_size_pt"]);
    let own = json["sizes"].as_array().and_then(|sizes| sizes.iter().find(|size| size["own"] == true)).expect("a row");
    assert_eq!((&own["places"][1]["lines"], &own["places"][1]["lines_over"]), (&5.into(), &2.into()));
}

#[test]
fn a_comparison_tells_what_a_change_did_in_which_place() {
    let page = book().run(["compare", "long.md", "short.md"]);
    page.answers(1);
    assert!(flat(&page.printed).contains("- \"praise\" 2 over ! 1 left"), "{}", page.printed);
    page.prints("    \"praise\": 2 lines over, then it fits\n");
    let json = json(&book(), &["compare", "long.md", "short.md", "--format", "json"]);
    let figures = |figures: &Value| (figures["places"][1]["lines_over"].clone(), figures["fits"].clone());
    assert_eq!(figures(&json["differences"]["first"]), (2.into(), false.into()));
    assert_eq!(figures(&json["differences"]["last"]), (0.into(), true.into()));
    let list = book().run(["measure", "--list"]);
    list.answers(1).prints("         - 2 lines are over in \"praise\": ");
    assert!(list.printed.lines().any(|line| line.starts_with("within ") && line.contains("short.md")));
}

/// A comparison shows each draft's panel, then each draft's flap.
#[test]
fn a_page_to_send_has_every_face() {
    let book = book();
    let output = book.output(["compare", "-o", "both.html"]);
    assert_eq!(output.status.code(), Some(1), "{}", String::from_utf8_lossy(&output.stderr));
    let page = fs::read_to_string(book.path("both.html")).expect("a page");
    let captions: Vec<&str> = page.split("<figcaption>").skip(1).filter_map(|rest| rest.split('<').next()).collect();
    assert_eq!(captions, ["1. long.md", "2. short.md", "1. long.md, front flap", "2. short.md, front flap"]);
    assert!(page.contains("<td>now it fits; &quot;praise&quot;: 2 lines over, then it fits</td>"), "{page}");
}

/// The copy of a flap makes nothing quiet on the panel, and what is quiet lies in its place.
#[test]
fn a_panel_tells_what_is_quiet_in_each_place_of_each_face() {
    let json = json(&book(), &["panel", "--draft", "short.md", "--format", "json"]);
    let parts = json["parts"].as_array().expect("parts");
    let named = |part: &str, name: &str| {
        let found = parts.iter().find(|it| it["part"] == part && it["name"] == name);
        found.unwrap_or_else(|| panic!("{part} {name}: {json}")).clone()
    };
    let quiet: Vec<&Value> = parts.iter().filter(|part| part["part"] == "quiet").collect();
    assert_eq!(quiet.len(), 4);
    for (place, part, name) in
        [("bubble", "place", "bubble"), ("praise", "place", "praise"), ("front flap", "live_area", "live area")]
    {
        let inner = named("quiet", &format!("quiet in {place}"));
        let outer = parts.iter().find(|it| it["part"] == part && it["name"] == name && it["face"] == inner["face"]);
        let outer = outer.expect("the place");
        for (from, length) in [("x", "width"), ("y", "height")] {
            let ends = |box_: &Value| {
                let start = box_[from]["pt"].as_f64().unwrap_or_default();
                (start, start + box_[length]["pt"].as_f64().unwrap_or_default())
            };
            let ((start, end), (first, last)) = (ends(&inner), ends(outer));
            assert!(first <= start + 0.01 && end <= last + 0.01, "{place}: {inner} in {outer}");
        }
    }
    let page = flat(&book().run(["panel"]).answers(0).printed);
    assert!(page.contains("The front flap Seen from outside: the fold is the left edge."), "{page}");
    assert!(page.contains("copy may stand anywhere in its place, so all of it has to stay quiet"), "{page}");
}

#[test]
fn a_place_that_takes_no_line_says_so() {
    let low = BRIEF.replace("100 x 22 mm", "100 x 4 mm");
    let book = Book::empty().file("brief.yaml", low).file("short.md", SHORT);
    let page = flat(&book.run(["measure"]).answers(1).printed);
    let told = "- \"praise\" (quote): 2 lines set, and none goes in; 2 lines are over: 5 words (17 letters) too \
                many at this size";
    assert!(page.contains(told), "{page}");
}

/// A place that follows another has the room down to the next place below, whatever stands there.
#[test]
fn a_place_that_follows_ends_at_the_place_below() {
    let place = "    - { name: more, holds: quote 2, follows: praise }\n    - { name: last, holds: age line, size: 100 \
                 x 9 mm, corner: foot-fore-edge }\nfront_flap";
    let brief = BRIEF.replace("front_flap", place);
    let book = Book::empty().file("brief.yaml", brief).file("short.md", SHORT);
    let json = json(&book, &["measure", "--format", "json"]);
    let place = |name: &str| {
        let all = json["fit"]["places"].as_array().expect("places");
        let found = all.iter().find(|place| place["name"] == name).expect("the place");
        ["y_pt", "height_pt"].map(|key| found[key].as_f64().unwrap_or_default())
    };
    let ([head, height], [below, _]) = (place("more"), place("last"));
    assert!((head + height - below).abs() < 0.01, "{head} {height} {below}");
}

/// A win is told with the place whose line it is, on the page and in JSON; without places there is none to tell.
#[test]
fn tighten_names_the_place_of_each_win() {
    let places = "panel:\n  trim: 8.5 x 8.5 in\n  places:\n    - { name: story, holds: blurb, size: 1.9 x 1 in, \
                  corner: \
                  head-spine }\n";
    let copy = "# Up\n\nAt this point in time a snail climbs the wall in order to post the letter of a friend.\n";
    let book = Book::empty().file("brief.yaml", places).file("a.md", copy);
    let page = flat(&book.run(["tighten", "a.md"]).printed);
    let cuts = json(&book, &["tighten", "a.md", "--format", "json"]);
    let cuts = cuts["cuts"].as_array().expect("cuts");
    assert!(cuts.iter().all(|cut| cut["place"] == "story"), "{cuts:?}");
    assert!(cuts.iter().any(|cut| cut["lines"] == 1), "{cuts:?}");
    assert!(page.contains("wins 1 line in \"story\", ") && page.contains("lines in \"story\", room for"), "{page}");
    assert!(page.contains("- headline, \"Up\": 1 line in the live area, room for"), "{page}");
    let bare = Book::empty().file("brief.yaml", "panel: { trim: 3 x 8.5 in }\n").file("a.md", copy);
    let page = flat(&bare.run(["tighten", "a.md"]).printed);
    assert!(page.contains("- headline, \"Up\": 1 line, room for"), "{page}");
    let cuts = json(&bare, &["tighten", "a.md", "--format", "json"]);
    assert!(cuts["cuts"].as_array().is_some_and(|cuts| cuts.iter().all(|cut| cut["place"].is_null())), "{cuts}");
}
