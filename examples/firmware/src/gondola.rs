//! The channels of the demonstration flight, as an engineer writes them down: the same as in the channel file of the
//! replay (`examples/replay/flight.toml`), compiled into the firmware.

use gaugewright::fixed::{self, Temperature};
use gaugewright::units::*;
use gaugewright::{
    Bridge, Channel, CompensatedChannel, CompensatingGauge, Converter, Gauge, ThermalOutput, float,
};

const ON_ALUMINIUM: Gauge = Gauge::new(GaugeFactor(2.065))
    .gauge_factor_slope(PercentPer100C(1.07))
    .matched_to(ExpansionPerCelsius::ppm(23.0))
    .thermal_output(
        ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
            .stated_for(GaugeFactor(2.0))
            .between(Celsius(-200.0), Celsius(300.0)),
    );

/// The same gauge with a curve of degree five.
const ON_ALUMINIUM_DEGREE_FIVE: Gauge = ON_ALUMINIUM.thermal_output(
    ThermalOutput::celsius([-28.5736, 2.33925, -0.0533756, 2.3279e-4, -1.49179e-7, -7.88185e-13])
        .stated_for(GaugeFactor(2.0))
        .between(Celsius(-200.0), Celsius(300.0)),
);

const FOR_TITANIUM: Gauge = Gauge::new(GaugeFactor(2.045))
    .gauge_factor_slope(PercentPer100C(0.91))
    .matched_to(ExpansionPerCelsius::ppm(9.0));

const ON_TITANIUM: Gauge = FOR_TITANIUM.thermal_output(
    ThermalOutput::celsius([-32.9603, 2.70279, -0.0608708, 2.33371e-4, -1.62185e-7])
        .stated_for(GaugeFactor(2.0))
        .between(Celsius(-200.0), Celsius(300.0)),
);

/// The same gauge, whose package gives the curve in Fahrenheit.
const ON_TITANIUM_FAHRENHEIT: Gauge = FOR_TITANIUM.thermal_output(
    ThermalOutput::fahrenheit([-101.576, 2.82889, -0.0227237, 4.19932e-5, -1.54497e-8])
        .stated_for(GaugeFactor(2.0))
        .between(Fahrenheit(-328.0).celsius(), Fahrenheit(572.0).celsius()),
);

const ON_NICKEL: Gauge = Gauge::new(GaugeFactor(2.180))
    .gauge_factor_slope(PercentPer100C(-0.97))
    .matched_to(ExpansionPerCelsius::ppm(13.0))
    .thermal_output(
        ThermalOutput::celsius([-23.1347, 1.16756, -0.00798054, -2.23359e-5, 5.72484e-8])
            .stated_for(GaugeFactor(2.10))
            .between(Celsius(-200.0), Celsius(300.0)),
    );

const GAUGE: Ohms = Ohms(350.0);

const fn channel(gauge: Gauge, bridge: Bridge, balance_code: f64, balance_celsius: f64) -> Channel {
    // All converters alike: 24 bits, a gain of 128.
    Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 128.0)))
        .balanced(balance_code, Celsius(balance_celsius))
        .strain_within(Microstrain(5_000.0))
        .temperature_within(Celsius(-80.0), Celsius(100.0))
}

pub const STRUT_NORTH: Channel =
    channel(ON_ALUMINIUM, Bridge::quarter_three_wire(GAUGE, Ohms(1.2)), 167_622.0, 18.5);
pub const STRUT_SOUTH: Channel =
    channel(ON_ALUMINIUM_DEGREE_FIVE, Bridge::quarter_two_wire(GAUGE, Ohms(0.35)), 988_449.0, 21.0);
pub const FITTING_CROWN: Channel =
    channel(ON_TITANIUM_FAHRENHEIT, Bridge::quarter_three_wire(GAUGE, Ohms(2.5)), -270_937.0, 16.5);
/// On another titanium alloy than the gauge is matched to.
pub const FITTING_KEEL: Channel =
    channel(ON_TITANIUM, Bridge::quarter_three_wire(GAUGE, Ohms(2.5)), 454_192.0, 19.75)
        .specimen(ExpansionPerCelsius::ppm(10.1));
