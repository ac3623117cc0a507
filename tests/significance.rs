//! What leaving out each step costs: by hand on straight curves, by brute force through the network model, against data
//! computed elsewhere, facts of the trade, and properties of random channels.

mod common;

use common::described::Origin;
use common::*;
use gaugewright::significance::*;
use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;

/// One set of one.
fn only(effect: Effect) -> Effects {
    Effects::NONE.with(effect)
}

/// What is found and the bound are as near to each other as promised.
#[track_caller]
fn bracketed(omission: &Omission, circuit: f64) {
    let error = omission.error.0.abs();
    let promised = error * 1.01 + 1e-3 + circuit;
    assert!(error <= omission.bound.0 && omission.bound.0 <= promised, "{omission:?}");
}

#[track_caller]
fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} for {expected}");
}

/// A gauge factor of 2 that rises by one percent in 100 degrees, a thermal output of one microstrain a degree, as much
/// again of mismatch, and leads of a hundredth of the gauge.
fn straight() -> Channel {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .gauge_factor_slope(PercentPer100C(1.0))
        .matched_to(ExpansionPerCelsius::ppm(11.0))
        .thermal_output(ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-100.0), Celsius(200.0)));
    Channel::new(
        gauge,
        Bridge::quarter_three_wire(Ohms(120.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(0.02)),
    )
    .specimen(ExpansionPerCelsius::ppm(12.0))
    .mismatch_scale(MismatchScale::GaugeFactorAtReference)
    .strain_within(Microstrain(1_000.0))
}

/// At 84 C: signals of 60 x 2 of the package and as much of the specimen, and 1000 x 2.012 of the load.
#[test]
fn straight_curves_by_hand() {
    let significance = straight().significance(Celsius(20.0), Celsius(84.0)).unwrap();
    let of = |effect| significance.of(effect).unwrap();
    let signal: f64 = (1_000.0 * 2.012 + 240.0) * 1e-6;
    for (effect, expected) in [
        (Effect::ThermalOutput, 240.0 / 2.012),
        (Effect::Mismatch, 120.0 / 2.012),
        (Effect::GaugeFactor, 6.0),
        // On leads of a hundredth a signal bends the bridge by that much less.
        (Effect::NonLinearity, -signal * signal / 2.02 / (1.0 + signal / 2.02) / 2.012 * 1e6),
        (Effect::Leads, -signal * 0.01 / 1.01 / 2.012 * 1e6),
    ] {
        let omission = of(effect);
        near(omission.error.0, expected, 1e-9);
        near(omission.percent.0, expected / 10.0, 1e-10);
        assert_eq!(omission.temperature, Celsius(84.0), "{effect}");
        near(omission.strain.0, 1_000.0, 1e-9);
        bracketed(&omission, 0.0);
    }
    // In the cold thermal output is negative, and it is compression that adds to it.
    let cold = straight().significance(Celsius(-96.0), Celsius(24.0)).unwrap();
    let leads = cold.of(Effect::Leads).unwrap();
    let factor = 2.0 * (1.0 - 0.012);
    near(leads.error.0, (1_000.0 * factor + 480.0) * 0.01 / 1.01 / factor, 1e-9);
    near(leads.strain.0, -1_000.0, 1e-9);
    near(cold.of(Effect::GaugeFactor).unwrap().error.0, -12.0, 1e-9);
    near(cold.of(Effect::ThermalOutput).unwrap().error.0, -480.0 / factor, 1e-9);
    near(significance.reading().0, 1_000.0, 1e-9);

    // Balanced at 64 C, counted from there.
    let balanced = straight().balanced(0.0, Celsius(64.0));
    let from_there = balanced.significance(Celsius(64.0), Celsius(84.0)).unwrap();
    near(from_there.of(Effect::ThermalOutput).unwrap().error.0, 80.0 / 2.012, 1e-9);
    near(from_there.of(Effect::Mismatch).unwrap().error.0, 40.0 / 2.012, 1e-9);
}

