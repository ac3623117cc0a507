//! The correction of tests/data (exact rational arithmetic, 25 digits) against the model and every kernel.

use approx::assert_abs_diff_eq;
use gaugewright::channel::MismatchScale;
use gaugewright::units::*;
use gaugewright::*;
use support::*;

/// A row as a channel whose samples are readings of 2^-31 strain, with the code for the row's indicated
/// strain and what rounding to it costs, in microstrain.
struct Case {
    channel: Channel,
    reading: f64,
    temperature: Celsius,
    mechanical: f64,
}

const STEP: f64 = 8e6 / fixed::Strain::PER_UNIT;

fn celsius(row: &Row, value: f64) -> Celsius {
    if row.text("t_unit") == "degF" { Fahrenheit(value).celsius() } else { Celsius(value) }
}

fn case(row: &Row) -> Case {
    let gauge = gauge(row.text("gauge_id"), row.number("degree") as usize);
    let factor = GaugeFactor(row.number("F_i"));
    let mut channel = Channel::from_readings(gauge, Instrument::showing(Microstrain(STEP), factor));
    if let Some(balance) = row.maybe("t_balance") {
        channel = channel.balanced(0.0, celsius(row, balance));
    }
    let mode = row.text("mismatch_mode");
    if mode != "none" {
        let specimen = row.number("alpha_s_ppm_per_degC");
        channel = channel.specimen(ExpansionPerCelsius::ppm(specimen)).mismatch_scale(match mode {
            "at_FT" => MismatchScale::StatedGaugeFactor,
            "at_F24" => MismatchScale::GaugeFactorAtReference,
            other => panic!("{other}"),
        });
    }
    Case {
        channel,
        reading: row.number("e_ind_ue") / STEP,
        temperature: celsius(row, row.number("t")),
        mechanical: row.number("e_mech_ue"),
    }
}

#[test]
fn the_reference_gives_every_step() {
    let rows = data("end_to_end_cases");
    assert_eq!(rows.len(), 2531);
    let mut worst = 0.0f64;
    for row in &rows {
        let case = case(row);
        assert_eq!(matched_expansion(row.text("gauge_id")), row.number("alpha_m_ppm_per_degC"));
        let steps = reference::Model::new(&case.channel).unwrap().steps(case.reading, case.temperature);
        let mut near = |value: f64, column: &str| {
            let off = (value - row.number(column)).abs();
            worst = worst.max(off);
            assert!(
                off <= tolerance::REFERENCE_MICROSTRAIN,
                "{} {column}: {value} for {}",
                row.text("case_id"),
                row.text(column)
            );
        };
        near(steps.indicated.0 * 1e6, "e_ind_ue");
        near(steps.thermal_output.0 * 1e6, "e_to_Fi_ue");
        near((steps.indicated.0 - steps.thermal_output.0) * 1e6, "e_after_subtract_ue");
        near(steps.gauge_factor.0, "F_of_T");
        near(steps.mechanical.0 * 1e6, "e_mech_ue");
    }
    println!("reference: worst {worst:.1e} microstrain over {} cases", rows.len());
}

/// The gauges file and the cases file have to agree on it.
fn matched_expansion(id: &str) -> f64 {
    thread_local!(static MATCHED: Vec<(String, f64)> = data("gauges")
        .iter()
        .map(|row| (row.text("gauge_id").to_owned(), row.number("alpha_matched_ppm_per_degC")))
        .collect());
    MATCHED.with(|all| all.iter().find(|(name, _)| name == id).unwrap().1)
}

