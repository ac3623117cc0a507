//! Each constant of an adjusted kernel, and its readings, against the channel compiled afresh with the same balance and span.

extern crate std;

use super::*;
use crate::channel::{Bridge, Channel, CompensatingGauge, ForcedStrain, Gauge, GaugeFactorBasis};
use crate::example::STRUT;
use crate::kernel::codes::CodeModel;
use crate::kernel::fixed::compile::{compile, compile_pair};
use crate::sample::Converter;
use crate::units::{Celsius, ExpansionPerCelsius, Microstrain, Ohms, Ratio};

/// Small generator: the same sweep everywhere.
struct Random(u64);

impl Random {
    fn between(&mut self, low: i32, high: i32) -> i32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let wide = (i64::from(high) - i64::from(low) + 1) as u64;
        (i64::from(low) + ((self.0 >> 32) * wide >> 32) as i64) as i32
    }
}

/// The largest difference of any constant, in steps.
fn apart<const D: usize, const F: usize, const P: usize>(
    one: &Kernel<D, F, P>,
    other: &Kernel<D, F, P>,
) -> u32 {
    let same = Kernel {
        gain: one.gain,
        curvature: one.curvature,
        thermal: one.thermal,
        thermal_offset: one.thermal_offset,
        ..*other
    };
    assert_eq!(same, *one, "an input range, a limit or the gauge factor differs");
    let thermal = one.thermal.iter().zip(&other.thermal).map(|(a, b)| a.abs_diff(*b));
    thermal
        .chain([
            one.gain.abs_diff(other.gain),
            one.curvature.abs_diff(other.curvature),
            one.thermal_offset.abs_diff(other.thermal_offset),
        ])
        .max()
        .unwrap()
}

const HOT: Gauge = STRUT.gauge.matched_to(ExpansionPerCelsius::ppm(10.8));

fn channel(bridge: Bridge, bits: u32) -> Channel {
    Channel::new(HOT, bridge, Converter::bipolar(bits, Ratio(1.0 / 128.0)))
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

const SPANS: (f64, f64) = (0.8, 1.25);

/// What one sweep has found.
#[derive(Debug, Default)]
struct Worst {
    constants: u32,
    strain: u32,
    bound: f64,
}

fn sweep<const D: usize, const F: usize, const P: usize>(
    channel: &Channel,
    balances: (i32, i32),
    codes: impl Iterator<Item = (i64, u32)>,
    inputs: usize,
) -> Worst {
    let spans = (Span::from_ratio(SPANS.0), Span::from_ratio(SPANS.1));
    let on_site: AdjustableKernel<D, F, P> = channel.try_fixed_adjustable(balances, spans).unwrap();
    let bound = on_site.error_bound().max().0;
    let mut worst = Worst::default();
    let mut random = Random(1);
    let (cold, hot) = on_site.kernel.temperatures();
    let mild = Temperature::from_bits(cold.to_bits() / 2 + hot.to_bits() / 2 + 12_345);
    for (sum, count) in codes {
        for (span, temperature) in [spans.0, Span::ONE, spans.1].into_iter().zip([cold, mild, hot]) {
            let kernel = on_site.with(Zero { sum, count, temperature }, span).unwrap();
            let balanced = channel
                .balanced(sum as f64 / f64::from(count), temperature.celsius())
                .span_correction(span.ratio());
            let own = CodeModel::of::<P>(&balanced, F).unwrap();
            let fresh: Kernel<D, F, P> = compile(&own).unwrap();
            assert!(own.window.0 >= kernel.codes.low() && own.window.1 <= kernel.codes.high());
            let own = CodeModel { window: (kernel.codes.low(), kernel.codes.high()), ..own };
            let same: Kernel<D, F, P> = compile(&own).unwrap();
            worst.constants = worst.constants.max(apart(&kernel, &same));
            worst.bound = worst.bound.max(bound - fresh.error_bound().max().0);
            let ((low, high), codes) = (kernel.temperatures(), fresh.codes());
            for k in 0..inputs {
                let (code, at) = match k {
                    0 => (codes.0, low.to_bits()),
                    1 => (codes.1, high.to_bits()),
                    2 => (codes.0 / 2 + codes.1 / 2, low.to_bits() / 2 + high.to_bits() / 2),
                    _ => (random.between(codes.0, codes.1), random.between(low.to_bits(), high.to_bits())),
                };
                let at = Temperature::from_bits(at);
                let (one, other) = (kernel.reading(code, at), fresh.reading(code, at));
                let apart = one.strain.to_bits().abs_diff(other.strain.to_bits());
                worst.strain = worst.strain.max(apart);
                let at_limit =
                    one.strain.to_bits().unsigned_abs().abs_diff(kernel.strain_limit as u32) <= apart;
                assert!(one.flags == other.flags || at_limit, "{code} {at:?} {one:?} {other:?}");
            }
        }
    }
    worst
}

#[test]
fn sampled_first() {
    for bits in [8, 16, 24, 32] {
        for bridge in bridges() {
            let channel = channel(bridge, bits);
            let top = 1i64 << (bits - 1);
            let reach = (top * 32 / 125 + 1) as i32;
            let codes = (0..40).map(|k| {
                let count = 1 + k * 1_680;
                (
                    -i64::from(reach) * i64::from(count)
                        + i64::from(reach) * i64::from(count) * i64::from(k) / 20,
                    count,
                )
            });
            let worst = sweep::<4, 1, 0>(&channel, (-reach, reach), codes, 100);
            std::println!("{bits} {:?} {worst:?}", bridge.circuit());
        }
    }
}