/// A parabola with its top inside the window, and one bent so that the largest error of gauge factor and thermal output
/// together is inside the strain range too.
#[test]
fn extremes_inside() {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([-12.8, 0.8, -0.01]).between(Celsius(-50.0), Celsius(90.0)));
    let channel = |lead| {
        Channel::new(
            gauge,
            Bridge::quarter_two_wire(Ohms(120.0), Ohms(lead)),
            Converter::bipolar(24, Ratio(0.02)),
        )
        .strain_within(Microstrain(20_000.0))
    };
    let significance = channel(0.0).significance(Celsius(10.0), Celsius(70.0)).unwrap();
    let thermal_output = significance.of(Effect::ThermalOutput).unwrap();
    near(thermal_output.error.0, -5.8, 1e-9);
    let top = channel(0.0).significance(Celsius(20.0), Celsius(60.0)).unwrap();
    let thermal_output = top.of(Effect::ThermalOutput).unwrap();
    near(thermal_output.error.0, 3.2, 1e-9);
    near(thermal_output.temperature.0, 40.0, 1e-6);
    bracketed(&thermal_output, 0.0);

    // An instrument set 0.5 % too low: of tension it shows that much more, and of the straight line taken for the bridge
    // less, so that the two turn about where the bend has used up the half percent.
    let set = channel(0.0).instrument_gauge_factor(GaugeFactor(2.0 / 1.005));
    let significance = set.significance(Celsius(40.0), Celsius(40.0)).unwrap();
    let shown = |e: f64| {
        let signal = 2.0 * (e + 3.2e-6);
        1.005 * signal / (1.0 + signal / 2.0) / 2.0 - e
    };
    let both = only(Effect::GaugeFactor).with(Effect::NonLinearity);
    let compressed = significance.together(both).unwrap();
    near(compressed.strain.0, -20_000.0, 1e-9);
    near(compressed.error.0, (shown(-0.02) - 1.005 * 3.2e-6) * 1e6, 1e-9);
    bracketed(&compressed, 0.0);
}

/// Where thermal output is left out too, and large, the error is largest inside the strain range.
#[test]
fn level_inside_the_strain_range() {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([100.0]).between(Celsius(0.0), Celsius(50.0)));
    let channel =
        Channel::new(gauge, Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.02)))
            .instrument_gauge_factor(GaugeFactor(2.0 / 1.005))
            .strain_within(Microstrain(3_000.0));
    let set = only(Effect::GaugeFactor).with(Effect::NonLinearity).with(Effect::ThermalOutput);
    let omission = channel.significance(Celsius(0.0), Celsius(50.0)).unwrap().together(set).unwrap();
    let signal = 2.0 * (1.005f64.sqrt() - 1.0);
    let strain = signal / 2.0 - 100e-6;
    near(omission.strain.0, strain * 1e6, 1e-6);
    near(omission.error.0, (1.005 * signal / (1.0 + signal / 2.0) / 2.0 - strain) * 1e6, 1e-9);
    assert!(strain < 0.002_9 && omission.error.0 > 106.0);
    bracketed(&omission, 0.0);
}

/// The error of leaving an effect out, through codes and the network of the model.
struct Brute {
    whole: reference::Model,
    package_alone: reference::Model,
    no_leads: Option<reference::Model>,
    instrument_factor: f64,
    /// Code at balance and codes for a unit of indicated strain there.
    line: (f64, f64),
}

impl Brute {
    fn of(
        make: impl Fn(Bridge, bool) -> Channel,
        bridge: Bridge,
        instrument_factor: f64,
        balance: f64,
    ) -> Self {
        let whole = reference::Model::new(&make(bridge, true)).unwrap();
        let at = |code: f64| whole.steps(code, Celsius(20.0)).indicated.0;
        let step = 1e4;
        let slope = (at(balance + step) - at(balance - step)) / (2.0 * step);
        Self {
            whole,
            package_alone: reference::Model::new(&make(bridge, false)).unwrap(),
            no_leads: reference::Model::new(&make(bridge.leads(Ohms(0.0)).output_leads(Ohms(0.0)), true))
                .ok(),
            instrument_factor,
            line: (balance, slope),
        }
    }

    fn error(&self, effect: Effect, strain: f64, t: Celsius) -> f64 {
        let code = self.whole.code_for(Strain(strain), t);
        let steps = self.whole.steps(code, t);
        let scale = self.instrument_factor / steps.gauge_factor.0;
        let computed = match effect {
            Effect::ThermalOutput => steps.indicated.0 * scale,
            Effect::Mismatch => self.package_alone.steps(code, t).mechanical.0,
            Effect::GaugeFactor => steps.indicated.0 - steps.thermal_output.0,
            Effect::NonLinearity => ((code - self.line.0) * self.line.1 - steps.thermal_output.0) * scale,
            Effect::Leads => self.no_leads.as_ref().unwrap().steps(code, t).mechanical.0,
        };
        (computed - strain) * 1e6
    }
}

