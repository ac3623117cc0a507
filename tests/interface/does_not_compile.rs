//! A channel that is wrong stops the build of a firmware that holds it as a constant, and the compiler's
//! message names the quantity. The two programs below are right and have to compile, or the test would prove
//! nothing; each line of a table makes one thing of its program wrong and says what the compiler must be told.

use support::program::check;

const THERMOMETERS: &str = r#"
use gaugewright::Converter;
use gaugewright::units::*;
use gaugewright::temperature::*;

const THERMOMETER: ResistanceThermometer = ResistanceThermometer::platinum(
    Platinum::iec60751(Ohms(100.0)),
    Converter::bipolar(22, Ratio(1.0 / 16.0)),
    Ohms(4096.0),
)
.between(Celsius(-200.0), Celsius(300.0));

static SENSOR: ResistanceKernel<i32, 8> = THERMOMETER.fixed_within(Celsius(0.001));
static SINGLE_SENSOR: ResistanceKernel<f32, 8> = THERMOMETER.float32_within(Celsius(0.002));

fn main() {
    let _ = (SENSOR, SINGLE_SENSOR);
}
"#;

const CHANNELS: &str = r#"
use gaugewright::channel::{ForcedStrain, GaugeFactorBasis};
use gaugewright::units::*;
use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, float};

const CHANNEL: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07)).thermal_output(
        ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
            .stated_for(GaugeFactor(2.0))
            .between(Celsius(-80.0), Celsius(120.0)),
    ),
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
    Converter::bipolar(24, Ratio(1.0 / 128.0)),
)
.strain_within(Microstrain(5_000.0));

/// The same gauge, with a gauge factor that refers to the free foil.
const FREE_FOIL: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .gauge_factor_basis(GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree([0.0, 8.0])))
        .thermal_output(ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-79.0), Celsius(121.0))),
    Bridge::quarter_three_wire(Ohms(351.0), Ohms(1.1)),
    Converter::bipolar(23, Ratio(1.0 / 127.0)),
)
.strain_within(Microstrain(4_000.0));

static KERNEL: fixed::Kernel = CHANNEL.fixed_within(Nanostrain(0.5));
static SINGLE: float::Kernel<f32> = CHANNEL.float32();
static WITH_PRODUCT: fixed::Kernel<4, 3, 1> = FREE_FOIL.fixed();

fn main() {
    let _ = (KERNEL, SINGLE, WITH_PRODUCT);
}
"#;

/// Name, what is replaced, by what, and what the compiler says.
type Wrong = (&'static str, &'static str, &'static str, &'static str);

const WRONG_CHANNELS: [Wrong; 13] = [
    ("negative_lead", "Ohms(1.2)", "Ohms(-1.2)", "lead resistance (ohm) is -1.2, allowed: 0 to 350"),
    ("converter_bits", "bipolar(24", "bipolar(40", "converter bits is 40, allowed: "),
    (
        "gauge_factor",
        "GaugeFactor(2.065)).gauge_factor_slope",
        "GaugeFactor(0.0)).gauge_factor_slope",
        "gauge factor is 0, allowed: 0.1 to 500",
    ),
    (
        "no_fitted_range",
        ".between(Celsius(-80.0), Celsius(120.0))",
        "",
        "lower end of the fitted temperature range (C) is missing or not a number, allowed: ",
    ),
    (
        "too_much_range",
        "Ratio(1.0 / 128.0)),\n)\n.strain_within(Microstrain(5_000.0))",
        "Ratio(1.0 / 8.0)),\n)",
        "strain over the codes in use (microstrain) is ",
    ),
    (
        "steep_curve",
        "[-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7]",
        "[0.0, 1500.0]",
        "thermal output constant is ",
    ),
    (
        "degree_five",
        "-1.49376e-7]",
        "-1.49376e-7, 1e-13]",
        "thermal output degree for the kernel type is 5, this one has room for 4: use one that has more",
    ),
    (
        "error_limit_exceeded",
        "Nanostrain(0.5)",
        "Nanostrain(0.05)",
        "the limit is 0.05 nanostrain; the largest part is the rounding of operations, in one call; no narrower range \
         and no lower degree would do",
    ),
    (
        "error_limit_exceeded_at_large_strain",
        "Ratio(1.0 / 128.0)),\n)\n.strain_within(Microstrain(5_000.0))",
        "Ratio(1.0 / 16.0)),\n)\n.strain_within(Microstrain(50_000.0))",
        "the largest part is the remainder of the reciprocal, in the split path; it would hold for strain within ",
    ),
    (
        "code_too_long",
        "(24, Ratio(1.0 / 128.0)),\n)\n.strain_within(Microstrain(5_000.0))",
        "(31, Ratio(1.0 / 64.0)),\n)\n.strain_within(Microstrain(28_000.0))",
        ", or for codes without their lowest 2 bits",
    ),
    (
        "no_room_for_the_product",
        "PercentPer100C(1.07)).thermal",
        "PercentPer100C(1.07)).gauge_factor_basis(GaugeFactorBasis::UnloadedGauge).thermal",
        "this one has room for 0: use Kernel<4, 1, 1>, or one with more in its first two places",
    ),
    (
        "too_few_terms_of_the_gauge_factor",
        "fixed::Kernel = CHANNEL.fixed_within(Nanostrain(0.5));",
        "fixed::Kernel<4, 1, 1> = FREE_FOIL.fixed();",
        "use one with more terms of it, such as Kernel<4, 3, 1>",
    ),
    (
        "second_gauge",
        ".strain_within(Microstrain(5_000.0));",
        ".compensated_by(gaugewright::CompensatingGauge::new(Gauge::new(GaugeFactor(2.0))));",
        "expected `Channel`, found `CompensatedChannel`",
    ),
];

const WRONG_THERMOMETERS: [Wrong; 4] = [
    (
        "thermometer_limit",
        "Celsius(0.001)",
        "Celsius(0.00001)",
        "C, the limit is 0.00001 C: take more pieces or a narrower range",
    ),
    (
        "single_thermometer_limit",
        "Celsius(0.002)",
        "Celsius(0.00002)",
        "C, the limit is 0.00002 C: take more pieces or a narrower range",
    ),
    ("thermometer_pieces", "ResistanceKernel<i32, 8>", "ResistanceKernel<i32, 7>", "pieces of the curve"),
    (
        "thermometer_range",
        "Celsius(300.0)",
        "Celsius(500.0)",
        "code at the upper end of the thermometer's range",
    ),
];

#[test]
fn each_wrong_channel_stops_the_build_with_its_message() {
    for (name, right, wrong) in
        [("channels", CHANNELS, &WRONG_CHANNELS[..]), ("thermometers", THERMOMETERS, &WRONG_THERMOMETERS)]
    {
        let output = check(name, right);
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        for (name, part, instead, expected) in wrong {
            assert_eq!(right.matches(part).count(), 1, "{name}: {part:?} is not there once");
            let output = check(name, &right.replace(part, instead));
            let said = String::from_utf8_lossy(&output.stderr);
            assert!(!output.status.success(), "{name} compiles");
            assert!(said.contains(expected), "{name}: {expected:?} is not in\n{said}");
        }
    }
}