pub const VALVE_BODY: Channel =
    channel(ON_NICKEL, Bridge::quarter_three_wire(Ohms(1000.0), Ohms(0.8)), 218_218.0, 20.25);
/// With an equal gauge on a free block.
pub const STRUT_SPARE: Channel =
    channel(ON_ALUMINIUM, Bridge::half_compensated(GAUGE, Ohms(1.5)), 215_494.0, 19.0);
/// The block has a temperature of its own.
const STRUT_SPARE_AND_BLOCK: CompensatedChannel = STRUT_SPARE.compensated_by(
    CompensatingGauge::new(ON_ALUMINIUM)
        .balanced_at(Celsius(18.25))
        .temperature_within(Celsius(-80.0), Celsius(100.0)),
);
pub const BOOM_ROOT: Channel =
    channel(ON_ALUMINIUM, Bridge::full_bending(GAUGE).leads(Ohms(4.0)), 105_010.0, 17.5)
        .strain_within(Microstrain(3_000.0));
pub const TIE_ROD: Channel =
    channel(ON_TITANIUM, Bridge::half_poisson(GAUGE, Ohms(1.8), 0.33), -150_806.0, 18.0);

/// The channels, in the order of the stream.
pub const CHANNELS: usize = 8;

/// What the logger keeps of a channel, in flash.
pub struct Line {
    pub name: &'static str,
    pub fixed: Fixed,
    pub single: Single,
}

/// A kernel for one temperature or for two, with room for degree five.
macro_rules! kernels {
    ($(#[$doc:meta])* $name:ident: $one:ty, $two:ty => $point:ty, $reading:ty) => {
        $(#[$doc])*
        pub enum $name {
            One($one),
            Two($two),
        }

        impl $name {
            /// A kernel for one temperature does not look at that of the block.
            pub fn reading(&self, code: i32, temperature: Temperature, block: Temperature) -> $reading {
                match self {
                    Self::One(kernel) => kernel.reading(code, temperature),
                    Self::Two(kernel) => kernel.reading(code, temperature, block),
                }
            }

            pub fn at(&self, temperature: Temperature, block: Temperature) -> $point {
                match self {
                    Self::One(kernel) => kernel.at(temperature),
                    Self::Two(kernel) => kernel.at(temperature, block),
                }
            }
        }
    };
}

kernels! {
    /// In integers.
    Fixed: fixed::Kernel<5, 1>, fixed::CompensatedKernel<5, 1> => fixed::OperatingPoint, fixed::Reading
}
kernels! {
    /// In single precision.
    Single: float::Kernel<f32, 5, 1>, float::CompensatedKernel<f32, 5, 1> => float::OperatingPoint<f32>, float::Reading<f32>
}

/// Every kernel meets its error limit, or the firmware does not compile.
macro_rules! line {
    ($name:literal, $channel:ident) => {{
        const FIXED: Fixed = Fixed::One($channel.fixed_within(Nanostrain(0.5)));
        const SINGLE: Single = Single::One($channel.float32_within(Nanostrain(5.0)));
        Line { name: $name, fixed: FIXED, single: SINGLE }
    }};
}

pub static TABLE: [Line; CHANNELS] = [
    line!("strut_north", STRUT_NORTH),
    line!("strut_south", STRUT_SOUTH),
    line!("fitting_crown", FITTING_CROWN),
    line!("fitting_keel", FITTING_KEEL),
    line!("valve_body", VALVE_BODY),
    {
        const FIXED: Fixed = Fixed::Two(STRUT_SPARE_AND_BLOCK.fixed_within(Nanostrain(0.7)));
        const SINGLE: Single = Single::Two(STRUT_SPARE_AND_BLOCK.float32_within(Nanostrain(10.0)));
        Line { name: "strut_spare", fixed: FIXED, single: SINGLE }
    },
    line!("boom_root", BOOM_ROOT),
    line!("tie_rod", TIE_ROD),
];

/// Which of them has a block with a temperature of its own.
pub const WITH_BLOCK: usize = 5;
