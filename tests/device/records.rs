//! Records: committed bytes, every error that storage can make, what is read and what is refused, hashes of descriptions.

use crc::{CRC_32_ISO_HDLC, Crc};
use fuzz::records::{ANSWERS, KERNEL, read_as_its_own, seal};
use gaugewright::channel::MismatchScale;
use gaugewright::device::record::*;
use gaugewright::example::{COMPENSATED, STRUT};
use gaugewright::fixed::{CompensatedKernel, Kernel, MeanCode, Span, Temperature, Zero};
use gaugewright::temperature::{ResistanceKernel, ThermocoupleKernel};
use gaugewright::units::*;
use gaugewright::*;
use on_target::thermometers::{K_FIXED, PLATINUM_FIXED, THERMISTOR_FIXED};
use std::fmt::Write;
use std::panic::catch_unwind;
use support::arithmetic::Description;
use support::registers::{self, Registers};
use support::{Random, as_committed, bridges, compensated_set, recipe, set, test_set};

const CRC: Crc<u32> = Crc::<u32>::new(&CRC_32_ISO_HDLC);
fn identity(name: &str, description: u64) -> Identity {
    let mut identity = Identity::new(Name::try_new(name).unwrap(), Date::new(2026, 3, 14), description);
    identity.zero = Some(Zero {
        codes: MeanCode { sum: -1_234_567, count: 100 },
        temperature: Temperature::from_bits(21 << 20),
    });
    identity.span = Span::of_codes(10_000, 9_900).unwrap();
    identity
}

fn bytes<K: RecordedKernel>(record: &Record<K>) -> Vec<u8> {
    let mut bytes = vec![0; Record::<K>::BYTES + 3];
    let length = record.write(&mut bytes).unwrap().len();
    assert_eq!(length, Record::<K>::BYTES);
    bytes.truncate(length);
    bytes
}

/// With the checksum of what they are now.
fn sealed(mut bytes: Vec<u8>) -> Vec<u8> {
    seal(&mut bytes);
    bytes
}

fn strain(kernel: Kernel) -> Record<Kernel> {
    Record::new(kernel, identity("strut north", STRUT.description_hash()))
}

fn pair() -> Record<CompensatedKernel> {
    Record::new(COMPENSATED.fixed(), identity("tie rod", COMPENSATED.description_hash()))
}

fn resistance<const N: usize>(kernel: ResistanceKernel<i32, N>) -> Record<ResistanceKernel<i32, N>> {
    Record::new(kernel, identity("Pt100 of the strut", 1))
}

fn thermocouple<const H: usize, const C: usize>(
    kernel: ThermocoupleKernel<i32, H, C>,
) -> Record<ThermocoupleKernel<i32, H, C>> {
    Record::new(kernel, identity("type K of the valve", 2))
}

/// Every record that any version 0.1 has written is read by every later one, or is refused with its version.
#[test]
fn committed_records_are_written_and_read() {
    let product: Kernel<4, 1, 1> =
        set::with_product().into_iter().find_map(|(_, channel)| channel.channel().try_fixed().ok()).unwrap();
    let mut text = String::from(
        "# Source: computed by this library; bytes of records that every version 0.1 writes and reads.\nrecord,bytes\n",
    );
    row(&mut text, "strut", &strain(STRUT.fixed()));
    row(&mut text, "any channel", &Record::new(STRUT.fixed::<5, 3, 1>(), identity("any channel", u64::MAX)));
    row(&mut text, "product", &Record::new(product, Identity::new(Name::new("x"), Date::new(2000, 1, 1), 0)));
    row(&mut text, "two temperatures", &pair());
    row(&mut text, "platinum", &resistance(PLATINUM_FIXED));
    row(&mut text, "thermistor", &resistance(THERMISTOR_FIXED));
    row(&mut text, "thermocouple", &thermocouple(K_FIXED));
    as_committed("records.csv", &text);
}

fn row<K: RecordedKernel + PartialEq + std::fmt::Debug>(text: &mut String, name: &str, record: &Record<K>) {
    let bytes = bytes(record);
    assert_eq!(Record::read(&bytes), Ok(*record));
    let hex: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
    writeln!(text, "{name},{hex}").unwrap();
}

/// Every length, every single bit, and bursts of up to 32 bits at every place (drawn; of the smallest record every pattern of up to 6
/// bits, and every two bits less than 64 apart).
#[test]
fn every_change_of_storage_is_found() {
    changed(&strain(STRUT.fixed()), true);
    changed(&pair(), false);
    changed(&resistance(PLATINUM_FIXED), false);
    changed(&thermocouple(K_FIXED), false);
}

