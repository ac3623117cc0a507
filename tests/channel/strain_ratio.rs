//! A single gauge under a load whose ratio of strains is stated: against states of strain computed elsewhere, closed forms, and
//! every circuit; and the uncertainty of the ratio.

use gaugewright::channel::{ForcedStrain, GaugeFactorBasis};
use gaugewright::error::Field;
use gaugewright::uncertainty::StandardUncertainties;
use gaugewright::units::*;
use gaugewright::*;
use support::{data, tolerance};

fn gauge(transverse: f64) -> Gauge {
    Gauge::new(GaugeFactor(2.1))
        .gauge_factor_slope(PercentPer100C(1.0))
        .transverse_sensitivity(Percent(transverse))
        .thermal_output(ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(150.0)))
}

/// Readings in a millionth of a microstrain at the gauge's own factor: a code is the indicated strain.
fn readings(gauge: Gauge) -> Channel {
    Channel::from_readings(gauge, Instrument::showing(Microstrain(1e-6), GaugeFactor(2.1)))
        .strain_within(Microstrain(5_000.0))
}

/// Of no thermal output, at the gauge's reference temperature.
fn mechanical(channel: &Channel, indicated: f64) -> f64 {
    reference::Model::new(channel).unwrap().steps(indicated * 1e12, Celsius(24.0)).mechanical.0
}

/// The grids of 621 states of strain, each as a single gauge: from what it shows, and the ratio of the strains, to the strain along
/// it. Computed with 60 digits from the definition of transverse sensitivity (`tests/data/README.md`).
#[test]
fn grids_of_computed_states() {
    let (mut seen, mut left_out) = (0, 0);
    for row in &data("rosette_cases") {
        for grid in ["a", "b", "c"] {
            let along = row.number(&format!("true_{grid}_ue"));
            let across = row.number("ex_ue") + row.number("ey_ue") - along;
            let sensitivity = row.number(&format!("kt_{grid}_pct"));
            let ratio = across / along;
            // Next to no strain along the grid, or none at all.
            if !(ratio.abs() <= 100.0 && (ratio * sensitivity).abs() <= 50.0) {
                continue;
            }
            let gauge = gauge(sensitivity).calibration_poisson_ratio(row.number("nu0"));
            let channel = readings(gauge);
            let shown = row.number(&format!("ind_{grid}_ue")) * 1e-6;
            let size = along.abs().max(across.abs()) * 1e-6;
            let found = mechanical(&channel.strain_ratio(ratio), shown);
            assert!((found - along * 1e-6).abs() <= tolerance::ROSETTE * size, "{}", row.text("case_id"));
            // The same by the gauge factor of the field.
            let by_factor = shown * 2.1 / gauge.gauge_factor_in_field(ratio).unwrap().0;
            assert!((by_factor - along * 1e-6).abs() <= tolerance::ROSETTE * size, "{}", row.text("case_id"));
            left_out += i32::from((mechanical(&channel, shown) - along * 1e-6).abs() > 1e-4 * size);
            seen += 1;
        }
    }
    // The data can tell a correction that is not made.
    assert!(seen > 1700 && left_out > 1000, "{seen} {left_out}");
}

/// Closed forms of common fields (from memory; each follows from the definition in a line), with a calibration beam of 0.285 and
/// a transverse sensitivity of 2 %.
#[test]
fn common_fields() {
    let channel = readings(gauge(2.0));
    let correction = |ratio| mechanical(&channel.strain_ratio(ratio), 1e-3) / 1e-3;
    let near = |found: f64, expected: f64| assert!((found - expected).abs() < 1e-12, "{found} {expected}");
    // Along a bar of the calibration beam's Poisson ratio there is nothing to correct.
    near(correction(-0.285), 1.0);
    // Along a bar of 0.33; across it; under equal strain in both directions; in pure shear.
    near(correction(-0.33), 0.9943 / 0.9934);
    near(correction(-1.0 / 0.33), 0.9943 / (1.0 - 0.02 / 0.33));
    near(correction(1.0), 0.9943 / 1.02);
    near(correction(-1.0), 0.9943 / 0.98);
    // Of no transverse sensitivity no ratio changes a thing.
    for ratio in [-100.0, -0.3, 0.0, 100.0] {
        let found = mechanical(&readings(gauge(0.0)).strain_ratio(ratio), 1e-3);
        assert_eq!(found, mechanical(&readings(gauge(0.0)), 1e-3));
    }
}

