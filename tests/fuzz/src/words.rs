//! Arbitrary bytes as descriptions of words and of registers, and as what a bus gives: nothing panics, a refusal has a true reason, a
//! code and a temperature lie where the description has them.

use crc::Algorithm;
use gaugewright::device::acquisition::*;
use gaugewright::fixed::Temperature;
use gaugewright::units::Celsius;

use super::bytes::Bytes;
use super::sound::told;

/// Widths of 8, 16, 24 and 32 bits, reflected and not. The values of `check` are those of the catalogue in the package
/// `crc-catalog` (SMBUS, MAXIM-DOW, KERMIT, OPENPGP, ISO-HDLC).
pub static CHECKSUMS: [Algorithm<u32>; 5] = [
    algorithm(8, 0x07, 0, false, 0, 0xf4),
    algorithm(8, 0x31, 0, true, 0, 0xa1),
    algorithm(16, 0x1021, 0, true, 0, 0x2189),
    algorithm(24, 0x86_4cfb, 0xb7_04ce, false, 0, 0x21_cf02),
    algorithm(32, 0x04c1_1db7, 0xffff_ffff, true, 0xffff_ffff, 0xcbf4_3926),
];

pub const fn algorithm(
    width: u8,
    poly: u32,
    init: u32,
    reflected: bool,
    xorout: u32,
    check: u32,
) -> Algorithm<u32> {
    Algorithm { width, poly, init, refin: reflected, refout: reflected, xorout, check, residue: 0 }
}

/// Returns whether a word was decoded.
pub fn run(data: &[u8]) -> bool {
    let mut bytes = Bytes::new(data);
    register(&mut bytes);
    let coding =
        [Coding::TwosComplement, Coding::OffsetBinary, Coding::Unsigned][usize::from(bytes.byte()) % 3];
    let bits = u32::from(bytes.byte()) % 35;
    let Some(word) = told(layout(&mut bytes, bits, coding).try_word()) else { return false };
    let transfer: Vec<u8> = (0..word.bytes()).map(|_| bytes.byte()).collect();
    let needed = word.bytes();
    for given in 0..needed {
        assert_eq!(word.decode(&transfer[..given]), Err(Fault::Length { given, needed }));
    }
    let half = 1i64 << (bits - 1);
    let (lowest, highest) = if coding == Coding::Unsigned { (0, 2 * half) } else { (-half, half) };
    match word.decode(&transfer) {
        Ok(code) => assert!((lowest..highest).contains(&i64::from(code)), "{code}"),
        Err(fault) => assert!(!fault.to_string().is_empty()),
    }
    true
}

fn layout(bytes: &mut Bytes, bits: u32, coding: Coding) -> WordLayout {
    let small = |bytes: &mut Bytes| match bytes.byte() {
        255 => usize::MAX,
        byte => usize::from(byte) % 36,
    };
    let mut layout = WordLayout::new(bits, coding);
    if bytes.flag() {
        layout = layout.shifted(u32::from(bytes.byte()) % 34);
    }
    if bytes.flag() {
        layout = layout.at_byte(small(bytes));
    }
    if bytes.flag() {
        layout = layout.transfer_bytes(small(bytes));
    }
    if bytes.flag() {
        layout = layout.least_significant_first();
    }
    if bytes.flag() {
        layout = layout.status(small(bytes), bytes.byte(), bytes.byte());
    }
    if bytes.flag() {
        layout = layout.ready(small(bytes), bytes.byte(), bytes.byte());
    }
    if bytes.flag() {
        layout = layout.checksum(&CHECKSUMS[usize::from(bytes.byte()) % CHECKSUMS.len()]);
    }
    if bytes.flag() {
        layout = layout.no_data(bytes.word() as u32);
    }
    if bytes.flag() {
        layout = layout.refuse_all_ones();
    }
    if bytes.flag() { layout.refuse_all_zeros() } else { layout }
}

fn register(bytes: &mut Bytes) {
    let step = Celsius(bytes.one_of(&[0.0625, 1.0 / 128.0, 1.0, 175.0 / 65_535.0, 1e-6]));
    let at_zero = Celsius(bytes.one_of(&[0.0, -45.0, 2047.0]));
    let (low, high) = (Celsius(bytes.number(-300.0, 100.0)), Celsius(bytes.number(-100.0, 2000.0)));
    let Some(register) = told(TemperatureRegister::try_with_offset(step, at_zero, low, high)) else { return };
    let steps = |t: Celsius| t.0 * f64::from(Temperature::PER_DEGREE);
    // To half a step of the format, and what the code makes of the rounding of a step.
    let (first, last) = (steps(low) - 1.0, steps(high) + 1.0);
    for _ in 0..4 {
        let code = bytes.word();
        let reading = register.temperature(code);
        let found = f64::from(reading.temperature.to_bits());
        assert!((first..=last).contains(&found), "{code}: {found}");
        let exact = at_zero.0 + step.0 * f64::from(code);
        let off = (reading.temperature.celsius().0 - exact).abs();
        let allowed = 2f64.powi(-21) + f64::from(code).abs() * 2f64.powi(-45) + 1e-9;
        assert!(!reading.flags.is_clear() || off <= allowed, "{code}: {off} C");
    }
}
