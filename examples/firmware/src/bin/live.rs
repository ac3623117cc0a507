//! A logger that reads a live thermometer on a bit-banged I2C bus and samples a (simulated) converter in the timer's
//! interrupt, corrects every sample, and tells of everything that goes wrong: see `src/live`, which holds all of it but
//! the board.
//!
//! The faults of `src/live/scenario.rs` are injected on the way, and `tests/on-target/runner` checks that each is seen
//! and counted.
#![no_std]
#![no_main]

#[cfg(not(target_arch = "arm"))]
compile_error!("the live logger needs a Cortex-M board whose memory file names an I2C bus");

use core::cell::RefCell;
use core::convert::Infallible;
use core::num::NonZeroU32;
use core::sync::atomic::{AtomicU32, Ordering::Relaxed};

use cortex_m_rt::entry;
use critical_section::Mutex;
use embedded_hal::delay::DelayNs;
use embedded_hal::digital::{ErrorType, InputPin, OutputPin};
use firmware::board;
use firmware::live::bit_banged::BitBanged;
use firmware::live::channel::{ERROR_LIMIT, STRUT};
use firmware::live::converter::Converter;
use firmware::live::counters::Counters;
use firmware::live::faults::{FaultyBus, FaultyDevice};
use firmware::live::recorder::{Record, Recorder};
use firmware::live::sampler::{Sample, Sampler, Taken};
use firmware::live::scenario;
use firmware::live::simulated::SimulatedConverter;
use firmware::live::thermometer::Thermometer;
use gaugewright::fixed::Kernel;
use heapless::spsc::Queue;

const RATE: NonZeroU32 = NonZeroU32::new(scenario::RATE).unwrap();

static KERNEL: Kernel = STRUT.fixed_within(ERROR_LIMIT);

/// What the interrupt owns, as soon as the main loop has made it.
static SAMPLER: Mutex<RefCell<Option<Sampler<'static, FaultyDevice<'static, SimulatedConverter>>>>> =
    Mutex::new(RefCell::new(None));
static TAKEN: Taken = Taken::new();
/// The sample being corrected, by which faults of the bus are scheduled.
static NOW: AtomicU32 = AtomicU32::new(0);

#[entry]
fn main() -> ! {
    static mut QUEUE: Queue<Sample, { scenario::QUEUE }> = Queue::new();
    let (producer, mut samples) = QUEUE.split();
    let device = FaultyDevice::new(SimulatedConverter::new(scenario::code), &scenario::DEVICE_FAULTS);
    let sampler = Sampler::new(Converter::new(device), producer, &TAKEN);
    critical_section::with(|held| SAMPLER.borrow_ref_mut(held).replace(sampler));

    // 100 kHz, which every thermometer supports; a device may hold the clock for a millisecond.
    let bus = BitBanged::new(Line::<CLOCK>, Line::<DATA>, Spin, 100_000, 1_000);
    let mut bus = FaultyBus::new(bus, &NOW, &scenario::BUS_FAULTS);
    let mut recorder = Recorder::new(&KERNEL, Thermometer::at(scenario::THERMOMETER), scenario::PACE);

    if let Err(error) = board::every(RATE, tick) {
        defmt::error!("{}", error);
        board::exit(false);
    }
    loop {
        while let Some(sample) = samples.dequeue() {
            NOW.store(sample.sequence, Relaxed);
            let record = recorder.take(sample, &mut bus);
            if sample.sequence % scenario::REPORT_EVERY == 0 {
                tell(sample, record);
                tell_counters("so far", recorder.counters());
            }
            if sample.sequence == scenario::BUSY.start {
                while TAKEN.due.load(Relaxed) < scenario::BUSY.end {}
            }
            if sample.sequence >= scenario::SAMPLES - 1 {
                end(recorder.counters());
            }
        }
        board::sleep_unless(|| samples.ready());
    }
}

/// Other interrupts are masked while the sampler is fetched and put back, and not while it waits for the converter.
fn tick() {
    let sampler = critical_section::with(|held| SAMPLER.borrow_ref_mut(held).take());
    let Some(mut sampler) = sampler else { return };
    sampler.tick();
    critical_section::with(|held| SAMPLER.borrow_ref_mut(held).replace(sampler));
}

