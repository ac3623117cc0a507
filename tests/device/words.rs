//! Every string of bytes is a code or a fault, and the right one: against a decoder that takes one bit after the other.

use crc::Algorithm;
use fuzz::words::{CHECKSUMS, algorithm};
use gaugewright::device::acquisition::{Coding, Fault, WordLayout};
use gaugewright::error::Field;
use support::Random;
use support::refusal::refused;

/// A word as the slow decoder sees it.
#[derive(Clone, Copy, Debug)]
struct Description {
    bits: usize,
    coding: Coding,
    least_first: bool,
    first: usize,
    shift: usize,
    bytes: usize,
    status: Option<(usize, u8, u8)>,
    ready: Option<(usize, u8, u8)>,
    checksum: Option<&'static Algorithm<u32>>,
    no_data: Option<u32>,
    all_ones: bool,
    all_zeros: bool,
}

impl Description {
    fn plain(bits: usize, coding: Coding) -> Self {
        Self {
            bits,
            coding,
            least_first: false,
            first: 0,
            shift: 0,
            bytes: bits.div_ceil(8),
            status: None,
            ready: None,
            checksum: None,
            no_data: None,
            all_ones: false,
            all_zeros: false,
        }
    }

    fn layout(&self) -> WordLayout {
        let mut layout = WordLayout::new(self.bits as u32, self.coding)
            .at_byte(self.first)
            .shifted(self.shift as u32)
            .transfer_bytes(self.bytes);
        if self.least_first {
            layout = layout.least_significant_first();
        }
        if let Some((byte, mask, good)) = self.status {
            layout = layout.status(byte, mask, good);
        }
        if let Some((byte, mask, good)) = self.ready {
            layout = layout.ready(byte, mask, good);
        }
        if let Some(algorithm) = self.checksum {
            layout = layout.checksum(algorithm);
        }
        if let Some(pattern) = self.no_data {
            layout = layout.no_data(pattern);
        }
        if self.all_ones {
            layout = layout.refuse_all_ones();
        }
        if self.all_zeros {
            layout = layout.refuse_all_zeros();
        }
        layout
    }

    /// A bit of a number in some bytes: 0 is the least significant.
    fn bit(&self, bytes: &[u8], place: usize) -> bool {
        let byte = if self.least_first { place / 8 } else { bytes.len() - 1 - place / 8 };
        bytes[byte] >> (place % 8) & 1 == 1
    }

    fn slow(&self, bytes: &[u8]) -> Result<i32, Fault> {
        if bytes.len() != self.bytes {
            return Err(Fault::Length { given: bytes.len(), needed: self.bytes });
        }
        let ones: u32 = bytes.iter().map(|byte| byte.count_ones()).sum();
        if self.all_ones && ones as usize == 8 * self.bytes {
            return Err(Fault::AllOnes);
        }
        if self.all_zeros && ones == 0 {
            return Err(Fault::AllZeros);
        }
        if let Some(algorithm) = self.checksum {
            let width = usize::from(algorithm.width);
            let (covered, stated) = bytes.split_at(self.bytes - width / 8);
            let computed = remainder(algorithm, covered);
            let received = (0..width).filter(|&place| self.bit(stated, place)).map(|place| 1 << place).sum();
            if computed != received {
                return Err(Fault::Checksum { computed, received });
            }
        }
        let differs = |(byte, mask, good): (usize, u8, u8)| {
            (0..8).any(|place| mask >> place & 1 == 1 && (bytes[byte] ^ good) >> place & 1 == 1)
        };
        if self.ready.is_some_and(differs) {
            return Err(Fault::NotReady);
        }
        if let Some(status) = self.status.filter(|&status| differs(status)) {
            return Err(Fault::Status { found: bytes[status.0] & status.1 });
        }
        let value = &bytes[self.first..][..(self.bits + self.shift).div_ceil(8)];
        let mut number = 0i64;
        for place in 0..self.bits {
            number += i64::from(self.bit(value, place + self.shift)) << place;
        }
        if self.no_data.is_some_and(|pattern| number == i64::from(pattern)) {
            return Err(Fault::NoData);
        }
        let half = 1i64 << (self.bits - 1);
        Ok(match self.coding {
            Coding::Unsigned => number,
            Coding::OffsetBinary => number - half,
            Coding::TwosComplement if number >= half => number - 2 * half,
            Coding::TwosComplement => number,
        } as i32)
    }
}

