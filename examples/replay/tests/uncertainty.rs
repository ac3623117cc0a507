//! The columns and the report of uncertainties against budgets of the library, and against a replay without them.

use super::{CODES, READINGS, channels, figures, read};
use crate::report::Summary;
use crate::table;
use approx::assert_relative_eq;
use gaugewright::units::{Celsius, Microstrain, Percent};
use host::results::Results;
use host::setup::Channel;

const STATED: &str = r#"
[channel.uncertainty]
gauge_factor_percent = 0.5
temperature_c = 0.2
lead_ohm = 0.1
noise_codes = 2
degrees_of_freedom = { gauge_factor_percent = 12, noise_codes = 4.5 }
"#;

const OF_READINGS: &str = r#"
[channel.uncertainty]
gauge_factor_percent = 1
noise_microstrain = 0.2
"#;

/// Good rows, one at the rail, one too warm, one with a bad code.
const SAMPLES: &str = "t,code,gauge_F,reading,true\n0,100,75.2,12.3,12.3\n1,-5000,75.2,-80.1,\n2,6000,23.0,500.0,480\n\
    3,32767,75.2,1.0,1\n4,100,400,1.0,1\n5,none,75.2,20.0,20\n6,-4,131,2000.0,\n";

/// The file of results and the summaries.
fn replayed(text: &str) -> (Vec<Channel>, Vec<Results>, String, Vec<String>) {
    let channels = channels(text).unwrap();
    let mut samples = read(SAMPLES, &channels).0.unwrap();
    let series = std::mem::take(&mut samples.series);
    let results: Vec<Results> =
        channels.iter().zip(series).map(|(channel, series)| Results::of(channel, series).unwrap()).collect();
    let mut file = table::header("t", &channels, &[]).unwrap();
    file.extend(table::rows(&samples, &channels, &results, &[]));
    let told = channels.iter().zip(&results).map(|(channel, results)| {
        let figures = figures(&samples.times, results);
        Summary { channel, figures: &figures, time_column: "t" }.to_string()
    });
    let told = told.collect();
    (channels, results, String::from_utf8(file).unwrap(), told)
}

#[test]
fn columns_are_the_budget_of_each_row() {
    let (channels, results, file, _) = replayed(&format!("{CODES}{STATED}{READINGS}{OF_READINGS}"));
    let mut seen = 0;
    for (channel, results) in channels.iter().zip(&results) {
        let stated = channel.uncertainty.as_ref().unwrap().stated.uncertainties;
        for row in 0..7 {
            let Some(found) = results.uncertainty(row) else {
                assert!(results.clear_row(row).is_none());
                continue;
            };
            let corrected = results.clear_row(row).unwrap();
            let celsius = results.series.temperatures[row].celsius();
            let budget = stated.budget(Microstrain(corrected.mechanical), celsius).unwrap();
            assert_relative_eq!(found.standard, budget.combined().0, max_relative = 1e-12);
            let expanded = budget.expanded(Percent(95.0)).unwrap();
            assert_relative_eq!(found.expanded, expanded.uncertainty.0, max_relative = 1e-12);
            let cells = format!(",{:.4},{:.4},", found.standard, found.expanded);
            assert!(file.lines().nth(row + 1).unwrap().contains(&cells), "{cells} is not in\n{file}");
            seen += 1;
        }
    }
    assert_eq!(seen, 4 + 6);
    // With finite degrees of freedom the factor is that of each row: few where noise is most of it.
    let factor = |row: usize| {
        let found = results[0].uncertainty(row).unwrap();
        found.expanded / found.standard
    };
    assert!(factor(0) > 2.4 && (2.1..2.3).contains(&factor(2)), "{} {}", factor(0), factor(2));
    let flagged = file.lines().nth(4).unwrap();
    assert!(flagged.contains(",,,code at rail,"), "{flagged}");
    assert!(file.lines().nth(6).unwrap().contains(",,,,,,rejected: "), "{file}");
}

/// Without the two columns it is the file of a replay that was told nothing.
#[test]
fn without_a_table_nothing_changes() {
    let (_, _, with, told) = replayed(&format!("{CODES}{STATED}{READINGS}"));
    let (_, _, without, plain) = replayed(&format!("{CODES}{READINGS}"));
    let header: Vec<&str> = with.lines().next().unwrap().split(',').collect();
    assert_eq!(
        header[5..7],
        ["boom_standard_uncertainty_microstrain", "boom_expanded_uncertainty_microstrain"]
    );
    let cut = with.lines().map(|line| {
        let mut cells: Vec<&str> = line.split(',').collect();
        cells.drain(5..7);
        cells.join(",") + "\n"
    });
    assert_eq!(cut.collect::<String>(), without);
    let start = told[0].find("\n  uncertainty of").unwrap();
    let end = start + told[0][start..].find("\n\n  flags").unwrap() + 1;
    assert_eq!(format!("{}{}", &told[0][..start], &told[0][end..]), plain[0]);
    assert_eq!(told[1], plain[1]);
}

