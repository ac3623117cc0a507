//! Converters and thermometers on buses that work, and on buses that do not.

use std::future::Future;
use std::pin::pin;
use std::task::{Context, Poll, Waker};

use embedded_hal::digital::ErrorKind as PinError;
use embedded_hal::i2c::{ErrorKind as I2cError, NoAcknowledgeSource};
use embedded_hal::spi::{self, ErrorKind as SpiError, Operation};
use embedded_hal_mock::eh1::MockError;
use embedded_hal_mock::eh1::delay::{CheckedDelay, NoopDelay, Transaction as Delay};
use embedded_hal_mock::eh1::digital::{Mock as Pin, State as PinState, Transaction as Level};
use embedded_hal_mock::eh1::i2c::{Mock as I2c, Transaction as I2cStep};
use embedded_hal_mock::eh1::spi::{Mock as Spi, Transaction as SpiStep};
use gaugewright::device::Error;
use gaugewright::device::acquisition::*;
use gaugewright::fixed::Temperature;
use gaugewright::temperature::*;
use gaugewright::units::*;
use gaugewright::{Converter, Error as Refused};
use support::Random;

/// A status byte, 24 bits and a checksum.
const FRAME: Word = WordLayout::new(24, Coding::TwosComplement)
    .at_byte(1)
    .ready(0, 0x80, 0)
    .status(0, 0x0f, 0)
    .checksum_u8(&crc::CRC_8_SMBUS)
    .refuse_all_ones()
    .refuse_all_zeros()
    .word();
const PLAIN: Word = WordLayout::new(24, Coding::TwosComplement).refuse_all_ones().word();

/// A frame of a status and a code.
fn frame(status: u8, code: i32) -> Vec<u8> {
    let [_, a, b, c] = code.to_be_bytes();
    let mut bytes = vec![status, a, b, c];
    bytes.push(crc::Crc::<u8>::new(&crc::CRC_8_SMBUS).checksum(&bytes));
    bytes
}

fn spi_read(bytes: Vec<u8>) -> [SpiStep<u8>; 3] {
    [SpiStep::transaction_start(), SpiStep::read_vec(bytes), SpiStep::transaction_end()]
}

/// The result of a future that never has to wait.
pub fn ready<F: Future>(future: F) -> F::Output {
    match pin!(future).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(result) => result,
        Poll::Pending => panic!("it waits"),
    }
}

/// Both kinds of driver, over the same transfers.
fn both(word: &Word, transfers: &[Vec<u8>], polls: u32) -> Result<i32, Error<SpiError>> {
    let steps: Vec<_> = transfers.iter().cloned().flat_map(spi_read).collect();
    let delays = transfers.len() - 1;
    let polling = Polling { polls, interval_us: 50 };
    let mut spi = Spi::new(&steps);
    let mut delay = CheckedDelay::new(&vec![Delay::delay_us(50); delays]);
    let result = SpiSource::new(spi.clone(), (), delay.clone(), word).polling(polling).read();
    spi.done();
    delay.done();
    let mut spi = Spi::new(&steps);
    let mut delay = CheckedDelay::new(&vec![Delay::async_delay_us(50); delays]);
    let of_async = ready(SpiSource::new(spi.clone(), (), delay.clone(), word).polling(polling).read_async());
    spi.done();
    delay.done();
    assert_eq!(result, of_async);
    result
}

#[test]
fn recorded_transfers() {
    assert_eq!(both(&FRAME, &[frame(0, -8_388_608)], 0), Ok(-8_388_608));
    assert_eq!(both(&FRAME, &[frame(0x70, 299_224)], 0), Ok(299_224));
    assert_eq!(both(&FRAME, &[frame(0x03, 0)], 0), Err(Error::Word(Fault::Status { found: 3 })));
    assert_eq!(both(&FRAME, &[vec![0; 5]], 9), Err(Error::Word(Fault::AllZeros)));
    assert_eq!(both(&FRAME, &[vec![0xff; 5]], 9), Err(Error::Word(Fault::AllOnes)));
    let mut wrong = frame(0, 299_224);
    wrong[2] ^= 4;
    assert!(matches!(both(&FRAME, &[wrong], 9), Err(Error::Word(Fault::Checksum { .. }))));
}

