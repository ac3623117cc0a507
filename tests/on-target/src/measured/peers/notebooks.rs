//! Two channels: as they stand in a notebook, and as channels of the library.

use gaugewright::units::*;
use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput};

use super::Notebook;

/// Constantan-like foil on steel, strained and heated as far as foil goes. All numbers are invented for the
/// project's test set, as are those of [`MILD`].
pub const WIDE: Notebook = Notebook {
    gauge_factor: 2.085,
    gauge_factor_slope: 0.94,
    reference_temperature: 24.0,
    thermal_output: [-43.2121, 3.16913, -0.0628625, 2.48734e-4, -1.69725e-7],
    stated_for: 2.0,
    gauge_ohms: 350.0,
    lead_ohms: 1.2,
    converter_bits: 24,
    full_scale: 1.0 / 64.0,
    balance_code: 98_765.25,
    balance_temperature: 21.5,
    temperatures: (-200.0, 300.0),
    strain_limit: 34_500.0,
};

/// Constantan-like foil on aluminium, in the range of most structures.
pub const MILD: Notebook = Notebook {
    gauge_factor: 2.065,
    gauge_factor_slope: 1.07,
    reference_temperature: 24.0,
    thermal_output: [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7],
    stated_for: 2.0,
    gauge_ohms: 350.0,
    lead_ohms: 1.2,
    converter_bits: 24,
    full_scale: 1.0 / 128.0,
    balance_code: -123_456.75,
    balance_temperature: 18.5,
    temperatures: (-80.0, 100.0),
    strain_limit: 5_200.0,
};

/// The same channel of the library.
pub const fn channel(notebook: &Notebook) -> Channel {
    let (cold, hot) = notebook.temperatures;
    Channel::new(
        Gauge::new(GaugeFactor(notebook.gauge_factor))
            .gauge_factor_slope(PercentPer100C(notebook.gauge_factor_slope))
            .reference_temperature(Celsius(notebook.reference_temperature))
            .thermal_output(
                ThermalOutput::celsius(notebook.thermal_output)
                    .stated_for(GaugeFactor(notebook.stated_for))
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
        Bridge::quarter_three_wire(Ohms(notebook.gauge_ohms), Ohms(notebook.lead_ohms)),
        Converter::bipolar(notebook.converter_bits, Ratio(notebook.full_scale)),
    )
    .balanced(notebook.balance_code, Celsius(notebook.balance_temperature))
    .strain_within(Microstrain(notebook.strain_limit))
    .temperature_within(Celsius(cold), Celsius(hot))
}
