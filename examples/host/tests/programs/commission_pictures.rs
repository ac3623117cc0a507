//! The pictures of commissioning: well formed, and every word of them readable.

use support::picture::{clashes, elements};
use support::program::{demonstration, fresh, program, text};

#[test]
fn pictures_are_well_formed_and_their_words_readable() {
    let (_, directory) = demonstration("commission", "commission pictures");
    for (name, words) in [
        ("curve.svg", &["rising", "falling", "residual, microstrain", "gauge temperature, C"][..]),
        ("matches.svg", &["this gauge", "window", "6.4 ppm/C", "13.1 ppm/C"]),
        ("budget.svg", &["without load", "hysteresis", "expanded, 95 %", "at -80.0 C"]),
    ] {
        let svg = std::fs::read_to_string(directory.join(name)).unwrap();
        let elements = elements(&svg).unwrap_or_else(|error| panic!("{name}: {error}"));
        let texts: Vec<&str> =
            elements.iter().filter(|it| it.name == "text").map(|it| it.words.as_str()).collect();
        for words in words {
            assert!(texts.contains(words), "{name} does not say {words}: {texts:?}");
        }
        assert_eq!(clashes(&elements), [""; 0], "{name}");
    }
    // All 49 points, above and below; and the two of the legend.
    let svg = std::fs::read_to_string(directory.join("curve.svg")).unwrap();
    let circles = elements(&svg).unwrap().iter().filter(|it| it.name == "circle").count();
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
    let (_, demo) = demonstration("commission", "commission for a crowd");
    let directory = fresh("commission crowd");
    let name = "a fitting whose name takes all of the letters that may be 60";
    let keel = include_str!("../../../commission/keel.toml")
        .replace("name = \"fitting_keel\"", &format!("name = {name:?}"));
    std::fs::write(directory.join("keel.toml"), keel).unwrap();
    let matches: Vec<String> = (0..23).map(|k| format!("{}", 8.9 + 0.0125 * f64::from(k))).collect();
    let output = program("commission")
        .args([directory.join("keel.toml"), demo.join("chamber.csv")])
        .args(["--matches", &matches.join(","), "--out"])
        .arg(&directory)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    for name in ["curve.svg", "matches.svg", "budget.svg"] {
        let svg = std::fs::read_to_string(directory.join(name)).unwrap();
        assert_eq!(clashes(&elements(&svg).unwrap()), [""; 0], "{name}");
    }
}
