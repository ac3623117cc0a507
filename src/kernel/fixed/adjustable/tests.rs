//! Each constant of an adjusted kernel, and its readings, against the channel compiled afresh with the same balance and span.

extern crate std;

use super::*;
use crate::channel::{
    Bridge, Channel, CompensatedChannel, CompensatingGauge, ForcedStrain, Gauge, GaugeFactorBasis,
};
use crate::example::STRUT;
use crate::kernel::codes::CodeModel;
use crate::kernel::fixed::bound::STEP;
use crate::kernel::fixed::compile::{compile, compile_pair};
use crate::sample::{Converter, Reading};
use crate::units::{Celsius, ExpansionPerCelsius, Microstrain, Ohms, Ratio};
use std::vec::Vec;

/// Small generator: the same sweep everywhere.
struct Random(u64);

impl Random {
    fn between(&mut self, low: i32, high: i32) -> i32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let wide = (i64::from(high) - i64::from(low) + 1) as u64;
        (i64::from(low) + (((self.0 >> 32) * wide) >> 32) as i64) as i32
    }
}

/// What is measured on site, with the temperature of the compensating gauge where there is one.
#[derive(Clone, Copy, Debug)]
struct Site {
    zero: Zero,
    compensating: Temperature,
    span: Span,
}

impl Site {
    fn code(&self) -> f64 {
        self.zero.codes.sum as f64 / f64::from(self.zero.codes.count)
    }
}

/// A kernel of one or of two temperatures.
trait Compared: Copy {
    fn integers(&self) -> Vec<i32>;
    fn answer(&self, code: i32, at: [Temperature; 2]) -> Reading<crate::sample::Strain>;
    fn bound(&self) -> f64;
    fn ends(&self) -> [(i32, i32); 3];
    fn limit(&self) -> i32;
}

/// An adjustable kernel and the channel that it was made from.
trait Adjusts {
    type Kernel: Compared;
    fn adjusted(&self, site: Site) -> Self::Kernel;
    /// The channel compiled afresh, in its own window or in that of the adjustable kernel.
    fn afresh(&self, site: Site, own_window: bool) -> Self::Kernel;
    fn bound(&self) -> f64;
}

fn ends((low, high): (Temperature, Temperature)) -> (i32, i32) {
    (low.to_bits(), high.to_bits())
}

impl<const D: usize, const F: usize, const P: usize> Compared for Kernel<D, F, P> {
    fn integers(&self) -> Vec<i32> {
        let Self { gain, curvature, thermal_offset, .. } = *self;
        [gain, curvature, thermal_offset].into_iter().chain(self.thermal).collect()
    }
    fn answer(&self, code: i32, at: [Temperature; 2]) -> Reading<crate::sample::Strain> {
        self.reading(code, at[0])
    }
    fn bound(&self) -> f64 {
        self.error_bound().max().0
    }
    fn ends(&self) -> [(i32, i32); 3] {
        [self.codes(), ends(self.temperatures()), ends(self.temperatures())]
    }
    fn limit(&self) -> i32 {
        self.strain_limit
    }
}

impl<const D: usize, const F: usize, const P: usize> Compared for CompensatedKernel<D, F, P> {
    fn integers(&self) -> Vec<i32> {
        let second = self.second.thermal.into_iter().chain([self.second.thermal_offset]);
        self.kernel.integers().into_iter().chain(second).collect()
    }
    fn answer(&self, code: i32, [here, there]: [Temperature; 2]) -> Reading<crate::sample::Strain> {
        self.reading(code, here, there)
    }
    fn bound(&self) -> f64 {
        self.error_bound().max().0
    }
    fn ends(&self) -> [(i32, i32); 3] {
        let second = self.second.temperatures;
        [self.kernel.codes(), ends(self.kernel.temperatures()), (second.low(), second.high())]
    }
    fn limit(&self) -> i32 {
        self.kernel.strain_limit
    }
}

