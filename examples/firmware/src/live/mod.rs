//! The parts of a logger that reads a live thermometer and a converter, over the traits of `embedded-hal` alone:
//! nothing of a processor or a board is in here, and the tests of `tests/on-target/runner` run all of it on the host.
//!
//! | module | its job |
//! |---|---|
//! | [`bit_banged`] | an I2C controller of two pins |
//! | [`thermometer`] | temperature from a 12-bit digital thermometer |
//! | [`converter`] | codes from a 24-bit converter |
//! | [`channel`] | the channel, as a constant |
//! | [`sampler`] | in the timer's interrupt: a code with its number into the queue |
//! | [`recorder`] | in the main loop: temperature, correction, and what went wrong |
//! | [`counters`] | what is counted |
//! | [`scenario`] | what the demonstration measures, and which faults it meets when |
//! | [`faults`] | a bus and a converter that fail when the scenario says so |
//! | [`simulated`] | the converter of the demonstration |

pub mod bit_banged;
pub mod channel;
pub mod converter;
pub mod counters;
pub mod faults;
pub mod recorder;
pub mod sampler;
pub mod scenario;
pub mod simulated;
pub mod thermometer;