/// A word that is late is awaited as long as stated, and not longer.
#[test]
fn words_that_are_late() {
    let (late, new) = (frame(0x80, 1), frame(0, 2));
    assert_eq!(both(&FRAME, &[late.clone(), late.clone(), new.clone()], 2), Ok(2));
    assert_eq!(both(&FRAME, &[late.clone(), late.clone()], 1), Err(Error::Timeout { polls: 1 }));
    assert_eq!(both(&FRAME, &[late], 0), Err(Error::Timeout { polls: 0 }));
}

#[test]
fn a_ready_pin_that_is_late_or_fails() {
    let read = |levels: &[Level], ready_high: bool, polls: u32, transfers: usize| {
        let steps: Vec<_> = (0..transfers).flat_map(|_| spi_read(vec![0, 1, 2])).collect();
        let (mut spi, mut pin) = (Spi::new(&steps), Pin::new(levels));
        let ready = if ready_high { ReadyPin::high(pin.clone()) } else { ReadyPin::low(pin.clone()) };
        let polling = Polling { polls, interval_us: 1 };
        let result = SpiSource::new(spi.clone(), ready, NoopDelay::new(), &PLAIN).polling(polling).read();
        spi.done();
        pin.done();
        result
    };
    let (high, low) = (Level::get(PinState::High), Level::get(PinState::Low));
    assert_eq!(read(&[high.clone(), high.clone(), low.clone()], false, 2, 1), Ok(0x102));
    assert_eq!(read(&[low.clone(), high.clone()], true, 1, 1), Ok(0x102));
    // No transfer without a new value.
    assert_eq!(read(&[high.clone(), high.clone()], false, 1, 0), Err(Error::Timeout { polls: 1 }));
    let failing = high.with_error(MockError::Io(std::io::ErrorKind::Other));
    assert_eq!(read(&[failing], false, 9, 0), Err(Error::Pin(PinError::Other)));
}

#[test]
fn a_ready_pin_that_is_awaited() {
    let (mut spi, mut pin) =
        (Spi::new(&spi_read(vec![0xff, 0xff, 0xfe])), Pin::new(&[Level::wait_for_state(PinState::Low)]));
    let mut source = SpiSource::new(spi.clone(), ReadyPin::low(pin.clone()), NoopDelay::new(), &PLAIN);
    assert_eq!(ready(source.read_async()), Ok(-2));
    spi.done();
    pin.done();
}

#[test]
fn commands_before_the_word_and_during_it() {
    let mut spi = Spi::new(&[
        SpiStep::transaction_start(),
        SpiStep::write_vec(vec![0x12, 0x34]),
        SpiStep::read_vec(vec![0, 0, 9]),
        SpiStep::transaction_end(),
        SpiStep::transaction_start(),
        SpiStep::transfer_in_place(vec![0x01, 0x80, 0x00], vec![0xff, 0xfe, 0x05]),
        SpiStep::transaction_end(),
    ]);
    let mut source = SpiSource::new(spi.clone(), (), NoopDelay::new(), &PLAIN).command(&[0x12, 0x34]);
    assert_eq!(source.read(), Ok(9));
    const SHORT: Word = WordLayout::new(10, Coding::Unsigned).at_byte(1).word();
    let mut source =
        SpiSource::new(spi.clone(), (), NoopDelay::new(), &SHORT).command(&[0x01, 0x80]).full_duplex();
    assert_eq!(source.read(), Ok(0x205));
    // A command that does not go into the transfer is not cut off.
    let mut source =
        SpiSource::new(spi.clone(), (), NoopDelay::new(), &SHORT).command(&[1, 2, 3, 4]).full_duplex();
    assert_eq!(source.read(), Err(Error::Word(Fault::Length { given: 4, needed: 3 })));
    spi.done();
}

