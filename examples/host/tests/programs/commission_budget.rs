//! What commissioning says of uncertainty, by hand from the inputs and the physics of the simulated part.

use crate::run::{self, COMMISSIONED, KEEL, rows, run_in};
use approx::assert_abs_diff_eq;
use support::keel::{BALANCE, Truth};
use support::program::number;

/// Half of the hysteresis of the report with its uncertainty, between the seven temperatures of the table: the difference of two curves of
/// degree 4, so that the polynomial through all seven is exact but for what is printed; of the uncertainty it is near enough.
fn half_of_hysteresis(said: &str) -> impl Fn(f64) -> f64 + use<> {
    let rows: Vec<[f64; 5]> = rows(said, "thermal output since balance");
    assert_eq!(rows.len(), 7, "{said}");
    move |celsius| {
        let through = |column: usize| -> f64 {
            let weight = |row: &[f64; 5]| -> f64 {
                let others = rows.iter().filter(|other| other[0] != row[0]);
                others.map(|other| (celsius - other[0]) / (row[0] - other[0])).product()
            };
            rows.iter().map(|row| weight(row) * row[column]).sum()
        };
        0.5 * through(3).hypot(through(4))
    }
}

/// The budget by hand at one temperature and load, and as often as it says on a run that it has not seen.
#[test]
fn the_budget_is_what_the_inputs_make_it() {
    let half = half_of_hysteresis(&COMMISSIONED.output);
    let budgets = COMMISSIONED.table("budget.csv");
    let row = |celsius: f64, strain: f64| {
        let found = budgets.iter().find(|row| {
            (number(row, "temperature_c") - celsius).abs() < 1e-6
                && number(row, "strain_microstrain") == strain
        });
        found.unwrap_or_else(|| panic!("nothing at {celsius} C and {strain}"))
    };
    let truth = Truth::new();
    for (celsius, strain) in [(-80.0, 0.0), (-80.0, 1000.0), (100.0, 1000.0), (10.0, 0.0)] {
        let budget = row(celsius, strain);
        let factor = truth.factor * truth.loaded_factor(celsius);
        let slope = (truth.output(celsius + 0.01, factor) - truth.output(celsius - 0.01, factor)) / 0.02;
        let factor_slope =
            truth.factor * (truth.loaded_factor(celsius + 0.5) - truth.loaded_factor(celsius - 0.5));
        for (name, expected, tolerance) in [
            // 0.5 microstrain of the instrument's scale; the bridge bends by 0.2 % where most is indicated.
            ("reading", 0.5 * 2.045 / factor, 0.001),
            // 0.12 C through both corrections at once; the slope is a fitted one.
            ("temperature", 0.12 * (slope + strain * factor_slope / factor).abs(), 0.03),
            // A tolerance of 0.1 % and an unbalance of 4 times 0.423 mV/V, as limits, on all that is indicated: the bridge bends and is
            // not balanced with code 0.
            (
                "span",
                (0.1_f64.hypot(0.1692) / 3f64.sqrt() / 100.0 * (strain + truth.output(celsius, factor)))
                    .abs(),
                0.01,
            ),
            ("gauge_factor", 0.003 * strain, 1e-6),
            // At the run's factor of 2: a limit in the reading, one of two values in the balance.
            ("hysteresis", (half(celsius) / 3f64.sqrt()).hypot(half(BALANCE)) * 2.0 / factor, 0.02),
        ] {
            let found = number(budget, &format!("{name}_microstrain"));
            assert!((found - expected).abs() < tolerance, "{name} at {celsius} C: {found}, {expected}");
        }
        let squares: f64 = budget
            .iter()
            .filter(|(name, _)| {
                name.ends_with("_microstrain")
                    && !["strain_microstrain", "combined_microstrain", "expanded_microstrain"]
                        .contains(&name.as_str())
            })
            .map(|(_, cell)| cell.parse::<f64>().unwrap().powi(2))
            .sum();
        let combined = number(budget, "combined_microstrain");
        assert_abs_diff_eq!(combined, squares.sqrt(), epsilon = 1e-5);
        let expanded = number(budget, "expanded_microstrain");
        assert_abs_diff_eq!(expanded, number(budget, "coverage_factor") * combined, epsilon = 1e-4);
        assert!((1.95..2.1).contains(&number(budget, "coverage_factor")));
    }
}

