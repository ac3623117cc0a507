//! Properties that hold for every channel, drawn at random. The seed is fixed unless `GAUGEWRIGHT_SEED` names
//! another; it is printed either way.

use fuzz::sound::paths;
use gaugewright::error::Field;
use gaugewright::numeric::Polynomial;
use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;
use support::{ANY_ERROR, recipe};

const CASES: u32 = 2_000;

/// A position in a range, as a part of it: so that inputs fall inside whatever range a channel has.
fn share() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), Just(1.0), 0.0..=1.0f64]
}

fn temperature(channel: &Channel, share: f64) -> fixed::Temperature {
    let (low, high) = support::temperature_ends(channel);
    let bits = f64::from(low) + (f64::from(high) - f64::from(low)) * share;
    fixed::Temperature::from_bits((bits as i32).clamp(low, high))
}

/// A code inside the declared strain at that temperature, from the model backwards.
fn code(model: &reference::Model, limit: f64, t: fixed::Temperature, share: f64) -> i32 {
    let strain = Strain((2.0 * share - 1.0) * limit * 0.999e-6);
    let code = model.code_for(strain, t.celsius()).round();
    code as i32
}

type Kernels<const PRODUCT: usize> =
    (fixed::Kernel<5, 3, PRODUCT>, float::Kernel<f32, 5, 3, PRODUCT>, float::Kernel<f64, 5, 3, PRODUCT>);

/// The kernels of a channel, if it compiles. The rest must be refused for a number that does not fit, never for an input:
/// the recipe draws only inputs that are allowed.
fn kernels<const PRODUCT: usize>(channel: &Channel) -> Result<Option<Kernels<PRODUCT>>, TestCaseError> {
    let kernels = || {
        Ok((
            channel.try_fixed_within(ANY_ERROR)?,
            channel.try_float32_within(ANY_ERROR)?,
            channel.try_float64_within(ANY_ERROR)?,
        ))
    };
    match kernels() {
        Ok(kernels) => Ok(Some(kernels)),
        Err(Error::Overflow { .. }) => Ok(None),
        Err(Error::Invalid { field: Field::BalanceRatio | Field::GaugeFactorCurve, .. }) => Ok(None),
        Err(other) => Err(TestCaseError::fail(format!("{other}"))),
    }
}

#[test]
fn kernels_equal_the_reference_within_their_bounds() {
    equal_the_reference::<0>("kernels and reference", recipe::channel());
}

#[test]
fn kernels_of_the_product_equal_the_reference_within_their_bounds() {
    let channels = recipe::with_other_basis().prop_map(|described| described.channel());
    equal_the_reference::<1>("kernels of the product and reference", channels);
}

#[test]
fn kernels_in_a_field_equal_the_reference_within_their_bounds() {
    let channels = recipe::in_a_field(recipe::description()).prop_map(|described| described.channel());
    equal_the_reference::<0>("kernels in a field and reference", channels);
}

fn equal_the_reference<const PRODUCT: usize>(name: &'static str, channels: impl Strategy<Value = Channel>) {
    let counted = std::cell::Cell::new(0);
    let largest = std::cell::Cell::new(0.0f64);
    let inputs = (channels, 500.0..25_000.0f64, prop::collection::vec((share(), share()), 8));
    recipe::check(name, CASES, inputs, |(channel, limit, points)| {
        let channel = channel.strain_within(Microstrain(limit));
        let Some((integer, single, double)) = kernels::<PRODUCT>(&channel)? else { return Ok(()) };
        counted.set(counted.get() + 1);
        let bounds = (integer.error_bound(), single.error_bound(), double.error_bound());
        let model = reference::Model::new(&channel).unwrap();
        let circuit = channel.circuit_error().unwrap().0 + channel.gauge_factor_error(3).unwrap().0;
        largest.set(largest.get().max(circuit));
        for (warm, strained) in points {
            let t = temperature(&channel, warm);
            let code = code(&model, limit, t, strained);
            let exact = model.strain(code, t).0 * 1e9;
            let rails = i32::MAX;
            prop_assume!(code < rails && code > -rails);
            let results = [
                paths([integer.reading(code, t), integer.at(t).reading(code)], &bounds.0, |s| s.strain().0),
                paths([single.reading(code, t), single.at(t).reading(code)], &bounds.1, f64::from),
                paths([double.reading(code, t), double.at(t).reading(code)], &bounds.2, |s| s),
            ];
            for (i, (flags, strain, bound)) in results.into_iter().flatten().enumerate() {
                // Only the converter can be in the way. A coarse code can round to a strain outside.
                if flags.contains(Flags::CODE_AT_RAIL) {
                    continue;
                }
                let edge = (exact.abs() - limit * 1e3).abs() <= bound.total.0 + circuit + 1e-3;
                let outside = if exact.abs() > limit * 1e3 { Flags::STRAIN_OUTSIDE } else { Flags::CLEAR };
                prop_assert!(edge || flags == outside, "path {i}: {flags} at {exact} of {limit}");
                if !flags.is_clear() {
                    continue;
                }
                let off = (strain * 1e9 - exact).abs();
                let allowed = bound.total.0 + circuit + support::tolerance::REFERENCE_NANOSTRAIN;
                prop_assert!(off <= allowed, "path {i}: off by {off}, bound {allowed}");
            }
            // Split and one call agree within the sum of their bounds; fixed and f64 alike.
            let apart =
                integer.reading(code, t).strain.to_bits() - integer.at(t).reading(code).strain.to_bits();
            let allowed = bounds.0.reading.total.0 + bounds.0.point.total.0;
            prop_assert!(f64::from(apart).abs() * 1e9 / fixed::Strain::PER_UNIT <= allowed);
        }
        Ok(())
    });
    println!("what the map leaves out of a circuit: up to {:.3} nanostrain", largest.get());
    assert!(counted.get() > CASES / 2, "only {} of {CASES} random channels compiled", counted.get());
}

