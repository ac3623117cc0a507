//! The controller of two pins, with a device that follows the edges of the lines.

use std::cell::RefCell;
use std::rc::Rc;

use embedded_hal::i2c::{Error as _, ErrorKind, I2c, NoAcknowledgeSource, Operation};

use super::wires::{Line, Waits, Wires};
use firmware::live::bit_banged::{BitBanged, Error};

type Bus = BitBanged<Line<0>, Line<1>, Waits>;

fn bus() -> (Bus, Rc<RefCell<Wires>>) {
    let wires = Wires::with_device(0x48);
    let bus = BitBanged::new(Line(wires.clone()), Line(wires.clone()), Waits(wires.clone()), 100_000, 50);
    (bus, wires)
}

fn seen(wires: &Rc<RefCell<Wires>>) -> String {
    assert!(wires.borrow().are_free(), "lines are held after a transfer");
    wires.borrow().seen.join(" ")
}

#[test]
fn a_write_is_an_address_and_its_bytes() {
    let (mut bus, wires) = bus();
    assert_eq!(bus.write(0x48, &[0x01, 0xfe]), Ok(()));
    assert_eq!(seen(&wires), "start 90 01 fe stop");
}

#[test]
fn a_read_refuses_after_the_last_byte() {
    let (mut bus, wires) = bus();
    let mut bytes = [0; 2];
    assert_eq!(bus.read(0x48, &mut bytes), Ok(()));
    assert_eq!(bytes, [0x12, 0x34]);
    // Were the second one not refused, the device would drive the third and there could be no stop.
    assert_eq!(seen(&wires), "start 91 stop");
    assert_eq!(bus.write(0x48, &[7]), Ok(()));
    assert_eq!(seen(&wires), "start 91 stop start 90 07 stop");
}

#[test]
fn a_register_is_read_without_giving_the_bus_away() {
    let (mut bus, wires) = bus();
    let mut bytes = [0; 3];
    assert_eq!(bus.write_read(0x48, &[0x00], &mut bytes), Ok(()));
    assert_eq!(bytes, [0x12, 0x34, 0x56]);
    assert_eq!(seen(&wires), "start 90 00 start 91 stop");
}

#[test]
fn operations_of_one_kind_are_one() {
    let (mut bus, wires) = bus();
    let (mut one, mut two) = ([0; 1], [0; 2]);
    let mut operations = [
        Operation::Write(&[1]),
        Operation::Write(&[2, 3]),
        Operation::Read(&mut one),
        Operation::Read(&mut two),
    ];
    assert_eq!(bus.transaction(0x48, &mut operations), Ok(()));
    assert_eq!((one, two), ([0x12], [0x34, 0x56]));
    assert_eq!(seen(&wires), "start 90 01 02 03 start 91 stop");
}

#[test]
fn nothing_to_do_is_no_transfer_and_an_empty_buffer_is_an_address() {
    let (mut bus, wires) = bus();
    assert_eq!(bus.transaction(0x48, &mut []), Ok(()));
    assert_eq!(seen(&wires), "");
    assert_eq!(bus.write(0x48, &[]), Ok(()));
    assert_eq!(seen(&wires), "start 90 stop");
    // The device gives zeros, which would keep the data line low and the stop away.
    wires.borrow_mut().gives = vec![0];
    assert_eq!(bus.read(0x48, &mut []), Ok(()));
    assert_eq!(seen(&wires), "start 90 stop start 91 stop");
}

#[test]
fn refusals_of_address_and_data_are_told_apart_and_end_with_a_stop() {
    let (mut bus, wires) = bus();
    let error = bus.write(0x49, &[1]).unwrap_err();
    assert_eq!(error, Error::AddressRefused);
    assert_eq!(error.kind(), ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address));
    assert_eq!(seen(&wires), "start 92 refused stop");
    wires.borrow_mut().seen.clear();
    wires.borrow_mut().takes = 1;
    let error = bus.write(0x48, &[1, 2, 3]).unwrap_err();
    assert_eq!(error, Error::DataRefused);
    assert_eq!(error.kind(), ErrorKind::NoAcknowledge(NoAcknowledgeSource::Data));
    assert_eq!(seen(&wires), "start 90 01 02 refused stop");
}

#[test]
fn a_held_clock_is_waited_for_up_to_the_limit() {
    let (mut bus, wires) = bus();
    wires.borrow_mut().holds = 50;
    let mut bytes = [0; 2];
    assert_eq!(bus.write_read(0x48, &[0x00], &mut bytes), Ok(()));
    assert_eq!(bytes, [0x12, 0x34]);
    // For good.
    wires.borrow_mut().holds = u32::MAX;
    let before = wires.borrow().waited;
    let error = bus.write(0x48, &[1]).unwrap_err();
    assert_eq!((error, error.kind()), (Error::ClockHeld, ErrorKind::Bus));
    // Eight bits and a start, and twice the limit: once for the answer and once for the stop.
    let waited = wires.borrow().waited - before;
    assert!((100_000..300_000).contains(&waited), "{waited} ns");
}

#[test]
fn a_device_left_in_the_middle_of_a_byte_is_clocked_out_of_it() {
    let (mut bus, wires) = bus();
    wires.borrow_mut().stuck = 5;
    assert_eq!(bus.write(0x48, &[0x55]), Ok(()));
    assert!(seen(&wires).ends_with("start 90 55 stop"), "{}", seen(&wires));
    wires.borrow_mut().stuck = u32::MAX;
    let error = bus.write(0x48, &[0x55]).unwrap_err();
    assert_eq!((error, error.kind()), (Error::DataHeld, ErrorKind::Bus));
}

#[test]
fn a_bus_that_another_controller_drives_is_left_to_it() {
    let (mut bus, wires) = bus();
    // The first bit of the address is a one.
    wires.borrow_mut().intruder = Some(0);
    let error = bus.write(0x48, &[1]).unwrap_err();
    assert_eq!((error, error.kind()), (Error::ArbitrationLost, ErrorKind::ArbitrationLoss));
    assert!(!wires.borrow().seen.contains(&"stop".into()));
}

#[test]
fn the_clock_is_not_faster_than_was_asked_for() {
    let (mut bus, wires) = bus();
    assert_eq!(bus.write(0x48, &[1]), Ok(()));
    // Eighteen bits of ten microseconds, start and stop.
    let waited = wires.borrow().waited;
    assert!((180_000..220_000).contains(&waited), "{waited} ns");
}
