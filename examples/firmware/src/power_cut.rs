//! A power cut in the middle of storing, for tests: the timer ends the program.

use core::num::NonZeroU32;

use crate::board;
use crate::field::line::{self, LineError, Request};
use crate::lines::Lines;

/// Before a line is carried out that stores: the file `cut` of the host has the ticks of the timer until the cut. Without it there is none.
pub fn arm(line: Result<&[u8], LineError>) {
    let Ok((_, Ok(Request::Save { .. }))) = line.map(line::parse) else { return };
    let mut file = Lines::open(c"cut").ok();
    let ticks = file.as_mut().and_then(|file| file.next_line()?.parse().ok()).and_then(NonZeroU32::new);
    if let Some(ticks) = ticks {
        let _ = board::after(ticks, || board::exit(true));
    }
}
