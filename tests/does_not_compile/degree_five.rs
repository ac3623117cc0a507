// expect: use one that has, such as Kernel<5, 3>
use gaugewright::units::*;
use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed};

const CHANNEL: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07)).thermal_output(
        ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7, 1e-13])
            .stated_for(GaugeFactor(2.0))
            .between(Celsius(-80.0), Celsius(120.0)),
    ),
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
    Converter::bipolar(24, Ratio(1.0 / 128.0)),
)
.strain_within(Microstrain(5_000.0));

static KERNEL: fixed::Kernel = CHANNEL.fixed_within(Nanostrain(0.5));

fn main() {
    let _ = KERNEL;
}