/// Nothing panics (tests are built with overflow checks), no value escapes unflagged, and flags are
/// those that the inputs deserve, for any two numbers.
#[test]
fn any_two_integers_are_safe_and_flagged_as_they_deserve() {
    let any_code = prop_oneof![any::<i32>(), Just(i32::MIN), Just(i32::MAX), -9_000_000..9_000_000];
    let inputs = (recipe::channel_and_bits(), prop::collection::vec((any_code, any::<i32>(), share()), 16));
    let linear_ones = std::cell::Cell::new(0);
    recipe::check("any two integers", CASES, inputs, |((channel, bits), samples)| {
        let rails = (i32::MIN >> (32 - bits), i32::MAX >> (32 - bits));
        let Some((integer, single, double)) = kernels::<0>(&channel)? else { return Ok(()) };
        let (low, high) = support::temperature_ends(&channel);
        for (code, bits, warm) in samples {
            for t in [fixed::Temperature::from_bits(bits), temperature(&channel, warm)] {
                let reading = integer.reading(code, t);
                let split = integer.at(t).reading(code);
                if let Some(linear) = integer.at(t).linear() {
                    prop_assert_eq!(linear.reading(code), split);
                    linear_ones.set(linear_ones.get() + 1);
                }
                let outside = t.to_bits() < low || t.to_bits() > high;
                let at_rail = code <= rails.0 || code >= rails.1;
                for flags in [
                    reading.flags,
                    split.flags,
                    single.reading(code, t).flags,
                    single.at(t).reading(code).flags,
                    double.reading(code, t).flags,
                    double.at(t).reading(code).flags,
                ] {
                    prop_assert_eq!(flags.contains(Flags::TEMPERATURE_OUTSIDE), outside);
                    prop_assert_eq!(flags.contains(Flags::CODE_AT_RAIL), at_rail);
                }
                // A held input gives the reading of the end that it is held at.
                if outside {
                    let end = if t.to_bits() < low { low } else { high };
                    let at_end = integer.reading(code, fixed::Temperature::from_bits(end));
                    prop_assert_eq!(reading.strain, at_end.strain);
                    prop_assert_eq!(reading.flags, at_end.flags | Flags::TEMPERATURE_OUTSIDE);
                }
                prop_assert!(single.reading(code, t).strain.is_finite());
                prop_assert!(double.reading(code, t).strain.is_finite());
            }
        }
        Ok(())
    });
    assert!(linear_ones.get() > CASES, "only {} readings of linear circuits", linear_ones.get());
}

/// More code is more strain, all the way or (connected the other way round) nowhere, in steps that rounding
/// may flatten but not turn by more than twice the bound.
#[test]
fn strain_is_monotonic_in_the_code() {
    let inputs = (recipe::channel(), prop::collection::vec((any::<i32>(), 1..1_000_000, share()), 8));
    recipe::check("strain and code", CASES, inputs, |(channel, samples)| {
        let Some((integer, ..)) = kernels::<0>(&channel)? else { return Ok(()) };
        let bound = integer.error_bound().reading.total.0 * 2.0 * fixed::Strain::PER_UNIT / 1e9;
        for (code, more, warm) in samples {
            let t = temperature(&channel, warm);
            let lower = integer.reading(code, t).strain.to_bits();
            let upper = integer.reading(code.saturating_add(more), t).strain.to_bits();
            let far = integer.reading(i32::MAX, t).strain > integer.reading(i32::MIN, t).strain;
            let rise = (f64::from(upper) - f64::from(lower)) * if far { 1.0 } else { -1.0 };
            prop_assert!(rise >= -bound);
        }
        Ok(())
    });
}