/// Every circuit, with leads, unbalance, a specimen and an instrument's factor of its own, on a grid of strain and
/// temperature. What the grid sees has to lie below the bound and not above what was found.
#[test]
fn brute_force_through_the_network() {
    let quarters = [
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(4.0)),
        Bridge::quarter_two_wire(Ohms(120.0), Ohms(0.7)).reversed(),
        Bridge::quarter_three_wire(Ohms(120.0), Ohms(1.0))
            .completion(Ohms(121.0))
            .input_resistance(Ohms(2e4)),
    ];
    let mut largest = 0.0f64;
    for (k, bridge) in bridges().into_iter().chain(quarters).enumerate() {
        let id = GAUGES[k % GAUGES.len()];
        let balance = 54_321.5;
        let make = |bridge: Bridge, rotated: bool| {
            let channel = Channel::new(gauge(id, 4), bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)))
                .balanced(balance, Celsius(20.0))
                .instrument_gauge_factor(GaugeFactor(2.03))
                .temperature_within(Celsius(-150.0), Celsius(250.0))
                .strain_within(Microstrain(3_000.0));
            if rotated { channel.specimen(ExpansionPerCelsius::ppm(12.5)) } else { channel }
        };
        let channel = make(bridge, true);
        let circuit = 4.0 * channel.circuit_error().unwrap().microstrain().0;
        let brute = Brute::of(make, bridge, 2.03, balance);
        for (low, high) in [(-150.0, 250.0), (15.0, 35.0)] {
            let significance = channel.significance(Celsius(low), Celsius(high)).unwrap();
            for effect in Effect::ALL {
                let omission = significance.of(effect).unwrap();
                bracketed(&omission, circuit);
                let here = brute.error(effect, omission.strain.0 * 1e-6, omission.temperature);
                near(omission.error.0, here, 1e-5 + circuit);
                for i in 0..=80 {
                    for j in -10..=10 {
                        let t = Celsius(low + (high - low) * f64::from(i) / 80.0);
                        let error = brute.error(effect, f64::from(j) * 3e-4, t).abs();
                        largest = largest.max(error);
                        assert!(
                            error <= omission.bound.0 + 1e-5,
                            "{bridge:?} {effect} {j} {t}: {error} {omission:?}"
                        );
                        assert!(
                            error <= omission.error.0.abs() + 1e-5 + circuit,
                            "{bridge:?} {effect} {j} {t}"
                        );
                    }
                }
            }
        }
    }
    assert!(largest > 1_000.0, "{largest}");
}

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
        compared[0] += close(of(Effect::ThermalOutput), row.number("e_to_Fi_ue") * factor / at_temperature);
        let gauge_factor = of(Effect::GaugeFactor);
        let sign = gauge_factor.strain.0.signum() * mechanical.signum();
        compared[1] += close(gauge_factor, (row.number("e_after_subtract_ue") - mechanical) * sign);
        if mode != "none" {
            let stated = data_stated(row.text("gauge_id"));
            let rotation = row.number("mismatch_at_t_ue") * since_balance * stated / at_temperature;
            compared[2] += close(of(Effect::Mismatch), rotation);
        } else {
            assert_eq!(of(Effect::Mismatch).error, Microstrain(0.0));
        }
        assert!(significance.of(Effect::NonLinearity).is_none() && significance.of(Effect::Leads).is_none());
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
        let both = only(Effect::NonLinearity).with(Effect::Leads);
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

/// Common practice, no source.
#[test]
fn facts_of_the_trade() {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([-48.0, 2.0]).between(Celsius(0.0), Celsius(50.0)));
    let significance = |bridge: Bridge, limit: f64| {
        Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 16.0)))
            .strain_within(Microstrain(limit))
            .significance(Celsius(24.0), Celsius(24.0))
            .unwrap()
    };
    let ohms = Ohms(350.0);
    let percent = |bridge, limit, effect| significance(bridge, limit).of(effect).unwrap().percent.0;
    // A quarter bridge bends by 0.1 % for every 1000 microstrain, and reads low in tension.
    for thousands in [1.0, 2.0, 5.0, 10.0] {
        let bend = percent(Bridge::quarter_ideal(ohms), thousands * 1_000.0, Effect::NonLinearity);
        near(bend, -0.1 * thousands, 0.0015 * thousands * thousands);
    }
    // Two gauges bending against each other, and four, are straight.
    for bridge in [Bridge::half_bending(ohms, Ohms(0.0)), Bridge::full_bending(ohms)] {
        near(percent(bridge, 5_000.0, Effect::NonLinearity), 0.0, 1e-9);
    }
    // Three leads take one lead over the gauge, two leads take two, sensed excitation nothing.
    near(percent(Bridge::quarter_three_wire(ohms, Ohms(3.5)), 100.0, Effect::Leads), -1.0 / 1.01, 1e-3);
    near(percent(Bridge::quarter_two_wire(ohms, Ohms(3.5)), 100.0, Effect::Leads), -2.0 / 1.02, 1e-3);
    let full = Bridge::full_bending(ohms).leads(Ohms(3.5));
    near(percent(full, 100.0, Effect::Leads), -2.0 / 1.02, 1e-3);
    near(percent(full.remote_sense(), 100.0, Effect::Leads), 0.0, 1e-9);
    // Thermal output cancels in half and full bridges.
    for bridge in [Bridge::half_compensated(ohms, Ohms(1.0)), Bridge::full_poisson(ohms, 0.3)] {
        let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 16.0)))
            .strain_within(Microstrain(1_000.0));
        let thermal_output = channel.significance(Celsius(0.0), Celsius(50.0)).unwrap();
        assert_eq!(thermal_output.of(Effect::ThermalOutput).unwrap().error.0, 0.0);
    }
}

