//! The eight channels of the logger, each with what it needs on site: all of it is computed with the firmware.

use gaugewright::Channel;
use gaugewright::channel::Arm;
use gaugewright::device::acquisition::{Coding, TemperatureRegister, Word, WordLayout};
use gaugewright::device::record::Name;
use gaugewright::fixed::{AdjustableKernel, MeanCode, Span, Temperature, Zero};
use gaugewright::installation::{Shunt, ShuntCheck, WiringCheck};
use gaugewright::units::*;

use super::{CHANNELS, Kernel};
use crate::gondola as of;

/// What the firmware has of a channel.
pub struct Line {
    pub name: Name,
    /// The kernel of the balance that the description states, until there is a zero from the site.
    pub factory: Kernel,
    /// That balance.
    pub balance: Zero,
    pub adjustable: AdjustableKernel<5, 1>,
    pub wiring: WiringCheck,
    pub shunt: ShuntCheck,
    pub description: u64,
}

/// +-2 mV/V of the converters, in codes.
const BALANCES: (i32, i32) = (-2_147_483, 2_147_483);
const SPANS: (Span, Span) = (Span::from_ratio(0.8), Span::from_ratio(1.25));
const RESISTORS: Percent = Percent(0.5);

/// Every kernel meets its error limit at every zero and span, or the firmware does not compile.
const fn within(adjustable: AdjustableKernel<5, 1>) -> AdjustableKernel<5, 1> {
    assert!(adjustable.error_bound().max().0 <= 0.5);
    adjustable
}

macro_rules! line {
    ($name:literal, $channel:expr, $balance:expr, $shunt:expr) => {{
        const CHANNEL: Channel = $channel;
        Line {
            name: Name::new($name),
            factory: const { CHANNEL.fixed_within(Nanostrain(0.5)) },
            balance: $balance,
            adjustable: const { within(CHANNEL.fixed_adjustable(BALANCES, SPANS)) },
            wiring: const { CHANNEL.wiring_check(RESISTORS) },
            shunt: const {
                Shunt::at_instrument(Arm::Two, $shunt).tolerance(Percent(0.1)).code_check(&CHANNEL, SPANS)
            },
            description: const { CHANNEL.description_hash() },
        }
    }};
}

const fn balance(code: i32, millicelsius: i32) -> Zero {
    let Ok(temperature) = Temperature::from_millicelsius(millicelsius) else {
        panic!("a temperature of balance")
    };
    Zero { codes: MeanCode { sum: code as i64, count: 1 }, temperature }
}

/// In the order of the converters. The spare strut's free block hangs beside its gauge here, at the same temperature.
pub static TABLE: [Line; CHANNELS] = [
    line!("strut north", of::STRUT_NORTH, balance(167_622, 18_500), Ohms(100_000.0)),
    line!("strut south", of::STRUT_SOUTH, balance(988_449, 21_000), Ohms(100_000.0)),
    line!("fitting crown", of::FITTING_CROWN, balance(-270_937, 16_500), Ohms(100_000.0)),
    line!("fitting keel", of::FITTING_KEEL, balance(454_192, 19_750), Ohms(100_000.0)),
    line!("valve body", of::VALVE_BODY, balance(218_218, 20_250), Ohms(250_000.0)),
    line!("strut spare", of::STRUT_SPARE, balance(215_494, 19_000), Ohms(100_000.0)),
    line!("boom root", of::BOOM_ROOT, balance(105_010, 17_500), Ohms(100_000.0)),
    line!("tie rod", of::TIE_ROD, balance(-150_806, 18_000), Ohms(100_000.0)),
];

/// What a converter sends: a byte of status whose upper bits are 1 while there is no new code and 0 while the reference is good, 24 bits, and a
/// checksum (SMBUS in the catalogue of the package `crc`).
pub static CODE: Word = WordLayout::new(24, Coding::TwosComplement)
    .at_byte(1)
    .ready(0, 0x80, 0)
    .status(0, 0x40, 0)
    .checksum_u8(&crc::CRC_8_SMBUS)
    .refuse_all_ones()
    .word();

/// What a thermometer sends: 16 bits in steps of 1/128 C, the lowest of which means that it has not measured yet.
pub static TEMPERATURE: Word = WordLayout::new(16, Coding::TwosComplement).no_data(0x8000).word();
pub static REGISTER: TemperatureRegister =
    TemperatureRegister::new(Celsius(0.0078125), Celsius(-100.0), Celsius(150.0));