/// The errors of what is left out, over all temperatures that the keel declares, -80 to 100 C, with 1000 microstrain
/// either way.
#[test]
fn what_is_left_out_costs_what_the_physics_says() {
    let said = &COMMISSIONED.output;
    let part = &said[said.find("\nwhat may be left out").unwrap()..];
    let truth = Truth::new();
    // Of the loaded run, which is 0.03 % uncertain there.
    let cold_factor = truth.factor * truth.loaded_factor(-80.0);
    let cold = |load: f64| load + truth.output(-80.0, cold_factor);
    // Leads make the gauge's change of resistance the smaller part of the arm's.
    let leads: f64 = 2.5 / 350.0;
    // Relative change of the arm, from balance on: a quarter bridge turns x into x / (1 + x / 2).
    let arm = cold_factor * cold(-1000.0) * 1e-6 / (1.0 + leads);
    let curvature = (arm - arm / (1.0 + arm / 2.0)) * (1.0 + leads) / cold_factor * 1e6;
    // 1.35, 1.38, 1.34 ppm/C at -100, -50, 0 C, and straight on to 50 C: the integral from balance to -80 C.
    let mismatch = 19.75 * 1.34 + 50.0 * (1.34 + 1.38) / 2.0 + 30.0 * (1.38 + 1.362) / 2.0;
    let near_change = 1000.0 * (1.0 - truth.loaded_factor(9.75));
    let change = 1000.0 * (1.0 - truth.loaded_factor(-80.0));
    for (what, near, everywhere, tolerance) in [
        // The band of the curve at -80 C.
        ("thermal output", None, -cold(0.0), 2.0),
        ("change of gauge factor", Some(near_change), change, 0.3),
        // The bridge is not balanced with code 0: some thousandths of it.
        ("bridge non-linearity", None, curvature.abs(), 0.03),
        ("lead desensitisation", None, -cold(-1000.0) * leads / (1.0 + leads), 0.05),
        ("mismatch, by the package", None, mismatch, 0.1),
    ] {
        let line = part.lines().find(|line| line.trim_start().starts_with(what)).unwrap();
        let errors: Vec<f64> =
            line.split('(').filter_map(|before| before.trim_end().rsplit(' ').next()?.parse().ok()).collect();
        let [first, second] = errors[..] else { panic!("{line}: {errors:?}") };
        assert!(near.is_none_or(|near| (first - near).abs() < tolerance), "{line}");
        assert!((second - everywhere).abs() < tolerance, "{line}: {everywhere}");
        assert!(first < second);
        // Next to an uncertainty of 6 to 8 microstrain with load.
        let verdicts: Vec<bool> =
            line.split(':').skip(1).map(|it| it.trim_start().starts_with("may be")).collect();
        assert_eq!(verdicts, [what.starts_with("bridge"), false], "{line}");
        // Percent of the load.
        assert!(line.contains(&format!("({:.2} %)", second / 10.0)), "{line}");
    }
}

/// The written file has the uncertainty of the curve that is in it, for a replay: what was of the package's is out, what is stated of
/// the rest stays.
#[test]
fn the_written_file_has_the_uncertainty_of_its_curve() {
    let budgets = COMMISSIONED.table("budget.csv");
    // In the scale of the curve, a gauge factor of 2, where a strain is less by the package's 2.045 and what it changes, 1.3 % at most.
    let parts = budgets.iter().filter(|row| number(row, "strain_microstrain") == 0.0);
    let of_curve = |row| number(row, "curve_microstrain").hypot(number(row, "hysteresis_microstrain"));
    let largest = parts.map(of_curve).fold(0.0, f64::max) * 2.045 / 2.0;

    let stated = "uncertainty = { expansion_ppm_per_c = 0.3, thermal_output_slope_microstrain_per_c = 0.15, lead_ohm = 0.05, \
                  degrees_of_freedom = { expansion_ppm_per_c = 5, lead_ohm = 9 } }\ntemperature_error_c";
    let keel = KEEL.replacen("temperature_error_c", stated, 1);
    let [loaded, later] = ["loaded.csv", "later.csv"].map(|name| COMMISSIONED.path(name));
    let run = run::keel("commission uncertainty", &keel, &["--loaded", &loaded]).gives(0);
    let said = &run.output;
    assert!(
        said.contains("; without thermal_output_slope_microstrain_per_c and")
            && said.contains("expansion_ppm_per_c"),
        "{said}"
    );
    let written = run.file("commissioned.toml");
    let Ok(file) = host::channel_file::parse(&written) else { panic!("{written}") };
    let words = file.channels[0].uncertainty.as_ref().unwrap();
    assert_eq!((words.expansion_ppm_per_c, words.thermal_output_slope_microstrain_per_c), (None, None));
    assert_eq!(
        (words.lead_ohm, words.gauge_factor_percent, words.temperature_c),
        (Some(0.05), Some(0.3), Some(0.12))
    );
    let degrees = words.degrees_of_freedom.as_ref().unwrap();
    assert_eq!((degrees.lead_ohm, degrees.expansion_ppm_per_c), (Some(9.0), None));
    assert_eq!(degrees.gauge_factor_slope_percent_per_100_c, Some(22.0));
    assert!(degrees.thermal_output_microstrain.unwrap() >= 44.0, "{written}");
    let curve = words.thermal_output_microstrain.unwrap();
    assert!((curve / largest - 1.0).abs() < 0.02, "{curve}, {largest}");
    // Of the loaded run, less than the tenth of a percent that is stated.
    assert!((0.01..0.1).contains(&words.gauge_factor_slope_percent_per_100_c.unwrap()), "{written}");

    let arguments = ["commissioned.toml", &later, "--out", "replay"];
    let rows = run_in(&run.folder, "replay", &arguments).gives(0).table("replay/corrected.csv");
    let within = rows.iter().filter(|row| {
        let strain = number(row, "fitting_keel_mechanical_microstrain");
        strain.abs() <= number(row, "fitting_keel_expanded_uncertainty_microstrain")
    });
    let within = within.count();
    assert!(within >= 570, "{within} of 600 within an uncertainty of 95 %");
}