/// A checksum by division, one bit after the other.
fn remainder(algorithm: &Algorithm<u32>, bytes: &[u8]) -> u32 {
    let width = u32::from(algorithm.width);
    let reversed =
        |value: u32| (0..width).filter(|k| value >> k & 1 == 1).map(|k| 1 << (width - 1 - k)).sum();
    let mut register = u64::from(algorithm.init);
    for byte in bytes {
        for k in 0..8 {
            let bit = if algorithm.refin { byte >> k & 1 } else { byte >> (7 - k) & 1 };
            let out = register >> (width - 1) & 1 ^ u64::from(bit);
            register = (register << 1) & ((1 << width) - 1);
            if out == 1 {
                register ^= u64::from(algorithm.poly);
            }
        }
    }
    let register = register as u32;
    (if algorithm.refout { reversed(register) } else { register }) ^ algorithm.xorout
}

const CODINGS: [Coding; 3] = [Coding::TwosComplement, Coding::OffsetBinary, Coding::Unsigned];

/// Every string of one or two bytes.
fn short_strings(bytes: usize) -> impl Iterator<Item = Vec<u8>> {
    (0..1u32 << (8 * bytes)).map(move |number| number.to_be_bytes()[4 - bytes..].to_vec())
}

#[test]
fn exhausted_over_words_of_two_bytes() {
    let mut words = 0;
    for bits in [2usize, 3, 7, 8, 9, 12, 14, 16] {
        for shift in (0..=16 - bits).step_by(if bits < 7 { 3 } else { 1 }) {
            for least_first in [false, true] {
                let bytes = (bits + shift).div_ceil(8);
                let coding = CODINGS[words % 3];
                let description =
                    Description { shift, least_first, bytes, ..Description::plain(bits, coding) };
                let word = description.layout().word();
                for string in short_strings(bytes) {
                    assert_eq!(word.decode(&string), description.slow(&string), "{description:?} {string:?}");
                }
                words += 1;
            }
        }
    }
    assert!(words >= 60, "{words}");
}

fn any_description(random: &mut Random) -> Description {
    let mut below = |end: usize| (random.bits() % end as u64) as usize;
    let coding = CODINGS[below(3)];
    let bits = 2 + below(if coding == Coding::Unsigned { 30 } else { 31 });
    let shift = below(33 - bits);
    let checksum = CHECKSUMS.get(below(2 * CHECKSUMS.len()));
    let first = below(4);
    let needed = first + (bits + shift).div_ceil(8) + checksum.map_or(0, |one| usize::from(one.width) / 8);
    let bytes = needed + below(3);
    let mut status = || {
        let mask = 1 + below(255) as u8;
        (below(3) == 0).then(|| (below(bytes), mask, below(256) as u8 & mask))
    };
    let (status, ready) = (status(), status());
    Description {
        bits,
        coding,
        least_first: below(2) == 0,
        first,
        shift,
        bytes,
        status,
        ready,
        checksum,
        no_data: (below(3) == 0).then(|| (1u32 << (bits - 1)) - below(2) as u32),
        all_ones: below(2) == 0,
        all_zeros: below(2) == 0,
    }
}

