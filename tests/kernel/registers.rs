//! The kernels against the description of their arithmetic in `tests/support/src/arithmetic.rs`, run in 128 bits and stopped at
//! the first intermediate that would not fit 32: the bits are the same, and nothing wraps for inputs in range.

use gaugewright::channel::{ForcedStrain, GaugeFactorBasis};
use gaugewright::fixed::{CompensatedKernel, Kernel, Temperature};
use gaugewright::numeric::Polynomial;
use gaugewright::temperature::CurveConstants;
use gaugewright::uncertainty::FixedUncertaintyPoint;
use gaugewright::units::*;
use gaugewright::*;
use support::arithmetic::{Description, Input, curve_piece, emf, principal, rosette_row, uncertainty};
use support::registers::{self, Registers};
use support::{ANY_ERROR, Random, compensated_set, set, test_set};

use on_target::channels::CHANNELS;
use on_target::commissioning::inputs;
use on_target::paths::{ROSETTE, ROSETTE_FIXED};
use on_target::thermometers::{K_FIXED, PLATINUM_FIXED, THERMISTOR_FIXED};

/// A whole number of a range; the two ends in the first draws, by the bits of `draw`.
fn number(random: &mut Random, (low, high): (i32, i32), draw: usize, end: usize) -> i32 {
    if draw < 8 { [low, high][(draw >> end) & 1] } else { random.between(low, high) }
}

fn gauge(random: &mut Random) -> Gauge {
    let mut terms = [0.0; 6];
    terms.fill_with(|| random.within(4000.0));
    let curve = Polynomial::new(terms).substitute(-0.2, 1.0 / 250.0).coefficients();
    Gauge::new(GaugeFactor(2.0 + random.share()))
        .gauge_factor_polynomial([random.within(4e-4), random.within(2e-7), random.within(2e-10)])
        .thermal_output(ThermalOutput::celsius(curve).between(Celsius(-200.0), Celsius(300.0)))
}

/// The same, whose gauge factor refers to the unloaded gauge or to the free foil.
fn gauge_of_the_product(random: &mut Random) -> Gauge {
    let basis = if random.share() < 0.5 {
        GaugeFactorBasis::UnloadedGauge
    } else {
        let forced = [0.0, random.within(20.0), random.within(0.01), random.within(2e-5)];
        GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree(forced))
    };
    gauge(random).gauge_factor_basis(basis)
}

fn channel(random: &mut Random, gauge: Gauge) -> Channel {
    let low = random.within(200.0);
    let bits = 12 + (random.share() * 21.0) as u32;
    let code = random.within(0.2) * f64::from(i32::MAX >> (32 - bits));
    Channel::new(
        gauge,
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(20.0 * random.share())),
        Converter::bipolar(bits, Ratio(1.0 / (8.0 + 120.0 * random.share()))),
    )
    .balanced(code, Celsius(random.within(100.0)))
    .strain_within(Microstrain(100.0 + 55_000.0 * random.share()))
    .temperature_within(Celsius(low), Celsius(low + 1.0 + random.share() * (299.0 - low)))
}

fn bits((low, high): (Temperature, Temperature)) -> (i32, i32) {
    (low.to_bits(), high.to_bits())
}

fn compare<const P: usize>(kernel: &Kernel<5, 3, P>, random: &mut Random, draws: usize) {
    assert_eq!(kernel.constants().product.is_some(), P == 1);
    let constants = kernel.constants();
    let description = Description::of(&constants);
    let (cold, hot) = bits(constants.temperatures);
    for draw in 0..draws {
        // The corners first: that is where registers are fullest.
        let code = number(random, constants.codes, draw, 0);
        let temperature = number(random, (cold, hot), draw, 1);
        registers::compare(kernel, &description, code, temperature);
        // Outside: the nearest end, and a flag in the registers.
        let (beyond, end) = if draw % 2 == 0 { (hot.saturating_add(1), hot) } else { (i32::MIN, cold) };
        let mut registers = Registers { code, temperature: end, compensating: 0, held: true };
        let reading = kernel.at(Temperature::from_bits(beyond)).reading(code);
        assert!(reading.flags.contains(Flags::TEMPERATURE_OUTSIDE));
        assert_eq!(i128::from(reading.strain.to_bits()), description.split(&mut registers).strain);
    }
}