struct Single<const D: usize, const F: usize, const P: usize>(Channel, AdjustableKernel<D, F, P>);
struct Pair<const D: usize, const F: usize, const P: usize>(
    CompensatedChannel,
    AdjustableCompensatedKernel<D, F, P>,
);

impl<const D: usize, const F: usize, const P: usize> Adjusts for Single<D, F, P> {
    type Kernel = Kernel<D, F, P>;
    fn adjusted(&self, site: Site) -> Self::Kernel {
        self.1.with(site.zero, site.span).unwrap()
    }
    fn afresh(&self, site: Site, own_window: bool) -> Self::Kernel {
        let channel = self.0.balanced(site.code(), site.zero.temperature.celsius());
        let channel = channel.span_correction(site.span.ratio());
        let model = CodeModel::of::<P>(&channel, F).unwrap();
        let window = if own_window { model.window } else { self.1.window(model.window) };
        compile(&CodeModel { window, ..model }).unwrap()
    }
    fn bound(&self) -> f64 {
        self.1.error_bound().max().0
    }
}

impl<const D: usize, const F: usize, const P: usize> Adjusts for Pair<D, F, P> {
    type Kernel = CompensatedKernel<D, F, P>;
    fn adjusted(&self, site: Site) -> Self::Kernel {
        self.1.with(site.zero, site.compensating, site.span).unwrap()
    }
    fn afresh(&self, site: Site, own_window: bool) -> Self::Kernel {
        let channel = self.0.channel.balanced(site.code(), site.zero.temperature.celsius());
        let compensating = self.0.compensating.balanced_at(site.compensating.celsius());
        let channel = channel.span_correction(site.span.ratio()).compensated_by(compensating);
        let (model, second) = CodeModel::of_compensated::<P>(&channel, F).unwrap();
        let window = if own_window { model.window } else { self.1.adjustable.window(model.window) };
        compile_pair(&CodeModel { window, ..model }, &second).unwrap()
    }
    fn bound(&self) -> f64 {
        self.1.error_bound().max().0
    }
}

impl<const D: usize, const F: usize, const P: usize> AdjustableKernel<D, F, P> {
    /// That of the kernel, which has to hold the channel's own.
    fn window(&self, own: (i32, i32)) -> (i32, i32) {
        let window = self.kernel.codes();
        assert!(own.0 >= window.0 && own.1 <= window.1, "{own:?} is not in {window:?}");
        window
    }
}

/// The largest differences that one sweep has found.
#[derive(Debug, Default)]
struct Worst {
    /// In steps.
    constants: u32,
    /// In steps.
    strain: u32,
    /// By how much the bound is larger, in nanostrain.
    bound: f64,
}

/// Constants at every zero given, with each of three spans at one of three temperatures or at `every` one of them; readings at the ends,
/// in the centre and at random inputs, with each span at one temperature.
fn sweep<A: Adjusts>(
    on_site: &A,
    zeros: impl Iterator<Item = (i64, u32)>,
    spans: &[Span],
    every: bool,
    inputs: usize,
) -> Worst {
    let bound = on_site.bound();
    let mut worst = Worst::default();
    let mut random = Random(1);
    let [_, own, other] = {
        let any = Zero { codes: 0.into(), temperature: Temperature::from_bits(20 << 20) };
        on_site.adjusted(Site { zero: any, compensating: any.temperature, span: spans[0] }).ends()
    };
    let place = |(low, high): (i32, i32), k: usize| {
        Temperature::from_bits([low, low / 2 + high / 2 + 12_345, high][k])
    };
    for (number, (sum, count)) in zeros.enumerate() {
        for (k, span) in spans.iter().enumerate() {
            for t in if every { 0..3 } else { k..k + 1 } {
                let zero = Zero { codes: MeanCode { sum, count }, temperature: place(own, t) };
                let site = Site { zero, compensating: place(other, 2 - t), span: *span };
                let kernel = on_site.adjusted(site);
                let same = on_site.afresh(site, false);
                let apart = kernel.integers().into_iter().zip(same.integers()).map(|(a, b)| a.abs_diff(b));
                worst.constants = worst.constants.max(apart.max().unwrap());
                if k != t {
                    continue;
                }
                let fresh = on_site.afresh(site, true);
                // Smooth in the balance, and slow to compute.
                if number % 16 == 0 {
                    worst.bound = worst.bound.max(bound - fresh.bound());
                }
                let [codes, own, other] = fresh.ends();
                for k in 0..inputs {
                    let (code, here, there) = match k {
                        0 => (codes.0, own.0, other.1),
                        1 => (codes.1, own.1, other.0),
                        2 => (codes.0 / 2 + codes.1 / 2, own.0 / 2 + own.1 / 2, other.0 / 2 + other.1 / 2),
                        _ => {
                            let (here, there) =
                                (random.between(own.0, own.1), random.between(other.0, other.1));
                            (random.between(codes.0, codes.1), here, there)
                        }
                    };
                    let at = [here, there].map(Temperature::from_bits);
                    let (one, other) = (kernel.answer(code, at), fresh.answer(code, at));
                    let apart = one.strain.to_bits().abs_diff(other.strain.to_bits());
                    worst.strain = worst.strain.max(apart);
                    let at_limit =
                        one.strain.to_bits().unsigned_abs().abs_diff(kernel.limit() as u32) <= apart;
                    assert!(one.flags == other.flags || at_limit, "{site:?} {code} {at:?} {one:?} {other:?}");
                }
            }
        }
    }
    worst
}

