//! The channels of the sweep, as constants: those of the committed vectors, and one of every other circuit.

use gaugewright::channel::{Arm, ForcedStrain, GaugeFactorBasis};
use gaugewright::fixed::{AdjustableCompensatedKernel, AdjustableKernel, Span};
use gaugewright::installation::{Shunt, ShuntCheck, WiringCheck};
use gaugewright::units::*;
use gaugewright::{
    Bridge, Channel, CompensatedChannel, CompensatingGauge, Converter, Gauge, Instrument, ThermalOutput,
    fixed, float,
};

/// A gauge of the test data (`tests/data/gauges.csv` and `polynomials.csv`).
const fn gauge(factor: f64, slope: f64, matched_ppm: f64, stated: f64, curve: &[f64]) -> Gauge {
    Gauge::new(GaugeFactor(factor))
        .gauge_factor_slope(PercentPer100C(slope))
        .matched_to(ExpansionPerCelsius::ppm(matched_ppm))
        .reference_temperature(Celsius(24.0))
        .thermal_output(
            ThermalOutput::celsius_from(curve)
                .stated_for(GaugeFactor(stated))
                .between(Celsius(-200.0), Celsius(300.0)),
        )
}

const STEEL: Gauge =
    gauge(2.085, 0.94, 11.0, 2.0, &[-43.2121, 3.16913, -0.0628625, 0.000248734, -1.69725e-7]);
const STEEL_DEGREE_FIVE: Gauge =
    gauge(2.085, 0.94, 11.0, 2.0, &[-43.2385, 3.16944, -0.0628563, 0.000248703, -1.69891e-7, 6.62953e-13]);
pub const ALUMINIUM_CURVE: [f64; 5] = [-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7];
const ALUMINIUM: Gauge = gauge(2.065, 1.07, 23.0, 2.0, &ALUMINIUM_CURVE);
const TITANIUM: Gauge =
    gauge(2.045, 0.91, 9.0, 2.0, &[-32.9603, 2.70279, -0.0608708, 0.000233371, -1.62185e-7]);
const TITANIUM_DEGREE_FIVE: Gauge =
    gauge(2.045, 0.91, 9.0, 2.0, &[-32.9684, 2.70288, -0.0608689, 0.000233361, -1.62236e-7, 2.01801e-13]);
const NICKEL_CHROMIUM_DEGREE_FIVE: Gauge =
    gauge(2.18, -0.97, 13.0, 2.1, &[-23.1342, 1.16756, -0.00798067, -2.23353e-5, 5.72517e-8, -1.32042e-14]);

const fn wide(gauge: Gauge) -> Channel {
    Channel::new(
        gauge,
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 64.0)),
    )
    .balanced(98_765.25, Celsius(21.5))
    .strain_within(Microstrain(34_500.0))
}

const fn circuit(bridge: Bridge) -> Channel {
    circuit_of(ALUMINIUM, bridge)
}

const fn circuit_of(gauge: Gauge, bridge: Bridge) -> Channel {
    Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 128.0)))
        .balanced(54_321.5, Celsius(20.0))
        .strain_within(Microstrain(3_000.0))
        .temperature_within(Celsius(-80.0), Celsius(100.0))
}

/// How many of [`CHANNELS`] are those of the committed vectors, whose names these are.
pub const IN_VECTORS: usize = 7;

const GAUGE: Ohms = Ohms(350.0);
const LEAD: Ohms = Ohms(1.2);

pub const CHANNELS: [(&str, Channel); 14] = [
    ("wide", wide(STEEL)),
    (
        "mild",
        Channel::new(
            ALUMINIUM,
            Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
            Converter::bipolar(24, Ratio(1.0 / 128.0)),
        )
        .balanced(-123_456.75, Celsius(18.5))
        .strain_within(Microstrain(5_200.0))
        .temperature_within(Celsius(-80.0), Celsius(100.0)),
    ),
    ("degree five", wide(TITANIUM_DEGREE_FIVE)),
    (
        "cubic factor",
        Channel::new(
            STEEL_DEGREE_FIVE.gauge_factor_polynomial([6.0e-5, 1.5e-7, -2.0e-10]),
            Bridge::quarter_two_wire(Ohms(120.0), Ohms(0.8)),
            Converter::bipolar(24, Ratio(1.0 / 64.0)),
        )
        .specimen(ExpansionPerCelsius::ppm(16.2))
        .balanced(-400_000.5, Celsius(150.0))
        .strain_within(Microstrain(20_000.0)),
    ),
    (
        "fine codes",
        Channel::new(
            TITANIUM,
            Bridge::quarter_three_wire(Ohms(350.0), Ohms(2.5)),
            Converter::bipolar(32, Ratio(1.0 / 128.0)),
        )
        .balanced(31_000_000.5, Celsius(20.0))
        .strain_within(Microstrain(10_000.0)),
    ),
    (
        "coarse codes",
        Channel::new(
            NICKEL_CHROMIUM_DEGREE_FIVE,
            Bridge::quarter_ideal(Ohms(1000.0)),
            Converter::bipolar(16, Ratio(1.0 / 64.0)),
        )
        .balanced(-777.5, Celsius(25.0)),
    ),
    (
        "instrument",
        Channel::from_readings(ALUMINIUM, Instrument::showing(Microstrain(0.01), GaugeFactor(2.0)))
            .balanced(1234.0, Celsius(30.0))
            .strain_within(Microstrain(8_000.0)),
    ),
    ("half compensated", circuit(Bridge::half_compensated(GAUGE, LEAD))),
    ("half axial and transverse", circuit(Bridge::half_poisson(GAUGE, LEAD, 0.33))),
    ("half bending", circuit(Bridge::half_bending(GAUGE, LEAD).reversed())),
    ("full bending", circuit(FULL_BENDING)),
    ("full axial and transverse", circuit(Bridge::full_poisson(GAUGE, 0.33).leads(LEAD))),
    ("full torsion", circuit(Bridge::full_torsion(GAUGE).leads(LEAD))),
    ("opposite arms", circuit(Bridge::opposite_arms(GAUGE).leads(LEAD).input_resistance(Ohms(1e7)))),
];

