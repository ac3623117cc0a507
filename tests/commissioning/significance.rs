//! What leaving out each step costs: by hand on straight curves and parabolas, facts of the trade, several at once.

use gaugewright::channel::MismatchScale;
use gaugewright::commissioning::significance::*;
use gaugewright::numeric::Polynomial;
use gaugewright::units::*;
use gaugewright::*;
use support::omissions::*;
use support::*;

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
        (CorrectionStep::ThermalOutput, 240.0 / 2.012),
        (CorrectionStep::Mismatch, 120.0 / 2.012),
        (CorrectionStep::GaugeFactor, 6.0),
        // On leads of a hundredth a signal bends the bridge by that much less.
        (CorrectionStep::NonLinearity, -signal * signal / 2.02 / (1.0 + signal / 2.02) / 2.012 * 1e6),
        (CorrectionStep::Leads, -signal * 0.01 / 1.01 / 2.012 * 1e6),
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
    let leads = cold.of(CorrectionStep::Leads).unwrap();
    let factor = 2.0 * (1.0 - 0.012);
    near(leads.error.0, (1_000.0 * factor + 480.0) * 0.01 / 1.01 / factor, 1e-9);
    near(leads.strain.0, -1_000.0, 1e-9);
    near(cold.of(CorrectionStep::GaugeFactor).unwrap().error.0, -12.0, 1e-9);
    near(cold.of(CorrectionStep::ThermalOutput).unwrap().error.0, -480.0 / factor, 1e-9);
    near(significance.reading().0, 1_000.0, 1e-9);

    // Balanced at 64 C, counted from there.
    let balanced = straight().balanced(0.0, Celsius(64.0));
    let from_there = balanced.significance(Celsius(64.0), Celsius(84.0)).unwrap();
    near(from_there.of(CorrectionStep::ThermalOutput).unwrap().error.0, 80.0 / 2.012, 1e-9);
    near(from_there.of(CorrectionStep::Mismatch).unwrap().error.0, 40.0 / 2.012, 1e-9);
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
    let thermal_output = significance.of(CorrectionStep::ThermalOutput).unwrap();
    near(thermal_output.error.0, -5.8, 1e-9);
    let top = channel(0.0).significance(Celsius(20.0), Celsius(60.0)).unwrap();
    let thermal_output = top.of(CorrectionStep::ThermalOutput).unwrap();
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
    let both = only(CorrectionStep::GaugeFactor).with(CorrectionStep::NonLinearity);
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
    let set = only(CorrectionStep::GaugeFactor)
        .with(CorrectionStep::NonLinearity)
        .with(CorrectionStep::ThermalOutput);
    let omission = channel.significance(Celsius(0.0), Celsius(50.0)).unwrap().together(set).unwrap();
    let signal = 2.0 * (1.005f64.sqrt() - 1.0);
    let strain = signal / 2.0 - 100e-6;
    near(omission.strain.0, strain * 1e6, 1e-6);
    near(omission.error.0, (1.005 * signal / (1.0 + signal / 2.0) / 2.0 - strain) * 1e6, 1e-9);
    assert!(strain < 0.002_9 && omission.error.0 > 106.0);
    bracketed(&omission, 0.0);
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
        let bend = percent(Bridge::quarter_ideal(ohms), thousands * 1_000.0, CorrectionStep::NonLinearity);
        near(bend, -0.1 * thousands, 0.0015 * thousands * thousands);
    }
    // Two gauges bending against each other, and four, are straight.
    for bridge in [Bridge::half_bending(ohms, Ohms(0.0)), Bridge::full_bending(ohms)] {
        near(percent(bridge, 5_000.0, CorrectionStep::NonLinearity), 0.0, 1e-9);
    }
    // Three leads take one lead over the gauge, two leads take two, sensed excitation nothing.
    near(
        percent(Bridge::quarter_three_wire(ohms, Ohms(3.5)), 100.0, CorrectionStep::Leads),
        -1.0 / 1.01,
        1e-3,
    );
    near(percent(Bridge::quarter_two_wire(ohms, Ohms(3.5)), 100.0, CorrectionStep::Leads), -2.0 / 1.02, 1e-3);
    let full = Bridge::full_bending(ohms).leads(Ohms(3.5));
    near(percent(full, 100.0, CorrectionStep::Leads), -2.0 / 1.02, 1e-3);
    near(percent(full.remote_sense(), 100.0, CorrectionStep::Leads), 0.0, 1e-9);
    // Thermal output cancels in half and full bridges.
    for bridge in [Bridge::half_compensated(ohms, Ohms(1.0)), Bridge::full_poisson(ohms, 0.3)] {
        let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 16.0)))
            .strain_within(Microstrain(1_000.0));
        let thermal_output = channel.significance(Celsius(0.0), Celsius(50.0)).unwrap();
        assert_eq!(thermal_output.of(CorrectionStep::ThermalOutput).unwrap().error.0, 0.0);
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
            for effect in CorrectionStep::ALL {
                println!("{id} {low} to {high}, {effect}: {:?}", significance.of(effect).unwrap());
            }
            significance.negligible_within(Microstrain(5.0)).unwrap()
        };
        let room = may(15.0, 35.0);
        assert!(room.steps.count() >= 2, "{id} {room:?}");
        assert_eq!(may(-150.0, 250.0).steps, CorrectionSteps::NONE, "{id}");
    }
}