/// A block in its place has the strains and flags of single calls, and a mark for each flagged sample; what is refused stays.
fn in_place(
    codes: &[i32],
    reading: impl Fn(i32) -> fixed::Reading,
    correct: impl Fn(&mut [i32], &mut dyn FnMut(usize, Flags)) -> Flags,
    correct_marked: impl Fn(&mut [i32], &mut [u32]) -> Result<Flags, Error>,
) -> Result<(), TestCaseError> {
    let alone: Vec<_> = codes.iter().map(|&code| reading(code)).collect();
    let strains: Vec<_> = alone.iter().map(|reading| reading.strain.to_bits()).collect();
    let all = alone.iter().fold(Flags::CLEAR, |all, reading| all | reading.flags);
    let raised = alone.iter().map(|reading| reading.flags).enumerate();
    let raised: Vec<_> = raised.filter(|(_, flags)| !flags.is_clear()).collect();
    let words = codes.len().div_ceil(32);

    let (mut block, mut found) = (codes.to_vec(), vec![]);
    prop_assert_eq!(correct(&mut block, &mut |sample, flags| found.push((sample, flags))), all);
    prop_assert_eq!(&block, &strains);
    prop_assert_eq!(&found, &raised);

    let (mut block, mut marks) = (codes.to_vec(), vec![0x5555_5555; words]);
    prop_assert_eq!(correct_marked(&mut block, &mut marks), Ok(all));
    prop_assert_eq!(&block, &strains);
    let marked = (0..32 * words).filter(|sample| marks[sample / 32] >> (sample % 32) & 1 == 1);
    prop_assert!(marked.eq(raised.iter().map(|(sample, _)| *sample)));

    for wrong in [words + 1, words.saturating_sub(1)].into_iter().filter(|wrong| *wrong != words) {
        let (mut block, mut marks) = (codes.to_vec(), vec![7; wrong]);
        let error = Error::BlockLength { samples: codes.len(), other: wrong };
        prop_assert_eq!(correct_marked(&mut block, &mut marks), Err(error));
        prop_assert!(block == codes && marks.iter().all(|word| *word == 7));
    }
    Ok(())
}

#[test]
fn blocks_equal_single_calls_bit_for_bit() {
    let samples = prop::collection::vec((-9_000_000..9_000_000, any::<i32>(), share(), 0..20u8), 0..100);
    let inputs = (recipe::channel(), samples, any::<i32>());
    recipe::check("blocks and single calls", CASES / 2, inputs, |(channel, samples, one)| {
        let Some((integer, single, double)) = kernels::<0>(&channel)? else { return Ok(()) };
        // Mostly in range, with a stray now and then.
        let codes: Vec<i32> = samples.iter().map(|s| if s.3 == 0 { s.1 } else { s.0 }).collect();
        let temperatures: Vec<_> = samples
            .iter()
            .map(|s| if s.3 == 1 { fixed::Temperature::from_bits(s.1) } else { temperature(&channel, s.2) })
            .collect();
        macro_rules! compare {
            ($kernel:expr, $blank:expr, $bits:expr) => {
                let mut block = vec![Reading { strain: $blank, flags: Flags::ALL[0].0 }; codes.len()];
                $kernel.readings(&codes, &temperatures, &mut block).unwrap();
                for i in 0..codes.len() {
                    let alone = $kernel.reading(codes[i], temperatures[i]);
                    prop_assert_eq!(($bits)(block[i].strain), ($bits)(alone.strain));
                    prop_assert_eq!(block[i].flags, alone.flags);
                }
                let point = $kernel.at(fixed::Temperature::from_bits(one));
                point.readings(&codes, &mut block).unwrap();
                for i in 0..codes.len() {
                    let alone = point.reading(codes[i]);
                    prop_assert_eq!(($bits)(block[i].strain), ($bits)(alone.strain));
                    prop_assert_eq!(block[i].flags, alone.flags);
                }
                let short = &mut block[..codes.len() / 2];
                if short.len() < codes.len() {
                    let error = Error::BlockLength { samples: codes.len(), other: short.len() };
                    prop_assert_eq!($kernel.readings(&codes, &temperatures, short), Err(error));
                    prop_assert_eq!(point.readings(&codes, short), Err(error));
                }
            };
        }
        compare!(integer, fixed::Strain::from_bits(0), fixed::Strain::to_bits);
        let point = integer.at(fixed::Temperature::from_bits(one));
        in_place(
            &codes,
            |code| point.reading(code),
            |c, f| point.correct(c, f),
            |c, m| point.correct_marked(c, m),
        )?;
        if let Some(point) = point.linear() {
            in_place(
                &codes,
                |code| point.reading(code),
                |c, f| point.correct(c, f),
                |c, m| point.correct_marked(c, m),
            )?;
        }
        compare!(single, 0.0f32, f32::to_bits);
        compare!(double, 0.0f64, f64::to_bits);
        Ok(())
    });
}