/// Random words, and for each random strings, sound ones, and those that are constant.
#[test]
fn any_word_and_any_bytes() {
    let mut random = Random(0x5eed);
    let mut found = [0u32; 8];
    for _ in 0..4_000 {
        let description = any_description(&mut random);
        let word = description.layout().word();
        assert_eq!(word.bytes(), description.bytes);
        for kind in 0..40u64 {
            let length = if kind == 0 { (random.bits() % 40) as usize } else { description.bytes };
            let mut bytes: Vec<u8> = (0..length).map(|_| random.bits() as u8).collect();
            match kind {
                1 => bytes.fill(0xff),
                2 => bytes.fill(0),
                // Status and checksum are good: each byte is set before what covers it.
                3.. if length == description.bytes => {
                    if let (Some(pattern), 3..8) = (description.no_data, kind) {
                        for place in 0..description.bits {
                            set(
                                &description,
                                &mut bytes,
                                place + description.shift,
                                pattern >> place & 1 == 1,
                            );
                        }
                    }
                    let status = if kind < 30 { description.status } else { None };
                    for (byte, mask, good) in description.ready.into_iter().chain(status) {
                        bytes[byte] = bytes[byte] & !mask | good;
                    }
                    if let (Some(algorithm), 3..39) = (description.checksum, kind) {
                        let width = usize::from(algorithm.width) / 8;
                        let (covered, stated) = bytes.split_at_mut(description.bytes - width);
                        let sum = remainder(algorithm, covered).to_be_bytes();
                        stated.copy_from_slice(&sum[4 - width..]);
                        if description.least_first {
                            stated.reverse();
                        }
                    }
                }
                _ => {}
            }
            let result = word.decode(&bytes);
            assert_eq!(result, description.slow(&bytes), "{description:?} {bytes:?}");
            found[match result {
                Ok(_) => 0,
                Err(Fault::Length { .. }) => 1,
                Err(Fault::AllOnes) => 2,
                Err(Fault::AllZeros) => 3,
                Err(Fault::Checksum { .. }) => 4,
                Err(Fault::NotReady) => 5,
                Err(Fault::Status { .. }) => 6,
                Err(Fault::NoData) => 7,
                Err(fault) => panic!("{fault}"),
            }] += 1;
        }
    }
    // Each of them was met, so that none is compared in name only.
    assert!(found.iter().all(|&times| times > 500), "{found:?}");
}

fn set(description: &Description, bytes: &mut [u8], place: usize, bit: bool) {
    let length = (description.bits + description.shift).div_ceil(8);
    let byte = if description.least_first { place / 8 } else { length - 1 - place / 8 };
    let byte = &mut bytes[description.first + byte];
    *byte = *byte & !(1 << (place % 8)) | u8::from(bit) << (place % 8);
}

/// One bit that is wrong, anywhere in a transfer, is found by the checksum.
#[test]
fn every_single_bit_is_found_by_the_checksum() {
    for algorithm in &CHECKSUMS {
        let word = WordLayout::new(24, Coding::TwosComplement).at_byte(1).checksum(algorithm).word();
        let mut bytes = vec![0x81, 0x12, 0x34, 0x56];
        let sum = remainder(algorithm, &bytes).to_be_bytes();
        bytes.extend_from_slice(&sum[4 - usize::from(algorithm.width) / 8..]);
        assert_eq!(word.decode(&bytes), Ok(0x12_3456));
        for bit in 0..8 * bytes.len() {
            let mut wrong = bytes.clone();
            wrong[bit / 8] ^= 1 << (bit % 8);
            assert!(matches!(word.decode(&wrong), Err(Fault::Checksum { .. })), "{algorithm:?} {bit}");
        }
        for length in 0..bytes.len() {
            assert!(matches!(word.decode(&bytes[..length]), Err(Fault::Length { .. })));
        }
    }
}

