//! The report of a firmware in C beside the one of Rust on the same core: the same bits, and the same instructions to a twentieth; to a tenth where they are
//! fewer than 60.

use std::collections::BTreeMap;

/// Sweeps and counts that a report in C has.
const SWEEPS: usize = 16;
const COUNTS: usize = 14;

/// Paths that may take fewer or more instructions than others, and how much: a part of those in Rust.
///
/// - The square root of `uncertainty_fixed` is a function of its own in the library of C, as two functions there call it; each
///   Rust firmware has one path with a root, and the root within it.
/// - Grids of C lie in memory and have flags; those of `rosette_fixed` in Rust are made in registers and have none.
/// - Out of range the other two end in functions of their own in C, so that the usual call needs fewer registers on RISC-V.
const FARTHER: [(&str, f64, f64); 4] = [
    ("uncertainty_fixed", 0.05, 0.08),
    ("rosette_fixed", 0.05, 0.4),
    ("fixed_compensated_at", 0.15, 0.05),
    ("platinum_fixed", 0.2, 0.1),
];

/// What a thermometer has no points of.
const THERMOMETERS: [&str; 2] = ["sweep platinum in C", "sweep thermocouple"];

/// The words of a line before its figures, and its figures.
fn parts(line: &str) -> (String, BTreeMap<&str, &str>) {
    let (figures, words): (Vec<_>, Vec<_>) = line.split_whitespace().partition(|word| word.contains('='));
    (words.join(" "), figures.into_iter().filter_map(|word| word.split_once('=')).collect())
}

/// A line for each count, and what is wrong.
pub fn compare(core: &str, rust: &str, c: &str) -> (Vec<String>, Vec<String>) {
    let rust: BTreeMap<_, _> = rust.lines().map(parts).collect();
    let (mut counted, mut wrong, mut sweeps) = (Vec::new(), Vec::new(), 0);
    for line in c.lines() {
        let (name, figures) = parts(line);
        let theirs = |key: &str| rust.get(&name).and_then(|figures| figures.get(key)).copied();
        if name.starts_with("sweep ") {
            sweeps += 1;
            let same = |key: &&str| figures.contains_key(key) && theirs(key) == figures.get(key).copied();
            let keys = ["inputs", "fixed", "fixed-point"];
            let keys = if THERMOMETERS.contains(&name.as_str()) { &keys[..2] } else { &keys };
            if !keys.iter().all(same) {
                wrong.push(format!("{core}: other bits: {line}"));
            }
        } else if let Some(path) = name.strip_prefix("count ") {
            let number =
                |text: Option<&str>| text.and_then(|text| text.parse::<f64>().ok()).unwrap_or(f64::NAN);
            let (mine, theirs) =
                (number(figures.get("instructions").copied()), number(theirs("instructions")));
            counted.push(format!("{core}: {path}: {mine} instructions in C, {theirs} in Rust"));
            // The call itself weighs more where there is little else.
            let off = if theirs < 60.0 { 0.1 } else { 0.05 };
            let farther = FARTHER.iter().find(|(name, ..)| *name == path);
            let (fewer, more) = farther.map_or((off, off), |(_, fewer, more)| (*fewer, *more));
            if !((1.0 - fewer) * theirs..=(1.0 + more) * theirs).contains(&mine) {
                wrong.push(format!("{core}: not from {fewer} of it less to {more} more: {path}"));
            }
        }
    }
    if (sweeps, counted.len()) != (SWEEPS, COUNTS) {
        wrong.push(format!("{core}: {sweeps} sweeps, {} counts", counted.len()));
    }
    (counted, wrong)
}

#[cfg(test)]
mod tests {
    use super::compare;

    fn reports() -> (String, String) {
        let sweeps: String = (0..14)
            .map(|k| {
                format!("sweep channel {k} inputs=1169 fixed={k:x}a fixed-point={k:x}b f32=1 f32-point=2\n")
            })
            .collect();
        let thermometers: String = super::THERMOMETERS
            .map(|name| format!("{name} inputs=2121 fixed=e{} f32=3\n", name.len()))
            .concat();
        let counts = |instructions: u32| -> String {
            (0..12).map(|k| format!("count path_{k} instructions={instructions} stack=8\n")).collect()
        };
        let of_c = (sweeps.clone() + &thermometers).replace(" f32=1 f32-point=2", "").replace(" f32=3", "");
        (
            sweeps
                + &thermometers
                + &counts(50)
                + "count long instructions=1000\ncount rosette_fixed instructions=100\n",
            of_c + &counts(55) + "count long instructions=1050\ncount rosette_fixed instructions=140\n",
        )
    }

    #[test]
    fn what_is_equal_or_a_tenth_off_passes() {
        let (rust, c) = reports();
        let (counted, wrong) = compare("M0", &rust, &c);
        assert!(wrong.is_empty(), "{wrong:?}");
        assert_eq!(counted[4], "M0: path_4: 55 instructions in C, 50 in Rust");
    }

    #[test]
    fn each_fault_is_seen() {
        let (rust, c) = reports();
        for (good, bad) in [
            ("fixed=7a", "fixed=7c"),
            ("fixed-point=0b", "fixed-point=1b"),
            ("inputs=1169 fixed=3a", "inputs=1168 fixed=3a"),
            (" fixed=2a", ""),
            ("channel 5", "channel 50"),
            ("path_1 instructions=55", "path_1 instructions=56"),
            ("path_1 instructions=55", "path_1 instructions=44"),
            ("path_1 instructions=55", "path_1 instructions=many"),
            ("long instructions=1050", "long instructions=1051"),
            ("long instructions=1050", "long instructions=949"),
            ("rosette_fixed instructions=140", "rosette_fixed instructions=141"),
            ("rosette_fixed instructions=140", "rosette_fixed instructions=94"),
            ("inputs=2121 fixed=e18", "inputs=2121 fixed=e19"),
            ("sweep thermocouple inputs=2121", "sweep thermocouple inputs=2120"),
            ("path_2", "path_90"),
            ("sweep channel 9", "left out"),
            ("count path_0", "left out"),
        ] {
            let planted = c.replacen(good, bad, 1);
            assert_ne!(planted, c, "{good}");
            assert!(!compare("M0", &rust, &planted).1.is_empty(), "{bad}");
        }
    }
}
