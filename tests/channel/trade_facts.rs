//! What anyone who bonds gauges expects to see. Each is common practice, no source, unless it names one.

use approx::assert_abs_diff_eq;
use gaugewright::units::*;
use gaugewright::*;
use support::*;

fn indicated_thermal(channel: &Channel, celsius: f64) -> f64 {
    reference::Model::new(channel).unwrap().thermal_output(Celsius(celsius)).microstrain().0
}

/// The thermal output that a fixed-point kernel takes off a reading that does not move.
fn corrected_zero(channel: &Channel, celsius: f64) -> f64 {
    let kernel: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
    let t = fixed::Temperature::from_celsius(Celsius(celsius)).unwrap();
    kernel.reading(0, t).checked().unwrap().strain().microstrain().0
}

fn matched(id: &str) -> Channel {
    let bridge = Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0));
    Channel::new(gauge(id, 4), bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)))
        .strain_within(Microstrain(20_000.0))
}

const CONSTANTAN_LIKE: [&str; 4] =
    ["gauge_on_steel", "gauge_on_austenitic", "gauge_on_aluminium", "gauge_on_titanium"];

#[test]
fn a_matched_gauge_is_near_zero_at_room_temperature_negative_above_and_far_off_at_the_extremes() {
    for id in CONSTANTAN_LIKE {
        let channel = matched(id);
        for t in 10..=38 {
            assert!(indicated_thermal(&channel, f64::from(t)).abs() < 25.0, "{id} at {t}");
        }
        assert!(indicated_thermal(&channel, 80.0) < -50.0, "{id}");
        // Turning positive again further up, and growing.
        assert!(indicated_thermal(&channel, 300.0) > 200.0, "{id}");
        assert!(indicated_thermal(&channel, -100.0) < -500.0, "{id}");
        assert!(indicated_thermal(&channel, -200.0) < -2_000.0, "{id}");
    }
}

#[test]
fn subtracting_thermal_output_raises_a_reading_taken_in_the_cold() {
    for id in CONSTANTAN_LIKE {
        assert!(corrected_zero(&matched(id), -80.0) > 300.0, "{id}");
        assert!(corrected_zero(&matched(id), 24.0).abs() < 1.0, "{id}");
    }
}

/// A specimen that expands less than the gauge is matched to turns the curve clockwise (lower when hot,
/// higher when cold), one that expands more, counter-clockwise.
#[test]
fn mismatch_turns_the_curve_about_the_reference_temperature() {
    let matched = matched("gauge_on_steel"); // 11 ppm/C
    let less = matched.specimen(ExpansionPerCelsius::ppm(9.0));
    let more = matched.specimen(ExpansionPerCelsius::ppm(16.0));
    for t in [-150.0, -50.0, 100.0, 250.0] {
        let (low, plain, high) =
            (indicated_thermal(&less, t), indicated_thermal(&matched, t), indicated_thermal(&more, t));
        if t > 24.0 {
            assert!(low < plain && plain < high, "at {t}");
        } else {
            assert!(low > plain && plain > high, "at {t}");
        }
        // The kernels see the same.
        assert!((corrected_zero(&less, t) < corrected_zero(&more, t)) == (t < 24.0));
    }
    for channel in [&less, &more] {
        assert_abs_diff_eq!(
            indicated_thermal(channel, 24.0),
            indicated_thermal(&matched, 24.0),
            epsilon = 1e-9
        );
    }
    // By how much: the difference of expansions times the distance from the reference, at a gauge factor
    // that has hardly changed.
    let turned = indicated_thermal(&more, 124.0) - indicated_thermal(&matched, 124.0);
    assert_abs_diff_eq!(turned, 500.0, epsilon = 10.0);
}

/// Deliberate mismatch flattens the curve at a temperature extreme: on a part that expands less than the
/// gauge is matched to, the steep cold end lies down.
#[test]
fn deliberate_mismatch_flattens_the_cold_end() {
    let curve = gauge("gauge_on_steel", 4).thermal_output_slope(-180.0);
    let steep = matched("gauge_on_steel");
    // The slope there, in the scale of expansion: 2.0 is the gauge factor the curve is stated for.
    let factor = gauge("gauge_on_steel", 4).gauge_factor_at(Celsius(-180.0)).0;
    let flat = steep.specimen(ExpansionPerCelsius::ppm(11.0 - curve * 2.0 / factor));
    let span = |channel: &Channel| indicated_thermal(channel, -170.0) - indicated_thermal(channel, -190.0);
    assert!(span(&steep).abs() > 500.0, "{}", span(&steep));
    assert!(span(&flat).abs() < span(&steep).abs() / 10.0, "{} of {}", span(&flat), span(&steep));
}

trait Slope {
    fn thermal_output_slope(&self, celsius: f64) -> f64;
}

impl Slope for Gauge {
    /// From two readings a hundredth of a degree apart, as one would measure it.
    fn thermal_output_slope(&self, celsius: f64) -> f64 {
        let channel = Channel::from_readings(*self, Instrument::showing(Microstrain(1.0), GaugeFactor(2.0)));
        (indicated_thermal(&channel, celsius + 0.005) - indicated_thermal(&channel, celsius - 0.005)) / 0.01
    }
}