/// The bridges with axial and transverse gauges in closed form: what four gauges show in uniaxial stress. Thermal output and
/// indicated strain are left as they are, whatever the ratio.
#[test]
fn circuits_and_what_is_not_corrected() {
    let (kt, nu, e) = (0.02, 0.3, 1e-3);
    let converter = Converter::bipolar(24, Ratio(1.0 / 64.0));
    // Relative changes of the gauges along and across.
    let response = |along: f64, across: f64| 2.1 * (along + kt * across) / (1.0 - 0.285 * kt);
    let (one, two) = (response(e, -nu * e), response(-nu * e, e));
    let ratio = |a: [f64; 4]| a[0] / (a[0] + a[1]) - a[3] / (a[2] + a[3]);
    for (bridge, arms) in [
        (Bridge::half_poisson(Ohms(350.0), Ohms(0.0), nu), [1.0 + one, 1.0 + two, 1.0, 1.0]),
        (Bridge::full_poisson(Ohms(350.0), nu), [1.0 + one, 1.0 + two, 1.0 + one, 1.0 + two]),
    ] {
        let channel = Channel::new(gauge(2.0), bridge, converter);
        let code = ratio(arms) * 64.0 * f64::from(1 << 23);
        let strain = |channel: &Channel| {
            reference::Model::new(channel).unwrap().steps(code, Celsius(24.0)).mechanical.0
        };
        let off = strain(&channel.strain_ratio(-nu)) - e;
        assert!(off.abs() < 1e-13, "{off}");
        // Without the ratio it is 1.4 % off, K_t (1 - nu_0) nearly; the bridge bends by some 1e-5.
        assert!((strain(&channel) / e - (1.0 - 0.02) / 0.9943).abs() < 5e-5, "{}", strain(&channel) / e);
    }

    let channel = Channel::new(gauge(2.0), Bridge::quarter_ideal(Ohms(350.0)), converter);
    let biaxial = channel.strain_ratio(1.0);
    let steps = |channel: &Channel| reference::Model::new(channel).unwrap().steps(123_456.0, Celsius(100.0));
    let (plain, corrected) = (steps(&channel), steps(&biaxial));
    assert_eq!(plain.indicated, corrected.indicated);
    assert_eq!(plain.thermal_output, corrected.thermal_output);
    assert!((corrected.mechanical.0 / plain.mechanical.0 - 0.9943 / 1.02).abs() < 1e-12);
    for correction in [Correction::None, Correction::ThermalOutput] {
        let kernel = |channel: Channel| channel.correction(correction).try_fixed::<4, 1, 0>().unwrap();
        assert_eq!(kernel(channel), kernel(biaxial));
    }
    // A record tells the two apart.
    #[cfg(feature = "record")]
    assert_ne!(channel.description_hash(), biaxial.description_hash());
}

/// The stated derivatives against differences of the reference model, in a quarter bridge and in one with gauges across; and the
/// sum of squares.
#[test]
fn uncertainty_of_the_ratio() {
    let converter = Converter::bipolar(24, Ratio(1.0 / 64.0));
    let quarter = |kt: f64, ratio: f64| {
        let gauge = gauge(kt).gauge_factor_basis(GaugeFactorBasis::UnloadedGauge);
        Channel::new(gauge, Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0)), converter).strain_ratio(ratio)
    };
    let poisson = |kt: f64| {
        let bridge = Bridge::full_poisson(Ohms(350.0), 0.3);
        Channel::new(gauge(kt), bridge, converter).strain_ratio(-0.3)
    };
    let of = |channel: Channel| {
        reference::Model::new(&channel).unwrap().steps(100_000.0, Celsius(24.0)).mechanical.0
    };
    let slope =
        |low: Channel, high: Channel, apart: f64| 2.0 * (of(high) - of(low)) / (of(high) + of(low)) / apart;
    for ratio in [-3.0, -0.3, 0.4, 1.0] {
        let by_ratio = slope(quarter(1.5, ratio - 1e-3), quarter(1.5, ratio + 1e-3), 2e-3);
        let by_kt = slope(quarter(1.499, ratio), quarter(1.501, ratio), 0.002);
        let stated = |of_ratio, of_kt| {
            gauge(1.5).strain_ratio_uncertainty(ratio, of_ratio, Percent(of_kt)).unwrap().0 / 100.0
        };
        assert!((stated(0.1, 0.0) - 0.1 * by_ratio.abs()).abs() < 1e-8);
        assert!((stated(0.0, 0.2) - 0.2 * by_kt.abs()).abs() < 1e-8);
        assert!((stated(0.1, 0.2) - (0.1 * by_ratio).hypot(0.2 * by_kt)).abs() < 1e-8);
    }
    // Of the sensitivity with gauges across, as of a ratio of -1. The bridge bends, by a thousandth of the effect.
    let by_kt = slope(poisson(1.499), poisson(1.501), 0.002);
    let stated = gauge(1.5).strain_ratio_uncertainty(-1.0, 0.0, Percent(0.2)).unwrap().0 / 100.0;
    assert!((stated / (0.2 * by_kt.abs()) - 1.0).abs() < 2e-3, "{stated} {by_kt}");
}

