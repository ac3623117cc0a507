//! Ready values for the examples of this documentation.

use crate::channel::{Bridge, Channel, CompensatedChannel, CompensatingGauge, Gauge, ThermalOutput};
use crate::sample::Converter;
use crate::units::{Celsius, GaugeFactor, Ohms, Ratio};

/// A gauge whose thermal output is a straight line: a microstrain a degree from 24 C.
pub const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1))
    .thermal_output(ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));

const CONVERTER: Converter = Converter::bipolar(24, Ratio(0.01));

/// That gauge in a quarter bridge.
pub const CHANNEL: Channel = Channel::new(GAUGE, Bridge::quarter_ideal(Ohms(120.0)), CONVERTER);

/// Four of them in a full bridge.
pub const LINEAR: Channel = Channel::new(GAUGE, Bridge::full_bending(Ohms(120.0)), CONVERTER);

/// Two of them, one on a piece without load.
pub const COMPENSATED: CompensatedChannel =
    Channel::new(GAUGE, Bridge::half_compensated(Ohms(120.0), Ohms(0.5)), CONVERTER)
        .compensated_by(CompensatingGauge::new(GAUGE));

/// A gauge without thermal output, and a converter of 16 bits.
pub const FLAT: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
    Bridge::quarter_ideal(Ohms(120.0)),
    Converter::bipolar(16, Ratio(0.01)),
);

/// The same with 24 bits and a gauge of 350 ohm.
pub const FINE: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0))),
    Bridge::quarter_ideal(Ohms(350.0)),
    Converter::bipolar(24, Ratio(1.0 / 64.0)),
);
