//! The curve that foil and part predict, beside the measured one: by hand from the numbers of the channel file, and against the physics.

use crate::run::{COMMISSIONED, KEEL, Run, keel};
use support::keel::BALANCE;

/// The numbers of the file: expansions in ppm/C, coefficients of the free foil, gauge factor and its slope.
#[derive(Clone)]
struct Stated {
    part: Vec<[f64; 2]>,
    grid: Vec<[f64; 2]>,
    resistance: [f64; 4],
    factor: f64,
}

fn stated() -> Stated {
    let pairs = |rows: &[(f64, f64)]| rows.iter().map(|(celsius, ppm)| [*celsius, *ppm]).collect();
    Stated {
        part: pairs(&[(-100.0, 9.2), (-50.0, 9.6), (0.0, 9.9), (50.0, 10.2), (100.0, 10.5), (120.0, 10.6)]),
        grid: pairs(&[
            (-100.0, 12.8),
            (-50.0, 13.6),
            (0.0, 14.4),
            (50.0, 15.0),
            (100.0, 15.6),
            (120.0, 15.8),
        ]),
        resistance: [12.5e-6, -8.1e-8, 4.3e-10, -3.2e-13],
        factor: 2.045,
    }
}

/// Thermal strain from 24 C: the area under straight lines between the rows, in steps so small that it does not matter where they are.
fn strain(table: &[[f64; 2]], celsius: f64) -> f64 {
    const STEPS: usize = 20_000;
    let at = |celsius: f64| {
        let pair = table.windows(2).find(|pair| (pair[0][0]..=pair[1][0]).contains(&celsius)).unwrap();
        pair[0][1] + (pair[1][1] - pair[0][1]) * (celsius - pair[0][0]) / (pair[1][0] - pair[0][0])
    };
    let step = (celsius - 24.0) / STEPS as f64;
    (0..STEPS).map(|k| at(24.0 + (k as f64 + 0.5) * step) * step * 1e-6).sum()
}

impl Stated {
    /// Thermal output at a gauge factor of 2, in microstrain.
    fn output(&self, celsius: f64) -> f64 {
        let d = celsius - 24.0;
        let free: f64 = (1..).zip(self.resistance).map(|(power, term)| term * d.powi(power)).sum();
        let forced = (1.0 + strain(&self.part, celsius)) / (1.0 + strain(&self.grid, celsius)) - 1.0;
        let factor = self.factor * (1.0 + 0.91e-4 * d);
        ((1.0 + free) * (1.0 + factor * forced) - 1.0) / 2.0 * 1e6
    }

    /// What each stated uncertainty does, in quadrature.
    fn uncertainty(&self, celsius: f64) -> f64 {
        let off = |change: &dyn Fn(&mut Self)| {
            let mut other = self.clone();
            change(&mut other);
            other.output(celsius) - self.output(celsius)
        };
        let by_temperature = 0.12 * (self.output(celsius + 0.5) - self.output(celsius - 0.5));
        [
            off(&|it| it.part.iter_mut().for_each(|row| row[1] += 0.2)),
            off(&|it| it.grid.iter_mut().for_each(|row| row[1] += 0.1)),
            off(&|it| it.resistance[0] += 0.2e-6),
            off(&|it| it.resistance[1] += 1e-9),
            off(&|it| it.factor *= 1.003),
            by_temperature,
        ]
        .into_iter()
        .fold(0.0, f64::hypot)
    }
}

/// The rows of the prediction, and what is said of the foil: coefficient and uncertainty of each power.
fn parts(said: &str) -> (Vec<[f64; 6]>, Vec<[f64; 2]>) {
    let start = said.find("\nprediction from foil and part").unwrap_or_else(|| panic!("{said}"));
    let part = &said[start..said.find("\nmatch").unwrap()];
    let cells =
        |line: &str| -> Vec<f64> { line.split_whitespace().filter_map(|cell| cell.parse().ok()).collect() };
    let rows = part.lines().filter_map(|line| <[f64; 6]>::try_from(cells(line)).ok()).collect();
    let foil = part.lines().filter(|line| line.contains(" 1/C") && line.contains("standard uncertainty"));
    (rows, foil.map(|line| <[f64; 2]>::try_from(cells(line)).unwrap()).collect())
}