/// The last ratio that is stated counts, and minus the Poisson ratio of the calibration beam is as good as none.
#[test]
fn a_ratio_that_is_stated_again() {
    let channel = readings(gauge(2.0));
    let of = |channel: &Channel| mechanical(channel, 1e-3);
    let near = |one: &Channel, other: &Channel| assert!((of(one) / of(other) - 1.0).abs() < 1e-15);
    near(&channel.strain_ratio(-3.0).strain_ratio(1.0), &channel.strain_ratio(1.0));
    near(&channel.strain_ratio(1.0).strain_ratio(-0.285), &channel);
    let bridge = Bridge::half_poisson(Ohms(350.0), Ohms(1.0), 0.3);
    let half = Channel::new(gauge(2.0), bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
    assert!(half.strain_ratio(-0.3).check().is_ok());
    assert_eq!(half.strain_ratio(-0.3).strain_ratio(-0.3), half.strain_ratio(-0.3));
    // One that was refused is not made good by another.
    assert!(half.strain_ratio(-0.31).strain_ratio(-0.3).check().is_err());
}

/// With gauges across, an error has the Poisson ratio that was stated, whatever the transverse sensitivity makes of it.
#[test]
fn poisson_ratios_of_errors() {
    let half = |nu: f64| {
        let bridge = Bridge::half_poisson(Ohms(350.0), Ohms(1.0), nu);
        Channel::new(gauge(2.0), bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)))
    };
    // Grids across a specimen of almost no Poisson ratio answer as if it were below 0, and beyond 0.5 under grids of less than 0.
    assert_eq!(half(0.01).strain_ratio(-0.01).check(), Ok(()));
    let bridge = Bridge::full_poisson(Ohms(350.0), 0.5);
    let full = Channel::new(gauge(-2.0), bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
    assert_eq!(full.strain_ratio(-0.5).check(), Ok(()));
    let not_the_bridges = Error::Invalid { field: Field::StrainRatio, value: -0.31, low: -0.3, high: -0.3 };
    assert_eq!(half(0.3).strain_ratio(-0.31).check(), Err(not_the_bridges));
    assert_eq!(half(0.3).strain_ratio(-0.3).strain_ratio(-0.31).check(), Err(not_the_bridges));
    let not_a_specimen = |value| Error::Invalid { field: Field::PoissonRatio, value, low: 0.0, high: 0.5 };
    for nu in [-0.01, 0.51] {
        assert_eq!(half(nu).check(), Err(not_a_specimen(nu)));
        assert_eq!(half(nu).strain_ratio(-nu).check(), Err(not_a_specimen(nu)));
    }
}

/// A budget of a channel with a stated ratio against differences of the reference model, whatever the gauge factor refers to: the
/// effects of temperature, of the gauge factor and its slope. A sensitivity of 10 % and a ratio of 4 make wrong factors plain.
#[test]
fn budgets_under_a_stated_ratio() {
    let expansion = ExpansionPerCelsius::ppm;
    for basis in [
        GaugeFactorBasis::AtBalance,
        GaugeFactorBasis::UnloadedGauge,
        GaugeFactorBasis::FreeFoil(ForcedStrain::by_expansion(expansion(14.7), expansion(23.1))),
    ] {
        let channel = |factor: f64, slope: f64| {
            let gauge = Gauge::new(GaugeFactor(factor))
                .gauge_factor_slope(PercentPer100C(slope))
                .transverse_sensitivity(Percent(10.0))
                .gauge_factor_basis(basis)
                .matched_to(expansion(11.0))
                .thermal_output(
                    ThermalOutput::celsius([-240.0, 10.0]).between(Celsius(-50.0), Celsius(150.0)),
                );
            Channel::from_readings(gauge, Instrument::showing(Microstrain(1.0), GaugeFactor(2.0)))
                .specimen(expansion(16.0))
                .balanced(120.0, Celsius(20.0))
                .strain_ratio(4.0)
                .strain_within(Microstrain(5_000.0))
        };
        let (plain, hot) = (channel(2.1, 1.0), Celsius(110.0));
        let of = |channel: Channel, code, t: f64| {
            reference::Model::new(&channel).unwrap().steps(code, Celsius(t)).mechanical.microstrain().0
        };
        let code = reference::Model::new(&plain).unwrap().code_for(Microstrain(2_000.0).strain(), hot);
        assert!((of(plain, code, hot.0) - 2_000.0).abs() < 1e-6);
        let budget =
            |inputs: StandardUncertainties| inputs.budget(Microstrain(2_000.0), hot).unwrap().combined().0;
        let inputs = StandardUncertainties::for_channel(plain).quantisation(0.0);
        for (stated, difference) in [
            (
                budget(inputs.of_temperature(Celsius(0.5))),
                (of(plain, code, hot.0 + 0.5) - of(plain, code, hot.0 - 0.5)) / 2.0,
            ),
            (
                budget(inputs.of_gauge_factor(Percent(0.5))),
                (of(channel(2.1 * 1.005, 1.0), code, hot.0) - of(channel(2.1 * 0.995, 1.0), code, hot.0))
                    / 2.0,
            ),
            (
                budget(inputs.of_gauge_factor_slope(PercentPer100C(0.1))),
                (of(channel(2.1, 1.1), code, hot.0) - of(channel(2.1, 0.9), code, hot.0)) / 2.0,
            ),
        ] {
            assert!((stated / difference.abs() - 1.0).abs() < 1e-4, "{basis:?}: {stated} {difference}");
        }
    }
}
