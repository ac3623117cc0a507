//! What a recorder counts. Every sample and every attempt at a temperature ends in one of these.

use embedded_hal::i2c::{Error, ErrorKind, NoAcknowledgeSource};

use super::thermometer;

/// Counts since the start, modulo 2^32.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counters {
    /// Samples that were due but did not come, by the gaps in their numbers.
    pub missing: u32,
    /// Samples that came.
    pub samples: u32,
    /// Of those: without a strain, for there was no temperature yet.
    pub uncorrected: u32,
    /// Of those: corrected by a temperature older than the limit.
    pub stale: u32,
    /// Of those: with the code at a rail of the converter, corrected or not.
    pub at_rail: u32,
    /// Of those: with these flags of the library.
    pub temperature_outside: u32,
    pub strain_outside: u32,
    /// Temperatures that were read, and attempts that failed, by the kind of failure.
    pub temperatures: u32,
    pub failed: Failures,
}

/// Failed attempts at a temperature.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Failures {
    /// Nobody answered to the address.
    pub address_refused: u32,
    /// The thermometer refused a byte.
    pub data_refused: u32,
    /// A line was held.
    pub bus: u32,
    /// Somebody else drove a line.
    pub arbitration: u32,
    /// Other failures of the controller.
    pub other: u32,
    /// What was read is no temperature, or the thermometer does not keep its configuration.
    pub senseless: u32,
}

impl Failures {
    /// One more.
    pub fn count<B: Error>(&mut self, failure: &thermometer::Error<B>) {
        use NoAcknowledgeSource::Data;
        let counter = match failure {
            thermometer::Error::Bus(failure) => match failure.kind() {
                ErrorKind::NoAcknowledge(Data) => &mut self.data_refused,
                // A controller that cannot tell which it was has most likely found nobody.
                ErrorKind::NoAcknowledge(_) => &mut self.address_refused,
                ErrorKind::Bus => &mut self.bus,
                ErrorKind::ArbitrationLoss => &mut self.arbitration,
                _ => &mut self.other,
            },
            thermometer::Error::NotATemperature(_) | thermometer::Error::NotConfigured(_) => {
                &mut self.senseless
            }
        };
        count_if(counter, true);
    }
}

/// One more if `it_is_so`.
pub fn count_if(counter: &mut u32, it_is_so: bool) {
    *counter = counter.wrapping_add(u32::from(it_is_so));
}