/// Kernels take whole steps of temperature and of strain, so the expected value is moved from the row's
/// numbers to the nearest steps along the model's own slopes (by less than half a nanostrain).
#[test]
fn every_kernel_stays_within_its_bound() {
    let mut worst = [0.0f64; 6];
    let mut largest = (0.0f64, 0.0f64);
    let mut count = 0;
    for row in &data("end_to_end_cases") {
        let case = case(row);
        let temperature = fixed::Temperature::from_celsius(case.temperature).unwrap();
        let code = case.reading.round() as i32;
        let model = reference::Model::new(&case.channel).unwrap();
        let moved =
            model.strain(code, temperature).0 - model.steps(case.reading, case.temperature).mechanical.0;
        let expected = case.mechanical * 1e3 + moved * 1e9;
        assert!((moved * 1e9).abs() < 0.5, "a step moves the strain by {} nanostrain", moved * 1e9);

        // The declared range just holds the case, as firmware would declare it.
        let channel = case.channel.strain_within(Microstrain(case.mechanical.abs() + 100.0));
        let integer: fixed::Kernel<5, 1> = channel.try_fixed().unwrap();
        let single: float::Kernel<f32, 5, 1> = channel.try_float32().unwrap();
        let double: float::Kernel<f64, 5, 1> = channel.try_float64().unwrap();
        let readings = [
            (integer.reading(code, temperature).checked().unwrap().strain().0, integer.error_bound().reading),
            (
                integer.at(temperature).reading(code).checked().unwrap().strain().0,
                integer.error_bound().point,
            ),
            (f64::from(single.reading(code, temperature).checked().unwrap()), single.error_bound().reading),
            (f64::from(single.at(temperature).reading(code).checked().unwrap()), single.error_bound().point),
            (double.reading(code, temperature).checked().unwrap(), double.error_bound().reading),
            (double.at(temperature).reading(code).checked().unwrap(), double.error_bound().point),
        ];
        for (i, (strain, bound)) in readings.into_iter().enumerate() {
            let off = (strain * 1e9 - expected).abs();
            worst[i] = worst[i].max(off);
            let allowed = bound.total.0 + tolerance::REFERENCE_NANOSTRAIN;
            assert!(off <= allowed, "{} path {i}: off by {off}, bound {allowed}", row.text("case_id"));
        }
        let bounds = (integer.error_bound().max().0, single.error_bound().max().0);
        largest = (largest.0.max(bounds.0), largest.1.max(bounds.1));
        // The error limit holds for strain up to 34 500 microstrain and the package's own curve.
        if row.text("mismatch_mode") == "none" && case.mechanical.abs() < 34_400.0 {
            assert!(bounds.0 <= tolerance::FIXED_WIDE, "{}: {}", row.text("case_id"), bounds.0);
            assert!(bounds.1 <= tolerance::FLOAT_WIDE, "{}: {}", row.text("case_id"), bounds.1);
        }
        count += 1;
    }
    println!("largest bounds: fixed {:.3}, f32 {:.1} nanostrain", largest.0, largest.1);
    println!(
        "{count} cases, worst in nanostrain: fixed {:.3} {:.3}, f32 {:.2} {:.2}, f64 {:.1e} {:.1e}",
        worst[0], worst[1], worst[2], worst[3], worst[4], worst[5]
    );
}

#[test]
fn thermal_output_is_rereferenced_to_balance() {
    for row in &data("rereference_cases") {
        let gauge = gauge(row.text("gauge_id"), row.number("degree") as usize);
        let stated = data("gauges")
            .iter()
            .find(|g| g.text("gauge_id") == row.text("gauge_id"))
            .unwrap()
            .number("F_T_of_thermal_output");
        // At the stated gauge factor the scale of the columns is the scale of indicated strain.
        let plain = Channel::from_readings(gauge, Instrument::showing(Microstrain(1.0), GaugeFactor(stated)))
            .specimen(ExpansionPerCelsius::ppm(row.number("alpha_s_ppm_per_degC")))
            .mismatch_scale(MismatchScale::StatedGaugeFactor);
        let at = Celsius(row.number("t_degC"));
        let balance = Celsius(row.number("t_balance_degC"));
        let thermal =
            |channel: Channel| reference::Model::new(&channel).unwrap().thermal_output(at).microstrain().0;
        let near = |value: f64, expected: f64| {
            assert!((value - expected).abs() < tolerance::REFERENCE_MICROSTRAIN, "{}", row.text("case_id"));
        };
        near(thermal(plain.balanced(0.0, balance)), row.number("total_ref_balance_ue"));
        near(thermal(plain), row.number("thermal_output_ref_24_ue") + row.number("mismatch_ref_24_ue"));
    }
}

