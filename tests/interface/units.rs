//! Public functions that return a bare number say what it is counted in.

use support::{document, documents};

/// What a number can be counted in, as words of its documentation.
const UNITS: [&str; 57] = [
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
    "gpa",
    "mpa",
    "volts",
    "millivolts",
    "ppm",
    "percent",
    "seconds",
    "microseconds",
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
    "year",
    "month",
    "day",
    // What is no quantity: a choice or a set of flags of C, a hash, a version.
    "gw",
    "flags",
    "switch",
    "hash",
    "version",
];

/// Whether a type is a bare number: it has no unit in its name. What an `Option`, a tuple or an array starts with counts.
fn bare(kind: &str) -> bool {
    let mut words = kind.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let first = words.find(|word| !["Result", "Option", "Estimate", "pub", "const"].contains(word));
    ["f64", "f32", "i64", "u64", "i32", "u32", "i16", "u16", "i8", "u8", "usize", "T"]
        .contains(&first.unwrap_or(""))
}

fn names_unit(text: &str) -> bool {
    let text = text.to_lowercase();
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    text.contains('%') || text.contains("2^-") || words.any(|word| UNITS.contains(&word))
}

/// The type of what a line of code makes public, if it is an item that can be a number: a constant, a field, a tuple
/// struct or a variant. `within` is the public type around it.
fn kind<'a>(line: &'a str, within: Option<&str>) -> Option<&'a str> {
    let public = line.strip_prefix("pub ");
    if let Some(constant) = public.and_then(|item| item.strip_prefix("const ")) {
        // The names of C's choices, errors and flags are numbers that count nothing.
        return if line.contains(" GW_") && !line.contains("_PER_") {
            None
        } else {
            constant.split(": ").nth(1)
        };
    }
    if let Some(tuple) = public.and_then(|item| item.strip_prefix("struct ")) {
        return tuple.split("(pub ").nth(1);
    }
    match (within?, public) {
        (_, Some(field)) => field.split_once(": ").map(|(_, kind)| kind),
        ("enum", None) => line.split_once(": ").or(line.split_once('(')).map(|(_, kind)| kind),
        _ => None,
    }
}

/// How many numbers a source makes public, and those whose documentation names no unit: results of functions that are
/// documented with an example, as public ones are; and constants, fields and variants with any documentation, which the
/// compiler asks of public ones.
fn without_unit(source: &str) -> (usize, Vec<String>) {
    let (mut numbers, mut without) = (0, Vec::new());
    let (mut text, mut in_example, mut has_example) = (String::new(), false, false);
    let mut within: Option<(&str, String)> = None;
    let mut lines = source.lines().take_while(|line| !line.contains("#[cfg(test)]"));
    while let Some(whole) = lines.next() {
        let line = whole.trim();
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
        let mut item = line.to_owned();
        let number = if line.starts_with("pub ") && line.contains("fn ") {
            while !item.contains(['{', ';']) {
                item.push_str(lines.next().unwrap_or("{").trim());
            }
            has_example && bare(item.split("-> ").nth(1).unwrap_or(""))
        } else {
            !text.is_empty() && kind(line, within.as_ref().map(|(which, _)| *which)).is_some_and(bare)
        };
        if number {
            numbers += 1;
            if !names_unit(&text) {
                without.push(item.split(['(', ':']).next().unwrap_or("").to_owned());
            }
        }
        for which in ["struct", "enum"] {
            if line.starts_with(&format!("pub {which} ")) && line.ends_with('{') {
                within = Some((which, whole.replace(line, "}")));
            }
        }
        if within.as_ref().is_some_and(|(_, end)| whole == end) {
            within = None;
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
    println!("{numbers} public numbers");
    assert!(numbers > 150, "only {numbers} public numbers");
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
    for item in [
        "pub struct S {\n    /// DOC\n    pub x: f64,\n}\n",
        "pub struct S<T> {\n    /// DOC\n    #[attribute]\n    pub x: Option<[T; 2]>,\n}\n",
        "/// DOC\npub struct x(pub f64);\n",
        "pub enum E {\n    A {\n        /// DOC\n        x: usize,\n    },\n}\n",
        "pub enum E {\n    /// DOC\n    x(u32),\n}\n",
        "impl S {\n    /// DOC\n    pub const x: i32 = 1;\n}\n",
    ] {
        let (numbers, without) = without_unit(&item.replace("DOC", "How large it is."));
        assert_eq!((numbers, without.len()), (1, 1), "{item}: {without:?}");
        assert_eq!(without_unit(&item.replace("DOC", "How large it is, in ohm.")), (1, vec![]), "{item}");
    }
    // A type that has its unit, and a field that is not public.
    assert_eq!(
        without_unit(
            "pub struct S {\n    /// How large.\n    pub x: Ohms,\n    /// How large.\n    y: f64,\n}\n"
        )
        .0,
        0
    );
    assert_eq!(without_unit(&source("How large it is.", "Microstrain")), (0, vec![]));
}