fn changed<K: RecordedKernel>(record: &Record<K>, smallest: bool) {
    let mut random = Random(7);
    let whole = bytes(record);
    assert!(Record::<K>::read(&whole).is_ok());
    for length in 0..whole.len() {
        let found = Record::<K>::read(&whole[..length]).err().unwrap();
        assert_eq!(found, RecordError::Length { found: length, expected: whole.len() });
    }
    let longer: Vec<u8> = whole.iter().copied().chain([0]).collect();
    assert!(matches!(Record::<K>::read(&longer), Err(RecordError::Length { .. })));
    let mut bytes = whole.clone();
    let mut refused = |at: usize, pattern: u64| {
        let flip = |bytes: &mut Vec<u8>| {
            let bits = bytes.len() * 8;
            for bit in (0..64).filter(|bit| pattern >> bit & 1 == 1 && at + bit < bits) {
                bytes[(at + bit) / 8] ^= 1 << ((at + bit) % 8);
            }
        };
        flip(&mut bytes);
        if bytes != whole {
            assert!(Record::<K>::read(&bytes).is_err(), "bit {at}, pattern {pattern:x}");
        }
        flip(&mut bytes);
    };
    for at in 0..whole.len() * 8 {
        refused(at, 1);
        refused(at, random.bits() >> 32 | 1);
        for pattern in (3..if smallest { 64 } else { 0 }).step_by(2) {
            refused(at, pattern);
        }
    }
    if smallest {
        for one in 0..whole.len() * 8 {
            for apart in 1..64 {
                refused(one, 1 | 1 << apart);
            }
        }
    }
}

/// Each kind of refusal, with what was found and what would be right.
#[test]
fn what_is_refused_is_named() {
    type Strain = Record<Kernel>;
    let whole = bytes(&strain(STRUT.fixed()));
    let with = |at: usize, new: &[u8]| {
        let mut bytes = whole.clone();
        bytes[at..at + new.len()].copy_from_slice(new);
        bytes
    };
    let said = |bytes: Vec<u8>| Strain::read(&bytes).unwrap_err().to_string();
    assert_eq!(said(vec![0xff; 192]), "no record: the first bytes are [ff, ff, ff, ff]");
    assert_eq!(
        said(with(4, &[2])),
        "a record of version 2 with numbers of format 1, where this program has version 1 and format 1"
    );
    assert_eq!(
        said(with(6, &[3])),
        "a record of version 1 with numbers of format 3, where this program has version 1 and format 1"
    );
    assert_eq!(
        Record::<Kernel<5, 3>>::read(&whole).unwrap_err().to_string(),
        "a record of kind and sizes [1, 4, 1, 0], where [1, 5, 3, 0] was asked for"
    );
    assert!(matches!(Record::<CompensatedKernel>::read(&whole), Err(RecordError::Kind { .. })));
    let checksum = CRC.checksum(&whole[..188]);
    assert_eq!(
        said(with(188, &[0; 4])),
        format!("the checksum is 0x{checksum:08x}, where 0x00000000 was written")
    );
    // Behind a checksum that is right.
    let invalid = |at: usize, new: &[u8]| said(sealed(with(at, new)));
    assert_eq!(invalid(24, &[0; 24]), "length of a name (bytes) is 0, allowed: 1 to 24");
    assert_eq!(invalid(24, &[0xff]), "the name is no text in UTF-8, or does not end with zeros");
    assert_eq!(invalid(26, &[0]), "the name is no text in UTF-8, or does not end with zeros");
    assert_eq!(invalid(48, &[0, 0]), "year of a date is 0, allowed: 2000 to 2399");
    assert_eq!(invalid(50, &[13]), "month of a date is 13, allowed: 1 to 12");
    assert_eq!(invalid(51, &[32]), "day of a date is 32, allowed: 1 to 31");
    assert_eq!(invalid(60, &[1, 0, 1, 0]), "number of codes in a mean is 65537, allowed: 1 to 65536");
    let number = |n: i32| n.to_le_bytes();
    assert_eq!(
        invalid(KERNEL + 4, &number(i32::MAX)),
        "highest code of a kernel is 2147483647, allowed: -8388607 to 8388606"
    );
    assert_eq!(
        invalid(KERNEL, &[number(5), number(-5)].concat()),
        "lowest code of a kernel is 5, allowed: -8388607 to -5"
    );
    assert_eq!(
        invalid(KERNEL + 8, &[number(1 << 20), number(-1 << 20)].concat()),
        "upper end of the declared temperature range (C) is -1, below the lower end of 1: the range is reversed"
    );
    assert_eq!(
        invalid(KERNEL + 8, &[number(0), number(65_535)].concat()),
        "width of the declared temperature range (C) is 0.0624990463, allowed: 0.0625 to 4095"
    );
    assert_eq!(
        invalid(KERNEL + 16, &number(-1)),
        "strain value is 4294967295, the kernel holds 2147483647 at most: narrow the declared strain or temperature range"
    );
    assert_eq!(invalid(KERNEL + 20, &number(7)), "converter bits is 7, allowed: 8 to 32");
    let answer = |bytes: Vec<u8>| match Strain::read(&bytes) {
        Err(RecordError::SelfTest { answer, .. }) => answer,
        other => panic!("{other:?}"),
    };
    for n in 0..3 {
        // Its result, and its flags.
        let result = ANSWERS.0 + ANSWERS.1 * n + ANSWERS.2;
        assert_eq!(answer(sealed(with(result, &[whole[result] ^ 1]))), n);
        assert_eq!(answer(sealed(with(result + 7, &[1]))), n);
    }
    let mut other = strain(STRUT.fixed());
    other.answers[1].result += 1;
    assert!(matches!(other.write(&mut [0; 192]), Err(RecordError::SelfTest { answer: 1, .. })));
}

