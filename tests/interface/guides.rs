//! The guides: figures that no example asserts are those of recorded runs, and drawings can be seen on any background.

use support::{document, documents};

/// Each guide with its name.
fn texts() -> Vec<(String, String)> {
    let guides = documents("src/guide").into_iter();
    let name = |path: &str| Some(path.strip_prefix("src/guide/")?.strip_suffix(".md")?.to_owned());
    guides.filter_map(|path| Some((name(&path)?, document(&path)))).collect()
}

fn guide(name: &str) -> String {
    document(&format!("src/guide/{name}.md"))
}

/// Rows of a table that have a number in their second column.
fn rows_of_figures(text: &str) -> Vec<&str> {
    text.lines()
        .filter(|line| line.starts_with("| "))
        .filter(|line| line.split('|').nth(2).unwrap().trim().starts_with(|c: char| c.is_ascii_digit()))
        .collect()
}

/// Every guide is a module, and the front page links it.
#[test]
fn front_page_links_every_guide() {
    let (front_page, modules) = (document("src/lib.rs"), document("src/guide/mod.rs"));
    let texts = texts();
    assert_eq!(texts.len(), 9);
    for (name, _) in texts {
        assert!(front_page.contains(&format!("(guide::{name})")), "not on the front page: {name}");
        let module = format!("#[doc = include_str!(\"{name}.md\")]\npub mod {name} {{}}");
        assert!(modules.contains(&module), "not a module: {name}");
    }
}

#[test]
fn figures_of_microcontrollers_are_those_of_the_recorded_run() {
    let recorded = include_str!("../on-target/recorded.md");
    let text = guide("microcontrollers");
    let rows = rows_of_figures(&text);
    assert_eq!(rows.len(), 34);
    for row in rows {
        assert!(recorded.lines().any(|line| line == row), "not recorded: {row}");
    }
}

/// The bars of the drawing are what the examples beside it compute.
#[test]
fn bars_of_accuracy_are_the_figures_beside_them() {
    let text = guide("accuracy");
    let widths: Vec<f64> = text
        .lines()
        .filter(|line| line.contains("<rect x=\"220\""))
        .map(|line| line.split("width=\"").nth(1).unwrap().split('"').next().unwrap().parse().unwrap())
        .collect();
    // As the examples print them: in nanostrain, then in microstrain.
    let bars = [
        ("0.316 ", 0.316),
        ("\"1.8 nanostrain\"", 1.8),
        ("0.0732 microstrain", 73.2),
        ("3.3709 microstrain", 3_370.9),
        ("5.0000 microstrain", 5_000.0),
        ("11.5078 microstrain", 11_507.8),
    ];
    assert_eq!(widths.len(), bars.len());
    for (width, (figure, nanostrain)) in widths.into_iter().zip(bars) {
        assert!(text.contains(figure), "not computed: {figure}");
        // 65 units a decade, from a tenth of a nanostrain.
        assert!((width - 65.0 * (nanostrain * 10.0_f64).log10()).abs() < 1.0, "{figure}: {width} units wide");
    }
}

/// Lines and text take the colour of the text around them; nothing ends a drawing before its end.
#[test]
fn drawings() {
    let mut count = 0;
    for (name, text) in texts() {
        for drawing in text.split("<svg ").skip(1) {
            let drawing = drawing.split_once("</svg>").unwrap_or_else(|| panic!("{name}: no end")).0;
            assert!(drawing.len() < 12_000, "{name}: a drawing of {} bytes", drawing.len());
            assert!(!drawing.contains("\n\n"), "{name}: an empty line ends the drawing");
            assert!(
                drawing.contains("stroke=\"currentColor\"") && drawing.contains("aria-label=\""),
                "{name}"
            );
            let dark_or_light = ["black", "white", "#000", "#fff"];
            assert!(!dark_or_light.iter().any(|colour| drawing.contains(colour)), "{name}");
            let texts = drawing.matches("<text ").count();
            assert_eq!(drawing.matches("fill=\"currentColor\" stroke=\"none\"").count(), texts, "{name}");
            count += 1;
        }
    }
    assert_eq!(count, 15);
}