#[test]
fn the_demonstration_compares_its_curve_with_what_foil_and_part_predict() {
    let said = &COMMISSIONED.output;
    let (rows, foil) = parts(said);
    assert_eq!((rows.len(), foil.len()), (7, 5), "{said}");
    let stated = stated();
    for [celsius, predicted, uncertainty, measured, difference, deviations] in rows {
        let expected = stated.output(celsius) - stated.output(BALANCE);
        assert!((predicted - expected).abs() < 0.01, "{celsius}: {predicted} {expected}");
        let expected = stated.uncertainty(celsius).hypot(stated.uncertainty(BALANCE));
        assert!((uncertainty / expected - 1.0).abs() < 0.01, "{celsius}: {uncertainty} {expected}");
        assert!((measured - predicted - difference).abs() < 0.011);
        // The band of the measured curve is a small part of it.
        assert!((deviations - difference.abs() / uncertainty).abs() < 0.07, "{celsius}: {deviations}");
    }
    assert!(said.contains("measured and predicted agree: "), "{said}");
    // The foil of the simulation has 12.6 ppm/C; the part's table is 0.25 ppm/C off, of which 0.2 are stated.
    let [[coefficient, uncertainty], ..] = foil[..] else { panic!("{foil:?}") };
    assert!((coefficient - 12.6e-6).abs() < 3.0 * uncertainty, "{coefficient} {uncertainty}");
    let by_expansions = 2.045 * 0.2_f64.hypot(0.1) * 1e-6;
    assert!((uncertainty / by_expansions - 1.0).abs() < 0.03, "{uncertainty} {by_expansions}");
}

/// The demonstration's run, commissioned with a channel file that has `to` in place of `from`.
fn run(name: &str, from: &str, to: &str) -> Run {
    let changed = KEEL.replace(from, to);
    assert_ne!(changed, KEEL, "{name} changes nothing");
    keel(&format!("commission prediction {name}"), &changed, &[])
}

#[test]
fn another_foil_is_seen_and_one_that_is_not_stated_is_found() {
    let another = run("another", "[12.5e-6,", "[16.5e-6,").gives(0);
    // 4 ppm/C of resistance are 2 microstrain a degree.
    let said = another.words();
    let apart = "standard deviations apart: the foil, the part's expansion or the bond is not what";
    assert!(said.contains(apart), "{said}");
    let (rows, _) = parts(&another.output);
    assert!(rows[0][5] > 5.0, "{rows:?}");

    let foil = "resistance_coefficients = [12.5e-6, -8.1e-8, 4.3e-10, -3.2e-13]\nresistance_uncertainties = [0.2e-6, 1e-9]\nbetween_c = [-100, 120]\n";
    let said = run("not stated", foil, "").gives(0).output;
    assert!(said.contains("not: resistance_coefficients of the foil are not stated"), "{said}");
    let left_out = said.lines().find(|line| line.contains("are left out by these powers")).unwrap();
    let left_out: f64 = left_out.split_whitespace().next().unwrap().parse().unwrap();
    let (rows, found) = parts(&said);
    assert!(rows.is_empty() && found.len() == 5);
    // What is found of the foil predicts the curve that it was found from: of the same part, within what the powers leave out,
    // there and at balance, and what the coefficients are printed to.
    let terms: Vec<String> = found.iter().map(|[term, _]| format!("{term:e}")).collect();
    let stated = format!("resistance_coefficients = [{}]\nbetween_c = [-87, 107]\n", terms.join(", "));
    let (rows, _) = parts(&run("found", foil, &stated).gives(0).output);
    assert!(
        left_out < 0.5 && rows.iter().all(|row| row[4].abs() < 2.0 * left_out + 0.1),
        "{left_out} {rows:?}"
    );
    // Nothing of the foil, no word on it.
    let table = KEEL.find("[channel.commissioning.foil]").unwrap();
    let end = table + KEEL[table..].find("\n\n").unwrap();
    let said = run("nothing", &KEEL[table..end], "").gives(0).output;
    assert!(!said.contains("prediction from foil"), "{said}");
}