fn tell(sample: Sample, record: Record) {
    let Sample { sequence, code } = sample;
    match record {
        Record::Corrected { reading, sixteenths, age, stale } => defmt::println!(
            "corrected sequence={=u32} code={=i32} sixteenths={=i16} age={=u32} nanostrain={=i32} bits={=i32} \
             stale={=bool} flags={}",
            sequence,
            code,
            sixteenths,
            age,
            reading.strain.nanostrain(),
            reading.strain.to_bits(),
            stale,
            reading.flags
        ),
        Record::Uncorrected { at_rail } => {
            defmt::println!(
                "uncorrected sequence={=u32} code={=i32} at_rail={=bool}",
                sequence,
                code,
                at_rail
            )
        }
    }
}

fn tell_counters(when: &str, counters: &Counters) {
    let Counters { missing, samples, uncorrected, stale, at_rail, .. } = *counters;
    let Counters { temperature_outside, strain_outside, temperatures, failed, .. } = *counters;
    defmt::println!(
        "{=str}: samples={=u32} missing={=u32} overrun={=u32} unread={=u32} uncorrected={=u32} stale={=u32} \
         at_rail={=u32} temperature_outside={=u32} strain_outside={=u32} temperatures={=u32} address_refused={=u32} \
         data_refused={=u32} bus={=u32} arbitration={=u32} other={=u32} senseless={=u32}",
        when,
        samples,
        missing,
        TAKEN.overrun.load(Relaxed),
        TAKEN.unread.load(Relaxed),
        uncorrected,
        stale,
        at_rail,
        temperature_outside,
        strain_outside,
        temperatures,
        failed.address_refused,
        failed.data_refused,
        failed.bus,
        failed.arbitration,
        failed.other,
        failed.senseless
    );
}

/// A success if every gap in the numbers has its reason among the interrupt's counts.
fn end(counters: &Counters) -> ! {
    tell_counters("in all", counters);
    let lost = TAKEN.overrun.load(Relaxed) + TAKEN.unread.load(Relaxed);
    board::exit(counters.missing == lost && counters.samples + lost == scenario::SAMPLES)
}

unsafe extern "C" {
    /// The registers of a controller of two open-drain lines, from the memory file of a board that has one: lines to
    /// let go (read: what they are), and lines to pull low.
    static mut _i2c_bus: [u32; 2];
}

const CLOCK: u32 = 1 << 0;
const DATA: u32 = 1 << 1;

/// One line of that controller.
struct Line<const BIT: u32>;

impl<const BIT: u32> ErrorType for Line<BIT> {
    type Error = Infallible;
}

impl<const BIT: u32> OutputPin for Line<BIT> {
    fn set_high(&mut self) -> Result<(), Infallible> {
        // SAFETY: the memory file says that the register is there. A write moves the lines whose bits are set alone.
        unsafe { (&raw mut _i2c_bus[0]).write_volatile(BIT) };
        Ok(())
    }

    fn set_low(&mut self) -> Result<(), Infallible> {
        // SAFETY: as above.
        unsafe { (&raw mut _i2c_bus[1]).write_volatile(BIT) };
        Ok(())
    }
}

impl<const BIT: u32> InputPin for Line<BIT> {
    fn is_high(&mut self) -> Result<bool, Infallible> {
        // SAFETY: the memory file says that the register is there; reading it changes nothing.
        Ok(unsafe { (&raw const _i2c_bus[0]).read_volatile() } & BIT != 0)
    }

    fn is_low(&mut self) -> Result<bool, Infallible> {
        self.is_high().map(|high| !high)
    }
}

/// Waits by counting the processor's cycles.
struct Spin;

impl DelayNs for Spin {
    fn delay_ns(&mut self, ns: u32) {
        let cycles = u64::from(ns) * u64::from(board::timer_hz()) / 1_000_000_000;
        cortex_m::asm::delay(cycles as u32 + 1);
    }
}
