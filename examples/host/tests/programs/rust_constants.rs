//! Channels as constants of Rust: what `replay --rust-module` writes compiles, and is what the channel file says.

use crate::run::{run, run_in};
use gaugewright::fixed::{self, Span, Temperature, Zero};
use gaugewright::units::Nanostrain;
use gaugewright::{Channel, CompensatedChannel};
use host::channel_file::{self, Basis, ChannelFile, Description};
use host::describe::describe;
use host::kernel::Kernel;
use host::on_site::{shunt_check, wiring_check};
use host::rosette::rosette;
use host::sensor::{ERROR_LIMIT, Live};
use host::setup::Thermometer;

use crate::every_key::*;

const EVERY_KEY: &str = include_str!("every_key.toml");

/// The module beside this file is written anew where `GAUGEWRIGHT_WRITE_VECTORS` is set.
#[test]
fn the_module_is_that_of_the_channel_file() {
    let (file, module) = ("every_key.toml", ["every_key.toml", "--rust-module", "every_key.rs"]);
    let run = run("replay", "rust module", &[(file, EVERY_KEY)], &module).gives(0);
    let text = run.file("every_key.rs");
    let committed = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/programs/every_key.rs");
    if std::env::var_os("GAUGEWRIGHT_WRITE_VECTORS").is_some() {
        std::fs::write(committed, &text).unwrap();
    }
    assert!(text == std::fs::read_to_string(committed).unwrap(), "{committed} is not in step");
    // No file is written over.
    run_in(&run.folder, "replay", &[file, "--rust-module", file]).gives(1);
    assert_eq!(run.file(file), EVERY_KEY);
    run_in(&run.folder, "replay", &[&module[..], &["--c-header", "every_key.rs"]].concat()).gives(1);
    assert_eq!(run.file("every_key.rs"), text);
}

/// What the file says, in its order.
fn file() -> ChannelFile {
    channel_file::parse(EVERY_KEY).map_err(|problems| problems[0].to_string()).unwrap()
}

fn descriptions() -> Vec<Description> {
    file().channels
}

/// The reading of each temperature and code, by the constant and by the file.
fn same(description: &Description, reading: impl Fn(i32, Temperature) -> fixed::Reading) {
    let described = describe(description).unwrap();
    let limit = description.error_limit();
    let kernel = Kernel::within(&described.channel, described.compensating, limit).unwrap();
    // Room for other degrees may round a last step otherwise where there are two temperatures; of the free foil the polynomial is
    // another, and both are within the limit.
    let allowed = match description.gauge.gauge_factor_refers_to {
        Basis::FreeFoil => 2.0 * limit.0,
        _ => 0.12,
    };
    for t in [-80, -20, 20, 60, 100].map(|celsius| Temperature::from_bits(celsius << 20)) {
        for code in [i32::MIN, -200_000, -30, 0, 30, 200_000, i32::MAX] {
            let (found, expected) = (reading(code, t), kernel.reading(code, t, t));
            assert_eq!(found.flags, expected.flags, "{}", description.name);
            let off = (found.strain.strain().0 - expected.strain.strain().0).abs() * 1e9;
            assert!(off <= allowed, "{}: {found:?} {expected:?}", description.name);
        }
    }
}