/// A bus that fails at one of its transactions.
struct Failing {
    left: u32,
}

impl spi::ErrorType for Failing {
    type Error = SpiError;
}

impl spi::SpiDevice for Failing {
    fn transaction(&mut self, operations: &mut [Operation<'_, u8>]) -> Result<(), SpiError> {
        self.left = self.left.checked_sub(1).ok_or(SpiError::ModeFault)?;
        for operation in operations {
            if let Operation::Read(bytes) = operation {
                bytes.copy_from_slice(&frame(0x80, 0));
            }
        }
        Ok(())
    }
}

#[test]
fn a_bus_that_fails_between_two_looks() {
    let polling = Polling { polls: 9, interval_us: 1 };
    let mut source = SpiSource::new(Failing { left: 3 }, (), NoopDelay::new(), &FRAME).polling(polling);
    assert_eq!(source.read(), Err(Error::Bus(SpiError::ModeFault)));
    assert_eq!(source.bus().left, 0);
}

#[test]
fn a_device_that_does_not_acknowledge() {
    const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    let nack = I2cError::NoAcknowledge(NoAcknowledgeSource::Address);
    let steps = [
        I2cStep::write_read(0x48, vec![0x05], vec![0x12, 0x34]),
        I2cStep::write_read(0x48, vec![0x05], vec![0, 0]).with_error(nack),
        I2cStep::read(0x48, vec![0x43, 0x21]),
        I2cStep::read(0x48, vec![0, 0]).with_error(I2cError::ArbitrationLoss),
    ];
    for of_async in [false, true] {
        let mut bus = I2c::new(&steps);
        let read = |command| {
            let mut source = I2cSource::new(bus.clone(), 0x48, NoopDelay::new(), &WORD).command(command);
            if of_async { ready(source.read_async()) } else { source.read() }
        };
        assert_eq!(read(&[5]), Ok(0x1234));
        assert_eq!(read(&[5]), Err(Error::Bus(nack)));
        assert_eq!(read(&[]), Ok(0x4321));
        assert_eq!(read(&[]), Err(Error::Bus(I2cError::ArbitrationLoss)));
        bus.done();
    }
}

/// The data line of a converter on two pins: ready, then these bits, then high.
fn levels(bits: &[bool]) -> Vec<Level> {
    let line = std::iter::once(&false).chain(bits);
    line.map(|&bit| Level::get(if bit { PinState::High } else { PinState::Low })).collect()
}

#[test]
fn converters_on_two_pins() {
    let read = |after: u8, line: &[Level], pulses: usize, polls: u32| {
        let clock = [PinState::High, PinState::Low].repeat(pulses);
        let mut clock = Pin::new(&clock.into_iter().map(Level::set).collect::<Vec<_>>());
        let mut data = Pin::new(line);
        let polling = Polling { polls, interval_us: 100 };
        let result = PulsedSource::new(clock.clone(), data.clone(), NoopDelay::new(), &PLAIN)
            .pulses_after(after)
            .half_period_ns(200)
            .polling(polling)
            .read();
        clock.done();
        data.done();
        result
    };
    let bits = |code: i32| (0..24).rev().map(|k| code >> k & 1 == 1).collect::<Vec<_>>();
    for code in [0, 1, -2, 0x2a_5a3c, -8_388_608, 8_388_607] {
        assert_eq!(read(0, &levels(&bits(code)), 24, 0), Ok(code));
        let then_high = [bits(code), vec![true; 3]].concat();
        assert_eq!(read(3, &levels(&then_high), 27, 0), Ok(code));
    }
    // Stuck low: every code would be zero. Stuck high: never ready.
    assert_eq!(read(1, &levels(&[false; 25]), 25, 0), Err(Error::Word(Fault::DataLineLow)));
    let high = Level::get(PinState::High);
    assert_eq!(read(1, &vec![high.clone(); 6], 0, 5), Err(Error::Timeout { polls: 5 }));
    // It goes high for good after it was ready.
    assert_eq!(read(1, &levels(&[true; 25]), 25, 0), Err(Error::Word(Fault::AllOnes)));
    // The pin fails in the middle: the clock is low afterwards, and nothing is half read.
    let mut broken = levels(&[false; 12]);
    broken[12] = high.with_error(MockError::Io(std::io::ErrorKind::Other));
    assert_eq!(read(1, &broken, 12, 0), Err(Error::Pin(PinError::Other)));
}

#[test]
fn converters_on_two_pins_that_are_awaited() {
    let mut line = levels(&[true, false, false, false, false, false, false, true]);
    line[0] = Level::wait_for_state(PinState::Low);
    let mut data = Pin::new(&line);
    let clock = [PinState::High, PinState::Low].repeat(8);
    let mut clock = Pin::new(&clock.into_iter().map(Level::set).collect::<Vec<_>>());
    const BYTE: Word = WordLayout::new(8, Coding::TwosComplement).word();
    let mut source = PulsedSource::new(clock.clone(), data.clone(), NoopDelay::new(), &BYTE);
    assert_eq!(ready(source.read_async()), Ok(-127));
    clock.done();
    data.done();
}

/// Registers against exact rationals: every code of 16 bits, and the ends of an `i32`.
#[test]
fn registers_are_exact_to_half_a_step() {
    let mut random = Random(7);
    for (step, at_zero, low, high) in [
        (1.0 / 16.0, 0.0, -128.0, 127.9375),
        (1.0 / 128.0, 0.0, -256.0, 255.0),
        (0.25, 0.0, -40.0, 125.0),
        (0.1, -100.0, -80.0, 200.0),
        (175.0 / 65_535.0, -45.0, -45.0, 130.0),
        (128.0, 0.0, -2047.0, 2047.0),
        (1e-6, 20.0, 19.99, 20.01),
        (0.03, 0.0, 0.05, 0.08),
    ] {
        let register = TemperatureRegister::try_with_offset(
            Celsius(step),
            Celsius(at_zero),
            Celsius(low),
            Celsius(high),
        )
        .unwrap();
        let any = (0..50_000).map(|_| random.bits() as i32).collect::<Vec<_>>();
        let ends = [i32::MIN, i32::MIN + 1, i32::MAX, i32::MAX - 1];
        let mut inside = 0;
        for code in (-32_768..=65_535).chain(any).chain(ends) {
            let exact = f64::from(code) * step + at_zero;
            let reading = register.temperature(code);
            let found = reading.temperature.celsius().0;
            // Double precision does not tell a temperature from an end that it meets but for rounding.
            if exact < low - 1e-9 || exact > high + 1e-9 {
                assert_eq!(reading.flags, ThermometerFlags::OUTSIDE, "{code} {exact}");
                let near = if exact < low { low } else { high };
                assert!((found - near).abs() <= step + 1e-6, "{code}: {found}");
            } else if exact > low + 1e-9 && exact < high - 1e-9 {
                assert!(reading.flags.is_clear(), "{code} {exact}");
                let bound = 0.5 / 1_048_576.0 + (f64::from(code).abs() + 1.0) * (-45f64).exp2() + 1e-12;
                assert!((found - exact).abs() <= bound, "{code}: {found} {exact}");
                inside += 1;
            }
        }
        assert!(inside > 0, "{step}");
        if step == 1.0 / 16.0 {
            assert_eq!(register.temperature(-395).temperature, Temperature::from_bits(-395 << 16));
        }
    }
    // No code lies in the range.
    let empty = TemperatureRegister::try_with_offset(Celsius(0.5), Celsius(0.0), Celsius(0.1), Celsius(0.4));
    assert!(matches!(empty, Err(Refused::Invalid { .. })));
}

const SHUNT: Converter = Converter::bipolar(24, Ratio(1.0 / 16.0));
const PLATINUM: ResistanceThermometer =
    ResistanceThermometer::platinum(Platinum::iec60751(Ohms(100.0)), SHUNT, Ohms(4096.0))
        .between(Celsius(-200.0), Celsius(300.0));

#[test]
fn resistance_thermometers_behind_converters() {
    static INTEGERS: ResistanceKernel<i32, 8> = PLATINUM.fixed();
    static SINGLES: ResistanceKernel<f32, 8> = PLATINUM.float32();
    for (code, open) in [(3_276_800, false), (8_388_607, true)] {
        let mut spi = Spi::new(
            &[spi_read(frame(0, code)), spi_read(frame(0, code)), spi_read(frame(0, code))].concat(),
        );
        let source = || SpiSource::new(spi.clone(), (), NoopDelay::new(), &FRAME);
        let integers = Thermometer { kernel: &INTEGERS, source: source() }.read().unwrap();
        let awaited = ready(Thermometer { kernel: &INTEGERS, source: source() }.read_async()).unwrap();
        let singles = Thermometer { kernel: &SINGLES, source: source() }.read().unwrap();
        assert_eq!((integers, awaited), (INTEGERS.reading(code), INTEGERS.reading(code)));
        assert_eq!(singles, SINGLES.reading(code).to_fixed().unwrap());
        assert_eq!(integers.flags.contains(ThermometerFlags::OPEN), open);
        spi.done();
    }
}

/// A thermocouple is as good as its cold junction.
#[test]
fn thermocouples_with_cold_junctions() {
    static KERNEL: ThermocoupleKernel<i32, 32, 4> = ThermocoupleInput::new(
        Thermocouple::K,
        Converter::bipolar(24, Ratio(1.0 / 32.0)),
        Millivolts(2500.0),
    )
    .between(Celsius(-200.0), Celsius(300.0))
    .fixed();
    const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    /// Sixteenths of a degree; from -20 C.
    const JUNCTION: TemperatureRegister =
        TemperatureRegister::new(Celsius(1.0 / 16.0), Celsius(-20.0), Celsius(85.0));
    let emf: [u8; 3] = [0x06, 0x8d, 0xb9];
    let code = i32::from_be_bytes([0, emf[0], emf[1], emf[2]]);
    let outside = ThermometerFlags::COLD_JUNCTION_OUTSIDE;
    for (sixteenths, flags) in [(400, ThermometerFlags::CLEAR), (-400, outside), (1_600, outside)] {
        let bytes = (sixteenths as i16).to_be_bytes().to_vec();
        let mut bus = I2c::new(&[I2cStep::read(0x48, bytes), I2cStep::read(0x10, emf.to_vec())]);
        let source = |address, word| I2cSource::new(bus.clone(), address, NoopDelay::new(), word);
        let cold = Thermometer { kernel: &JUNCTION, source: source(0x48, &WORD) };
        let mut thermometer =
            ThermocoupleThermometer { kernel: &KERNEL, source: source(0x10, &PLAIN), cold_junction: cold };
        let reading = thermometer.read().unwrap();
        assert_eq!(reading.flags, flags);
        assert_eq!(
            reading.temperature,
            KERNEL.reading(code, JUNCTION.temperature(sixteenths).temperature).temperature
        );
        bus.done();
    }
    // A broken one is not taken for a temperature.
    struct Broken;
    impl Source for Broken {
        type Value = Reading;
        type Bus = I2cError;
        fn read(&mut self) -> Result<Reading, Error<I2cError>> {
            Ok(Reading { temperature: Temperature::from_bits(0), flags: ThermometerFlags::SHORTED })
        }
    }
    let mut bus = I2c::new(&[I2cStep::read(0x10, emf.to_vec())]);
    let source = I2cSource::new(bus.clone(), 0x10, NoopDelay::new(), &PLAIN);
    let reading = ThermocoupleThermometer { kernel: &KERNEL, source, cold_junction: Broken }.read().unwrap();
    assert!(!reading.flags.is_usable());
    bus.done();
}
