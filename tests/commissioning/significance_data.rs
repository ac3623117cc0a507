//! Errors of what is left out against data computed elsewhere.

use gaugewright::channel::MismatchScale;
use gaugewright::commissioning::significance::*;
use gaugewright::units::*;
use gaugewright::*;
use support::omissions::*;
use support::*;

/// Exact rational arithmetic on the invented gauges (tests/data/end_to_end_cases.csv): each row has the whole thermal output,
/// the specimen's part, and strain before and after the gauge factor. A window of one temperature, and the row's strain
/// as the range.
#[test]
fn steps_of_the_end_to_end_cases() {
    let mut compared = [0; 3];
    for row in &data("end_to_end_cases") {
        let mechanical = row.number("e_mech_ue");
        if !(1.0..60_000.0).contains(&mechanical.abs()) {
            continue;
        }
        let celsius = |value: f64| {
            if row.text("t_unit") == "degF" { Fahrenheit(value).celsius() } else { Celsius(value) }
        };
        let gauge = gauge(row.text("gauge_id"), row.number("degree") as usize);
        let factor = row.number("F_i");
        let instrument = Instrument::showing(Microstrain(0.01), GaugeFactor(factor));
        let mut channel =
            Channel::from_readings(gauge, instrument).strain_within(Microstrain(mechanical.abs()));
        let t = celsius(row.number("t"));
        let mut since_balance = 1.0;
        if let Some(balance) = row.maybe("t_balance") {
            channel = channel.balanced(0.0, celsius(balance));
            since_balance = (t.0 - celsius(balance).0) / (t.0 - 24.0);
        }
        let mode = row.text("mismatch_mode");
        if mode != "none" {
            channel = channel
                .specimen(ExpansionPerCelsius::ppm(row.number("alpha_s_ppm_per_degC")))
                .mismatch_scale(if mode == "at_FT" {
                    MismatchScale::StatedGaugeFactor
                } else {
                    MismatchScale::GaugeFactorAtReference
                });
        }
        let significance = channel.significance(t, t).unwrap();
        let at_temperature = row.number("F_of_T");
        let of = |effect| significance.of(effect).unwrap();
        let close = |omission: Omission, expected: f64| {
            near(omission.error.0, expected, tolerance::SIGNIFICANCE_MICROSTRAIN);
            near(omission.percent.0, 100.0 * expected / mechanical.abs(), 1e-12 * expected.abs() + 1e-9);
            bracketed(&omission, 0.0);
            1
        };
        compared[0] +=
            close(of(CorrectionStep::ThermalOutput), row.number("e_to_Fi_ue") * factor / at_temperature);
        let gauge_factor = of(CorrectionStep::GaugeFactor);
        let sign = gauge_factor.strain.0.signum() * mechanical.signum();
        compared[1] += close(gauge_factor, (row.number("e_after_subtract_ue") - mechanical) * sign);
        if mode != "none" {
            let stated = data_stated(row.text("gauge_id"));
            let rotation = row.number("mismatch_at_t_ue") * since_balance * stated / at_temperature;
            compared[2] += close(of(CorrectionStep::Mismatch), rotation);
        } else {
            assert_eq!(of(CorrectionStep::Mismatch).error, Microstrain(0.0));
        }
        assert!(
            significance.of(CorrectionStep::NonLinearity).is_none()
                && significance.of(CorrectionStep::Leads).is_none()
        );
    }
    assert!(compared[0] > 2_000 && compared[2] > 500, "{compared:?}");
    println!("compared: {compared:?}");
}

/// Quarter bridges by exact rational nodal analysis (tests/data/quarter_bridge.csv): a straight line of slope `4 / F` through
/// the exact ratio is off by non-linearity and leads.
#[test]
fn straight_lines_through_exact_quarter_bridges() {
    let mut compared = 0;
    for row in &data("quarter_bridge") {
        let strain = row.number("strain1_ue");
        let number = |column| row.maybe(column).unwrap_or(0.0);
        let plain = number("drt1_ppm") == 0.0
            && row.maybe("r_in_ohm").is_none()
            && row.maybe("shunt_ohm").is_none()
            && row.text("wiring") == "3w"
            && (1.0..50_000.0).contains(&strain.abs())
            && number("ratio_ref_exact") == 0.0;
        if !plain {
            continue;
        }
        let factor = row.number("gauge_factor");
        let gauge = Gauge::new(GaugeFactor(factor))
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
        let bridge = Bridge::quarter_three_wire(Ohms(row.number("r0_ohm")), Ohms(row.number("lead_ohm")));
        let significance = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 8.0)))
            .strain_within(Microstrain(strain.abs()))
            .significance(Celsius(20.0), Celsius(20.0))
            .unwrap();
        let both = only(CorrectionStep::NonLinearity).with(CorrectionStep::Leads);
        let line = significance.together(both).unwrap();
        let off = 4e6 / factor * row.number("ratio_exact") - strain;
        // Rows in compression are off the other way, and may not be the worst of the range.
        assert!(off.abs() <= line.bound.0, "{}: {off} {line:?}", row.text("case_id"));
        if line.strain.0.signum() == strain.signum() {
            near(line.error.0, off, 1e-9 * strain.abs() + 1e-9);
            compared += 1;
        }
    }
    assert!(compared > 100, "{compared}");
}
