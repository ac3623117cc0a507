//! What the live logger has to report, from the constants of its scenario alone.

use firmware::live::scenario::{
    ADDRESS_REFUSED, AT_RAIL, BUS_HELD, BUSY, DATA_REFUSED, PACE, QUEUE, SAMPLES, UNREAD, code,
};

/// The highest code of the converter.
const RAIL: i32 = (1 << 23) - 1;

/// The state after a sample.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct After {
    pub sequence: u32,
    pub code: i32,
    /// Samples since a temperature was read; none if none was.
    pub age: Option<u32>,
    pub stale: bool,
    pub at_rail: bool,
    /// By the names of the report; temperature outside, which follows from the temperature, is not in here.
    pub counts: [(&'static str, u32); 15],
}

/// Samples that are lost while the main loop is busy: the first is taken, the next fill the queue.
fn is_overrun(sequence: u32) -> bool {
    (BUSY.start + QUEUE as u32..BUSY.end).contains(&sequence)
}

/// After every sample that comes.
pub fn run(thermometer_is_there: bool) -> Vec<After> {
    let overruns = (0..SAMPLES).filter(|&sequence| is_overrun(sequence)).count() as u32;
    let mut states = Vec::new();
    let (mut samples, mut uncorrected, mut stale_ones, mut at_rail) = (0, 0, 0, 0);
    let (mut temperatures, mut address, mut data, mut bus) = (0, 0, 0, 0);
    let mut unread = 0;
    let mut last_read = None;
    let mut due = 0;
    for sequence in 0..SAMPLES {
        if UNREAD.contains(&sequence) {
            unread += 1;
            continue;
        }
        if is_overrun(sequence) {
            continue;
        }
        samples += 1;
        if sequence >= due {
            due = sequence + PACE.temperature_every;
            if ADDRESS_REFUSED.contains(&sequence) {
                address += 1;
            } else if DATA_REFUSED.contains(&sequence) {
                data += 1;
            } else if BUS_HELD.contains(&sequence) {
                bus += 1;
            } else if thermometer_is_there {
                temperatures += 1;
                last_read = Some(sequence);
            } else {
                address += 1;
            }
        }
        let age = last_read.map(|at| sequence - at);
        let stale = age.is_some_and(|age| age > PACE.stale_after);
        let railed = AT_RAIL.contains(&sequence);
        uncorrected += u32::from(age.is_none());
        stale_ones += u32::from(stale);
        at_rail += u32::from(railed);
        // The queue has overrun before the next sample is taken out of it.
        let overrun = if sequence > BUSY.start { overruns } else { 0 };
        states.push(After {
            sequence,
            code: if railed { RAIL } else { code(sequence) },
            age,
            stale,
            at_rail: railed,
            counts: [
                ("samples", samples),
                ("missing", sequence + 1 - samples),
                ("overrun", overrun),
                ("unread", unread),
                ("uncorrected", uncorrected),
                ("stale", stale_ones),
                ("at_rail", at_rail),
                ("strain_outside", 0),
                ("temperatures", temperatures),
                ("address_refused", address),
                ("data_refused", data),
                ("bus", bus),
                ("arbitration", 0),
                ("other", 0),
                ("senseless", 0),
            ],
        });
    }
    states
}
