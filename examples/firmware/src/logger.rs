//! Samples from an interrupt to the main loop, and what the main loop makes of them.

use core::cell::RefCell;
use core::sync::atomic::{AtomicU32, Ordering::Relaxed};

use critical_section::Mutex;
use gaugewright::{fixed, float};
use heapless::spsc::{Consumer, Producer, Queue};
use static_cell::StaticCell;

use crate::gondola::{CHANNELS, TABLE};
use crate::stream::Row;

pub use host::numbers::Numbers;
use host::numbers::SAMPLES_PER_POINT;

/// Rows that may wait between the interrupt and the main loop (one less: the queue keeps a place free).
const WAITING: usize = 8;

static QUEUE: StaticCell<Queue<Row, WAITING>> = StaticCell::new();
static ARRIVING: StaticCell<Queue<Row, WAITING>> = StaticCell::new();

/// The interrupt's ends of the queues. Nobody else holds them, so that taking them never waits.
struct Sampling {
    arriving: Consumer<'static, Row>,
    queue: Producer<'static, Row>,
}

static SAMPLING: Mutex<RefCell<Option<Sampling>>> = Mutex::new(RefCell::new(None));

/// Rows that found the queue full and are lost. Only the interrupt writes it.
static OVERRUNS: AtomicU32 = AtomicU32::new(0);

/// The main loop's ends of the queues.
pub struct Ends {
    /// Into the converters, as it were: what they will say next.
    pub arriving: Producer<'static, Row>,
    /// What was sampled.
    pub queue: Consumer<'static, Row>,
}

/// Makes the queues; once.
pub fn start() -> Ends {
    let (queue_in, queue_out) = QUEUE.init(Queue::new()).split();
    let (arriving_in, arriving_out) = ARRIVING.init(Queue::new()).split();
    critical_section::with(|held| {
        SAMPLING.borrow_ref_mut(held).replace(Sampling { arriving: arriving_out, queue: queue_in });
    });
    Ends { arriving: arriving_in, queue: queue_out }
}

/// In the timer's interrupt: takes what the converters say and passes it on. A row that finds no room is counted. Other
/// interrupts are masked while the ends of the queues are fetched and put back, and not while they are used.
pub fn sample() {
    let ends = critical_section::with(|held| SAMPLING.borrow_ref_mut(held).take());
    let Some(mut sampling) = ends else { return };
    if let Some(row) = sampling.arriving.dequeue()
        && sampling.queue.enqueue(row).is_err()
    {
        OVERRUNS.store(OVERRUNS.load(Relaxed) + 1, Relaxed);
    }
    critical_section::with(|held| SAMPLING.borrow_ref_mut(held).replace(sampling));
}

/// Rows lost so far.
pub fn overruns() -> u32 {
    OVERRUNS.load(Relaxed)
}

/// The paths of a channel, as they are reported.
pub const PATHS: [&str; 4] = ["fixed", "fixed-point", "f32", "f32-point"];

/// The state between rows: the constants of the last temperature, and the figures so far.
pub struct Logger {
    rows: usize,
    points: [fixed::OperatingPoint; CHANNELS],
    single_points: [float::OperatingPoint<f32>; CHANNELS],
    pub numbers: [[Numbers; PATHS.len()]; CHANNELS],
}

impl Logger {
    /// Before the first row. Its points are those of 0 C; the first row brings others.
    pub fn new() -> Self {
        let cold = fixed::Temperature::from_bits(0);
        Self {
            rows: 0,
            points: core::array::from_fn(|channel| TABLE[channel].fixed.at(cold, cold)),
            single_points: core::array::from_fn(|channel| TABLE[channel].single.at(cold, cold)),
            numbers: [[Numbers::new(); PATHS.len()]; CHANNELS],
        }
    }

    /// Corrects a row in every way there is. A logger of one's own takes one of the four.
    pub fn correct(&mut self, row: &Row) {
        // The thermometers are read once a second.
        let is_read = self.rows.is_multiple_of(SAMPLES_PER_POINT);
        self.rows += 1;
        for (channel, line) in TABLE.iter().enumerate() {
            let (code, temperature) = (row.codes[channel], row.temperatures[channel]);
            if is_read {
                self.points[channel] = line.fixed.at(temperature, row.block);
                self.single_points[channel] = line.single.at(temperature, row.block);
            }
            let [called, split, single_called, single_split] = &mut self.numbers[channel];
            called.add_fixed(line.fixed.reading(code, temperature, row.block));
            split.add_fixed(self.points[channel].reading(code));
            single_called.add_single(line.single.reading(code, temperature, row.block));
            single_split.add_single(self.single_points[channel].reading(code));
        }
    }
}

impl Default for Logger {
    fn default() -> Self {
        Self::new()
    }
}
