//! The fuzz targets of tests/fuzz on random bytes: so that they are run, and do not rot, where no fuzzer is installed.

use support::Random;

const INPUTS: u64 = 20_000;

/// Random bytes, of lengths that end within a channel now and then.
fn inputs(seed: u64) -> impl Iterator<Item = Vec<u8>> {
    (0..INPUTS).map(move |i| {
        let mut random = Random(seed << 32 | i);
        let length = random.between(1, 400);
        (0..length).map(|_| (random.bits() >> 56) as u8).collect()
    })
}

/// The target runs on each input, and gives that something came of one in `of`, at least.
fn one_in(of: u64, seed: u64, what: &str, run: impl Fn(&[u8]) -> bool) {
    let count = inputs(seed).filter(|data| run(data)).count() as u64;
    println!("{count} of {INPUTS} inputs were {what}");
    assert!(count > INPUTS / of, "only {count} were {what}");
}

#[test]
fn channels() {
    one_in(20, 1, "channels that compiled", fuzz::channel::run);
}

#[test]
fn readings() {
    inputs(2).for_each(|data| fuzz::readings::run(&data));
}

#[test]
fn thermometers() {
    one_in(10, 3, "thermometers that compiled", fuzz::thermometers::run);
}

#[test]
fn words() {
    one_in(20, 4, "words", fuzz::words::run);
}

#[test]
fn records() {
    one_in(20, 5, "records", fuzz::records::run);
}

#[test]
fn c_interface() {
    one_in(2, 7, "compiled, adjusted, or asked for neither", fuzz::c_interface::run);
}

#[test]
fn lines() {
    one_in(40, 6, "requests", fuzz::lines::run);
}
