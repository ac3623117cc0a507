//! Two open-drain lines with a device on them, which decodes I2C from the edges of the lines.

use std::cell::RefCell;
use std::convert::Infallible;
use std::rc::Rc;

use embedded_hal::delay::DelayNs;
use embedded_hal::digital::{ErrorType, InputPin, OutputPin};

/// What a device is in the middle of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Phase {
    Idle,
    /// Bits of a byte come in; the first byte is the address.
    Takes {
        is_address: bool,
    },
    /// It drives the ninth bit of a byte that came in.
    Answers {
        then_gives: bool,
    },
    /// Bits of a byte go out.
    Gives,
    /// The controller drives the ninth bit.
    IsAnswered,
}

/// The lines, as the controller drives them, and the device.
pub struct Wires {
    controller: [bool; 2],
    /// The data line, as the device drives it, and the clock: held for so many looks at it.
    device_data: bool,
    held: u32,
    phase: Phase,
    bits: u32,
    byte: u8,
    acknowledged: bool,
    pub address: u8,
    /// What it gives when it is read, again and again.
    pub gives: Vec<u8>,
    given: usize,
    /// How many bytes it takes before it refuses.
    pub takes: usize,
    /// What happened: start, stop, and every byte.
    pub seen: Vec<String>,
    /// Before every answer the clock is held for so many looks at it.
    pub holds: u32,
    /// The data line is held for so many more pulses of the clock, whatever happens.
    pub stuck: u32,
    /// Another controller pulls the data line low during this bit of the address.
    pub intruder: Option<u32>,
    /// Nanoseconds that were waited.
    pub waited: u64,
}

const CLOCK: usize = 0;
const DATA: usize = 1;

impl Wires {
    pub fn with_device(address: u8) -> Rc<RefCell<Self>> {
        Rc::new(RefCell::new(Self {
            controller: [true; 2],
            device_data: true,
            held: 0,
            phase: Phase::Idle,
            bits: 0,
            byte: 0,
            acknowledged: false,
            address,
            gives: vec![0x12, 0x34, 0x56],
            given: 0,
            takes: usize::MAX,
            seen: Vec::new(),
            holds: 0,
            stuck: 0,
            intruder: None,
            waited: 0,
        }))
    }

    /// Both lines are let go, as at the end of every transfer.
    pub fn are_free(&self) -> bool {
        self.clock() && self.data()
    }

    fn clock(&self) -> bool {
        self.controller[CLOCK] && self.held == 0
    }

    fn data(&self) -> bool {
        // A bit is counted where the clock rises, and lasts until it falls.
        let bit = self.bits.saturating_sub(u32::from(self.clock()));
        let intruding = self.phase == Phase::Takes { is_address: true } && self.intruder == Some(bit);
        self.controller[DATA] && self.device_data && self.stuck == 0 && !intruding
    }

    fn drive(&mut self, line: usize, high: bool) {
        let before = (self.clock(), self.data());
        self.controller[line] = high;
        match (before, (self.clock(), self.data())) {
            ((true, true), (true, false)) => {
                self.seen.push("start".into());
                (self.phase, self.bits, self.byte) = (Phase::Takes { is_address: true }, 0, 0);
            }
            ((true, false), (true, true)) => {
                self.seen.push("stop".into());
                (self.phase, self.device_data) = (Phase::Idle, true);
            }
            ((false, _), (true, data)) => self.rises(data),
            ((true, _), (false, _)) => self.falls(),
            _ => {}
        }
    }

    /// A bit is taken where the clock rises.
    fn rises(&mut self, data: bool) {
        match self.phase {
            Phase::Takes { .. } => {
                self.byte = self.byte << 1 | u8::from(data);
                self.bits += 1;
            }
            Phase::IsAnswered => self.acknowledged = !data,
            _ => {}
        }
    }

    /// The device changes the data line where the clock is low.
    fn falls(&mut self) {
        self.stuck = self.stuck.saturating_sub(1);
        match self.phase {
            Phase::Takes { is_address } if self.bits == 8 => {
                let reading = is_address && self.byte & 1 == 1;
                let takes = if is_address { self.byte >> 1 == self.address } else { self.takes > 0 };
                if !is_address && takes {
                    self.takes -= 1;
                }
                self.seen.push(format!("{:02x}{}", self.byte, if takes { "" } else { " refused" }));
                self.device_data = !takes;
                self.held = self.holds;
                self.phase = if takes { Phase::Answers { then_gives: reading } } else { Phase::Idle };
            }
            Phase::Answers { then_gives: false } => {
                self.device_data = true;
                (self.phase, self.bits, self.byte) = (Phase::Takes { is_address: false }, 0, 0);
            }
            Phase::Answers { then_gives: true } => self.give(),
            Phase::IsAnswered if self.acknowledged => self.give(),
            Phase::IsAnswered => self.phase = Phase::Idle,
            Phase::Gives => self.give_on(),
            _ => {}
        }
    }

    fn give(&mut self) {
        (self.byte, self.bits) = (self.gives[self.given % self.gives.len()], 0);
        self.given += 1;
        self.phase = Phase::Gives;
        self.give_on();
    }

    fn give_on(&mut self) {
        if self.bits == 8 {
            self.device_data = true;
            self.phase = Phase::IsAnswered;
        } else {
            self.device_data = self.byte << self.bits & 0x80 != 0;
            self.bits += 1;
        }
    }
}

/// One line of the wires, as the controller has it. `LINE` 0 is the clock.
pub struct Line<const LINE: usize>(pub Rc<RefCell<Wires>>);

impl<const LINE: usize> ErrorType for Line<LINE> {
    type Error = Infallible;
}

impl<const LINE: usize> OutputPin for Line<LINE> {
    fn set_low(&mut self) -> Result<(), Infallible> {
        self.0.borrow_mut().drive(LINE, false);
        Ok(())
    }

    fn set_high(&mut self) -> Result<(), Infallible> {
        self.0.borrow_mut().drive(LINE, true);
        Ok(())
    }
}

impl<const LINE: usize> InputPin for Line<LINE> {
    fn is_high(&mut self) -> Result<bool, Infallible> {
        let mut wires = self.0.borrow_mut();
        if LINE == DATA {
            return Ok(wires.data());
        }
        if wires.controller[CLOCK] && wires.held > 0 {
            wires.held -= 1;
            if wires.held == 0 {
                let data = wires.data();
                wires.rises(data);
            }
        }
        Ok(wires.clock())
    }

    fn is_low(&mut self) -> Result<bool, Infallible> {
        self.is_high().map(|high| !high)
    }
}

/// Counts what is waited.
pub struct Waits(pub Rc<RefCell<Wires>>);

impl DelayNs for Waits {
    fn delay_ns(&mut self, ns: u32) {
        self.0.borrow_mut().waited += u64::from(ns);
    }
}
