//! The flight corrected as its physics is: without noise, what is left between corrected and true strain is what the model and the
//! package's rounded curve leave; with noise, what the figures of the sensors say.

use crate::run::{header, run, run_in};
use gaugewright::commissioning::{expansion::Expansion, prediction::*};
use gaugewright::units::*;
use gaugewright::{Gauge, ThermalOutput};
use host::channel_file::parse;
use host::setup::{Channel, Thermometer, set_up};
use host::simulation::{self, CELSIUS_NOISE, CODE_NOISE, STEPS_PER_DEGREE};
use std::collections::HashMap;
use std::path::Path;
use std::sync::LazyLock;

/// A polynomial of the temperature above 24 C for an expansion coefficient, 1/C: those of `examples/host/src/simulation/foil.rs`.
type Coefficient = [f64; 3];

const COPPER_NICKEL: Coefficient = [14.7e-6, 1.31e-8, -1.9e-11];
const NICKEL_CHROMIUM: Coefficient = [13.2e-6, 0.72e-8, -0.5e-11];
const ALUMINIUM: Coefficient = [23.05e-6, 2.03e-8, -2.2e-11];
const TITANIUM: Coefficient = [8.71e-6, 0.61e-8, -0.7e-11];
const OTHER_TITANIUM: Coefficient = [9.81e-6, 0.61e-8, -0.7e-11];
const NICKEL: Coefficient = [13.05e-6, 0.88e-8, -0.8e-11];

/// Forced strain of a foil on a part, in microstrain for the powers of a degree above 24 C. The quotient of the two lengths differs
/// from this difference by less than a thousandth of it.
fn forced(foil: Coefficient, part: Coefficient) -> [f64; 3] {
    [0, 1, 2].map(|k| (part[k] - foil[k]) * 1e6 / (k + 1) as f64)
}

/// The channel file of the flight with a gauge factor that refers to the free foil, as in its physics.
fn with_free_foil() -> String {
    let file =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../replay/flight.toml")).unwrap();
    let (mut out, mut name, mut changed) = (String::new(), "", 0);
    for line in file.lines() {
        out += line;
        out.push('\n');
        if let Some(rest) = line.strip_prefix("name = \"") {
            name = rest.split('"').next().unwrap();
        }
        if line.starts_with("gauge_factor = ") {
            let [a, b, c] = match name {
                "strut_north" | "strut_south" | "strut_spare" | "boom_root" => {
                    forced(COPPER_NICKEL, ALUMINIUM)
                }
                "fitting_crown" | "tie_rod" => forced(COPPER_NICKEL, TITANIUM),
                "fitting_keel" => forced(COPPER_NICKEL, OTHER_TITANIUM),
                "valve_body" => forced(NICKEL_CHROMIUM, NICKEL),
                other => panic!("{other} has no foil"),
            };
            out += "gauge_factor_refers_to = \"free foil\"\n";
            out += &format!("forced_strain_microstrain = [0.0, {a:e}, {b:e}, {c:e}]\n");
            changed += 1;
        }
    }
    assert_eq!(changed, 8);
    out
}

/// The same with the thermal output that the keel fitting's foil has on that part, in place of the package's that is turned by one
/// coefficient of expansion.
fn with_the_foils_constants(file: &str) -> String {
    let foil =
        FoilResistance::new([12.6e-6, -8.1e-8, 4.27e-10, -3.21e-13]).between(Celsius(-100.0), Celsius(110.0));
    let expansion = |coefficient| {
        Expansion::coefficient_polynomial(coefficient, Celsius(24.0)).between(Celsius(-100.0), Celsius(110.0))
    };
    let gauge = Gauge::new(GaugeFactor(2.045)).gauge_factor_slope(PercentPer100C(0.91));
    let prediction = Prediction::new(gauge, foil, expansion(COPPER_NICKEL), expansion(OTHER_TITANIUM));
    let package = prediction.package_curve(Celsius(-90.0), Celsius(105.0)).unwrap();
    assert!(package.left_out.0 < 0.02, "{}", package.left_out);
    let curve: ThermalOutput = package.curve;
    let coefficients = curve.in_celsius().coefficients();

    let start = file.find("name = \"fitting_keel\"").unwrap();
    let end = start + file[start..].find("[[channel]]").unwrap();
    let keel: Vec<String> = file[start..end]
        .lines()
        .filter(|line| !line.starts_with("specimen_expansion") && !line.starts_with("matched_expansion"))
        .map(|line| match line.split(" = ").next().unwrap() {
            "coefficients" => format!("coefficients = {coefficients:?}"),
            "fitted_between" => "fitted_between = [-90, 105]".to_string(),
            _ => line.to_string(),
        })
        .collect();
    format!("{}{}\n{}", &file[..start], keel.join("\n"), &file[end..])
}

