//! A logger that flies the demonstration flight: the samples come from a file of the host, as fast as the timer asks for
//! them; the report goes to the host through defmt. Its figures have to be those of the host's replay, to the bit.
//!
//! The file: `cargo run --release --bin flight -- --stream target/flight.stream`
#![no_std]
#![no_main]

use core::num::NonZeroU32;

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use firmware::board::{self, stack};
use firmware::gondola::TABLE;
use firmware::logger::{self, Ends, Logger, PATHS};
use firmware::stream::{Stream, StreamError};
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;

const FILE: &core::ffi::CStr = c"target/flight.stream";

/// Rows a second. The flight was sampled at 5; this is as fast as the smallest core keeps up with in all four ways at
/// once.
const ROWS_PER_SECOND: NonZeroU32 = NonZeroU32::new(5_000).unwrap();

/// Rows between two signs of life.
const ROWS_PER_LINE: u32 = 10_000;

#[entry]
fn main() -> ! {
    stack::start();
    match fly() {
        Ok(()) => board::exit(true),
        Err(error) => {
            // Its words stay on the host: they take no flash.
            defmt::error!(
                "target/flight.stream: {}; the host makes it in the folder where the emulator or debugger runs: \
                 cargo run --release --bin flight -- --stream target/flight.stream",
                error
            );
            board::exit(false)
        }
    }
}

fn fly() -> Result<(), StreamError> {
    let mut stream = Stream::open(FILE)?;
    let all = stream.rows_left();
    defmt::println!("flight of {=u32} rows, {=usize} channels", all, TABLE.len());

    let Ends { mut arriving, mut queue } = logger::start();
    let mut logger = Logger::new();
    let (mut rows, mut deepest) = (0, 0);
    if let Err(error) = board::every(ROWS_PER_SECOND, logger::sample) {
        defmt::error!("{}", error);
        board::exit(false);
    }
    while rows + logger::overruns() < all {
        while arriving.ready() {
            let Some(row) = stream.next_row()? else { break };
            // There is room: it was asked for.
            let _ = arriving.enqueue(row);
        }
        deepest = deepest.max(queue.len());
        match queue.dequeue() {
            None => board::sleep_unless(|| queue.ready()),
            Some(row) => {
                logger.correct(&row);
                rows += 1;
                if rows % ROWS_PER_LINE == 0 {
                    defmt::println!("row {=u32} of {=u32}, {=u32} lost", rows, all, logger::overruns());
                }
            }
        }
    }
    for (line, numbers) in TABLE.iter().zip(&logger.numbers) {
        for (path, numbers) in PATHS.iter().zip(numbers) {
            defmt::println!(
                "numbers {=str} {=str} samples={=u32} clear={=u32} temperature={=u32} strain={=u32} rail={=u32} \
                 least={=i32} greatest={=i32} sum={=i64} hash={=u64:016x}",
                line.name,
                path,
                numbers.samples,
                numbers.clear,
                numbers.temperature,
                numbers.strain,
                numbers.rail,
                numbers.least,
                numbers.greatest,
                numbers.sum,
                numbers.hash
            );
        }
    }
    defmt::println!(
        "rows={=u32} lost={=u32} deepest-queue={=usize} stack={=usize}",
        rows,
        logger::overruns(),
        deepest,
        stack::taken_since()
    );
    Ok(())
}