/// Constants to a step, readings to what both bounds allow, and the bound that the kernels of the whole range share no more than a tenth
/// of a nanostrain above that of any of them.
fn assert_small(name: &str, worst: &Worst, bound: f64) {
    std::println!("{name}: bound {bound:.3}, {worst:?}");
    assert!(worst.constants <= 1 && worst.bound <= 0.1, "{name}: {worst:?}");
    assert!(f64::from(worst.strain) * STEP <= 2.0 * bound, "{name}: {worst:?}");
}

const HOT: Gauge = STRUT.gauge.matched_to(ExpansionPerCelsius::ppm(10.8));
const SPANS: (f64, f64) = (0.8, 1.25);
const STEEL_ON_ALUMINIUM: ForcedStrain =
    ForcedStrain::by_expansion(ExpansionPerCelsius::ppm(14.0), ExpansionPerCelsius::ppm(23.0));

fn spans() -> (Span, Span) {
    (Span::from_ratio(SPANS.0), Span::from_ratio(SPANS.1))
}

fn channel(gauge: Gauge, bridge: Bridge, bits: u32) -> Channel {
    Channel::new(gauge, bridge, Converter::bipolar(bits, Ratio(1.0 / 128.0)))
        .specimen(ExpansionPerCelsius::ppm(23.0))
        .temperature_within(Celsius(-60.0), Celsius(110.0))
        .strain_within(Microstrain(3_000.0))
}

fn bridges() -> [Bridge; 14] {
    let (r, lead) = (Ohms(350.0), Ohms(1.2));
    [
        Bridge::quarter_three_wire(r, lead),
        Bridge::quarter_two_wire(r, lead),
        Bridge::quarter_three_wire(r, lead).reversed(),
        Bridge::half_compensated(r, lead),
        Bridge::half_poisson(r, lead, 0.3),
        Bridge::half_bending(r, lead),
        Bridge::full_bending(r).leads(Ohms(4.0)),
        Bridge::full_poisson(r, 0.3).leads(Ohms(4.0)).remote_sense(),
        Bridge::full_torsion(r),
        Bridge::opposite_arms(r),
        Bridge::quarter_three_wire(r, lead).completion(Ohms(350.3)),
        Bridge::quarter_three_wire(r, lead)
            .completion(Ohms(350.3))
            .reference_half(Ohms(1000.0), Ohms(1001.0)),
        Bridge::quarter_three_wire(r, lead).completion(Ohms(350.3)).input_resistance(Ohms(1e5)),
        Bridge::full_poisson(r, 0.3).leads(Ohms(4.0)).input_resistance(Ohms(1e5)),
    ]
}

