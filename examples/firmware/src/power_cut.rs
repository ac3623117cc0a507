//! A power cut in the middle of storing, for tests: the timer resets the board. Its flash stays as it is, and a start sets all of memory that a
//! program has variables in.

use core::num::NonZeroU32;

use crate::board;
use crate::field::line::{self, LineError, Request};
use crate::lines::Lines;

unsafe extern "C" {
    /// The register that resets QEMU's `virt` board, from the memory file.
    static mut _board_reset: u32;
}

/// What it takes for that.
const RESET: u32 = 0x7777;

/// Before a line is carried out that stores: the file `cut` of the host has the ticks of the timer until the cut. Without it there is none.
pub fn arm(line: Result<&[u8], LineError>) {
    let Ok((_, Ok(Request::Save { .. }))) = line.map(line::parse) else { return };
    let mut file = Lines::open(c"cut").ok();
    let ticks = file.as_mut().and_then(|file| file.next_line()?.parse().ok()).and_then(NonZeroU32::new);
    if let Some(ticks) = ticks {
        let _ = board::after(ticks, cut);
    }
}

fn cut() {
    // SAFETY: the memory file says that the register is there.
    unsafe { (&raw mut _board_reset).write_volatile(RESET) }
    loop {
        board::sleep();
    }
}
