//! Arbitrary bytes as a channel: everything is asked of it. Nothing may panic, a refusal has a true reason, and what
//! compiles is within its bound of the model.

use gaugewright::channel::Arm;
use gaugewright::fixed::{MeanCode, Span, Temperature};
use gaugewright::installation::Shunt;
use gaugewright::kernel::{Parts, SuggestedLimits};
use gaugewright::reference::{CompensatedModel, Model, Steps};
use gaugewright::units::*;
use gaugewright::*;

use super::bytes::Bytes;
use super::recipe::{self, Drawn};
use super::sound::{flags, paths, told, truthful};

/// Returns whether the channel compiled to a fixed-point kernel.
pub fn run(data: &[u8]) -> bool {
    let mut bytes = Bytes::new(data);
    let drawn = recipe::channel(&mut bytes);
    if drawn.product { compile::<1>(&drawn, bytes) } else { compile::<0>(&drawn, bytes) }
}

fn compile<const P: usize>(drawn: &Drawn, mut bytes: Bytes) -> bool {
    let channel = &drawn.channel;
    let checked = channel.check();
    if let Err(error) = &checked {
        truthful(error);
        // Whatever compiles or models a channel checks it first.
        for refused in [
            Model::new(channel).err(),
            channel.try_fixed::<5, 3, P>().err(),
            channel.try_float32::<5, 3, P>().err(),
            channel.try_float64::<5, 3, P>().err(),
            channel.circuit_error().err(),
            channel.unbalance_error().err(),
        ] {
            let refused = refused.expect("refused by check alone");
            assert_eq!(format!("{refused:?}"), format!("{error:?}"));
        }
    }
    around_it(channel, &mut bytes);
    error_limits::<P>(channel, &mut bytes);
    let two = drawn.compensating.is_some_and(|second| two_temperatures::<P>(drawn, second, &mut bytes));
    let Some(model) = told(Model::new(channel)) else { return two };
    one_temperature::<P>(drawn, &model, &mut bytes) || two
}

/// What else a channel can be asked.
fn around_it(channel: &Channel, bytes: &mut Bytes) {
    let (code, tolerance) = (bytes.word(), Percent(bytes.number(0.0, 5.0)));
    if let Some(diagnosis) = told(channel.diagnose(code, tolerance)) {
        assert!(diagnosis.explaining().count() <= diagnosis.findings().count());
    }
    told(channel.lead_effect(Celsius(bytes.number(-210.0, 310.0))));
    told(channel.unbalance_error());
    let arm = Arm::ALL[usize::from(bytes.byte() % 4)];
    let ohms = Ohms(bytes.one_of(&[59_880.0, 10.0, 1e5, 1e9, 350.0]));
    let shunt = if bytes.flag() { Shunt::at_gauge(arm, ohms) } else { Shunt::at_instrument(arm, ohms) };
    let shunt = shunt.tolerance(Percent(bytes.number(0.0, 1.0)));
    if let Some(effect) = told(shunt.effect_at(channel, Strain(bytes.number(-1e-2, 1e-2)))) {
        assert!(effect.uncertainty.0 >= 0.0);
    }
    told(shunt.span(channel, bytes.number(-1e6, 1e6), Percent(bytes.number(0.0, 25.0))));
    told(Shunt::resistance_for(channel, arm, bytes.flag(), Strain(bytes.number(-2e-3, 2e-3))));
    on_site(channel, &shunt, tolerance, bytes);
}

/// Checks of wiring and shunt, and any means of codes for them.
fn on_site(channel: &Channel, shunt: &Shunt, tolerance: Percent, bytes: &mut Bytes) {
    let mut mean = || {
        let sum = i64::from(bytes.word()) << (bytes.byte() % 33);
        MeanCode { sum, count: bytes.one_of(&[1.0, 64.0, 65_536.0, 0.0, 65_537.0]) as u32 }
    };
    let (one, other) = (mean(), mean());
    let spans = (Span::from_ratio(bytes.number(0.79, 1.0)), Span::from_ratio(bytes.number(0.99, 1.26)));
    if let Some(check) = told(channel.try_wiring_check(tolerance))
        && let Some(report) = told(check.report(one))
    {
        assert!(report.explaining().count() <= check.faults().count() && !(report.healthy && report.at_rail));
    }
    if let Some(check) = told(shunt.try_code_check(channel, spans)) {
        let (low, high) = check.spans();
        let change = bytes.whole(check.change().lowest, check.change().highest);
        for (without, with) in [(one, other), (0.into(), change.into())] {
            if let Some(span) = told(check.span(without, with)) {
                assert!((low..=high).contains(&span), "{span:?}");
            }
        }
    }
}

