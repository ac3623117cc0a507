//! The channel: the strut of the demonstration flight (`examples/replay/flight.toml`), whose gauge is invented.

use gaugewright::units::*;
use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput};

/// What the package says of thermal output, and the gauge factor that it says it for.
pub const THERMAL_OUTPUT: ThermalOutput =
    ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
        .stated_for(STATED_FOR)
        .between(Celsius(-200.0), Celsius(300.0));
pub const STATED_FOR: GaugeFactor = GaugeFactor(2.0);

pub const GAUGE: Gauge =
    Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07)).thermal_output(THERMAL_OUTPUT);

pub const STRUT: Channel = Channel::new(
    GAUGE,
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
    Converter::bipolar(24, Ratio(1.0 / 128.0)),
)
.balanced(-12_345.0, Celsius(18.5))
.strain_within(Microstrain(5_000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// The largest error of the arithmetic that the channel is compiled with.
pub const ERROR_LIMIT: Nanostrain = Nanostrain(0.5);
