//! All pairs of integers through a set of kernels: nothing panics, flags are those that the inputs deserve, one call
//! and the split path agree, blocks and linear points give the bits of single calls.

use std::sync::LazyLock;

use gaugewright::fixed::{CompensatedKernel, Kernel, Temperature};
use gaugewright::kernel::ErrorBound;
use gaugewright::units::*;
use gaugewright::*;

use super::bytes::Bytes;
use super::sound::flags;

const GAUGE: Gauge = Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07)).thermal_output(
    ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
        .between(Celsius(-200.0), Celsius(300.0)),
);
const OHMS: Ohms = Ohms(350.0);
const LEAD: Ohms = Ohms(1.2);

/// One channel of every kind of circuit, width of codes, and curvature.
const CHANNELS: [Channel; 8] = [
    on(Bridge::quarter_three_wire(OHMS, LEAD), Converter::bipolar(24, Ratio(1.0 / 64.0)))
        .balanced(98_765.25, Celsius(21.5))
        .strain_within(Microstrain(34_500.0)),
    on(Bridge::quarter_two_wire(OHMS, LEAD), Converter::bipolar(32, Ratio(1.0 / 128.0)))
        .balanced(31_000_000.5, Celsius(20.0))
        .strain_within(Microstrain(10_000.0)),
    // No strain range: everything between the rails.
    on(Bridge::quarter_ideal(OHMS), Converter::bipolar(16, Ratio(1.0 / 64.0)))
        .balanced(-777.5, Celsius(25.0)),
    on(Bridge::half_bending(OHMS, LEAD).reversed(), Converter::bipolar(24, Ratio(1.0 / 128.0)))
        .strain_within(Microstrain(5_000.0)),
    on(Bridge::full_bending(OHMS).leads(LEAD), Converter::bipolar(31, Ratio(1.0 / 32.0)))
        .balanced(-54_321.5, Celsius(20.0))
        .strain_within(Microstrain(1.0)),
    on(Bridge::full_poisson(OHMS, 0.33), Converter::bipolar(8, Ratio(1.0 / 64.0)))
        .temperature_within(Celsius(20.0), Celsius(20.5)),
    Channel::from_readings(GAUGE, Instrument::showing(Microstrain(0.01), GaugeFactor(2.0)))
        .balanced(1234.0, Celsius(30.0))
        .strain_within(Microstrain(8_000.0)),
    on(Bridge::half_compensated(OHMS, LEAD), Converter::bipolar(24, Ratio(1.0 / 128.0)))
        .strain_within(Microstrain(5_000.0))
        .balanced(1_234.0, Celsius(20.0)),
];
const BITS: [u32; 8] = [24, 32, 16, 24, 31, 8, 32, 24];

const fn on(bridge: Bridge, converter: Converter) -> Channel {
    Channel::new(GAUGE, bridge, converter)
}

struct Kernels {
    usual: Kernel,
    any: Kernel<5, 3>,
    single: float::Kernel<f32>,
    double: float::Kernel<f64, 5, 3>,
    /// Of fixed point, `f32` and `f64`.
    bounds: [ErrorBound; 3],
    bits: u32,
}

static KERNELS: LazyLock<Vec<Kernels>> = LazyLock::new(|| {
    let compiled = |(channel, bits): (Channel, u32)| {
        let (usual, any): (Kernel, Kernel<5, 3>) = (channel.fixed(), channel.fixed());
        let (single, double): (float::Kernel<f32>, float::Kernel<f64, 5, 3>) =
            (channel.float32(), channel.float64());
        let bounds = [any.error_bound(), single.error_bound(), double.error_bound()];
        Kernels { usual, any, single, double, bounds, bits }
    };
    CHANNELS.into_iter().zip(BITS).map(compiled).collect()
});

/// The ranges of the second temperature.
const SECOND: (Celsius, Celsius) = (Celsius(-60.0), Celsius(110.0));

static COMPENSATED: LazyLock<(CompensatedKernel, ErrorBound)> = LazyLock::new(|| {
    let second = CompensatingGauge::new(GAUGE).temperature_within(SECOND.0, SECOND.1);
    let channel = CHANNELS[7].temperature_within(Celsius(-80.0), Celsius(120.0)).compensated_by(second);
    let kernel: CompensatedKernel = channel.fixed();
    (kernel, kernel.error_bound())
});

pub fn run(data: &[u8]) {
    let mut bytes = Bytes::new(data);
    let kernels = &KERNELS[usize::from(bytes.byte()) % KERNELS.len()];
    let (codes, temperatures) = (kernels.any.codes(), kernels.any.temperatures());
    let mut inputs = (Vec::new(), Vec::new(), Vec::new());
    while inputs.0.is_empty() || (!bytes.is_empty() && inputs.0.len() < 64) {
        let code = bytes.whole(codes.0, codes.1);
        let t = bytes.whole(temperatures.0.to_bits(), temperatures.1.to_bits());
        let other = bytes.whole(-60 << 20, 110 << 20);
        let (t, other) = (Temperature::from_bits(t), Temperature::from_bits(other));
        single_calls(kernels, code, t);
        two_temperatures(code, t, other);
        inputs.0.push(code);
        inputs.1.push(t);
        inputs.2.push(other);
    }
    blocks(kernels, &inputs.0, &inputs.1, &inputs.2);
}