fn random_channels<const P: usize>(mut random: Random, gauge: fn(&mut Random) -> Gauge) {
    let mut compiled = 0;
    for _ in 0..4_000 {
        let gauge = gauge(&mut random);
        let Ok(kernel) = channel(&mut random, gauge).try_fixed_within::<5, 3, P>(ANY_ERROR) else { continue };
        compiled += 1;
        compare(&kernel, &mut random, 64);
    }
    assert!(compiled > 1_000, "only {compiled} of 4000 compiled");
}

#[test]
fn no_register_overflows_and_the_description_gives_the_same_bits() {
    random_channels::<0>(Random(2026), gauge);
    random_channels::<1>(Random(2029), gauge_of_the_product);
}

#[test]
fn the_same_for_every_channel_of_the_test_set() {
    let mut random = Random(2027);
    for (_, channel) in test_set() {
        compare(&channel.try_fixed::<5, 3, 0>().unwrap(), &mut random, 2_000);
    }
    for (_, described) in set::with_product() {
        compare(&described.channel().try_fixed_within::<5, 3, 1>(ANY_ERROR).unwrap(), &mut random, 2_000);
    }
}

#[test]
fn the_same_for_two_temperatures() {
    two_temperatures::<0>(Random(2028), compensated_set(), gauge);
    two_temperatures::<1>(Random(2030), set::compensated_with_product(), gauge_of_the_product);
}

fn two_temperatures<const P: usize>(
    mut random: Random,
    set: Vec<(String, CompensatedChannel)>,
    first: fn(&mut Random) -> Gauge,
) {
    let mut compiled = 0;
    let half_bridge = |random: &mut Random| {
        let half = Bridge::half_compensated(Ohms(350.0), Ohms(3.0 * random.share()));
        let (measuring, compensating) = (first(random), gauge(random));
        Channel::new(measuring, half, Converter::bipolar(24, Ratio(1.0 / 64.0)))
            .strain_within(Microstrain(20_000.0 * random.share()))
            .compensated_by(CompensatingGauge::new(compensating))
    };
    let random_channels: Vec<_> = (0..3_000).map(|_| half_bridge(&mut random)).collect();
    for channel in set.into_iter().map(|(_, channel)| channel).chain(random_channels) {
        let Ok(kernel) = channel.try_fixed_within::<5, 3, P>(ANY_ERROR) else { continue };
        compiled += 1;
        let kernel: CompensatedKernel<5, 3, P> = kernel;
        let constants = kernel.constants();
        let description = Description::of_two_temperatures(&constants);
        for draw in 0..64 {
            let code = number(&mut random, constants.measuring.codes, draw, 0);
            let temperature = number(&mut random, bits(constants.measuring.temperatures), draw, 1);
            let compensating = number(&mut random, bits(constants.temperatures), draw, 2);
            registers::compare_two(&kernel, &description, code, [temperature, compensating]);
        }
    }
    assert!(compiled > 400, "only {compiled} compiled");
}

/// The description is checked too: it has to notice a register that is too full.
#[test]
#[should_panic(expected = "does not fit a register")]
fn the_description_notices_an_overflow() {
    let mut random = Random(1);
    let kernel = loop {
        let gauge = gauge(&mut random);
        if let Ok(kernel) = channel(&mut random, gauge).try_fixed::<5, 3, 0>() {
            break kernel;
        }
    };
    let mut constants = kernel.constants();
    constants.thermal_offset = i32::MAX;
    constants.thermal = [i32::MAX; 5];
    let (code, temperature) = (constants.codes.0, constants.temperatures.1.to_bits());
    let mut registers = Registers { code, temperature, compensating: 0, held: false };
    Description::of(&constants).one_call(&mut registers);
}

/// The piece of a curve that an input of its range lies in, and the place in it.
fn place<const PIECES: usize>(curve: &CurveConstants<PIECES>, input: i32) -> (usize, i32) {
    let above = i64::from(input) - i64::from(curve.low);
    assert!((0..=i64::from(curve.span)).contains(&above));
    let place = above as u64 * u64::from(curve.scale) * PIECES as u64;
    ((place >> 32) as usize, (i64::from(place as u32) - (1 << 31)) as i32)
}

/// The description of a curve at an input of its range.
fn described<const PIECES: usize>(curve: &CurveConstants<PIECES>, input: i32) -> i128 {
    let (piece, code) = place(curve, input);
    let mut registers = Registers { code, temperature: 0, compensating: 0, held: false };
    curve_piece(&mut registers, curve, piece, Input::Code, 0.0)
}