#[test]
fn constants_are_what_the_file_says() {
    let descriptions = descriptions();
    let mut rest = descriptions.iter();
    macro_rules! each {
        ($($channel:ident $kernel:ident $type:ident: $compensated:tt;)*) => {$({
            let description = rest.next().unwrap();
            let described = describe(description).unwrap();
            let channel: $type = $channel;
            let expected: Vec<String> = [
                format!("{:?}", described.channel),
                format!("{:?}", described.compensating.map(|second| described.channel.compensated_by(second))),
            ].into();
            let found = if $compensated { format!("Some({channel:?})") } else { format!("{channel:?}") };
            assert_eq!(found, expected[usize::from($compensated)], "{}", description.name);
            let hash = format!("_DESCRIPTION: u64 = 0x{:016x};", channel.description_hash());
            assert!(include_str!("every_key.rs").contains(&hash), "{}: {hash}", description.name);
            let bound = $kernel.error_bound();
            assert!(bound.max().0 <= description.error_limit().0);
            each!(@same $compensated description $kernel);
        })*};
        (@same false $description:ident $kernel:ident) => {
            same($description, |code, t| $kernel.reading(code, t))
        };
        (@same true $description:ident $kernel:ident) => {
            same($description, |code, t| $kernel.reading(code, t, t))
        };
    }
    each! {
        CHANNEL_1ST_CHANNEL__ALL_OF_IT CHANNEL_1ST_CHANNEL__ALL_OF_IT_KERNEL Channel: false;
        FREE_FOIL FREE_FOIL_KERNEL Channel: false;
        UNLOADED_GAUGE UNLOADED_GAUGE_KERNEL Channel: false;
        PAIR PAIR_KERNEL CompensatedChannel: true;
        PAIR_OF_EQUAL_GAUGES PAIR_OF_EQUAL_GAUGES_KERNEL CompensatedChannel: true;
        HALF_BENDING HALF_BENDING_KERNEL Channel: false;
        HALF_AXIAL_AND_TRANSVERSE HALF_AXIAL_AND_TRANSVERSE_KERNEL Channel: false;
        FULL_BENDING FULL_BENDING_KERNEL Channel: false;
        FULL_AXIAL_AND_TRANSVERSE FULL_AXIAL_AND_TRANSVERSE_KERNEL Channel: false;
        FULL_TORSION FULL_TORSION_KERNEL Channel: false;
        OPPOSITE_ARMS OPPOSITE_ARMS_KERNEL Channel: false;
        SHOWN SHOWN_KERNEL Channel: false;
        SHOWN_WITH_CURVATURE SHOWN_WITH_CURVATURE_KERNEL Channel: false;
        BETWEEN_TWO_SENSORS BETWEEN_TWO_SENSORS_KERNEL Channel: false;
        HEATED_SENSOR HEATED_SENSOR_KERNEL Channel: false;
    }
    assert!(rest.next().is_none());
    // Zero and span on site: the ranges of the file, within the limit of the channel.
    let zero = |code: i32| Zero { codes: code.into(), temperature: Temperature::from_bits(20 << 20) };
    let (single, pair) = (&CHANNEL_1ST_CHANNEL__ALL_OF_IT_ON_SITE, &PAIR_OF_EQUAL_GAUGES_ON_SITE);
    let (low, high) = (Span::from_ratio(0.98), Span::from_ratio(1.02));
    for (code, span, taken) in [
        (-1_500_000, low, true),
        (1_500_000, high, true),
        (1_500_001, high, false),
        (0, Span::from_bits(low.to_bits() - 1), false),
    ] {
        assert_eq!(single.with(zero(code), span).is_ok(), taken);
    }
    for (code, span, taken) in
        [(-2_000_000, Span::ONE, true), (0, high, false), (-2_000_001, Span::ONE, false)]
    {
        assert_eq!(pair.with(zero(code), zero(code).temperature, span).is_ok(), taken);
    }
    // Checks on site, and rosettes.
    let by_name = |name: &str| descriptions.iter().find(|it| it.name == name).unwrap();
    let of = |name: &str| (describe(by_name(name)).unwrap().channel, by_name(name).on_site.as_ref().unwrap());
    let (channel, on_site) = of("half bending");
    assert_eq!(wiring_check(&channel, on_site).unwrap(), Some(HALF_BENDING_WIRING));
    assert_eq!(shunt_check(&channel, on_site).unwrap(), Some(HALF_BENDING_SHUNT));
    // The tolerance of the resistor makes the spans wider, and every span of the shunt is taken.
    let (low, high) = HALF_BENDING_SHUNT.spans();
    assert!(low < Span::from_ratio(0.99) && high > Span::from_ratio(1.01));
    for (span, taken) in [(low, true), (high, true), (Span::from_bits(high.to_bits() + 1), false)] {
        assert_eq!(HALF_BENDING_ON_SITE.with(zero(0), span).is_ok(), taken);
    }
    let (channel, on_site) = of("full bending");
    assert_eq!(shunt_check(&channel, on_site).unwrap(), Some(FULL_BENDING_SHUNT));
    let (channel, on_site) = of(&descriptions[0].name);
    assert_eq!(wiring_check(&channel, on_site).unwrap(), Some(CHANNEL_1ST_CHANNEL__ALL_OF_IT_WIRING));
    let file = file();
    let constants = [FRAME_ROSETTE, DELTA_ROSETTE, TURNED_FRAME_ROSETTE];
    let (three, more) = file.rosettes.split_at(constants.len());
    for (words, constant) in three.iter().zip(constants) {
        assert_eq!(rosette::<3>(words, &descriptions).unwrap().0.fixed(), constant, "{}", words.name);
    }
    assert!(more.len() == 1 && rosette::<2>(&more[0], &descriptions).unwrap().0.fixed() == BAR_ROSETTE);
    assert!(single.error_bound().max().0 <= 0.45 && pair.error_bound().max().0 <= 1.0);
    assert_eq!(descriptions[0].error_limit(), Nanostrain(0.45));
}

/// Each sensor that is read as codes, and its kernel within the limit; one for which no kernel is within it is left out.
#[test]
fn thermometers_are_what_the_file_says() {
    let descriptions = descriptions();
    let live = |name: &str| {
        let description = descriptions.iter().find(|it| it.name == name).unwrap();
        let described = describe(description).unwrap();
        let Thermometer::Sensor(sensor) = described.columns.temperature else {
            panic!("{name} has no sensor")
        };
        sensor.within(described.channel.temperatures())
    };
    for (name, sensor, bound) in [
        ("full torsion", FULL_TORSION_SENSOR, FULL_TORSION_THERMOMETER.error_bound()),
        ("opposite arms", OPPOSITE_ARMS_SENSOR, OPPOSITE_ARMS_THERMOMETER.error_bound()),
        ("shown", SHOWN_SENSOR, SHOWN_THERMOMETER.error_bound()),
    ] {
        let Ok(Live::Resistance(expected)) = live(name) else { panic!("{name}: {:?}", live(name)) };
        assert_eq!(sensor, expected, "{name}");
        assert!(bound.0 > 0.0 && bound.0 <= ERROR_LIMIT.0, "{name}");
    }
    let Ok(Live::Thermocouple(expected, _)) = live("shown with curvature") else { panic!("no thermocouple") };
    assert_eq!(SHOWN_WITH_CURVATURE_SENSOR, expected);
    assert!(SHOWN_WITH_CURVATURE_THERMOMETER.error_bound().0 <= ERROR_LIMIT.0);
    // Over the range of its channel 16 pieces are too few for this thermistor.
    let why = live("half bending").unwrap_err();
    assert!(why.contains("the thermometer's error bound is 4.69"), "{why}");
    let left_out = format!("\n// Thermometer of HALF_BENDING: left out, {why}.\n");
    assert!(include_str!("every_key.rs").contains(&left_out), "{left_out}");
}
