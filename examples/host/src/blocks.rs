//! A file in blocks of whole lines, and what is made of each block on all cores, so that no more of a long file than a few
//! blocks is ever held.

use std::io::{self, Read};
use std::sync::mpsc::sync_channel;
use std::thread;

/// Bytes of a block, or a line more.
pub const BLOCK: u64 = 1 << 18;

/// Blocks of one thread that are read and not yet taken.
const AHEAD: usize = 2;

/// Whole lines, about so many bytes together.
pub struct Blocks<R> {
    source: R,
    size: u64,
    /// The beginning of a line that goes on.
    rest: Vec<u8>,
}

impl<R: Read> Blocks<R> {
    pub fn of(source: R, size: u64) -> Self {
        Self { source, size, rest: Vec::new() }
    }

    fn read(&mut self) -> io::Result<Option<Vec<u8>>> {
        let mut block = std::mem::take(&mut self.rest);
        loop {
            let before = block.len();
            block.reserve(self.size as usize);
            if self.source.by_ref().take(self.size).read_to_end(&mut block)? == 0 {
                return Ok((!block.is_empty()).then_some(block));
            }
            if let Some(last) = block[before..].iter().rposition(|&byte| byte == b'\n') {
                self.rest = block.split_off(before + last + 1);
                return Ok(Some(block));
            }
        }
    }
}

impl<R: Read> Iterator for Blocks<R> {
    type Item = io::Result<Vec<u8>>;

    fn next(&mut self) -> Option<Self::Item> {
        self.read().transpose()
    }
}

/// Gives each block to `work` on one of as many threads as there are cores, and what comes out to `take` on this one, in the
/// order of the blocks. A block is read when there is room for it.
///
/// # Errors
/// The first of the blocks or of `take`, which ends it.
pub fn in_order<B: Send, T: Send, E>(
    blocks: impl Iterator<Item = Result<B, E>>,
    work: impl Fn(B) -> T + Sync,
    mut take: impl FnMut(T) -> Result<(), E>,
) -> Result<(), E> {
    let threads = thread::available_parallelism().map_or(1, usize::from);
    thread::scope(|scope| {
        let work = &work;
        let each = |_| {
            let (give, given) = sync_channel(AHEAD);
            let (put, done) = sync_channel(AHEAD);
            // Ends when nothing more is given, or nobody waits for what is done.
            scope.spawn(move || given.into_iter().map(work).try_for_each(|result| put.send(result)));
            (give, done)
        };
        let workers: Vec<_> = (0..threads).map(each).collect();
        let mut blocks = blocks.fuse();
        let (mut given, mut taken) = (0, 0);
        loop {
            while given - taken < threads * AHEAD {
                let Some(block) = blocks.next() else { break };
                // It fails where the thread has panicked, as below: then this does, when the scope ends.
                if workers[given % threads].0.send(block?).is_err() {
                    return Ok(());
                }
                given += 1;
            }
            if taken == given {
                return Ok(());
            }
            let Ok(result) = workers[taken % threads].1.recv() else { return Ok(()) };
            taken += 1;
            take(result)?;
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_are_whole_lines() {
        let text = b"a\nbcd\n\nefghijklmnopq\nr";
        for size in 1..30 {
            let blocks = Blocks::of(text.as_slice(), size).collect::<io::Result<Vec<_>>>().unwrap();
            assert_eq!(blocks.concat(), text);
            let (_, whole) = blocks.split_last().unwrap();
            assert!(whole.iter().all(|block| block.ends_with(b"\n")), "{size}: {blocks:?}");
        }
        assert_eq!(Blocks::of(b"".as_slice(), 9).count(), 0);
    }

    #[test]
    fn what_is_done_on_threads_comes_in_order() {
        let mut found = Vec::new();
        let slow_at_first = |number: u64| {
            thread::sleep(std::time::Duration::from_millis(if number == 0 { 20 } else { 0 }));
            number * number
        };
        let done = in_order((0..100).map(Ok::<_, ()>), slow_at_first, |square| {
            found.push(square);
            Ok(())
        });
        assert_eq!(done, Ok(()));
        assert_eq!(found, (0..100).map(|number| number * number).collect::<Vec<_>>());
    }

    #[test]
    fn the_first_error_ends_it() {
        let bad = |number: u64| if number == 7 { Err("read") } else { Ok(number) };
        let mut taken = 0;
        assert_eq!(
            in_order(
                (0..).map(bad),
                |number| number,
                |_| {
                    taken += 1;
                    Ok(())
                }
            ),
            Err("read")
        );
        assert!(taken <= 7);
        let told =
            in_order((0..).map(Ok), |number| number, |number| if number == 9 { Err("full") } else { Ok(()) });
        assert_eq!(told, Err("full"));
    }
}
