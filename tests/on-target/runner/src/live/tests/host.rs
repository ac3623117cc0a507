//! The scenario on the host: all parts of the live logger but the board, reported in the lines of the firmware.

use std::sync::atomic::{AtomicU32, Ordering::Relaxed};

use gaugewright::fixed::Kernel;
use heapless::spsc::Queue;

use super::super::Step;
use super::recorder::FakeThermometer;
use embedded_hal::i2c::{ErrorKind, NoAcknowledgeSource};
use firmware::live::channel::{ERROR_LIMIT, STRUT};
use firmware::live::converter::Converter;
use firmware::live::counters::Counters;
use firmware::live::faults::{FaultyBus, FaultyDevice};
use firmware::live::recorder::{Record, Recorder};
use firmware::live::sampler::{Sample, Sampler, Taken};
use firmware::live::scenario::{self, BUSY, REPORT_EVERY, SAMPLES};
use firmware::live::simulated::SimulatedConverter;
use firmware::live::thermometer::Thermometer;

static KERNEL: Kernel = STRUT.fixed_within(ERROR_LIMIT);

/// The report of a run through these temperatures, an equal part of the run for each; through none without
/// the thermometer.
pub fn report(steps: &[Step]) -> Vec<String> {
    let mut queue: Queue<Sample, { scenario::QUEUE }> = Queue::new();
    let (producer, mut samples) = queue.split();
    let taken = Taken::new();
    let now = AtomicU32::new(0);
    let device = FaultyDevice::new(SimulatedConverter::new(scenario::code), &scenario::DEVICE_FAULTS);
    let mut sampler = Sampler::new(Converter::new(device), producer, &taken);
    let mut recorder = Recorder::new(&KERNEL, Thermometer::at(scenario::THERMOMETER), scenario::PACE);
    let mut lines = Vec::new();
    while taken.due.load(Relaxed) < SAMPLES {
        sampler.tick();
        while let Some(sample) = samples.dequeue() {
            now.store(sample.sequence, Relaxed);
            let step = steps.get(sample.sequence as usize * steps.len() / SAMPLES as usize);
            let nobody = ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address);
            let register = step.map(|step| (step.shown << 4) as u16).ok_or(nobody);
            let thermometer = FakeThermometer { register, configuration: 0 };
            let mut bus = FaultyBus::new(thermometer, &now, &scenario::BUS_FAULTS);
            let record = recorder.take(sample, &mut bus);
            if sample.sequence % REPORT_EVERY == 0 {
                lines.push(told(sample, record));
                lines.push(counted("so far", recorder.counters(), &taken));
            }
            if sample.sequence == BUSY.start {
                while taken.due.load(Relaxed) < BUSY.end {
                    sampler.tick();
                }
            }
        }
    }
    lines.push(counted("in all", recorder.counters(), &taken));
    lines
}

fn told(sample: Sample, record: Record) -> String {
    let Sample { sequence, code } = sample;
    match record {
        Record::Corrected { reading, sixteenths, age, stale } => format!(
            "corrected sequence={sequence} code={code} sixteenths={sixteenths} age={age} nanostrain={} bits={} \
             stale={stale} flags={}",
            reading.strain.nanostrain(),
            reading.strain.to_bits(),
            reading.flags
        ),
        Record::Uncorrected { at_rail } => {
            format!("uncorrected sequence={sequence} code={code} at_rail={at_rail}")
        }
    }
}

fn counted(when: &str, counters: &Counters, taken: &Taken) -> String {
    let Counters { missing, samples, uncorrected, stale, at_rail, .. } = counters;
    let Counters { temperature_outside, strain_outside, temperatures, failed, .. } = counters;
    format!(
        "{when}: samples={samples} missing={missing} overrun={} unread={} uncorrected={uncorrected} stale={stale} \
         at_rail={at_rail} temperature_outside={temperature_outside} strain_outside={strain_outside} \
         temperatures={temperatures} address_refused={} data_refused={} bus={} arbitration={} other={} senseless={}",
        taken.overrun.load(Relaxed),
        taken.unread.load(Relaxed),
        failed.address_refused,
        failed.data_refused,
        failed.bus,
        failed.arbitration,
        failed.other,
        failed.senseless
    )
}
