//! The largest errors of what is left out: by brute force through the network model for every circuit, and properties of random
//! channels.

use gaugewright::channel::{ForcedStrain, GaugeFactorBasis};
use gaugewright::commissioning::significance::*;
use gaugewright::error::Field;
use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;
use support::described::Origin;
use support::omissions::*;
use support::*;

/// The error of leaving an effect out, through codes and the network of the model.
struct Brute {
    whole: reference::Model,
    package_alone: reference::Model,
    no_leads: Option<reference::Model>,
    instrument_factor: f64,
    basis: GaugeFactorBasis,
    /// Code at balance and codes for a unit of indicated strain there.
    line: (f64, f64),
}

impl Brute {
    fn of(
        make: impl Fn(Bridge, bool) -> Channel,
        bridge: Bridge,
        instrument_factor: f64,
        basis: GaugeFactorBasis,
        balance: f64,
    ) -> Self {
        let whole = reference::Model::new(&make(bridge, true)).unwrap();
        let at = |code: f64| whole.steps(code, Celsius(20.0)).indicated.0;
        // Central differences, of which two cancel each other's third order.
        let slope = |step: f64| (at(balance + step) - at(balance - step)) / (2.0 * step);
        let slope = (4.0 * slope(1e4) - slope(2e4)) / 3.0;
        Self {
            whole,
            package_alone: reference::Model::new(&make(bridge, false)).unwrap(),
            no_leads: reference::Model::new(&make(bridge.leads(Ohms(0.0)).output_leads(Ohms(0.0)), true))
                .ok(),
            instrument_factor,
            basis,
            line: (balance, slope),
        }
    }

    fn error(&self, effect: CorrectionStep, strain: f64, t: Celsius) -> f64 {
        let code = self.whole.code_for(Strain(strain), t);
        let steps = self.whole.steps(code, t);
        let unloaded = 1.0 + steps.thermal_output.0 * self.instrument_factor;
        let (factor, unloaded) = match self.basis {
            GaugeFactorBasis::AtBalance => (steps.gauge_factor.0, 1.0),
            GaugeFactorBasis::UnloadedGauge => (steps.gauge_factor.0, unloaded),
            // Nine microstrain a degree, from 24 C.
            GaugeFactorBasis::FreeFoil(_) => {
                (steps.gauge_factor.0 / (1.0 + steps.gauge_factor.0 * 9e-6 * (t.0 - 24.0)), unloaded)
            }
        };
        let scale = self.instrument_factor / factor / unloaded;
        let computed = match effect {
            CorrectionStep::ThermalOutput => steps.indicated.0 * self.instrument_factor / factor,
            CorrectionStep::Mismatch => self.package_alone.steps(code, t).mechanical.0,
            CorrectionStep::GaugeFactor => steps.indicated.0 - steps.thermal_output.0,
            CorrectionStep::NonLinearity => {
                ((code - self.line.0) * self.line.1 - steps.thermal_output.0) * scale
            }
            CorrectionStep::Leads => self.no_leads.as_ref().unwrap().steps(code, t).mechanical.0,
        };
        (computed - strain) * 1e6
    }
}

/// Every circuit, with leads, unbalance, a specimen and an instrument's factor of its own, on a grid of strain and
/// temperature. What the grid sees has to lie below the bound and not above what was found.
#[test]
fn brute_force_through_the_network() {
    let foil = GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree([0.0, 9.0]));
    for basis in [GaugeFactorBasis::AtBalance, GaugeFactorBasis::UnloadedGauge, foil] {
        brute_force(basis);
    }
}