#[test]
fn the_report_has_what_is_stated_and_what_is_not() {
    let (channels, results, _, told) = replayed(&format!("{CODES}{STATED}{READINGS}{OF_READINGS}"));
    for line in [
        "  gauge factor              0.5 %, 12 degrees of freedom ",
        "  slope of gauge factor     not stated: taken as exact\n",
        "  temperature               0.2 C ",
        "  thermal output            not stated: taken as exact\n",
        "  slope of thermal output   not stated: taken as exact\n",
        "  expansion                 not stated: taken as exact\n",
        "  lead resistance           0.1 ohm ",
        "  temperature of the leads  not stated: taken as exact\n",
        "  output ratio              not stated: taken as exact\n",
        "  noise                     2 codes, 4.5 degrees of freedom ",
        "  quantisation              within 0.5 codes ",
        "  kernel                    within 0.50 nanostrain: proven ",
    ] {
        assert_eq!(told[0].matches(line).count(), 1, "{line:?} is not in\n{}", told[0]);
    }
    // Neither a balance nor a transverse gauge: nothing to state.
    assert!(!told[0].contains("  noise at balance") && !told[0].contains("Poisson"));
    assert!(
        told[1].contains("  noise                     0.2 microstrain ")
            && told[1].contains("  quantisation              within 0.05 microstrain ")
            && !told[1].contains("lead")
    );
    // The row of the largest, by the library's budget of it.
    let uncertainty = |row: usize| results[0].uncertainty(row).unwrap();
    let largest = (0..7).filter(|&row| results[0].clear_row(row).is_some());
    let largest =
        largest.max_by(|a, b| uncertainty(*a).expanded.total_cmp(&uncertainty(*b).expanded)).unwrap();
    let corrected = results[0].clear_row(largest).unwrap();
    let budget = channels[0].uncertainty.as_ref().unwrap().stated.uncertainties;
    let budget = budget.budget(Microstrain(corrected.mechanical), Celsius(-5.0)).unwrap();
    let row = format!(
        "largest in row {}: t {largest}, -5.00 C, {:.2} microstrain",
        largest + 1,
        corrected.mechanical
    );
    assert!(told[0].contains(&row), "{row} is not in\n{}", told[0]);
    let expanded = budget.expanded(Percent(95.0)).unwrap();
    let degrees = budget.effective_degrees_of_freedom();
    let line = format!("{:.3} times; degrees of freedom: {}", expanded.coverage_factor, degrees.floor());
    assert!(
        told[0].contains(&line) && told[0].contains(&format!("{:.4}\n", expanded.uncertainty.0)),
        "{line}\n{}",
        told[0]
    );
    assert!(told[1].contains("1.960 times; degrees of freedom: infinite"));
    assert!(told[1].contains("true strain within it     "), "{}", told[1]);
    assert!(told.iter().all(|text| text.lines().all(|line| line.chars().count() <= 100)));
}

/// A ratio of strains and the sensitivity that it is corrected with have rows of their own, which add up to the budget's of the gauge
/// factor; without words for them the report says so.
#[test]
fn a_ratio_of_strains_is_in_the_report() {
    let codes = CODES
        .replacen("[channel.gauge]\n", "[channel.gauge]\ntransverse_sensitivity_percent = 2\n", 1)
        .replacen("name = ", "strain_ratio = 0.9\nname = ", 1);
    let told = |words: &str| {
        let (channels, .., told) = replayed(&format!("{codes}\n[channel.uncertainty]\n{words}"));
        (channels[0].uncertainty.as_ref().unwrap().stated.uncertainties, told[0].clone())
    };
    let (_, without) = told("gauge_factor_percent = 0.5\n");
    for name in ["ratio of strains      ", "transverse sensitivity"] {
        let line = format!("  {name}    not stated: taken as exact\n");
        assert_eq!(without.matches(&line).count(), 1, "{line:?} is not in\n{without}");
    }
    let (all, with) =
        told("gauge_factor_percent = 0.5\nstrain_ratio = 0.2\ntransverse_sensitivity_percent = 0.3\n");
    let numbers = |name: &str, words: &str| {
        let line = with.lines().find(|line| line.starts_with(&format!("  {name:<26}{words} "))).unwrap();
        let number = |k: usize| line.split_whitespace().rev().nth(k).unwrap().parse::<f64>().unwrap();
        [number(2), number(1)]
    };
    let rows = [("gauge factor", "0.5 %"), ("ratio of strains", "0.2"), ("transverse sensitivity", "0.3 %")]
        .map(|(name, words)| numbers(name, words));
    let line = with.lines().find(|line| line.contains("largest in row")).unwrap();
    let at =
        |unit: &str| -> f64 { line.split(unit).next().unwrap().rsplit(' ').next().unwrap().parse().unwrap() };
    let budget = all.budget(Microstrain(at(" microstrain")), Celsius(at(" C,"))).unwrap();
    let whole = budget.contribution(gaugewright::uncertainty::Input::GaugeFactor);
    let sum = rows.iter().map(|row| row[0] * row[0]).sum::<f64>().sqrt();
    assert!(rows.iter().all(|row| row[0] > 0.1), "{with}");
    assert!((sum - whole.uncertainty.0).abs() < 1e-3, "{sum} {whole:?}\n{with}");
    assert!((rows.iter().map(|row| row[1]).sum::<f64>() - whole.share.0).abs() < 0.2, "{with}");
}