/// What is suggested after a missed error limit does meet it.
fn error_limits<const P: usize>(channel: &Channel, bytes: &mut Bytes) {
    // The search compiles some twenty channels: not for every input.
    if bytes.byte() % 4 != 1 {
        return;
    }
    let error_limit = Nanostrain(bytes.one_of(&[0.4, 0.5, 1.0, 0.0, 5.0]));
    if let Err(error) = channel.try_fixed_within::<5, 3, P>(error_limit) {
        truthful(&error);
        for narrower in offered(channel, &error, |c| c.fixed_suggested_limits::<5, 3, P>(error_limit)) {
            assert!(narrower.try_fixed_within::<5, 3, P>(error_limit).is_ok(), "{error}");
        }
    }
    if let Err(error) = channel.try_float32_within::<5, 3, P>(error_limit) {
        truthful(&error);
        for narrower in offered(channel, &error, |c| c.float32_suggested_limits::<5, 3, P>(error_limit)) {
            assert!(narrower.try_float32_within::<5, 3, P>(error_limit).is_ok(), "{error}");
        }
    }
    told(channel.try_float64_within::<5, 3, P>(error_limit));
}

fn offered(channel: &Channel, error: &Error, search: impl Fn(&Channel) -> SuggestedLimits) -> Vec<Channel> {
    let Error::Bound { .. } = error else { return Vec::new() };
    let limits = search(channel);
    let strain = limits.strain.map(|limit| channel.strain_within(limit));
    let temperatures = limits.temperatures.map(|(low, high)| channel.temperature_within(low, high));
    match (strain, limits.temperatures) {
        (Some(narrower), Some((low, high))) if limits.together => {
            vec![narrower.temperature_within(low, high)]
        }
        _ => strain.into_iter().chain(temperatures).collect(),
    }
}

/// What the rounding of the model may be worth, nanostrain: of its output ratio, through the slope of strain against
/// it, and of thermal output and gauge factor, whose terms cancel no further than a channel is allowed.
fn rounding(drawn: &Drawn, code: f64, steps: impl Fn(f64) -> Steps) -> f64 {
    let own = 1e-5;
    let Some(per_code) = drawn.converter.map(|converter| converter.ratio(1.0).0) else { return own };
    let aside = 1e-5 / per_code.abs();
    let (up, down) = (code + aside, code - aside);
    let (up, down) = (steps(up), steps(down));
    let steepest = (up.mechanical.0 - down.mechanical.0).abs().max((up.indicated.0 - down.indicated.0).abs())
        / (2.0 * aside * per_code.abs());
    let ratio = code.abs() * per_code.abs();
    own + steepest * 1e9 * 8.0 * f64::EPSILON * (1.0 + ratio)
}

struct Allowed {
    circuit: f64,
    rounding: f64,
}

/// The one call and the split path of one arithmetic: flags, strain against the model, and each other.
fn judge(
    what: &str,
    readings: [(Flags, f64, Parts); 2],
    deserved: impl Fn(bool) -> Flags,
    exact: f64,
    allowed: &Allowed,
) {
    for (flags, strain, bound) in readings {
        assert!(strain.is_finite(), "{what}: {strain}");
        assert!(flags == deserved(false) || flags == deserved(true), "{what}: {flags}");
        let off = (strain * 1e9 - exact).abs();
        let most = bound.total.0 + allowed.circuit + allowed.rounding;
        assert!(!flags.is_clear() || off <= most, "{what}: off by {off}, bound {most}");
    }
    let [(one, a, first), (other, b, second)] = readings;
    if one.is_clear() && other.is_clear() {
        let apart = (a - b).abs() * 1e9;
        assert!(apart <= first.total.0 + second.total.0 + 1e-9, "{what}: paths {apart} apart");
    }
}