/// All at once is not the sum: thermal output left out is scaled by the gauge factor that is left out too.
#[test]
fn together() {
    let significance = straight().significance(Celsius(84.0), Celsius(84.0)).unwrap();
    let both =
        significance.together(only(CorrectionStep::ThermalOutput).with(CorrectionStep::GaugeFactor)).unwrap();
    near(both.error.0, 6.0 + 120.0, 1e-9);
    let all = CorrectionStep::ALL.into_iter().fold(CorrectionSteps::NONE, CorrectionSteps::with);
    // The straight line without leads: 4 r / F_i, of a bridge with leads.
    // In compression the bend adds.
    let signal: f64 = (-1_000.0 * 2.012 + 240.0) * 1e-6;
    let ratio = signal / 1.01 / (4.0 + 2.0 * signal / 1.01);
    let everything = significance.together(all).unwrap();
    near(everything.error.0, 4e6 * ratio / 2.0 + 1_000.0, 1e-6);
    // Mismatch is in thermal output already.
    let with =
        significance.together(only(CorrectionStep::ThermalOutput).with(CorrectionStep::Mismatch)).unwrap();
    assert_eq!(with, significance.together(only(CorrectionStep::ThermalOutput)).unwrap());
    let nothing = significance.together(CorrectionSteps::NONE).unwrap();
    assert_eq!(nothing.error, Microstrain(0.0));

    // The sum of thermal output and gauge factor would be allowed; both at once are not.
    let sum = significance.of(CorrectionStep::ThermalOutput).unwrap().bound.0
        + significance.of(CorrectionStep::GaugeFactor).unwrap().bound.0;
    let small = [CorrectionStep::NonLinearity, CorrectionStep::Leads]
        .map(|effect| significance.of(effect).unwrap().bound.0);
    assert!(sum < both.bound.0 && small[0] + small[1] < sum);
    let may = significance.negligible_within(Microstrain(sum)).unwrap();
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
    for effect in [
        CorrectionStep::ThermalOutput,
        CorrectionStep::Mismatch,
        CorrectionStep::GaugeFactor,
        CorrectionStep::Leads,
    ] {
        let omission = significance.of(effect).unwrap();
        assert_eq!((omission.error.0, omission.bound.0), (0.0, 0.0), "{effect}");
    }
    let may = significance.negligible_within(Microstrain(0.0)).unwrap();
    assert!(may.steps.count() >= 4 && may.sum.0 == 0.0 && may.together.bound.0 == 0.0);
    // The gauge factor of an instrument that is set to another is not absent.
    let set =
        channel.instrument_gauge_factor(GaugeFactor(2.1)).significance(Celsius(0.0), Celsius(1.0)).unwrap();
    near(set.of(CorrectionStep::GaugeFactor).unwrap().error.0, 1_000.0 * (2.0 / 2.1 - 1.0), 1e-9);
}

