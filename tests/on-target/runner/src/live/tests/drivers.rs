//! Thermometer, converter, and the wrappers that make them fail, over scripted buses.

use std::sync::atomic::{AtomicU32, Ordering::Relaxed};

use embedded_hal::i2c::{Error as _, ErrorKind, NoAcknowledgeSource};
use embedded_hal::spi;
use embedded_hal_mock::eh1::i2c::{Mock as Bus, Transaction as BusStep};
use embedded_hal_mock::eh1::spi::{Mock as Device, Transaction as DeviceStep};

use super::recorder::FakeThermometer;
use firmware::live::converter::Converter;
use firmware::live::faults::{BusError, BusFault, DeviceError, DeviceFault, FaultyBus, FaultyDevice};
use firmware::live::simulated::SimulatedConverter;
use firmware::live::thermometer::{Error, Thermometer};

const THERMOMETER: Thermometer = Thermometer::at(0x48);
const NOBODY: ErrorKind = ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address);

fn sixteenths(high: u8, low: u8) -> Result<i16, Error<ErrorKind>> {
    let mut bus = Bus::new(&[BusStep::write_read(0x48, vec![0], vec![high, low])]);
    let read = THERMOMETER.sixteenths(&mut bus);
    bus.done();
    read
}

#[test]
fn temperature_is_the_upper_twelve_bits_with_sign() {
    assert_eq!(sixteenths(0x00, 0x00), Ok(0));
    assert_eq!(sixteenths(0x15, 0x00), Ok(21 * 16));
    assert_eq!(sixteenths(0xd8, 0x00), Ok(-40 * 16));
    assert_eq!(sixteenths(0x05, 0x90), Ok(5 * 16 + 9));
    assert_eq!(sixteenths(0xff, 0xf0), Ok(-1));
    assert_eq!(sixteenths(0x7f, 0xf0), Ok(2047));
    assert_eq!(sixteenths(0x80, 0x00), Ok(-2048));
}

#[test]
fn what_is_no_temperature_is_told() {
    // A data line that nobody drives.
    assert_eq!(sixteenths(0xff, 0xff), Err(Error::NotATemperature(0xffff)));
    assert_eq!(sixteenths(0x15, 0x01), Err(Error::NotATemperature(0x1501)));
}

#[test]
fn a_refusal_is_told_with_its_kind() {
    let mut bus = Bus::new(&[BusStep::write_read(0x48, vec![0], vec![0, 0]).with_error(NOBODY)]);
    assert_eq!(THERMOMETER.sixteenths(&mut bus), Err(Error::Bus(NOBODY)));
    bus.done();
}

#[test]
fn set_up_leaves_the_rest_of_the_configuration() {
    let mut bus = Bus::new(&[
        BusStep::write_read(0x48, vec![1], vec![0x9a]),
        BusStep::write(0x48, vec![1, 0xfa]),
        BusStep::write_read(0x48, vec![1], vec![0x7a]),
    ]);
    assert_eq!(THERMOMETER.set_up(&mut bus), Ok(()));
    bus.done();
}

#[test]
fn a_resolution_that_does_not_stay_is_told() {
    let mut bus = Bus::new(&[
        BusStep::write_read(0x48, vec![1], vec![0x00]),
        BusStep::write(0x48, vec![1, 0x60]),
        BusStep::write_read(0x48, vec![1], vec![0x40]),
    ]);
    assert_eq!(THERMOMETER.set_up(&mut bus), Err(Error::NotConfigured(0x40)));
    bus.done();
}

fn code(bytes: [u8; 3]) -> i32 {
    let steps = [
        DeviceStep::transaction_start(),
        DeviceStep::read_vec(bytes.to_vec()),
        DeviceStep::transaction_end(),
    ];
    let mut device = Device::new(&steps);
    let code = Converter::new(&mut device).code();
    device.done();
    code.unwrap()
}

#[test]
fn codes_are_24_bits_with_sign() {
    assert_eq!(code([0, 0, 0]), 0);
    assert_eq!(code([0x12, 0x34, 0x56]), 0x0012_3456);
    assert_eq!(code([0xff, 0xff, 0xff]), -1);
    assert_eq!(code([0x7f, 0xff, 0xff]), 8_388_607);
    assert_eq!(code([0x80, 0, 0]), -8_388_608);
}

#[test]
fn the_simulated_converter_is_read_like_a_real_one() {
    let codes = |n| if n % 2 == 0 { -250_000 } else { 8_388_607 - n as i32 };
    let mut converter = Converter::new(SimulatedConverter::new(codes));
    for n in 0..4 {
        assert_eq!(converter.code(), Ok(codes(n)));
    }
}

#[test]
fn a_faulty_bus_fails_by_schedule_and_else_passes_on() {
    let now = AtomicU32::new(4);
    let faults = [BusFault { during: 5..7, kind: ErrorKind::Bus }];
    let there = FakeThermometer { register: Ok(0x1500), configuration: 0 };
    let mut bus = FaultyBus::new(there, &now, &faults);
    assert_eq!(THERMOMETER.sixteenths(&mut bus), Ok(21 * 16));
    for refused in 5..7 {
        now.store(refused, Relaxed);
        assert_eq!(THERMOMETER.sixteenths(&mut bus), Err(Error::Bus(BusError::Made(ErrorKind::Bus))));
    }
    now.store(7, Relaxed);
    assert_eq!(THERMOMETER.sixteenths(&mut bus), Ok(21 * 16));
    // What goes wrong by itself keeps its kind.
    let away = FakeThermometer { register: Err(NOBODY), configuration: 0 };
    let mut bus = FaultyBus::new(away, &now, &faults);
    assert_eq!(THERMOMETER.sixteenths(&mut bus), Err(Error::Bus(BusError::Real(NOBODY))));
    assert_eq!(
        [BusError::Real(NOBODY).kind(), BusError::<ErrorKind>::Made(ErrorKind::Bus).kind()],
        [NOBODY, ErrorKind::Bus]
    );
}

#[test]
fn a_faulty_device_fails_by_schedule_while_its_chip_goes_on() {
    let faults = [(1..2, DeviceFault::Reads(&[0x7f, 0xff, 0xff])), (2..3, DeviceFault::Fails)];
    let device = FaultyDevice::new(SimulatedConverter::new(|n| n as i32), &faults);
    let mut converter = Converter::new(device);
    assert_eq!(converter.code(), Ok(0));
    assert_eq!(converter.code(), Ok(8_388_607));
    let error = converter.code().unwrap_err();
    assert_eq!(error, DeviceError::Made);
    assert_eq!(spi::Error::kind(&error), spi::ErrorKind::Other);
    assert_eq!(converter.code(), Ok(3));
}