#[test]
fn what_is_stated_of_the_foil_is_checked() {
    let foil = "channel \"fitting_keel\": [channel.commissioning.foil]: ";
    for (name, from, to, expected) in [
        ("ends", "between_c = [-100, 120]\n", "", "resistance_coefficients and between_c go together"),
        (
            "order",
            "between_c = [-100, 120]",
            "between_c = [120, -100]",
            "upper end of the temperature range of the foil's resistance (C)",
        ),
        (
            "many",
            "[12.5e-6, -8.1e-8,",
            "[12.5e-6, -8.1e-8, 0, 0,",
            "resistance_coefficients has one to five numbers",
        ),
        (
            "uncertainties",
            "[0.2e-6, 1e-9]",
            "[0, 0, 0, 0, 0]",
            "resistance_uncertainties has more numbers than resistance_coefficients",
        ),
        ("size", "[12.5e-6,", "[12.5,", "resistance coefficient of the foil"),
        (
            "grid",
            "expansion = { table = ",
            "expansion = { mean_table = ",
            "expansion needs ppm_per_c, or table, or mean_table",
        ),
    ] {
        let said = run(name, from, to).gives(1).errors;
        assert!(said.contains(&format!("{foil}{expected}")), "{name}: {said}");
    }
    let part = KEEL.find("[channel.commissioning.part]").unwrap();
    let end = part + KEEL[part..].find("\n# The same of the material").unwrap();
    let bare = KEEL.replace("specimen_expansion_ppm_per_c = 10.1 ", "#").replace(&KEEL[part..end], "");
    let said = run("part", KEEL, &bare).gives(1).errors;
    assert!(said.contains("[channel.commissioning.foil] needs [channel.commissioning.part]"), "{said}");
    // Known less far than the run goes: compared as far as it is known.
    let between = "between_c = [-100, 120]";
    let (rows, _) = parts(&run("short", between, "between_c = [-40, 60]").gives(0).output);
    assert!(rows.iter().all(|row| (-40.0..=60.0).contains(&row[0])) && rows.len() >= 3, "{rows:?}");
    // Known in a narrow range about balance, where a foil of another resistance is seen all the same, and the same foil agrees.
    let narrow = run("narrow", between, "between_c = [17, 25]").gives(0);
    let ((rows, _), said) = (parts(&narrow.output), narrow.words());
    assert!(rows.len() == 7 && rows[0][0] == 17.0 && rows[6][0] == 25.0, "{said}");
    assert!(said.contains("measured and predicted agree: "), "{said}");
    let resistance = "resistance_coefficients = [12.5e-6, -8.1e-8, 4.3e-10, -3.2e-13]\nresistance_uncertainties = [0.2e-6, 1e-9]\n";
    let other = "resistance_coefficients = [80e-6]\nbetween_c = [17, 25]\n";
    let said = run("narrow and another", &format!("{resistance}{between}\n"), other).gives(0).words();
    assert!(said.contains("the bond is not what is stated"), "{said}");
    // Nothing is known at balance, so nothing is compared.
    let beside = run("beside", between, "between_c = [21, 60]").gives(0);
    let said = beside.words();
    assert!(
        said.contains("verdict not compared: what is stated of foil and part does not reach from"),
        "{said}"
    );
    assert!(!said.contains("agree: ") && parts(&beside.output).0.is_empty(), "{said}");
}
