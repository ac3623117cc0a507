//! Channels from bytes: every builder there is, most numbers of a size that some channel has, a few of any.

use gaugewright::channel::{ForcedStrain, GaugeFactorBasis, MismatchScale};
use gaugewright::units::*;
use gaugewright::*;

use super::bytes::Bytes;

/// A channel, and what is to be known of it from outside.
pub struct Drawn {
    pub channel: Channel,
    /// With a temperature of its own.
    pub compensating: Option<CompensatingGauge>,
    /// `None` for an instrument that shows strain.
    pub converter: Option<Converter>,
    pub bits: u32,
    /// The gauge factor refers to another resistance than that at balance.
    pub product: bool,
}

pub fn channel(bytes: &mut Bytes) -> Drawn {
    let (gauge, product) = with_basis(gauge(bytes), bytes);
    let compensated = bytes.byte() % 4 == 1;
    let mut drawn = if bytes.byte() % 8 == 7 {
        let step = bytes.one_of(&[1.0, 0.1, 0.01, 1e-6, 1e3]);
        let factor = GaugeFactor(bytes.number(0.5, 5.0));
        let channel = Channel::from_readings(gauge, Instrument::showing(Microstrain(step), factor));
        Drawn { channel, compensating: None, converter: None, bits: 32, product }
    } else {
        let (converter, bits) = converter(bytes);
        let bridge = bridge(bytes, compensated);
        Drawn {
            channel: Channel::new(gauge, bridge, converter),
            compensating: None,
            converter: Some(converter),
            bits,
            product,
        }
    };
    let mut channel = drawn.channel;
    let what = bytes.byte();
    if what & 1 != 0 {
        channel = channel.specimen(ExpansionPerCelsius::ppm(bytes.number(0.0, 30.0)));
    }
    if what & 2 != 0 {
        let full = f64::from(i32::MAX.checked_shr(32u32.wrapping_sub(drawn.bits)).unwrap_or(i32::MAX));
        channel = channel.balanced(bytes.number(-0.5, 0.5) * full, temperature(bytes));
    }
    if what & 4 != 0 {
        channel = channel.instrument_gauge_factor(GaugeFactor(bytes.number(1.0, 5.0)));
    }
    if what & 8 != 0 {
        channel = channel.span_correction(bytes.number(0.75, 1.3));
    }
    if what & 16 == 0 {
        channel = channel.strain_within(Microstrain(bytes.number(1.0, 30_000.0)));
    }
    if what & 32 != 0 {
        channel = channel.temperature_within(temperature(bytes), temperature(bytes));
    }
    if what & 64 != 0 {
        channel = channel.strain_ratio(bytes.number(-5.0, 5.0));
    }
    channel = channel
        .correction(match bytes.byte() % 8 {
            1 => Correction::None,
            2 => Correction::ThermalOutput,
            _ => Correction::Full,
        })
        .mismatch_scale(match bytes.byte() % 4 {
            1 => MismatchScale::GaugeFactorAtReference,
            2 => MismatchScale::StatedGaugeFactor,
            _ => MismatchScale::GaugeFactorAtTemperature,
        });
    drawn.channel = channel;
    drawn.compensating = compensated.then(|| compensating(bytes));
    drawn
}

fn temperature(bytes: &mut Bytes) -> Celsius {
    Celsius(bytes.number(-220.0, 320.0))
}

/// And whether that is another basis than the default.
fn with_basis(gauge: Gauge, bytes: &mut Bytes) -> (Gauge, bool) {
    let basis = match bytes.byte() % 8 {
        1 | 2 => GaugeFactorBasis::UnloadedGauge,
        3 | 4 => GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree([
            bytes.number(-10.0, 10.0),
            bytes.number(-20.0, 20.0),
            bytes.number(-1e-2, 1e-2),
            bytes.number(-2e-5, 2e-5),
        ])),
        _ => GaugeFactorBasis::AtBalance,
    };
    (gauge.gauge_factor_basis(basis), basis != GaugeFactorBasis::AtBalance)
}

fn gauge(bytes: &mut Bytes) -> Gauge {
    let mut gauge = Gauge::new(GaugeFactor(bytes.number(0.5, 5.0)));
    let what = bytes.byte();
    if what & 1 != 0 {
        gauge = gauge.gauge_factor_slope(PercentPer100C(bytes.number(-3.0, 3.0)));
    }
    if what & 2 != 0 {
        let change = [bytes.number(-3e-4, 3e-4), bytes.number(-2e-7, 2e-7), bytes.number(-2e-10, 2e-10)];
        gauge = gauge.gauge_factor_polynomial(change);
    }
    if what & 4 == 0 {
        gauge = gauge.thermal_output(thermal_output(bytes));
    }
    if what & 8 != 0 {
        gauge = gauge.reference_temperature(Celsius(bytes.number(-50.0, 100.0)));
    }
    if what & 16 == 0 {
        gauge = gauge.matched_to(ExpansionPerCelsius::ppm(bytes.number(0.0, 30.0)));
    }
    if what & 32 != 0 {
        gauge = gauge.transverse_sensitivity(Percent(bytes.number(-2.0, 2.0)));
    }
    if what & 64 != 0 {
        gauge = gauge.calibration_poisson_ratio(bytes.number(-0.02, 0.52));
    }
    gauge
}

