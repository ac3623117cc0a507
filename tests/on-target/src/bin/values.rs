//! Every public value of the library through defmt: a firmware of its own, since the smallest board has no room for it
//! beside the kernels.
#![no_std]
#![no_main]

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use firmware::board;
use on_target::values;
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;

#[entry]
fn main() -> ! {
    values::tell();
    board::exit(true)
}