/// Strain to code through the forward network and back through the kernel.
#[test]
fn correcting_and_adding_back_returns_the_input() {
    let inputs = (recipe::channel(), 500.0..25_000.0f64, share(), share());
    recipe::check("there and back", CASES, inputs, |(channel, limit, warm, strained)| {
        let channel = channel.strain_within(Microstrain(limit));
        let Ok(model) = reference::Model::new(&channel) else {
            return Ok(());
        };
        let t = temperature(&channel, warm).celsius();
        let strain = (2.0 * strained - 1.0) * limit * 1e-6;
        let code = model.code_for(Strain(strain), t);
        let back = model.steps(code, t).mechanical.0;
        prop_assert!((back - strain).abs() < 1e-13, "{strain} came back as {back}");
        Ok(())
    });
}

/// The same gauge written down in Celsius and in Fahrenheit makes the same kernel, to a step in a constant.
#[test]
fn celsius_and_fahrenheit_packages_agree() {
    let terms = prop::collection::vec(-2500.0..2500.0f64, 1..=6);
    let inputs = (terms, -1_000_000..1_000_000, share());
    let compiled = std::cell::Cell::new(0);
    recipe::check("Celsius and Fahrenheit", CASES, inputs, |(terms, code, warm)| {
        let mut shape = [0.0; 6];
        shape[..terms.len()].copy_from_slice(&terms);
        let celsius = Polynomial::new(shape).substitute(-0.2, 1.0 / 250.0);
        let fahrenheit = celsius.substitute(-32.0 / 1.8, 1.0 / 1.8);
        let channel = |curve: ThermalOutput| {
            Channel::new(
                Gauge::new(GaugeFactor(2.1))
                    .gauge_factor_slope(PercentPer100C(0.9))
                    .thermal_output(curve.between(Celsius(-200.0), Celsius(300.0))),
                Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
                Converter::bipolar(24, Ratio(1.0 / 128.0)),
            )
            .strain_within(Microstrain(5_000.0))
            .balanced(4711.0, Celsius(21.0))
        };
        let in_c = channel(ThermalOutput::celsius(celsius.coefficients()));
        let in_f = channel(ThermalOutput::fahrenheit(fahrenheit.coefficients()));
        let t = temperature(&in_c, warm);
        let Some((kernel, ..)) = kernels::<0>(&in_c)? else { return Ok(()) };
        let model = |channel: &Channel| reference::Model::new(channel).unwrap().strain(code, t).0;
        prop_assert!((model(&in_c) - model(&in_f)).abs() < 1e-14);
        let (other, ..) = kernels::<0>(&in_f)?.unwrap();
        let bits = |kernel: &fixed::Kernel<5, 3>| kernel.reading(code, t).strain.to_bits();
        prop_assert!((bits(&kernel) - bits(&other)).abs() <= 2);
        compiled.set(compiled.get() + 1);
        Ok(())
    });
    assert!(compiled.get() > CASES / 2, "only {} of {CASES} random channels compiled", compiled.get());
}

/// Mechanical strain from codes does not depend on what the instrument is set to.
#[test]
fn the_instrument_gauge_factor_cancels_from_mechanical_strain() {
    let inputs = (recipe::channel(), 1.0..5.0f64, -100_000..100_000i32, share());
    recipe::check("instrument gauge factor", CASES, inputs, |(channel, factor, code, warm)| {
        let channel = channel.correction(Correction::Full);
        let Some((a, ..)) = kernels::<0>(&channel)? else { return Ok(()) };
        let set = channel.instrument_gauge_factor(GaugeFactor(factor));
        let t = temperature(&channel, warm);
        let (b, ..) = kernels::<0>(&set)?.unwrap();
        prop_assert_eq!(a, b);
        let code = code.clamp(a.codes().0, a.codes().1);
        let model = |channel: &Channel| reference::Model::new(channel).unwrap().strain(code, t).0;
        prop_assert!((model(&channel) - model(&set)).abs() * 1e9 < support::tolerance::REFERENCE_NANOSTRAIN);
        Ok(())
    });
}