/// Columns of a file by their name; no number is a NaN, and a channel's flags are as many as are named.
fn columns(path: &Path) -> HashMap<String, Vec<f64>> {
    let mut file = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let headers = file.headers().unwrap().clone();
    let mut columns = vec![Vec::with_capacity(simulation::ROWS); headers.len()];
    for row in file.records() {
        for ((name, column), cell) in headers.iter().zip(&mut columns).zip(&row.unwrap()) {
            column.push(if name.ends_with("_flags") {
                cell.split_whitespace().count() as f64
            } else {
                cell.parse().unwrap_or(f64::NAN)
            });
        }
    }
    headers.iter().map(String::from).zip(columns).collect()
}

/// A flight, and what `replay` makes of it.
struct Flown {
    flight: HashMap<String, Vec<f64>>,
    corrected: HashMap<String, Vec<f64>>,
}

/// Without noise, as two tests need it.
static PLAIN: LazyLock<Flown> =
    LazyLock::new(|| Flown::of("truth", &with_free_foil(), simulation::Noise::None));

impl Flown {
    fn of(name: &str, channels: &str, noise: simulation::Noise) -> Self {
        let without: &[&str] = if noise == simulation::Noise::None { &["--without-noise"] } else { &[] };
        let arguments = [&["--out", "flight.csv"], without].concat();
        let folder = run("flight", name, &[("channels.toml", channels)], &arguments).gives(0).folder;
        let done = run_in(&folder, "replay", &["channels.toml", "flight.csv", "--out", "."]).gives(0);
        assert!(done.output.contains("refers to the free foil"));
        let [flight, corrected] = ["flight.csv", "corrected.csv"].map(|name| columns(&folder.join(name)));
        Self { flight, corrected }
    }

    fn mechanical(&self, name: &str) -> &[f64] {
        &self.corrected[&format!("{name}_mechanical_microstrain")]
    }

    /// Rows in which nothing is flagged.
    fn clear(&self, name: &str) -> impl Iterator<Item = usize> {
        let flags = &self.corrected[&format!("{name}_flags")];
        let clear: Vec<usize> = (0..flags.len()).filter(|&row| flags[row] == 0.0).collect();
        assert!(clear.len() > 51_000, "{name}: only {} rows have no flag", clear.len());
        clear.into_iter()
    }

    /// Worst and root mean square of mechanical strain less what `expected` makes of row and true strain.
    fn difference(&self, name: &str, expected: impl Fn(usize, f64) -> f64) -> (f64, f64) {
        let truly = &self.flight[&format!("{name}_true_microstrain")];
        let (mut worst, mut squares, mut count) = (0.0f64, 0.0, 0.0);
        for row in self.clear(name) {
            let off = (self.mechanical(name)[row] - expected(row, truly[row])).abs();
            (worst, squares, count) = (worst.max(off), squares + off * off, count + 1.0);
        }
        (worst, f64::sqrt(squares / count))
    }
}

/// Worst and root mean square in microstrain, over all rows without a flag.
#[track_caller]
fn within(name: &str, seen: (f64, f64), limits: (f64, f64)) {
    assert!(
        seen.0 < limits.0 && seen.1 < limits.1,
        "{name}: worst {:.4}, root mean square {:.4}",
        seen.0,
        seen.1
    );
}

#[test]
fn without_noise_the_flight_comes_out_as_the_true_strain() {
    let flown = &*PLAIN;
    let truth = |_, truly: f64| truly;
    for name in ["strut_north", "strut_south", "fitting_crown", "valve_body", "strut_spare", "tie_rod"] {
        within(name, flown.difference(name, truth), (0.2, 0.05));
    }
    // The package's curve is turned for this part by one expansion coefficient. With the foil's own constants that is gone.
    let turned = flown.difference("fitting_keel", truth);
    within("fitting_keel", turned, (0.2, 0.08));
    let exact =
        Flown::of("truth_keel", &with_the_foils_constants(&with_free_foil()), simulation::Noise::None);
    within("fitting_keel by its foil", exact.difference("fitting_keel", truth), (0.05, 0.05));
    assert!(turned.0 > 2.0 * exact.difference("fitting_keel", truth).0);

    // A pull along the boom stretches all four gauges: their bridge shows the bending over 1 + F pull, and nobody measures the pull.
    let pulled = flown.difference("boom_root", truth);
    within("boom_root", pulled, (2.5, 0.08));
    assert!(pulled.0 > 1.0, "{:.4}", pulled.0);
    let pull = simulation::pull_along_boom();
    let (time, celsius) = (&flown.flight["time_s"], &flown.flight["boom_root_celsius"]);
    let shown = |row: usize, truly: f64| {
        let factor = 2.065 * (1.0 + 1.07e-4 * (celsius[row] - 24.0));
        truly / (1.0 + factor * pull(time[row]) * 1e-6)
    };
    within("boom_root less the pull", flown.difference("boom_root", shown), (0.2, 0.05));
}