/// Quintics with four extremes inside the window, one after the other the largest: none is missed beside the others.
#[test]
fn the_highest_of_several_peaks() {
    let curve = |constant: f64, tilt: f64| {
        // Chebyshev's, and a little that lifts one of its extremes.
        Polynomial::new([constant, 5.0 + tilt, 0.0, -20.0, 0.0, 16.0])
            .substitute(0.0, 0.97 / 50.0)
            .times(100.0)
    };
    let mut found = Vec::new();
    for (constant, tilt) in [(0.1, 0.05), (0.1, -0.05), (-0.1, 0.05), (-0.1, -0.05)] {
        let curve = curve(constant, tilt);
        let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(
            ThermalOutput::celsius(curve.coefficients()).between(Celsius(-50.0), Celsius(50.0)),
        );
        let bridge = Bridge::quarter_ideal(Ohms(120.0));
        let omission = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(0.02)))
            .strain_within(Microstrain(1_000.0))
            .significance(Celsius(-50.0), Celsius(50.0))
            .unwrap()
            .of(CorrectionStep::ThermalOutput)
            .unwrap();
        let highest = (0..=100_000).map(|i| curve.at(f64::from(i) * 1e-3 - 50.0));
        let highest = highest.max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap();
        near(omission.error.0, highest, 1e-5);
        bracketed(&omission, 0.0);
        found.push((omission.temperature.0 / 10.0).round() as i32);
    }
    found.sort_unstable();
    assert_eq!(found, [-4, -2, 2, 4]);
}

/// Every set of effects is tried, beside the rule: as many as may be, and of those the least sum; the sum of bounds and
/// the bound of all at once keep what is allowed.
#[test]
fn what_may_be_left_out_is_the_best_of_all_sets() {
    let instrument = Channel::from_readings(
        gauge("gauge_on_steel", 4),
        Instrument::showing(Microstrain(0.1), GaugeFactor(2.02)),
    )
    .specimen(ExpansionPerCelsius::ppm(13.0))
    .strain_within(Microstrain(1_000.0));
    let (mut sizes, mut refused) = ([0; 6], 0);
    for (channel, low, high) in [
        (straight(), 20.0, 84.0),
        (straight(), -96.0, 24.0),
        (straight().instrument_gauge_factor(GaugeFactor(2.05)), 30.0, 31.0),
        (wide("gauge_on_steel", 4), -50.0, 90.0),
        (bridge_of_leads(), 0.0, 30.0),
        (instrument, -20.0, 60.0),
    ] {
        let significance = channel.significance(Celsius(low), Celsius(high)).unwrap();
        let sets: Vec<(CorrectionSteps, f64, f64)> = (0..32)
            .map(|number| {
                CorrectionStep::ALL.into_iter().filter(move |&effect| number >> effect as u32 & 1 == 1)
            })
            .filter_map(|set| {
                let effects = set.clone().fold(CorrectionSteps::NONE, CorrectionSteps::with);
                let counts = |effect: &CorrectionStep| {
                    *effect != CorrectionStep::Mismatch || !effects.contains(CorrectionStep::ThermalOutput)
                };
                let bound = |effect| significance.of(effect).map(|omission: Omission| omission.bound.0);
                let sum = set.filter(counts).map(bound).sum::<Option<f64>>()?;
                Some((effects, sum, significance.together(effects).unwrap().bound.0))
            })
            .collect();
        assert_eq!(sets.len(), if significance.of(CorrectionStep::Leads).is_some() { 32 } else { 8 });
        let limits = sets.iter().flat_map(|&(_, sum, together)| [sum, sum * (1.0 - 1e-9), together]);
        for allowed in limits.chain([0.0, 1e6]) {
            let may = significance.negligible_within(Microstrain(allowed)).unwrap();
            let fits =
                |&&(_, sum, together): &&(CorrectionSteps, f64, f64)| sum <= allowed && together <= allowed;
            let rank = |set: &&(CorrectionSteps, f64, f64)| (set.0.count(), -set.1);
            let best =
                sets.iter().filter(fits).max_by(|a, b| rank(a).partial_cmp(&rank(b)).unwrap()).unwrap();
            assert_eq!(
                (may.steps.count(), may.sum.0),
                (best.0.count(), best.1),
                "{allowed} {may:?} {best:?}"
            );
            assert_eq!(may.together, significance.together(may.steps).unwrap());
            sizes[may.steps.count() as usize] += 1;
            refused += usize::from(sets.iter().any(|set| set.1 <= allowed && set.2 > allowed));
        }
    }
    assert!(sizes.into_iter().all(|seen| seen > 0) && refused > 10, "{sizes:?} {refused}");
}

/// Long leads, little thermal output.
fn bridge_of_leads() -> Channel {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([-0.24, 0.01]).between(Celsius(0.0), Celsius(50.0)));
    let bridge = Bridge::quarter_two_wire(Ohms(120.0), Ohms(4.0));
    Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(0.02))).strain_within(Microstrain(2_000.0))
}