#[test]
fn thermometers_have_the_bits_of_their_description() {
    let mut random = Random(8);
    for draw in 0..200_000 {
        let mut code = |range| number(&mut random, range, draw, 0);
        let reading = |code| PLATINUM_FIXED.reading(code).temperature.to_bits();
        let any = code(PLATINUM_FIXED.codes());
        assert_eq!(i128::from(reading(any)), described(&PLATINUM_FIXED.constants(), any));
        let any = code(THERMISTOR_FIXED.codes());
        let found = THERMISTOR_FIXED.reading(any).temperature.to_bits();
        assert_eq!(i128::from(found), described(&THERMISTOR_FIXED.constants(), any));

        let (hot, cold, scale, rail) = K_FIXED.constants();
        let junction = code((cold.low, cold.low.wrapping_add(cold.span as i32)));
        let any = code((!rail, rail));
        let (piece, temperature) = place(&cold, junction);
        let mut registers = Registers { code: any, temperature, compensating: 0, held: false };
        let sum = emf(&mut registers, &cold, piece, (scale, rail));
        // Beyond the ends of the hot curve: its ends.
        let high = i128::from(hot.low) + i128::from(hot.span);
        let sum = sum.clamp(i128::from(hot.low), high) as i32;
        let found = K_FIXED.reading(any, Temperature::from_bits(junction)).temperature.to_bits();
        assert_eq!(i128::from(found), described(&hot, sum));
    }
}

#[test]
fn rosettes_have_the_bits_of_their_description() {
    let mut random = Random(9);
    for draw in 0..100_000 {
        let grids = [0, 1, 2].map(|end| number(&mut random, (i32::MIN, i32::MAX), draw, end));
        let state = ROSETTE_FIXED.strain(grids.map(fixed::Strain::from_bits)).strain;
        let found = [state.mean(), state.half_difference(), state.half_shear()];
        let [code, temperature, compensating] = grids;
        let mut registers = Registers { code, temperature, compensating, held: false };
        for (row, found) in found.into_iter().enumerate() {
            let exact = rosette_row(&mut registers, &ROSETTE, row);
            let clamped = exact.clamp(i32::MIN.into(), i32::MAX.into());
            assert_eq!(i128::from(found.to_bits()), clamped, "{grids:?}");
        }
        let exact = principal(&mut registers, &ROSETTE);
        let found = state.principal().strain;
        for (found, exact) in
            [(found.first, exact.first), (found.second, exact.second), (found.half_shear, exact.half_shear)]
        {
            let clamped = exact.clamp(i32::MIN.into(), i32::MAX.into());
            assert_eq!(i128::from(found.to_bits()), clamped, "{grids:?}");
        }
    }
}

#[test]
fn uncertainties_have_the_bits_of_their_description() {
    let mut random = Random(10);
    for (_, channel) in &CHANNELS[..3] {
        let kernel = inputs(*channel).try_float64::<0>().unwrap();
        let (low, high) = channel.temperatures();
        for draw in 0..2_000 {
            let point = kernel.at(Celsius(low.0 + (high.0 - low.0) * random.share())).unwrap();
            let point = point.try_fixed().unwrap();
            let code = number(&mut random, (i32::MIN, i32::MAX), draw, 0);
            let mut registers = Registers { code, temperature: 0, compensating: 0, held: false };
            let found = point.standard(fixed::Strain::from_bits(code)).to_bits();
            // The description ends with the root, which is within so many steps: they are added.
            let root = uncertainty(&mut registers, point.constants());
            assert_eq!(i128::from(found), root + i128::from(FixedUncertaintyPoint::ROOT_STEPS));
        }
    }
}

/// Exhausted over the roots of 32-bit numbers, sampled above: both ends of what has a root, and where it is rounded up.
#[test]
fn roots_are_rounded_down() {
    let mut random = Random(11);
    let above = (0..200_000).map(|_| (random.bits() as u32).into());
    for root in (1..=0xffff_u64).chain([u32::MAX.into()]).chain(above) {
        for square in [root * root, root * root + root, root * root + root + 1, root * root + 2 * root] {
            assert_eq!(square.isqrt(), root, "{square}");
        }
    }
}
