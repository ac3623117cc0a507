//! The pictures of commissioning: well formed, and every word of them readable.

use crate::run::{self, COMMISSIONED, KEEL};
use support::picture::{clashes, elements};

#[test]
fn pictures_are_well_formed_and_their_words_readable() {
    for (name, words) in [
        ("curve.svg", &["rising", "falling", "residual, microstrain", "gauge temperature, C"][..]),
        ("matches.svg", &["this gauge", "window", "6.4 ppm/C", "13.1 ppm/C"]),
        ("budget.svg", &["without load", "hysteresis", "expanded, 95 %", "at -80.0 C"]),
    ] {
        let elements = elements(&COMMISSIONED.file(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        let texts: Vec<&str> =
            elements.iter().filter(|it| it.name == "text").map(|it| it.words.as_str()).collect();
        for words in words {
            assert!(texts.contains(words), "{name} does not say {words}: {texts:?}");
        }
        assert_eq!(clashes(&elements), [""; 0], "{name}");
    }
    // All 49 points, above and below; and the two of the legend.
    let circles =
        elements(&COMMISSIONED.file("curve.svg")).unwrap().iter().filter(|it| it.name == "circle").count();
    assert_eq!(circles, 2 * 49 + 2);
}

#[test]
fn the_look_at_pictures_sees_what_is_wrong() {
    let page = |inside: &str| format!("<svg viewBox=\"0 0 200 100\">{inside}</svg>");
    let word = |x: u32, y: u32| {
        format!("<text x=\"{x}\" y=\"{y}\" dy=\"0.76em\" text-anchor=\"start\" font-size=\"10\">word</text>")
    };
    let told = |inside: &str| clashes(&elements(&page(inside)).unwrap()).len();
    assert_eq!(told(&(word(10, 10) + &word(40, 10) + &word(10, 30))), 0);
    assert_eq!(told(&(word(10, 10) + &word(25, 12))), 1);
    assert_eq!(told(&word(190, 10)), 1);
    assert_eq!(told(&word(10, 95)), 1);
    for wrong in
        ["<g><text></g></text>", "<rect x=1/>", "<rect x=\"1\" x=\"2\"/>", "a < b", "a & b", "<g>", "</g>"]
    {
        assert!(elements(&page(wrong)).is_err(), "{wrong}");
    }
}

#[test]
fn many_matches_and_long_names_stay_readable() {
    let name = "a fitting whose name takes all of the letters that may be 60";
    let keel = KEEL.replace("name = \"fitting_keel\"", &format!("name = {name:?}"));
    let matches: Vec<String> = (0..23).map(|k| format!("{}", 8.9 + 0.0125 * f64::from(k))).collect();
    let run = run::keel("commission crowd", &keel, &["--matches", &matches.join(",")]).gives(0);
    for name in ["curve.svg", "matches.svg", "budget.svg"] {
        assert_eq!(clashes(&elements(&run.file(name)).unwrap()), [""; 0], "{name}");
    }
}