fn one_temperature<const P: usize>(drawn: &Drawn, model: &Model, bytes: &mut Bytes) -> bool {
    let channel = &drawn.channel;
    let fixed = told(channel.try_fixed::<5, 3, P>());
    let usual = told(channel.try_fixed::<4, 1, P>());
    let single = told(channel.try_float32::<5, 3, P>()).map(|kernel| (kernel.error_bound(), kernel));
    let double = told(channel.try_float64::<5, 3, P>()).map(|kernel| (kernel.error_bound(), kernel));
    told(channel.try_float32::<4, 1, P>());
    let Some(fixed) = fixed else { return false };
    let circuit = channel.circuit_error().unwrap().0 + channel.gauge_factor_error(3).unwrap().0;
    let (codes, temperatures) = (fixed.codes(), fixed.temperatures());
    let bound = fixed.error_bound();
    let (mut all_codes, mut all_temperatures, mut all) = (Vec::new(), Vec::new(), Vec::new());
    let off_by = bytes.number(0.0, 2.0);
    let with_temperature = fixed.error_bound_with_temperature(Celsius(off_by)).reading.total.0;
    for _ in 0..8 {
        let code = bytes.whole(codes.0, codes.1);
        let t = Temperature::from_bits(bytes.whole(temperatures.0.to_bits(), temperatures.1.to_bits()));
        let exact = model.strain(code, t).0 * 1e9;
        let steps = |code| model.steps(code, t.celsius());
        let allowed = Allowed { circuit, rounding: rounding(drawn, f64::from(code), steps) };
        let deserved = |outside| flags((code, codes, drawn.bits), &[(t, temperatures)], outside);
        let readings = [fixed.reading(code, t), fixed.at(t).reading(code)];
        let integer = paths(readings, &bound, |strain| strain.strain().0);
        judge("fixed", integer, deserved, exact, &allowed);
        if let Some(linear) = fixed.at(t).linear() {
            assert_eq!(linear.reading(code), fixed.at(t).reading(code));
        }
        // A gauge factor that refers to the free foil is another polynomial in each.
        if let (Some(usual), 0) = (&usual, P) {
            assert_eq!(usual.reading(code, t), fixed.reading(code, t));
            assert_eq!(usual.at(t), fixed.at(t));
        }
        if let Some((bound, single)) = &single {
            let readings = [single.reading(code, t), single.at(t).reading(code)];
            judge("f32", paths(readings, bound, f64::from), deserved, exact, &allowed);
        }
        if let Some((bound, double)) = &double {
            let readings = [double.reading(code, t), double.at(t).reading(code)];
            judge("f64", paths(readings, bound, |strain| strain), deserved, exact, &allowed);
        }
        // The temperature may be off by so much, and both may be in range.
        let steps = (off_by.abs() * f64::from(Temperature::PER_DEGREE)).floor();
        if integer[0].0.is_clear() && steps < 1e9 {
            for other in [t.to_bits().saturating_add(steps as i32), t.to_bits().saturating_sub(steps as i32)]
            {
                let other = Temperature::from_bits(other);
                if other < temperatures.0 || other > temperatures.1 {
                    continue;
                }
                let off = (integer[0].1 - model.strain(code, other).0).abs() * 1e9;
                let most = with_temperature + allowed.circuit + allowed.rounding;
                assert!(off <= most, "{off_by} C off: {off}, bound {most}");
            }
        }
        all_codes.push(code);
        all_temperatures.push(t);
        all.push(fixed.reading(code, t));
    }
    let mut block = all.clone();
    block.reverse();
    fixed.readings(&all_codes, &all_temperatures, &mut block).unwrap();
    assert_eq!(block, all);
    true
}

fn two_temperatures<const P: usize>(drawn: &Drawn, second: CompensatingGauge, bytes: &mut Bytes) -> bool {
    let channel = drawn.channel.compensated_by(second);
    let Some(model) = told(CompensatedModel::new(&channel)) else { return false };
    let fixed = told(channel.try_fixed::<5, 3, P>());
    let single = told(channel.try_float32::<5, 3, P>()).map(|kernel| (kernel.error_bound(), kernel));
    let double = told(channel.try_float64::<5, 3, P>()).map(|kernel| (kernel.error_bound(), kernel));
    told(channel.try_fixed_within::<5, 3, P>(Nanostrain(bytes.number(0.0, 2.0))));
    let Some(fixed) = fixed else { return false };
    let bound = fixed.error_bound();
    let circuit = channel.circuit_error().unwrap().0 + channel.gauge_factor_error(3).unwrap().0;
    for _ in 0..8 {
        let code = bytes.whole(-8_388_608, 8_388_607);
        let t = Temperature::from_bits(bytes.whole(-200 << 20, 300 << 20));
        let other = Temperature::from_bits(bytes.whole(-200 << 20, 300 << 20));
        let exact = model.strain(code, t, other).0 * 1e9;
        let steps = |code| model.steps(code, t.celsius(), other.celsius());
        let allowed = Allowed { circuit, rounding: rounding(drawn, f64::from(code), steps) };
        let readings = [fixed.reading(code, t, other), fixed.at(t, other).reading(code)];
        let integer = paths(readings, &bound, |strain| strain.strain().0);
        // Its ranges are not told: flags have to be those of the other path, but for a strain near the limit.
        let first = integer[0].0;
        let deserved = |outside| match (outside, first.contains(Flags::STRAIN_OUTSIDE)) {
            (true, false) if !first.contains(Flags::CODE_AT_RAIL) => first | Flags::STRAIN_OUTSIDE,
            (false, true) if first.contains(Flags::TEMPERATURE_OUTSIDE) => Flags::TEMPERATURE_OUTSIDE,
            (false, true) => Flags::CLEAR,
            _ => first,
        };
        judge("fixed, two", integer, deserved, exact, &allowed);
        if let Some((bound, single)) = &single {
            let readings = [single.reading(code, t, other), single.at(t, other).reading(code)];
            judge("f32, two", paths(readings, bound, f64::from), deserved, exact, &allowed);
        }
        if let Some((bound, double)) = &double {
            let readings = [double.reading(code, t, other), double.at(t, other).reading(code)];
            judge("f64, two", paths(readings, bound, |strain| strain), deserved, exact, &allowed);
        }
    }
    true
}