/// A strain is outside if it exceeds the limit, which for fixed point is a number of the kernel.
fn single_calls(kernels: &Kernels, code: i32, t: Temperature) {
    let (any, ranges) = (&kernels.any, (kernels.any.codes(), kernels.any.temperatures()));
    let limit = any.constants().strain_limit;
    let deserved = |outside| flags((code, ranges.0, kernels.bits), &[(t, ranges.1)], outside);
    let (one, point) = (any.reading(code, t), any.at(t));
    let split = point.reading(code);
    for reading in [one, split] {
        assert_eq!(reading.flags, deserved(reading.strain.to_bits().unsigned_abs() > limit.unsigned_abs()));
    }
    assert_eq!((kernels.usual.reading(code, t), kernels.usual.at(t)), (one, point));
    if let Some(linear) = point.linear() {
        assert_eq!(linear.reading(code), split);
    }
    // An input out of range is held at its end.
    let held_code = code.clamp(ranges.0.0, ranges.0.1);
    let held = t.clamp(ranges.1.0, ranges.1.1);
    assert_eq!(one.strain, any.reading(held_code, held).strain);
    assert!((split.strain.to_bits() - any.at(held).reading(held_code).strain.to_bits()).abs() <= 2);
    let [bound, of_single, of_double] = &kernels.bounds;
    let apart = (one.strain.to_bits() - split.strain.to_bits()).abs();
    let allowed = bound.reading.total.0 + bound.point.total.0;
    let in_range = held_code == code && held == t;
    assert!(!in_range || f64::from(apart) * 1e9 / fixed::Strain::PER_UNIT <= allowed);

    let (single, double) = (kernels.single.reading(code, t), kernels.double.reading(code, t));
    let (single_point, double_point) = (kernels.single.at(t), kernels.double.at(t));
    let exact = one.strain.strain().0;
    for (reading, strain, whole) in [
        (single.flags, f64::from(single.strain), of_single.reading.total.0),
        (double.flags, double.strain, of_double.reading.total.0),
        (
            single_point.reading(code).flags,
            f64::from(single_point.reading(code).strain),
            of_single.point.total.0,
        ),
        (double_point.reading(code).flags, double_point.reading(code).strain, of_double.point.total.0),
    ] {
        assert!(reading == deserved(false) || reading == deserved(true));
        let off = (strain - exact).abs() * 1e9;
        assert!(!(reading | one.flags).is_clear() || off <= whole + bound.reading.total.0, "{off}");
        assert!(strain.is_finite());
    }
}

fn two_temperatures(code: i32, t: Temperature, other: Temperature) {
    let (kernel, bound) = &*COMPENSATED;
    let (one, split) = (kernel.reading(code, t, other), kernel.at(t, other).reading(code));
    let steps = |low: i32, high: i32| (Temperature::from_bits(low << 20), Temperature::from_bits(high << 20));
    let (first, second) = (steps(-80, 120), steps(-60, 110));
    let outside = t < first.0 || t > first.1 || other < second.0 || other > second.1;
    for reading in [one, split] {
        assert_eq!(reading.flags.contains(Flags::TEMPERATURE_OUTSIDE), outside);
        let at_rail = !(-8_388_607..=8_388_606).contains(&code);
        assert_eq!(reading.flags.contains(Flags::CODE_AT_RAIL), at_rail);
    }
    if one.flags.is_clear() && split.flags.is_clear() {
        let apart = f64::from(one.strain.to_bits() - split.strain.to_bits()).abs();
        assert!(apart * 1e9 / fixed::Strain::PER_UNIT <= bound.reading.total.0 + bound.point.total.0);
    }
}

fn blocks(kernels: &Kernels, codes: &[i32], temperatures: &[Temperature], others: &[Temperature]) {
    macro_rules! compare {
        ($kernel:expr) => {
            let alone: Vec<_> =
                codes.iter().zip(temperatures).map(|(&c, &t)| $kernel.reading(c, t)).collect();
            let mut block = alone.clone();
            block.reverse();
            $kernel.readings(codes, temperatures, &mut block).unwrap();
            assert_eq!(block, alone);
            let point = $kernel.at(temperatures[0]);
            point.readings(codes, &mut block).unwrap();
            let alone: Vec<_> = codes.iter().map(|&c| point.reading(c)).collect();
            assert_eq!(block, alone);
            let short = block.len() - 1;
            assert!($kernel.readings(codes, temperatures, &mut block[..short]).is_err());
            assert!(point.readings(codes, &mut block[..short]).is_err());
        };
    }
    compare!(kernels.usual);
    compare!(kernels.any);
    compare!(kernels.single);
    compare!(kernels.double);
    if let Some(linear) = kernels.any.at(temperatures[0]).linear() {
        let alone: Vec<_> = codes.iter().map(|&c| linear.reading(c)).collect();
        let mut block = alone.clone();
        block.reverse();
        linear.readings(codes, &mut block).unwrap();
        assert_eq!(block, alone);
    }
    let (kernel, _) = &*COMPENSATED;
    let alone: Vec<_> =
        (0..codes.len()).map(|i| kernel.reading(codes[i], temperatures[i], others[i])).collect();
    let mut block = alone.clone();
    block.reverse();
    kernel.readings(codes, temperatures, others, &mut block).unwrap();
    assert_eq!(block, alone);
}