fn thermal_output(bytes: &mut Bytes) -> ThermalOutput {
    // Up to one more than there is room for; each of a size that is worth some thousand microstrain over the range.
    let count = usize::from(bytes.byte() % 8);
    let fahrenheit = bytes.flag();
    let width: f64 = if fahrenheit { 450.0 } else { 250.0 };
    let mut coefficients = [0.0; 7];
    for (power, coefficient) in (0i32..).zip(&mut coefficients).take(count) {
        let most = 2500.0 / width.powi(power);
        *coefficient = bytes.number(-most, most);
    }
    let mut curve = if fahrenheit {
        ThermalOutput::fahrenheit_from(&coefficients[..count])
    } else {
        ThermalOutput::celsius_from(&coefficients[..count])
    };
    if bytes.flag() {
        curve = curve.stated_for(GaugeFactor(bytes.number(1.0, 5.0)));
    }
    match bytes.byte() % 16 {
        1 => curve,
        2 => curve.between(temperature(bytes), temperature(bytes)),
        _ => curve.between(Celsius(bytes.number(-200.0, -10.0)), Celsius(bytes.number(40.0, 300.0))),
    }
}

fn compensating(bytes: &mut Bytes) -> CompensatingGauge {
    let mut second = CompensatingGauge::new(gauge(bytes));
    let what = bytes.byte();
    if what & 1 != 0 {
        second = second.specimen(ExpansionPerCelsius::ppm(bytes.number(0.0, 30.0)));
    }
    if what & 2 != 0 {
        second = second.balanced_at(Celsius(bytes.number(-10.0, 40.0)));
    }
    if what & 4 != 0 {
        second = second.temperature_within(temperature(bytes), temperature(bytes));
    }
    second
}

fn converter(bytes: &mut Bytes) -> (Converter, u32) {
    let bits = match bytes.byte() {
        255 => bytes.word() as u32,
        byte => [24, 16, 32, 20, 8, 12, 31, 28, 7, 33, 0, 1][usize::from(byte) % 12],
    };
    if bytes.byte() % 8 == 3 {
        let step = bytes.one_of(&[0.1, 0.01, 1.0, 1e-6, 1e-3]);
        return (Converter::linear_strain(Microstrain(step), GaugeFactor(bytes.number(1.0, 4.0))), 32);
    }
    let full_scale = bytes.one_of(&[1.0 / 64.0, 1.0 / 128.0, 1.0 / 256.0, 1.0 / 16.0, 0.5, 1.0, 1e-6]);
    (Converter::bipolar(bits, Ratio(full_scale)), bits)
}

fn bridge(bytes: &mut Bytes, compensated: bool) -> Bridge {
    let gauge = bytes.one_of(&[350.0, 120.0, 1000.0, 1.0, 5000.0]);
    let lead = Ohms(bytes.number(0.0, 0.1) * gauge);
    let some = |bytes: &mut Bytes| Ohms(gauge * bytes.number(0.95, 1.05));
    let ohms = Ohms(gauge);
    // A second temperature needs one circuit; others have to refuse it.
    let kind = if compensated && bytes.byte() % 8 != 7 { 3 } else { bytes.byte() % 10 };
    let mut bridge = match kind {
        0 => Bridge::quarter_three_wire(ohms, lead),
        1 => Bridge::quarter_two_wire(ohms, lead),
        2 => Bridge::quarter_ideal(ohms),
        3 => Bridge::half_compensated(ohms, lead),
        4 => Bridge::half_poisson(ohms, lead, bytes.number(-0.02, 0.52)),
        5 => Bridge::half_bending(ohms, lead),
        6 => Bridge::full_bending(ohms),
        7 => Bridge::full_poisson(ohms, bytes.number(-0.02, 0.52)),
        8 => Bridge::full_torsion(ohms),
        _ => Bridge::opposite_arms(ohms),
    };
    let what = bytes.byte();
    if what & 1 != 0 {
        bridge = bridge.leads(Ohms(bytes.number(0.0, 0.1) * gauge));
    }
    if what & 2 != 0 {
        bridge = bridge.output_leads(Ohms(bytes.number(0.0, 0.1) * gauge));
    }
    if what & 4 != 0 {
        bridge = bridge.completion(some(bytes));
    }
    if what & 8 != 0 {
        bridge = bridge.reference_half(some(bytes), some(bytes));
    }
    if what & 16 != 0 {
        bridge = bridge.input_resistance(Ohms(bytes.one_of(&[1e6, 1e9, 1e4, 1e3, 1e15])));
    }
    if what & 32 != 0 {
        bridge = bridge.remote_sense();
    }
    if what & 64 != 0 {
        bridge = bridge.reversed();
    }
    if what & 128 != 0 {
        bridge = bridge.gauge(some(bytes));
    }
    bridge
}
