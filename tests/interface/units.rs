//! Public functions that return a bare number say what it is counted in.

use support::{document, documents};

/// What a number can be counted in, as words of its documentation.
const UNITS: [&str; 46] = [
    "ohm",
    "ohms",
    "c",
    "k",
    "kelvin",
    "degree",
    "degrees",
    "code",
    "codes",
    "microstrain",
    "nanostrain",
    "strain",
    "strains",
    "q34",
    "q20",
    "q4",
    "volts",
    "millivolts",
    "ppm",
    "percent",
    "seconds",
    "sample",
    "samples",
    "step",
    "steps",
    "bits",
    "bytes",
    "ratio",
    "number",
    "numbers",
    "count",
    "factor",
    "share",
    "part",
    "radians",
    "radian",
    "points",
    "readings",
    "calls",
    "terms",
    "relative",
    "pieces",
    "fraction",
    "unit",
    "units",
    "format",
];

/// The functions of a source that are documented with an example, as public ones are, return a bare number, and name no unit.
fn without_unit(source: &str) -> (usize, Vec<String>) {
    let (mut numbers, mut without) = (0, Vec::new());
    let (mut text, mut in_example, mut has_example) = (String::new(), false, false);
    let mut lines = source.lines().map(str::trim).take_while(|line| !line.contains("#[cfg(test)]"));
    while let Some(line) = lines.next() {
        if let Some(words) = line.strip_prefix("///") {
            if words.trim().starts_with("```") {
                (in_example, has_example) = (!in_example, true);
            } else if !in_example {
                text.push_str(words);
                text.push('\n');
            }
            continue;
        }
        if line.starts_with("#[") {
            continue;
        }
        if has_example && line.starts_with("pub ") && line.contains("fn ") {
            let mut signature = line.to_owned();
            while !signature.contains(['{', ';']) {
                signature.push_str(lines.next().unwrap_or("{"));
            }
            let result = signature.split("-> ").nth(1).unwrap_or("");
            let result =
                result.trim_start_matches("Result<").trim_start_matches("Option<").trim_start_matches('(');
            let kind = result.split(|c: char| !c.is_alphanumeric()).next().unwrap_or("");
            if ["f64", "f32", "i64", "u64", "i32", "u32", "i16", "u16", "usize", "T"].contains(&kind) {
                numbers += 1;
                let text = text.to_lowercase();
                let mut words = text.split(|c: char| !c.is_alphanumeric());
                if !text.contains(['%']) && !text.contains("2^-") && !words.any(|word| UNITS.contains(&word))
                {
                    without.push(signature.split('(').next().unwrap_or("").to_owned());
                }
            }
        }
        (in_example, has_example) = (false, false);
        text.clear();
    }
    (numbers, without)
}

#[test]
fn public_numbers_name_their_unit() {
    let (mut numbers, mut without) = (0, Vec::new());
    for path in documents("src").into_iter().filter(|path| path.ends_with(".rs")) {
        let (some, bad) = without_unit(&document(&path));
        numbers += some;
        without.extend(bad.into_iter().map(|name| format!("{path}: {name}")));
    }
    println!("{numbers} functions");
    assert!(numbers > 40, "only {numbers} functions return a number");
    assert!(without.is_empty(), "{without:#?}");
}

#[test]
fn a_number_without_a_unit_is_seen() {
    let source = |words: &str, result: &str| {
        format!(
            "    /// {words}\n    ///\n    /// ```\n    /// strain();\n    /// ```\n    #[must_use]\n    pub const fn f(\n        &self,\n    ) -> {result} {{\n"
        )
    };
    let name = vec!["pub const fn f".to_owned()];
    for result in ["f64", "Result<f32, Error>", "Option<(u32, u32)>"] {
        assert_eq!(without_unit(&source("How large it is.", result)), (1, name.clone()));
        assert_eq!(without_unit(&source("How large it is, in microstrain.", result)), (1, vec![]));
    }
    // A type that has its unit.
    assert_eq!(without_unit(&source("How large it is.", "Microstrain")), (0, vec![]));
}