/// The larger kernels of C take these channels.
#[test]
fn a_header_for_c_has_them() {
    let (run, header) = header("truth_c", &with_free_foil());
    run.gives(0);
    assert_eq!(header.matches("static const gw_large_kernel kernel_").count(), 7);
    assert_eq!(header.matches("static const gw_large_compensated_kernel kernel_").count(), 1);
    assert_eq!(header.matches("static const gw_large_float_kernel float_kernel_").count(), 7);
    assert_eq!(header.matches("static const gw_large_float_compensated_kernel float_kernel_").count(), 1);
}

/// Standard deviation of what is drawn, with that of rounding it to steps.
fn rounded(noise: f64, step: f64) -> f64 {
    f64::sqrt(noise * noise + step * step / 12.0)
}

/// Of the temperature that stands beside a gauge in a row, degrees.
fn noise_of_temperature(channel: &Channel, flight: &HashMap<String, Vec<f64>>, row: usize) -> f64 {
    let celsius = rounded(CELSIUS_NOISE, 1.0 / STEPS_PER_DEGREE);
    let Thermometer::Sensor(sensor) = &channel.columns.temperature else { return celsius };
    let (beside, steps) = match sensor.column.as_str() {
        "strut_south_ohm" => {
            let ohms = rounded(simulation::OHM_NOISE, 1.0 / simulation::STEPS_PER_OHM);
            (ohms, ohms)
        }
        "valve_body_millivolt" => {
            (celsius, rounded(simulation::MILLIVOLT_NOISE, 1.0 / simulation::STEPS_PER_MILLIVOLT))
        }
        other => panic!("{other} is no sensor of the flight"),
    };
    let (reading, other) = (flight[&sensor.column][row], flight[sensor.beside_column.as_ref().unwrap()][row]);
    let at = |reading, beside| sensor.temperature(reading, Some(beside)).unwrap().0;
    let small = 1e-3;
    let of_reading = (at(reading + small, other) - at(reading - small, other)) / (2.0 * small);
    let of_beside = (at(reading, other + small) - at(reading, other - small)) / (2.0 * small);
    f64::hypot(of_reading * steps, of_beside * beside)
}

/// The difference to the flight without noise is what converter and thermometers add: in each row a standard deviation from the
/// slopes of the model, over all rows one of one.
#[test]
fn with_noise_the_flight_differs_by_what_the_sensors_add() {
    let file = with_free_foil();
    let plain = &*PLAIN;
    let noisy = Flown::of("truth_noisy", &file, simulation::Noise::Flown);
    let code_noise = f64::hypot(rounded(CODE_NOISE, 1.0), rounded(0.0, 1.0));
    for channel in &set_up(parse(&file).unwrap()).unwrap() {
        let name = channel.name.as_str();
        let code = &plain.flight[&channel.columns.value];
        // The true temperature: an ordinary column has it in this flight, where a sensor's raw readings are used instead too.
        let warm = &plain.flight[&format!("{name}_celsius")];
        let beside = channel.columns.compensating.as_ref().map(|column| &plain.flight[column]);
        let (mut squares, mut count, mut farthest) = (0.0, 0.0, 0.0f64);
        let flagged = &noisy.corrected[&format!("{name}_flags")];
        // Every third row: twenty thousand tell as much.
        for row in plain.clear(name).step_by(3).filter(|&row| flagged[row] == 0.0) {
            let second = beside.map_or(warm[row], |block| block[row]);
            let strain = |code: f64, celsius: f64, second: f64| {
                channel.model.steps(code, Celsius(celsius), Celsius(second)).mechanical.microstrain().0
            };
            let (code, warm) = (code[row], warm[row]);
            let slope = |low: f64, high: f64, apart: f64| (high - low) / apart;
            let of_code = slope(strain(code - 50.0, warm, second), strain(code + 50.0, warm, second), 100.0);
            let of_celsius =
                slope(strain(code, warm - 0.01, second), strain(code, warm + 0.01, second), 0.02);
            let mut deviation = f64::hypot(
                of_code * code_noise,
                of_celsius * noise_of_temperature(channel, &plain.flight, row),
            );
            if beside.is_some() {
                let of_second =
                    slope(strain(code, warm, second - 0.01), strain(code, warm, second + 0.01), 0.02);
                deviation = f64::hypot(deviation, of_second * rounded(CELSIUS_NOISE, 1.0 / STEPS_PER_DEGREE));
            }
            let off = (noisy.mechanical(name)[row] - plain.mechanical(name)[row]) / deviation;
            (squares, count, farthest) = (squares + off * off, count + 1.0, farthest.max(off.abs()));
        }
        let spread = f64::sqrt(squares / count);
        assert!((0.98..1.02).contains(&spread) && farthest < 6.0, "{name}: {spread:.4}, {farthest:.2}");
    }
}