/// Each constant of a kernel is needed by a known answer, and so is the lower end of each range, from which an input counts: one
/// that is changed by a part in two thousand of a register is found.
#[test]
fn the_self_test_reaches_every_constant() {
    let record = Record::new(STRUT.fixed::<5, 3, 0>(), identity("any", 0));
    constants(&record, &[0, 2, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16]);
    constants(&pair(), &[0, 2, 6, 7, 8, 9, 10, 11, 12, 13, 14, 16, 17, 18, 19, 20]);
}

fn constants<K: RecordedKernel>(record: &Record<K>, words: &[usize]) {
    let whole = bytes(record);
    for word in words {
        for bit in [20, 21, 22] {
            let mut bytes = whole.clone();
            bytes[KERNEL + 4 * word + bit / 8] ^= 1 << (bit % 8);
            let Err(found) = Record::<K>::read(&sealed(bytes)) else { panic!("word {word}, bit {bit}") };
            assert!(
                matches!(found, RecordError::SelfTest { .. } | RecordError::Invalid(_)),
                "word {word}, bit {bit}: {found:?}"
            );
        }
    }
}

/// Whatever stands behind a checksum that is right: a kernel that is read has no value that wraps, for inputs in range, and reads
/// nothing that panics for others.
#[test]
fn what_is_read_does_not_wrap() {
    let mut random = Random(11);
    let (mut read, mut refused) = (0, 0);
    let start = bytes(&Record::new(STRUT.fixed::<5, 3, 1>(), identity("any", 0)));
    let pairs = bytes(&Record::new(COMPENSATED.fixed::<5, 3, 1>(), identity("any", 0)));
    for _ in 0..40_000 {
        if let Some(kernel) = drawn::<Kernel<5, 3, 1>>(&start, &mut random) {
            read += 1;
            single(&kernel, &mut random);
        } else {
            refused += 1;
        }
        if let Some(kernel) = drawn::<CompensatedKernel<5, 3, 1>>(&pairs, &mut random) {
            read += 1;
            double(&kernel, &mut random);
        } else {
            refused += 1;
        }
    }
    println!("{read} read, {refused} refused");
    assert!(read > 5_000 && refused > 5_000, "{read} read, {refused} refused");
}

/// Words of a kernel drawn anew, each over as many bits as are drawn too, with the answers that it then gives.
fn drawn<K: RecordedKernel>(start: &[u8], random: &mut Random) -> Option<K> {
    let mut bytes = start.to_vec();
    let words = (bytes.len() - 4 - KERNEL) / 4;
    for word in 0..words {
        if matches!(word, 2 | 3 | 5) || random.share() < 0.3 {
            continue;
        }
        let number = (random.bits() as i32) >> (random.bits() % 12);
        bytes[KERNEL + 4 * word..][..4].copy_from_slice(&number.to_le_bytes());
    }
    match read_as_its_own(&mut bytes) {
        Ok(record) => Some(record.kernel),
        Err(RecordError::SelfTest { .. }) => panic!("the answers of a kernel are not its answers"),
        Err(_) => None,
    }
}

fn draw(random: &mut Random, (low, high): (i32, i32), end: usize) -> i32 {
    [low, high, random.between(low, high)][end % 3]
}

fn ends((low, high): (Temperature, Temperature)) -> (i32, i32) {
    (low.to_bits(), high.to_bits())
}