/// Algorithms in the types that the package `crc` has them in, against the checksums of that package.
#[test]
fn checksums_of_the_catalogue() {
    use crc::*;
    let new = || WordLayout::new(16, Coding::OffsetBinary);
    let of = |bytes: &[u8]| {
        [
            (new().checksum_u8(&CRC_8_SMBUS), Crc::<u8>::new(&CRC_8_SMBUS).checksum(bytes).into()),
            (new().checksum_u8(&CRC_8_MAXIM_DOW), Crc::<u8>::new(&CRC_8_MAXIM_DOW).checksum(bytes).into()),
            (new().checksum_u8(&CRC_8_DARC), Crc::<u8>::new(&CRC_8_DARC).checksum(bytes).into()),
            (new().checksum_u16(&CRC_16_IBM_3740), Crc::<u16>::new(&CRC_16_IBM_3740).checksum(bytes).into()),
            (new().checksum_u16(&CRC_16_KERMIT), Crc::<u16>::new(&CRC_16_KERMIT).checksum(bytes).into()),
            (new().checksum_u16(&CRC_16_GENIBUS), Crc::<u16>::new(&CRC_16_GENIBUS).checksum(bytes).into()),
            (new().checksum(&CRC_24_OPENPGP), Crc::<u32>::new(&CRC_24_OPENPGP).checksum(bytes)),
            (new().checksum(&CRC_24_BLE), Crc::<u32>::new(&CRC_24_BLE).checksum(bytes)),
            (new().checksum(&CRC_32_ISO_HDLC), Crc::<u32>::new(&CRC_32_ISO_HDLC).checksum(bytes)),
            (new().checksum(&CRC_32_BZIP2), Crc::<u32>::new(&CRC_32_BZIP2).checksum(bytes)),
        ]
    };
    for value in 0..=u16::MAX {
        for (layout, sum) in of(&value.to_be_bytes()) {
            let word = layout.word();
            let mut bytes = value.to_be_bytes().to_vec();
            bytes.extend_from_slice(&sum.to_be_bytes()[6 - word.bytes()..]);
            assert_eq!(word.decode(&bytes), Ok(i32::from(value) - 0x8000), "{word:?}");
        }
    }
    // Mistyped ones.
    static EIGHT: Algorithm<u8> = Algorithm { poly: 0x2f, ..CRC_8_SMBUS };
    static SIXTEEN: Algorithm<u16> = Algorithm { init: 1, ..CRC_16_KERMIT };
    refused(new().checksum_u8(&EIGHT).try_word(), Field::ChecksumCheck, f64::from(EIGHT.check));
    refused(new().checksum_u16(&SIXTEEN).try_word(), Field::ChecksumCheck, f64::from(SIXTEEN.check));
}

/// What `tests/channel/fields.rs` does not ask: sums of inputs, and numbers at the ends of their types.
#[test]
fn descriptions_that_cannot_be() {
    let new = |bits| WordLayout::new(bits, Coding::TwosComplement);
    refused(new(u32::MAX).try_word(), Field::WordBits, f64::from(u32::MAX));
    refused(new(24).shifted(u32::MAX).try_word(), Field::WordShift, f64::from(u32::MAX));
    refused(new(24).at_byte(30).try_word(), Field::TransferBytes, 33.0);
    refused(new(24).at_byte(2).transfer_bytes(4).try_word(), Field::TransferBytes, 4.0);
    assert!(new(24).at_byte(usize::MAX).try_word().is_err());
    assert!(new(24).transfer_bytes(usize::MAX).try_word().is_err());
    assert!(new(24).status(usize::MAX, 1, 1).try_word().is_err());
    // The checksum has to lie behind the value.
    refused(new(24).checksum(&CHECKSUMS[3]).transfer_bytes(5).try_word(), Field::TransferBytes, 5.0);
    // A mistyped polynomial, and widths that no algorithm can have.
    static MISTYPED: Algorithm<u32> = algorithm(8, 0x2f, 0, true, 0, 0xa1);
    refused(new(24).checksum(&MISTYPED).try_word(), Field::ChecksumCheck, 161.0);
    static WIDTHS: [Algorithm<u32>; 4] = [
        algorithm(0, 7, 0, false, 0, 0),
        algorithm(5, 7, 0, false, 0, 0),
        algorithm(12, 7, 0, false, 0, 0),
        algorithm(255, 7, 0, false, 0, 0),
    ];
    for width in &WIDTHS {
        refused(new(24).checksum(width).try_word(), Field::ChecksumBits, f64::from(width.width));
    }
}
