//! Ready values for the examples of this documentation.

use crate::channel::{Bridge, Channel, CompensatedChannel, CompensatingGauge, Gauge, ThermalOutput};
use crate::commissioning::expansion::Expansion;
use crate::commissioning::fit::{Direction, GaugeFactorFit, ThermalOutputFit};
use crate::commissioning::prediction::{FoilResistance, Prediction};
use crate::error::Error;
use crate::sample::Converter;
use crate::units::{Celsius, ExpansionPerCelsius, GaugeFactor, Microstrain, Ohms, PercentPer100C, Ratio};

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

/// A gauge without thermal output.
pub const FLAT_GAUGE: Gauge = Gauge::new(GaugeFactor(2.0))
    .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0)));

/// That gauge, and a converter of 16 bits.
pub const FLAT: Channel =
    Channel::new(FLAT_GAUGE, Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));

/// The same with 32 bits: half a code of it is next to nothing.
pub const FLAT_FINEST: Channel =
    Channel::new(FLAT_GAUGE, Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(32, Ratio(0.01)));

/// The same with 24 bits and a gauge of 350 ohm.
pub const FINE: Channel = Channel::new(
    FLAT_GAUGE.thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0))),
    Bridge::quarter_ideal(Ohms(350.0)),
    Converter::bipolar(24, Ratio(1.0 / 64.0)),
);

/// The strut of the guides: its gauge package, three leads, a converter of 24 bits, a balance.
pub const STRUT: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07)).thermal_output(
        ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
            .stated_for(GaugeFactor(2.0))
            .between(Celsius(-80.0), Celsius(120.0)),
    ),
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
    Converter::bipolar(24, Ratio(1.0 / 128.0)),
)
.balanced(-12_345.0, Celsius(18.5))
.strain_within(Microstrain(5_000.0));

/// Predicted thermal output of a gauge on a specimen of its foil's expansion: five microstrain a degree from 24 C, from 0 to 90 C.
pub const PREDICTION: Prediction<'static> = Prediction::new(
    Gauge::new(GaugeFactor(2.1)),
    FoilResistance::new([1e-5]).between(Celsius(0.0), Celsius(90.0)),
    Expansion::coefficient(ExpansionPerCelsius::ppm(15.0)),
    Expansion::coefficient(ExpansionPerCelsius::ppm(15.0)),
);

/// Thermal output at five temperatures: about two microstrain a degree.
pub fn thermal_output_fit() -> Result<ThermalOutputFit<f64>, Error> {
    let mut fit = ThermalOutputFit::between(Celsius(0.0), Celsius(50.0))?;
    for (t, reading) in [(2.0, -40.1), (14.0, -16.2), (25.0, 6.0), (37.0, 30.1), (49.0, 53.9)] {
        fit.observe(Direction::Heating, Celsius(t), Microstrain(reading))?;
    }
    Ok(fit)
}

/// Gauge factor at five temperatures: about a percent per 100 C.
pub fn gauge_factor_fit() -> Result<GaugeFactorFit<f64>, Error> {
    let mut fit = GaugeFactorFit::between(Celsius(0.0), Celsius(100.0))?;
    for (t, ratio) in [(1.0, 0.9976), (24.0, 1.0001), (50.0, 1.0025), (75.0, 1.0051), (99.0, 1.0075)] {
        fit.observe_ratio(Direction::Heating, Celsius(t), ratio)?;
    }
    Ok(fit)
}