#[test]
fn indicated_strain_converts_between_gauge_factors_and_the_slope_is_per_100_degrees() {
    for row in &data("gauge_factor_conversion_cases") {
        // A strain shown at one gauge factor, corrected to a gauge that has another and no temperature.
        let gauge = Gauge::new(GaugeFactor(row.number("F2")))
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-273.0), Celsius(400.0)));
        let channel = Channel::from_readings(
            gauge,
            Instrument::showing(Microstrain(0.001), GaugeFactor(row.number("F1"))),
        );
        let steps =
            reference::Model::new(&channel).unwrap().steps(row.number("e_at_F1_ue") * 1000.0, Celsius(24.0));
        let off = steps.mechanical.microstrain().0 - row.number("e_at_F2_ue");
        assert!(off.abs() < tolerance::REFERENCE_MICROSTRAIN, "{}", row.text("case_id"));

        let sloped = Gauge::new(GaugeFactor(row.number("F_24")))
            .gauge_factor_slope(PercentPer100C(row.number("gf_slope_pct_per_100C")));
        let factor = sloped.gauge_factor_at(Celsius(row.number("t_degC")));
        assert_abs_diff_eq!(factor.0, row.number("F_at_t"), epsilon = 1e-14);
    }
}

/// The same package on a card in Fahrenheit, with the 40 digits of an exact change of variable and with
/// the six that a card would carry.
#[test]
fn fahrenheit_packages_are_the_celsius_ones() {
    for id in GAUGES {
        for degree in [4, 5] {
            let celsius = gauge(id, degree);
            let exact = gauge_in(id, degree, "degF", "exact_40_digits");
            let card = gauge_in(id, degree, "degF", "rounded_6_digits");
            for i in 0..=500 {
                let t = Celsius(-200.0 + f64::from(i));
                let expected = reference_curve(&celsius, t);
                assert_abs_diff_eq!(reference_curve(&exact, t), expected, epsilon = 1e-9);
                // The data's own statement of what six digits cost.
                assert_abs_diff_eq!(reference_curve(&card, t), expected, epsilon = 0.0175);
            }
        }
    }
}

fn reference_curve(gauge: &Gauge, t: Celsius) -> f64 {
    let channel = Channel::from_readings(*gauge, Instrument::showing(Microstrain(1.0), GaugeFactor(2.0)));
    reference::Model::new(&channel).unwrap().thermal_output(t).microstrain().0
}

/// Transverse sensitivity in the rotation of the curve, worked by hand in exact decimals:
/// (16.0 - 11.0) ppm x 100 C x (1 + 0.02) / (1 - 0.285 x 0.02) x 2.1 (1 + 1 %) / 2.0.
#[test]
fn transverse_sensitivity_scales_the_rotation() {
    let gauge = Gauge::new(GaugeFactor(2.1))
        .gauge_factor_slope(PercentPer100C(1.0))
        .matched_to(ExpansionPerCelsius::ppm(11.0))
        .transverse_sensitivity(Percent(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(200.0)));
    let channel = Channel::from_readings(gauge, Instrument::showing(Microstrain(0.01), GaugeFactor(2.0)))
        .specimen(ExpansionPerCelsius::ppm(16.0))
        .strain_within(Microstrain(2_000.0));
    let expected = 500.0 * 1.02 / 0.9943 * 2.121 / 2.0;
    let model = reference::Model::new(&channel).unwrap();
    assert_abs_diff_eq!(model.thermal_output(Celsius(124.0)).microstrain().0, expected, epsilon = 1e-9);
    // And the kernel: a zero reading is minus that, at the gauge factor of the temperature.
    let kernel: fixed::Kernel = channel.fixed();
    let at = fixed::Temperature::from_bits(124 << 20);
    let strain = kernel.reading(0, at).checked().unwrap().strain().nanostrain().0;
    let off = strain + expected * 1e3 * 2.0 / 2.121;
    assert!(off.abs() <= kernel.error_bound().reading.total.0 + tolerance::REFERENCE_NANOSTRAIN, "{off}");
}

/// An instrument on a quarter bridge that shows `4 r / F_i`: uncorrected strain stays at its gauge factor, with the
/// curvature taken out.
#[test]
fn a_linear_instrument_keeps_its_gauge_factor() {
    let gauge = Gauge::new(GaugeFactor(2.1))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    let channel = Channel::new(
        gauge,
        Bridge::quarter_ideal(Ohms(350.0)),
        Converter::linear_strain(Microstrain(0.1), GaugeFactor(2.0)),
    );
    let shown = 1000e-6;
    let r: f64 = shown * 2.0 / 4.0;
    let signal = 4.0 * r / (1.0 - 2.0 * r);
    let steps = reference::Model::new(&channel).unwrap().steps(10_000.0, Celsius(20.0));
    assert_abs_diff_eq!(steps.indicated.0, signal / 2.0, epsilon = 1e-15);
    assert_abs_diff_eq!(steps.mechanical.0, signal / 2.1, epsilon = 1e-15);
}
