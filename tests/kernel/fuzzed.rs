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

#[test]
fn channels() {
    let compiled = inputs(1).filter(|data| fuzz::channel::run(data)).count();
    println!("{compiled} of {INPUTS} channels compiled");
    assert!(compiled as u64 > INPUTS / 20, "only {compiled} channels compiled");
}

#[test]
fn readings() {
    inputs(2).for_each(|data| fuzz::readings::run(&data));
}

#[test]
fn thermometers() {
    let compiled = inputs(3).filter(|data| fuzz::thermometers::run(data)).count();
    println!("{compiled} of {INPUTS} thermometers compiled");
    assert!(compiled as u64 > INPUTS / 10, "only {compiled} thermometers compiled");
}

#[test]
fn words() {
    let decoded = inputs(4).filter(|data| fuzz::words::run(data)).count();
    println!("{decoded} of {INPUTS} words decoded");
    assert!(decoded as u64 > INPUTS / 20, "only {decoded} words decoded");
}

#[test]
fn records() {
    let read = inputs(5).filter(|data| fuzz::records::run(data)).count();
    println!("{read} of {INPUTS} records read");
    assert!(read as u64 > INPUTS / 20, "only {read} records were read");
}

#[test]
fn c_interface() {
    let made = inputs(7).filter(|data| fuzz::c_interface::run(data)).count();
    println!("{made} of {INPUTS} compiled, adjusted, or asked for neither");
    assert!(made as u64 > INPUTS / 2, "only {made} were compiled or adjusted");
}

#[test]
fn lines() {
    let read = inputs(6).filter(|data| fuzz::lines::run(data)).count();
    println!("{read} of {INPUTS} lines were requests");
    assert!(read as u64 > INPUTS / 40, "only {read} lines were requests");
}