fn brute_force(basis: GaugeFactorBasis) {
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
            let gauge = gauge(id, 4).gauge_factor_basis(basis);
            let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)))
                .balanced(balance, Celsius(20.0))
                .instrument_gauge_factor(GaugeFactor(2.03))
                .temperature_within(Celsius(-150.0), Celsius(250.0))
                .strain_within(Microstrain(3_000.0));
            if rotated { channel.specimen(ExpansionPerCelsius::ppm(12.5)) } else { channel }
        };
        let channel = make(bridge, true);
        let circuit = 4.0 * channel.circuit_error().unwrap().microstrain().0;
        let brute = Brute::of(make, bridge, 2.03, basis, balance);
        for (low, high) in [(-150.0, 250.0), (15.0, 35.0)] {
            let significance = channel.significance(Celsius(low), Celsius(high)).unwrap();
            for effect in CorrectionStep::ALL {
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

/// Bridges whose maps leave something out of the network, or bend otherwise without their leads: what is found is the network's
/// to within what the map leaves out, and the bound is the network's own.
#[test]
fn bounds_are_those_of_the_network() {
    let ohms = Ohms(350.0);
    let long = Ohms(20.0);
    let loaded = |bridge: Bridge| bridge.input_resistance(Ohms(5e3)).output_leads(Ohms(20.0));
    for (name, bridge, balance) in [
        ("bending", Bridge::full_bending(ohms).leads(long), 3e6),
        ("poisson", Bridge::full_poisson(ohms, 0.3).leads(long), 3e6),
        ("opposite", Bridge::opposite_arms(ohms).leads(long), -3e6),
        ("half poisson", Bridge::half_poisson(ohms, long, 0.3), 3e6),
        ("half bending", Bridge::half_bending(ohms, long), -3e6),
        ("loaded quarter", loaded(Bridge::quarter_three_wire(ohms, long)), 3e6),
        ("loaded opposite", loaded(Bridge::opposite_arms(ohms).leads(long)), 0.0),
        ("loaded bending", loaded(Bridge::full_bending(ohms).leads(long)), 3e6),
    ] {
        let factor = gauge("gauge_on_steel", 4).gauge_factor_at(Celsius(24.0)).0;
        let limit = 30_000.0;
        let make = |bridge: Bridge, _| {
            Channel::new(gauge("gauge_on_steel", 4), bridge, Converter::bipolar(24, Ratio(1.0 / 8.0)))
                .balanced(balance, Celsius(20.0))
                .strain_within(Microstrain(limit))
        };
        let channel = make(bridge, true);
        let without = make(bridge.leads(Ohms(0.0)).output_leads(Ohms(0.0)), true);
        let circuit = [channel, without].map(|channel| channel.circuit_error().unwrap().microstrain().0);
        let brute = Brute::of(make, bridge, factor, GaugeFactorBasis::AtBalance, balance);
        let significance = channel.significance(Celsius(20.0), Celsius(20.0)).unwrap();
        for effect in [CorrectionStep::NonLinearity, CorrectionStep::Leads] {
            let omission = significance.of(effect).unwrap();
            let mut worst = 0.0f64;
            for j in -200..=200 {
                worst =
                    worst.max(brute.error(effect, f64::from(j) / 200.0 * limit * 1e-6, Celsius(20.0)).abs());
            }
            assert!(worst <= omission.bound.0 + 1e-6, "{name} {effect}: {worst} {omission:?}");
            let here = brute.error(effect, omission.strain.0 * 1e-6, omission.temperature);
            let left_out = circuit[0] + if effect == CorrectionStep::Leads { circuit[1] } else { 0.0 };
            near(omission.error.0, here, 1e-6 + left_out * 1.1);
            assert!(
                omission.bound.0 <= worst * 1.01 + 1e-3 + 2.2 * left_out,
                "{name} {effect}: {worst} {omission:?}"
            );
        }
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
        for effect in CorrectionStep::ALL {
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
            prop_assert!(gauge_factor <= part.of(CorrectionStep::GaugeFactor).unwrap().bound.0 + 1e-6);
            if strain.0.abs() > 1e-6 {
                let thermal_output = (without_thermal - strain.0).abs() * 1e6;
                prop_assert!(
                    thermal_output <= part.of(CorrectionStep::ThermalOutput).unwrap().bound.0 + 1e-3
                );
            }
        }
        let may = part.negligible_within(Microstrain(allowed)).unwrap();
        prop_assert!(may.steps.is_empty() || (may.sum.0 <= allowed && may.together.bound.0 <= allowed));
        prop_assert!(may.together.error.0.abs() <= may.together.bound.0);
        let more = part.negligible_within(Microstrain(allowed * 2.0)).unwrap();
        prop_assert!(more.steps.count() >= may.steps.count());
        Ok(())
    });
    assert!(counted.get() > 40, "{}", counted.get());
}

/// What the map leaves out of a network is in the bound.
#[test]
fn what_the_map_leaves_out_is_in_the_bound() {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
    for (bridge, limit) in [
        (Bridge::full_poisson(Ohms(350.0), 0.3).leads(Ohms(2.0)).input_resistance(Ohms(2_000.0)), 20_000.0),
        (Bridge::half_bending(Ohms(350.0), Ohms(2.0)).input_resistance(Ohms(1_500.0)), 20_000.0),
    ] {
        let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 16.0)))
            .balanced(40_000.0, Celsius(20.0))
            .strain_within(Microstrain(limit));
        let circuit = channel.circuit_error().unwrap().microstrain().0;
        assert!(circuit > 1e-3, "{circuit}");
        let significance = channel.significance(Celsius(20.0), Celsius(20.0)).unwrap();
        for effect in [CorrectionStep::NonLinearity, CorrectionStep::Leads] {
            let omission = significance.of(effect).unwrap();
            let room = omission.bound.0 - omission.error.0.abs();
            assert!(
                room >= circuit && room < 1.5 * circuit + 0.02 * omission.error.0.abs(),
                "{effect}: {room} {circuit}"
            );
        }
    }
}