/// Near room temperature some may be left out of a matched gauge's correction, at the extremes none.
#[test]
fn near_room_temperature_some_at_the_extremes_none() {
    for id in ["gauge_on_steel", "gauge_on_austenitic", "gauge_on_aluminium", "gauge_on_titanium"] {
        let channel = Channel::new(
            gauge(id, 4),
            Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
            Converter::bipolar(24, Ratio(1.0 / 64.0)),
        )
        .specimen(ExpansionPerCelsius::ppm(13.0))
        .balanced(0.0, Celsius(24.0))
        .strain_within(Microstrain(1_000.0));
        let may = |low, high| {
            let significance = channel.significance(Celsius(low), Celsius(high)).unwrap();
            for effect in Effect::ALL {
                println!("{id} {low} to {high}, {effect}: {:?}", significance.of(effect).unwrap());
            }
            significance.left_out_within(Microstrain(5.0)).unwrap()
        };
        let room = may(15.0, 35.0);
        assert!(room.effects.count() >= 2, "{id} {room:?}");
        assert_eq!(may(-150.0, 250.0).effects, Effects::NONE, "{id}");
    }
}

fn share() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), Just(1.0), 0.0..=1.0f64]
}

/// Random channels and windows: found and bound bracket the truth, samples by the model stay below the bound, a narrower
/// window is never worse, and what may be left out keeps what is allowed.
#[test]
fn random_channels() {
    let counted = std::cell::Cell::new(0);
    let inputs = (
        recipe::description(),
        100.0..20_000.0f64,
        (share(), share()),
        prop::collection::vec((share(), share()), 12),
        0.0..200.0f64,
    );
    recipe::check("significance", 150, inputs, |(described, limit, window, points, allowed)| {
        let channel = described.channel().strain_within(Microstrain(limit));
        let (low, high) = channel.temperatures();
        let at = |share: f64| Celsius((low.0 + (high.0 - low.0) * share).min(high.0));
        let (a, b) = (at(window.0.min(window.1)), at(window.0.max(window.1)));
        let (whole, part) = match (channel.significance(low, high), channel.significance(a, b)) {
            (Ok(whole), Ok(part)) => (whole, part),
            (Err(Error::Overflow { .. }), _)
            | (Err(Error::Invalid { field: Field::BalanceRatio | Field::GaugeFactorCurve, .. }), _) => {
                return Ok(());
            }
            (Err(other), _) | (_, Err(other)) => return Err(TestCaseError::fail(format!("{other}"))),
        };
        // Of these the map is exact, so that nothing but the search and the pieces is between the two.
        let exact = match &described.origin {
            Origin::Codes(wired, ..) => {
                let one_half = matches!(
                    wired.circuit,
                    Circuit::Quarter | Circuit::HalfCompensated | Circuit::HalfPoisson | Circuit::HalfBending
                );
                one_half && wired.input.is_none()
            }
            Origin::Readings(..) => true,
        };
        counted.set(counted.get() + 1);
        for effect in Effect::ALL {
            let (whole, part) = (whole.of(effect).unwrap(), part.of(effect).unwrap());
            for omission in [whole, part] {
                let error = omission.error.0.abs();
                prop_assert!(error <= omission.bound.0, "{effect} {omission:?}");
                prop_assert!(!exact || omission.bound.0 <= error * 1.01 + 1.001e-3, "{effect} {omission:?}");
            }
            prop_assert!(part.error.0.abs() <= whole.bound.0, "{effect} {part:?} {whole:?}");
        }
        let model = reference::Model::new(&channel.correction(Correction::Full)).unwrap();
        for (strain, temperature) in points {
            let strain = Strain((2.0 * strain - 1.0) * limit * 1e-6);
            let t = Celsius((a.0 + (b.0 - a.0) * temperature).clamp(a.0, b.0));
            let steps = model.steps(model.code_for(strain, t), t);
            let scale = steps.indicated.0 - steps.thermal_output.0;
            let without_thermal = steps.indicated.0 * steps.mechanical.0 / scale;
            let gauge_factor = (scale - strain.0).abs() * 1e6;
            prop_assert!(gauge_factor <= part.of(Effect::GaugeFactor).unwrap().bound.0 + 1e-6);
            if strain.0.abs() > 1e-6 {
                let thermal_output = (without_thermal - strain.0).abs() * 1e6;
                prop_assert!(thermal_output <= part.of(Effect::ThermalOutput).unwrap().bound.0 + 1e-3);
            }
        }
        let may = part.left_out_within(Microstrain(allowed)).unwrap();
        prop_assert!(may.effects.is_empty() || (may.sum.0 <= allowed && may.together.bound.0 <= allowed));
        prop_assert!(may.together.error.0.abs() <= may.together.bound.0);
        let more = part.left_out_within(Microstrain(allowed * 2.0)).unwrap();
        prop_assert!(more.effects.count() >= may.effects.count());
        Ok(())
    });
    assert!(counted.get() > 40, "{}", counted.get());
}

