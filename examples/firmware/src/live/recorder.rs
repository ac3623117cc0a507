//! The main loop's side: reads the temperature when it is due, corrects samples by the last one that was read, and
//! watches its age.

use embedded_hal::i2c::I2c;
use gaugewright::Flags;
use gaugewright::fixed::{Kernel, OperatingPoint, Reading, Temperature};

use super::counters::{Counters, count_if};
use super::sampler::Sample;
use super::thermometer::{self, Thermometer};

/// How often temperature is read, and how old it may become, both in samples.
#[derive(Clone, Copy, Debug)]
pub struct Pace {
    pub temperature_every: u32,
    pub stale_after: u32,
}

/// A temperature, with the correction that it gives.
struct Known {
    sixteenths: i16,
    /// The number of the sample that it was read before.
    at: u32,
    /// Stays until there is another: numbers, and so ages, start again after 2^32.
    stale: bool,
    point: OperatingPoint,
}

/// What became of a sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Record {
    Corrected {
        reading: Reading,
        /// The temperature that the strain is for, in sixteenths of a degree Celsius.
        sixteenths: i16,
        /// How long ago it was read, in samples.
        age: u32,
        /// Older than the limit.
        stale: bool,
    },
    /// No temperature has been read yet, so that there is no strain to give. The code alone can be judged all the same.
    Uncorrected { at_rail: bool },
}

/// The state of the main loop between samples.
pub struct Recorder<'a> {
    kernel: &'a Kernel,
    thermometer: Thermometer,
    pace: Pace,
    is_set_up: bool,
    known: Option<Known>,
    /// The number of the sample before which temperature is due next, and of the next sample.
    due: u32,
    next: u32,
    counters: Counters,
}

impl<'a> Recorder<'a> {
    pub fn new(kernel: &'a Kernel, thermometer: Thermometer, pace: Pace) -> Self {
        let counters = Counters::default();
        Self { kernel, thermometer, pace, is_set_up: false, known: None, due: 0, next: 0, counters }
    }

    pub fn counters(&self) -> &Counters {
        &self.counters
    }

    /// A sample out of the queue. Samples come in order; where some were lost, their numbers are missing.
    pub fn take<B: I2c>(&mut self, sample: Sample, bus: &mut B) -> Record {
        let sequence = sample.sequence;
        self.counters.missing = self.counters.missing.wrapping_add(sequence.wrapping_sub(self.next));
        self.next = sequence.wrapping_add(1);
        count_if(&mut self.counters.samples, true);
        // Numbers start again after 2^32: what is compared is the distance.
        if sequence.wrapping_sub(self.due) as i32 >= 0 {
            self.due = sequence.wrapping_add(self.pace.temperature_every);
            self.ask(sequence, bus);
        }
        let Some(known) = &mut self.known else {
            let (any, _) = self.kernel.temperatures();
            let at_rail = self.kernel.reading(sample.code, any).flags.contains(Flags::CODE_AT_RAIL);
            count_if(&mut self.counters.uncorrected, true);
            count_if(&mut self.counters.at_rail, at_rail);
            return Record::Uncorrected { at_rail };
        };
        let reading = known.point.reading(sample.code);
        let age = sequence.wrapping_sub(known.at);
        known.stale |= age > self.pace.stale_after;
        let stale = known.stale;
        count_if(&mut self.counters.stale, stale);
        count_if(&mut self.counters.at_rail, reading.flags.contains(Flags::CODE_AT_RAIL));
        count_if(&mut self.counters.temperature_outside, reading.flags.contains(Flags::TEMPERATURE_OUTSIDE));
        count_if(&mut self.counters.strain_outside, reading.flags.contains(Flags::STRAIN_OUTSIDE));
        Record::Corrected { reading, sixteenths: known.sixteenths, age, stale }
    }

    fn ask<B: I2c>(&mut self, sequence: u32, bus: &mut B) {
        match self.temperature(bus) {
            Ok(sixteenths) => {
                let point = self.kernel.at(Temperature::from_bits(i32::from(sixteenths) << 16));
                self.known = Some(Known { sixteenths, at: sequence, stale: false, point });
                count_if(&mut self.counters.temperatures, true);
            }
            Err(failure) => {
                // Whatever it was, the thermometer may have started anew since.
                self.is_set_up = false;
                self.counters.failed.count(&failure);
            }
        }
    }

    fn temperature<B: I2c>(&mut self, bus: &mut B) -> Result<i16, thermometer::Error<B::Error>> {
        if !self.is_set_up {
            self.thermometer.set_up(bus)?;
            self.is_set_up = true;
        }
        self.thermometer.sixteenths(bus)
    }
}