fn single(kernel: &Kernel<5, 3, 1>, random: &mut Random) {
    let constants = kernel.constants();
    let description = Description::of(&constants);
    for n in 0..12 {
        let code = draw(random, kernel.codes(), n);
        let temperature = draw(random, ends(kernel.temperatures()), n / 3);
        registers::compare(kernel, &description, code, temperature);
        // Any other input.
        let any = Temperature::from_bits(random.bits() as i32);
        let _ = (kernel.reading(random.bits() as i32, any), kernel.at(any).reading(random.bits() as i32));
    }
}

fn double(kernel: &CompensatedKernel<5, 3, 1>, random: &mut Random) {
    let constants = kernel.constants();
    let description = Description::of_two_temperatures(&constants);
    for n in 0..27 {
        let code = draw(random, constants.measuring.codes, n);
        let temperature = draw(random, ends(constants.measuring.temperatures), n / 3);
        let compensating = draw(random, ends(constants.temperatures), n / 9);
        registers::compare_two(kernel, &description, code, [temperature, compensating]);
    }
}

/// The check itself: a kernel with a register too full for its signal is found by the registers, and refused when it is read.
#[test]
fn a_kernel_that_wraps_is_refused() {
    let whole = bytes(&Record::new(STRUT.fixed::<5, 3, 1>(), identity("any", 0)));
    for (word, name) in [(6, "gain"), (8, "constant of thermal output")] {
        let mut bytes = whole.clone();
        bytes[KERNEL + 4 * word..][..4].copy_from_slice(&i32::MAX.to_le_bytes());
        let found = Record::<Kernel<5, 3, 1>>::read(&sealed(bytes));
        assert!(matches!(found, Err(RecordError::Invalid(Error::Overflow { .. }))), "{name}: {found:?}");
    }
    let result = catch_unwind(|| {
        let mut constants = STRUT.fixed::<5, 3, 1>().constants();
        (constants.gain, constants.thermal_offset) = (i32::MAX, i32::MAX);
        let (code, temperature) = (constants.codes.1, constants.temperatures.1.to_bits());
        let mut registers = Registers { code, temperature, compensating: 0, held: false };
        Description::of(&constants).one_call(&mut registers)
    });
    assert!(result.is_err());
}

/// Every channel that compiles can be recorded: the set of the tests, every circuit, and random ones with every basis.
#[test]
fn what_compiles_is_written_and_read() {
    for (name, channel) in test_set() {
        written(&name, channel.try_fixed::<5, 3, 0>(), channel.description_hash());
    }
    for bridge in bridges() {
        let channel = support::circuit(bridge);
        written("circuit", channel.try_fixed::<5, 3, 0>(), channel.description_hash());
    }
    for (name, channel) in compensated_set() {
        written(&name, channel.try_fixed::<5, 3, 0>(), channel.description_hash());
    }
    recipe::check("recorded channels", 400, recipe::with_other_basis(), |described| {
        let channel = described.channel();
        written("random", channel.try_fixed::<5, 3, 1>(), channel.description_hash());
        Ok(())
    });
    recipe::check("recorded channels of the usual basis", 400, recipe::channel(), |channel| {
        written("random", channel.try_fixed::<5, 3, 0>(), channel.description_hash());
        Ok(())
    });
    recipe::check("recorded pairs", 200, recipe::compensated_with_other_basis(), |channel| {
        written("random", channel.try_fixed::<5, 3, 1>(), channel.description_hash());
        Ok(())
    });
}

fn written<K: RecordedKernel + PartialEq + std::fmt::Debug>(
    name: &str,
    kernel: Result<K, Error>,
    description: u64,
) {
    // One that does not compile has nothing to record.
    let Ok(kernel) = kernel else { return };
    let record = Record::new(kernel, identity("a channel", description));
    let mut bytes = vec![0; Record::<K>::BYTES];
    let written = record.write(&mut bytes).unwrap_or_else(|error| panic!("{name}: {error}"));
    assert_eq!(Record::read(written), Ok(record));
}