/// All at once is not the sum: thermal output left out is scaled by the gauge factor that is left out too.
#[test]
fn together() {
    let significance = straight().significance(Celsius(84.0), Celsius(84.0)).unwrap();
    let both = significance.together(only(Effect::ThermalOutput).with(Effect::GaugeFactor)).unwrap();
    near(both.error.0, 6.0 + 120.0, 1e-9);
    let all = Effect::ALL.into_iter().fold(Effects::NONE, Effects::with);
    // The straight line without leads: 4 r / F_i, of a bridge with leads.
    // In compression the bend adds.
    let signal: f64 = (-1_000.0 * 2.012 + 240.0) * 1e-6;
    let ratio = signal / 1.01 / (4.0 + 2.0 * signal / 1.01);
    let everything = significance.together(all).unwrap();
    near(everything.error.0, 4e6 * ratio / 2.0 + 1_000.0, 1e-6);
    // Mismatch is in thermal output already.
    let with = significance.together(only(Effect::ThermalOutput).with(Effect::Mismatch)).unwrap();
    assert_eq!(with, significance.together(only(Effect::ThermalOutput)).unwrap());
    let nothing = significance.together(Effects::NONE).unwrap();
    assert_eq!(nothing.error, Microstrain(0.0));

    // The sum of thermal output and gauge factor would be allowed; both at once are not.
    let sum = significance.of(Effect::ThermalOutput).unwrap().bound.0
        + significance.of(Effect::GaugeFactor).unwrap().bound.0;
    let small = [Effect::NonLinearity, Effect::Leads].map(|effect| significance.of(effect).unwrap().bound.0);
    assert!(sum < both.bound.0 && small[0] + small[1] < sum);
    let may = significance.left_out_within(Microstrain(sum)).unwrap();
    assert!(may.together.bound.0 <= sum && may.sum.0 <= sum, "{may:?}");
}

/// What a channel does not have is no error, and may be left out for nothing.
#[test]
fn absent_steps() {
    let gauge = Gauge::new(GaugeFactor(2.0));
    let channel =
        Channel::new(gauge, Bridge::full_bending(Ohms(350.0)), Converter::bipolar(24, Ratio(1.0 / 64.0)))
            .temperature_within(Celsius(-50.0), Celsius(90.0))
            .strain_within(Microstrain(1_000.0));
    let significance = channel.significance(Celsius(-50.0), Celsius(90.0)).unwrap();
    for effect in [Effect::ThermalOutput, Effect::Mismatch, Effect::GaugeFactor, Effect::Leads] {
        let omission = significance.of(effect).unwrap();
        assert_eq!((omission.error.0, omission.bound.0), (0.0, 0.0), "{effect}");
    }
    let may = significance.left_out_within(Microstrain(0.0)).unwrap();
    assert!(may.effects.count() >= 4 && may.sum.0 == 0.0 && may.together.bound.0 == 0.0);
    // The gauge factor of an instrument that is set to another is not absent.
    let set =
        channel.instrument_gauge_factor(GaugeFactor(2.1)).significance(Celsius(0.0), Celsius(1.0)).unwrap();
    near(set.of(Effect::GaugeFactor).unwrap().error.0, 1_000.0 * (2.0 / 2.1 - 1.0), 1e-9);
}
