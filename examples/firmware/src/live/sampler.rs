//! The interrupt's side: numbers every sample, reads its code and queues it. What is not queued is counted, and
//! leaves its number as a gap.

use core::sync::atomic::{AtomicU32, Ordering::Relaxed};

use embedded_hal::spi::SpiDevice;
use heapless::spsc::Producer;

use super::converter::Converter;

/// A code and the number of its sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sample {
    pub sequence: u32,
    pub code: i32,
}

/// What the interrupt counts, for the main loop to read.
#[derive(Debug, Default)]
pub struct Taken {
    /// Samples that were due, so many as there were interrupts; the next one's number.
    pub due: AtomicU32,
    /// Samples lost because the queue was full.
    pub overrun: AtomicU32,
    /// Samples lost because the converter could not be read.
    pub unread: AtomicU32,
}

impl Taken {
    pub const fn new() -> Self {
        Self { due: AtomicU32::new(0), overrun: AtomicU32::new(0), unread: AtomicU32::new(0) }
    }
}

/// What the interrupt owns.
pub struct Sampler<'a, S> {
    converter: Converter<S>,
    queue: Producer<'a, Sample>,
    taken: &'a Taken,
}

impl<'a, S: SpiDevice> Sampler<'a, S> {
    pub fn new(converter: Converter<S>, queue: Producer<'a, Sample>, taken: &'a Taken) -> Self {
        Self { converter, queue, taken }
    }

    /// One sample. The interrupt is the only one that writes the counters, so that they need no more than loads and
    /// stores.
    pub fn tick(&mut self) {
        let sequence = self.taken.due.load(Relaxed);
        match self.converter.code() {
            Ok(code) => {
                if self.queue.enqueue(Sample { sequence, code }).is_err() {
                    one_more(&self.taken.overrun);
                }
            }
            Err(_) => one_more(&self.taken.unread),
        }
        one_more(&self.taken.due);
    }
}

fn one_more(count: &AtomicU32) {
    count.store(count.load(Relaxed).wrapping_add(1), Relaxed);
}
