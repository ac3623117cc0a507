//! Records with words of them overwritten, behind a checksum that is right and behind one that is not: nothing panics, what is
//! read is written again as the same bytes, and a kernel that was read gives readings for any input.

use std::sync::LazyLock;

use crc::{CRC_32_ISO_HDLC, Crc};
use gaugewright::Converter;
use gaugewright::device::record::*;
use gaugewright::example::{COMPENSATED, STRUT};
use gaugewright::fixed::{CompensatedKernel, Kernel, Temperature};
use gaugewright::temperature::*;
use gaugewright::units::*;

use super::bytes::Bytes;

const CRC: Crc<u32> = Crc::<u32>::new(&CRC_32_ISO_HDLC);
/// Where the first known answer begins, the length of one, and where its result is.
pub const ANSWERS: (usize, usize, usize) = (72, 20, 12);
/// Where the kernel begins.
pub const KERNEL: usize = 132;

/// Gives a record the checksum of what it is now.
pub fn seal(record: &mut [u8]) {
    if let Some((contents, checksum)) = record.split_last_chunk_mut::<4>() {
        *checksum = CRC.checksum(contents).to_le_bytes();
    }
}

/// Reads a record behind its own checksum and with the answers that its kernel gives, as far as it is one.
pub fn read_as_its_own<K: RecordedKernel>(record: &mut [u8]) -> Result<Record<K>, RecordError> {
    // The answers come one after the other from the refusals.
    for _ in 0..3 {
        seal(record);
        let Err(RecordError::SelfTest { answer, found: (result, flags), .. }) = Record::<K>::read(record)
        else {
            break;
        };
        let at = ANSWERS.0 + ANSWERS.1 * answer + ANSWERS.2;
        record[at..at + 4].copy_from_slice(&result.to_le_bytes());
        record[at + 4..at + 8].copy_from_slice(&flags.to_le_bytes());
    }
    seal(record);
    Record::read(record)
}

const CONVERTER: Converter = Converter::bipolar(24, Ratio(1.0 / 8.0));

struct Kernels {
    usual: Kernel,
    any: Kernel<5, 3, 1>,
    pair: CompensatedKernel,
    platinum: ResistanceKernel<i32, 4>,
    thermocouple: ThermocoupleKernel<i32, 4, 2>,
}

static KERNELS: LazyLock<Kernels> = LazyLock::new(|| Kernels {
    usual: STRUT.fixed(),
    any: STRUT.fixed(),
    pair: COMPENSATED.fixed(),
    platinum: ResistanceThermometer::platinum(Platinum::iec60751(Ohms(100.0)), CONVERTER, Ohms(4096.0))
        .fixed(),
    thermocouple: ThermocoupleInput::new(Thermocouple::K, CONVERTER, Millivolts(2500.0)).fixed(),
});

/// Returns whether a record was read.
pub fn run(data: &[u8]) -> bool {
    let mut bytes = Bytes::new(data);
    let any = (bytes.word(), bytes.word(), bytes.word());
    let t = Temperature::from_bits;
    match bytes.byte() % 5 {
        0 => record(&KERNELS.usual, &mut bytes, |kernel| {
            let _ = (kernel.reading(any.0, t(any.1)), kernel.at(t(any.1)).reading(any.0));
        }),
        1 => record(&KERNELS.any, &mut bytes, |kernel| {
            let _ = (kernel.reading(any.0, t(any.1)), kernel.error_bound());
        }),
        2 => record(&KERNELS.pair, &mut bytes, |kernel| {
            let _ = kernel.reading(any.0, t(any.1), t(any.2));
        }),
        3 => record(&KERNELS.platinum, &mut bytes, |kernel| {
            let _ = kernel.reading(any.0);
        }),
        _ => record(&KERNELS.thermocouple, &mut bytes, |kernel| {
            let _ = kernel.reading(any.0, t(any.1));
        }),
    }
}

fn record<K: RecordedKernel>(kernel: &K, bytes: &mut Bytes, read: impl Fn(&K)) -> bool {
    let identity = Identity::new(Name::new("a channel"), Date::new(2026, 3, 14), STRUT.description_hash());
    let mut record = vec![0; Record::<K>::BYTES];
    Record::new(*kernel, identity).write(&mut record).expect("a kernel that was compiled can be written");
    for _ in 0..bytes.byte() % 8 {
        let word = usize::from(bytes.byte()) * record.len() / 256 / 4;
        let number = bytes.word() >> (bytes.byte() % 32);
        record[4 * word..][..4].copy_from_slice(&number.to_le_bytes());
    }
    let found = if bytes.flag() { Record::<K>::read(&record) } else { read_as_its_own(&mut record) };
    match found {
        Ok(whole) => {
            let mut again = vec![0; record.len()];
            let again = whole.write(&mut again).expect("what was read can be written");
            // A zero that was not measured has no sum and no temperature.
            assert!(again == record || whole.identity.zero.is_none());
            read(&whole.kernel);
            true
        }
        Err(error) => {
            assert!(!error.to_string().is_empty());
            false
        }
    }
}