/// Constantan rises, nickel-chromium falls, by 1 to 2.5 % over the working range.
#[test]
fn gauge_factor_goes_the_way_of_its_alloy() {
    for id in GAUGES {
        let gauge = gauge(id, 4);
        let change = gauge.gauge_factor_at(Celsius(150.0)).0 / gauge.gauge_factor_at(Celsius(-50.0)).0 - 1.0;
        let percent = 100.0 * if id == "gauge_nickel_chromium" { -change } else { change };
        assert!((1.0..=2.5).contains(&percent), "{id}: {percent} %");
    }
}

/// A quarter bridge reads low in tension by about `F e / 2`: a tenth of a percent per 1000 microstrain at a
/// gauge factor of two. Closed form `e_shown / e = 2 / (2 + F e)` from the voltage divider; the rule of a
/// tenth is common practice, no source.
#[test]
fn quarter_bridge_non_linearity_is_a_tenth_of_a_percent_per_thousand_microstrain() {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    let step = Microstrain(0.01);
    let shown = Channel::new(
        gauge,
        Bridge::quarter_ideal(Ohms(120.0)),
        Converter::linear_strain(step, GaugeFactor(2.0)),
    )
    .strain_within(Microstrain(11_000.0));
    let kernel: fixed::Kernel = shown.try_fixed().unwrap();
    let bound = kernel.error_bound().reading.total.0;
    for e in [-10_000.0, -1_000.0, 1_000.0, 10_000.0f64] {
        let linear = e * 2.0 / (2.0 + 2.0 * e * 1e-6);
        assert!(((e - linear) / e * 100.0 - e * 1e-4).abs() < 0.011, "{e} shows as {linear}");
        let reading =
            kernel.reading((linear * 100.0).round() as i32, fixed::Temperature::from_bits(20 << 20));
        let off = reading.checked().unwrap().strain().nanostrain().0 - e * 1e3;
        // Half a count of the instrument and the slope of the curve.
        assert!(off.abs() < 5.0 * 1.03 + bound, "{off}");
    }
}

/// Three leads desensitise by `R_L / R`, two by twice that.
#[test]
fn leads_desensitise() {
    for (bridge, expected) in [
        (Bridge::quarter_three_wire(Ohms(120.0), Ohms(1.2)), 0.01),
        (Bridge::quarter_two_wire(Ohms(120.0), Ohms(1.2)), 0.02),
    ] {
        assert_abs_diff_eq!(bridge.lead_desensitisation(), expected, epsilon = 1e-15);
        let gauge = Gauge::new(GaugeFactor(2.0))
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
        let strain = |bridge| {
            let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 128.0)));
            let kernel: fixed::Kernel = channel.try_fixed().unwrap();
            kernel.reading(1_000_000, fixed::Temperature::from_bits(0)).strain.strain().0
        };
        let ratio = strain(bridge) / strain(Bridge::quarter_ideal(Ohms(120.0)));
        assert!((ratio - 1.0 - expected).abs() < 1e-6, "{ratio}");
    }
}

/// Every package of the data, declared in the scale that it is in and in the other one.
#[test]
fn a_curve_declared_in_the_wrong_scale_is_noticed() {
    for id in support::GAUGES {
        for (degree, unit, form) in [4, 5]
            .into_iter()
            .flat_map(|degree| [(degree, "degC", "exact"), (degree, "degF", "rounded_6_digits")])
        {
            let package = support::set::package(id, degree, unit, form);
            let declared = |fahrenheit| {
                let make =
                    if fahrenheit { ThermalOutput::fahrenheit_from } else { ThermalOutput::celsius_from };
                let curve = make(&package.curve).between(Celsius(-200.0), Celsius(300.0));
                Gauge::new(GaugeFactor(2.0)).thermal_output(curve)
            };
            assert_eq!(declared(package.fahrenheit).curve_offset(), None, "{id}");
            let noticed = declared(!package.fahrenheit).curve_offset().expect(id);
            assert_eq!(noticed.is_fahrenheit, !package.fahrenheit);
            assert!(
                noticed.thermal_output.0.abs() > 10.0 && noticed.in_other_scale.0.abs() < 0.1,
                "{noticed}"
            );
            let right =
                if package.fahrenheit { "in Fahrenheit it would be 0." } else { "in Celsius it would be 0." };
            assert!(noticed.to_string().contains(right), "{noticed}");
        }
    }
    // Neither scale makes it zero; and nothing is known where the curve does not reach.
    let lifted = ThermalOutput::celsius([500.0]);
    let gauge = Gauge::new(GaugeFactor(2.0));
    let noticed = gauge.thermal_output(lifted.between(Celsius(0.0), Celsius(50.0))).curve_offset().unwrap();
    assert!(
        noticed.to_string().ends_with("; check the coefficients, their unit and the reference temperature")
    );
    let cold = gauge.thermal_output(lifted.between(Celsius(-200.0), Celsius(-50.0)));
    assert_eq!((cold.curve_offset(), gauge.curve_offset()), (None, None));
}