/// A change of any field is another hash; the hash is a number of the description alone.
#[test]
fn hashes_differ_with_every_field() {
    const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1));
    let curve = || ThermalOutput::celsius([-24.0, 1.0]);
    let converter = Converter::bipolar(24, Ratio(0.01));
    let channel = |gauge: Gauge| Channel::new(gauge, Bridge::quarter_ideal(Ohms(120.0)), converter);
    let bridge = |bridge: Bridge| Channel::new(GAUGE, bridge, converter);
    let base = channel(GAUGE);
    let mut all = vec![
        base,
        channel(Gauge::new(GaugeFactor(2.2))),
        channel(GAUGE.gauge_factor_slope(PercentPer100C(1.0))),
        channel(GAUGE.gauge_factor_polynomial([0.0, 1e-6, 0.0])),
        channel(GAUGE.gauge_factor_polynomial([0.0, 0.0, 1e-6])),
        channel(GAUGE.thermal_output(curve())),
        channel(GAUGE.thermal_output(ThermalOutput::fahrenheit([-24.0, 1.0]))),
        channel(GAUGE.thermal_output(ThermalOutput::celsius([-24.0, 1.0, 0.0]))),
        channel(GAUGE.thermal_output(curve().stated_for(GaugeFactor(2.1)))),
        channel(GAUGE.thermal_output(curve().between(Celsius(0.0), Celsius(100.0)))),
        channel(GAUGE.thermal_output(curve().between(Celsius(0.0), Celsius(101.0)))),
        channel(GAUGE.reference_temperature(Celsius(20.0))),
        channel(GAUGE.matched_to(ExpansionPerCelsius(1e-5))),
        channel(GAUGE.transverse_sensitivity(Percent(1.0))),
        channel(GAUGE.gauge_factor_basis(channel::GaugeFactorBasis::UnloadedGauge)),
        Channel::new(GAUGE, Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(23, Ratio(0.01))),
        Channel::new(GAUGE, Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.02))),
        Channel::new(
            GAUGE,
            Bridge::quarter_ideal(Ohms(120.0)),
            Converter::linear_strain(Microstrain(0.01), GaugeFactor(2.0)),
        ),
        Channel::from_readings(GAUGE, Instrument::showing(Microstrain(0.01), GaugeFactor(2.0))),
        Channel::from_readings(GAUGE, Instrument::showing(Microstrain(0.02), GaugeFactor(2.0))),
        base.specimen(ExpansionPerCelsius(1e-5)),
        base.mismatch_scale(MismatchScale::StatedGaugeFactor),
        base.mismatch_scale(MismatchScale::GaugeFactorAtReference),
        base.balanced(0.0, Celsius(20.0)),
        base.balanced(1.0, Celsius(20.0)),
        base.balanced(0.0, Celsius(21.0)),
        base.instrument_gauge_factor(GaugeFactor(2.0)),
        base.span_correction(1.01),
        base.strain_within(Microstrain(5_000.0)),
        base.temperature_within(Celsius(0.0), Celsius(50.0)),
        base.strain_ratio(0.0),
        base.strain_ratio(-0.3),
        base.correction(Correction::None),
        base.correction(Correction::ThermalOutput),
    ];
    for slope in [1.0, 2.0] {
        let forced = channel::ForcedStrain::per_degree([0.0, slope]);
        all.push(channel(GAUGE.gauge_factor_basis(channel::GaugeFactorBasis::FreeFoil(forced))));
    }
    all.extend(bridges().into_iter().map(bridge));
    for changed in [
        Bridge::quarter_ideal(Ohms(350.0)),
        Bridge::quarter_ideal(Ohms(120.0)).completion(Ohms(350.0)),
        Bridge::quarter_ideal(Ohms(120.0)).reversed(),
        Bridge::full_bending(Ohms(120.0)).leads(Ohms(3.0)),
        Bridge::full_bending(Ohms(120.0)).excitation_leads(Ohms(3.0)),
    ] {
        all.push(bridge(changed));
    }
    let mut hashes: Vec<u64> = all.iter().map(Channel::description_hash).collect();
    hashes.push(COMPENSATED.description_hash());
    hashes.push(COMPENSATED.channel().description_hash());
    let text = hashes.iter().fold(String::new(), |text, hash| format!("{text}{hash:016x}\n"));
    let listed = all.iter().map(|channel| format!("{channel:?}")).collect::<Vec<_>>();
    for (i, one) in hashes.iter().enumerate() {
        for (j, other) in hashes.iter().enumerate().skip(i + 1) {
            let same = listed.get(i).is_some_and(|one| Some(one) == listed.get(j));
            assert_eq!(one == other, same, "{:?} and {:?}", listed.get(i), listed.get(j));
        }
    }
    // So that no version gives another number.
    assert_eq!(text.lines().next(), Some("6c430d51ae41e85b"));
    const IN_A_CONSTANT: u64 = STRUT.description_hash();
    assert_eq!(IN_A_CONSTANT, STRUT.description_hash());
    assert_eq!(base.span_correction(-0.0).description_hash(), base.span_correction(0.0).description_hash());
}