/// Balances of 2 mV/V either way on a converter of 7.8 mV/V.
fn reach(bits: u32) -> i32 {
    ((1i64 << (bits - 1)) * 32 / 125 + 1) as i32
}

/// From end to end, with a fraction.
fn zeros(reach: i32) -> impl Iterator<Item = (i64, u32)> {
    (0..40u32).map(move |k| {
        let count = 1 + k * 1_680;
        let whole = i64::from(reach) * i64::from(count);
        (whole * i64::from(k) * 2 / 39 - whole, count)
    })
}

/// Zeros from end to end, each with the lowest span, one, and the highest.
fn compare(name: &str, on_site: &impl Adjusts, bits: u32) {
    let spans = [spans().0, Span::ONE, spans().1];
    let worst = sweep(on_site, zeros(reach(bits)), &spans, false, 100);
    assert_small(name, &worst, on_site.bound());
}

fn single<const D: usize, const F: usize, const P: usize>(name: &str, channel: &Channel, bits: u32) {
    let reach = reach(bits);
    let kernel = channel.try_fixed_adjustable((-reach, reach), spans()).unwrap();
    compare(name, &Single::<D, F, P>(*channel, kernel), bits);
}

fn pair<const D: usize, const F: usize, const P: usize>(name: &str, channel: &CompensatedChannel, bits: u32) {
    let reach = reach(bits);
    let kernel = channel.try_fixed_adjustable((-reach, reach), spans()).unwrap();
    compare(name, &Pair::<D, F, P>(*channel, kernel), bits);
}

#[test]
fn every_circuit_and_converter() {
    for bits in [8, 16, 24, 32] {
        for bridge in bridges() {
            let name = std::format!("{bits} bits, {:?}", bridge.circuit());
            single::<4, 1, 0>(&name, &channel(HOT, bridge, bits), bits);
        }
    }
}

#[test]
fn with_the_product() {
    for bits in [8, 16, 24, 32] {
        for bridge in bridges() {
            for basis in [GaugeFactorBasis::UnloadedGauge, GaugeFactorBasis::FreeFoil(STEEL_ON_ALUMINIUM)] {
                let name = std::format!("{bits} bits, {:?}, {basis:?}", bridge.circuit());
                single::<5, 3, 1>(&name, &channel(HOT.gauge_factor_basis(basis), bridge, bits), bits);
            }
        }
    }
}

#[test]
fn of_two_temperatures() {
    for bits in [16, 24] {
        let wires = Bridge::half_compensated(Ohms(350.0), Ohms(1.2));
        for bridge in [wires, wires.reversed(), wires.input_resistance(Ohms(1e5))] {
            let other = CompensatingGauge::new(HOT).temperature_within(Celsius(-40.0), Celsius(90.0));
            let both = channel(HOT, bridge, bits).compensated_by(other);
            pair::<4, 1, 0>(&std::format!("{bits} bits, two temperatures"), &both, bits);
            let gauge = HOT.gauge_factor_basis(GaugeFactorBasis::UnloadedGauge);
            let other = CompensatingGauge::new(gauge).temperature_within(Celsius(-40.0), Celsius(90.0));
            let both = channel(gauge, bridge, bits).compensated_by(other);
            pair::<4, 1, 1>(&std::format!("{bits} bits, two temperatures with the product"), &both, bits);
        }
    }
}

/// At every whole balance code of a converter of 16 bits within 2 mV/V, with three spans and three temperatures.
#[test]
fn every_balance_of_a_16_bit_converter() {
    let channel = channel(HOT, Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)), 16);
    let reach = reach(16);
    let kernel = channel.try_fixed_adjustable((-reach, reach), spans()).unwrap();
    let on_site = Single::<4, 1, 0>(channel, kernel);
    let spans = [spans().0, Span::ONE, spans().1];
    let codes = (-reach..=reach).map(|code| (i64::from(code), 1));
    let worst = sweep(&on_site, codes, &spans, true, 1_003);
    assert_small("every balance", &worst, on_site.bound());
}