const FULL_BENDING: Bridge = Bridge::full_bending(GAUGE).leads(LEAD).remote_sense();

/// A bridge without curvature: at a balance other than zero it would have a trace.
pub const LINEAR: Channel = circuit(FULL_BENDING).balanced(0.0, Celsius(20.0));

/// A strut with a gauge on a free block beside it.
pub const COMPENSATED: CompensatedChannel = circuit(Bridge::half_compensated(GAUGE, LEAD))
    .compensated_by(CompensatingGauge::new(TITANIUM).balanced_at(Celsius(19.0)));

/// A gauge factor that refers to the unloaded gauge, in the range as wide as it goes.
pub const PRODUCT: Channel = wide(STEEL.gauge_factor_basis(GaugeFactorBasis::UnloadedGauge));

/// Two temperatures, and a gauge factor that refers to the free foil.
pub const PRODUCT_COMPENSATED: CompensatedChannel =
    circuit_of(ALUMINIUM.gauge_factor_basis(FREE_FOIL), Bridge::half_compensated(GAUGE, LEAD))
        .compensated_by(CompensatingGauge::new(TITANIUM).balanced_at(Celsius(19.0)));

const FREE_FOIL: GaugeFactorBasis =
    GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree([0.0, 8.35, 3.6e-3, -1e-6]));

/// Balances of 2 mV/V either way.
pub const BALANCES: (i32, i32) = (-2_147_484, 2_147_484);
pub const SPANS: (Span, Span) = (Span::from_ratio(0.8), Span::from_ratio(1.25));

/// A channel that is balanced on site.
pub static ADJUSTABLE: AdjustableKernel = CHANNELS[1].1.fixed_adjustable(BALANCES, SPANS);

/// The largest there is: two temperatures, and a gauge factor that refers to the unloaded gauge.
pub static ADJUSTABLE_COMPENSATED: AdjustableCompensatedKernel<4, 1, 1> = circuit_of(
    ALUMINIUM.gauge_factor_basis(GaugeFactorBasis::UnloadedGauge),
    Bridge::half_compensated(GAUGE, LEAD),
)
.compensated_by(CompensatingGauge::new(TITANIUM))
.fixed_adjustable(BALANCES, SPANS);

/// Codes of the wiring of the largest circuit there is, and of a shunt across the terminals of the instrument.
pub static WIRING: WiringCheck = FULL.wiring_check(Percent(0.5));
pub static SHUNT: ShuntCheck =
    Shunt::at_instrument(Arm::Two, Ohms(100_000.0)).tolerance(Percent(0.1)).code_check(&FULL, SPANS);

const FULL: Channel = circuit_of(STEEL, Bridge::full_bending(GAUGE).leads(LEAD).input_resistance(Ohms(1e6)));

pub type Fixed = fixed::Kernel<5, 3>;
pub type Single = float::Kernel<f32, 5, 3>;

/// One kernel a constant: the compiler takes all of them in one for a program that never ends.
struct Compiled<const CHANNEL: usize>;

impl<const CHANNEL: usize> Compiled<CHANNEL> {
    const FIXED: Fixed = CHANNELS[CHANNEL].1.fixed();
    const SINGLE: Single = CHANNELS[CHANNEL].1.float32();
}

macro_rules! compiled {
    ($arithmetic:ident: $($channel:literal)*) => { [$(Compiled::<$channel>::$arithmetic),*] };
}

pub static FIXED: [Fixed; CHANNELS.len()] = compiled!(FIXED: 0 1 2 3 4 5 6 7 8 9 10 11 12 13);
pub static SINGLE: [Single; CHANNELS.len()] = compiled!(SINGLE: 0 1 2 3 4 5 6 7 8 9 10 11 12 13);

pub static FIXED_COMPENSATED: fixed::CompensatedKernel = COMPENSATED.fixed();
pub static SINGLE_COMPENSATED: float::CompensatedKernel<f32> = COMPENSATED.float32();

pub static FIXED_PRODUCT: fixed::Kernel<4, 1, 1> = PRODUCT.fixed();
pub static SINGLE_PRODUCT: float::Kernel<f32, 4, 1, 1> = PRODUCT.float32();

/// As few terms as the default has, so that costs compare: they leave 0.63 microstrain out of this range.
const FEW_TERMS: Nanostrain = Nanostrain(700.0);
pub static FIXED_PRODUCT_COMPENSATED: fixed::CompensatedKernel<4, 1, 1> =
    PRODUCT_COMPENSATED.fixed_within(FEW_TERMS);
pub static SINGLE_PRODUCT_COMPENSATED: float::CompensatedKernel<f32, 4, 1, 1> =
    PRODUCT_COMPENSATED.float32_within(FEW_TERMS);
