//! Power cuts of a logger that stores its calibration, in flash that outlives the start, and now and then the emulator: each start has to
//! find, for each channel, the record from before or the one from after.

use std::fs;
use std::path::{Path, PathBuf};

use firmware::field::CHANNELS;
use firmware::field::channels::TABLE;

use super::erased;
use super::site::{Site, at_rest};
use super::world::World;
use crate::cores::Core;
use crate::emulator::{Firmware, at};

const CUTS: u32 = 1_000;
/// Emulators at once, each with its own flash.
const FLASHES: u32 = 2;
/// The timer ticks once in so many instructions.
const INSTRUCTIONS_PER_TICK: u64 = 100;

/// The start that has stored the record of each channel, if there is one.
type Found = [Option<i32>; CHANNELS];

/// The summary, or what was wrong.
pub fn check(core: &Core, folder: &Path) -> Result<String, String> {
    let firmware = &Firmware { core, elf: folder.join("field") };
    let seen = std::thread::scope(|scope| {
        let started: Vec<_> = (0..FLASHES)
            .map(|number| {
                let here = folder.join(format!("field-cuts-{number}"));
                scope.spawn(move || Logger { firmware, here, number, running: None }.cut_often())
            })
            .collect();
        let ended = started.into_iter().map(|one| one.join());
        ended.map(|one| one.unwrap_or_else(|_| Err("a flash panicked".into()))).collect::<Result<Vec<_>, _>>()
    });
    let seen = seen.map_err(|error| format!("{}: {error}", core.name))?;
    let total = seen.into_iter().fold(Seen::default(), Seen::plus);
    let Seen { cuts, old, new, reached } = total;
    if cuts < CUTS || reached.iter().any(|starts| *starts < CUTS / 20) {
        return Err(format!("the cuts do not reach every record: {total:?}"));
    }
    Ok(format!(
        "{}: {cuts} power cuts while {CHANNELS} records were stored: each was whole at the next start, {new} times the new one and {old} \
         times the old one",
        core.name
    ))
}

/// What was seen after cuts.
#[derive(Clone, Copy, Debug, Default)]
struct Seen {
    cuts: u32,
    old: u32,
    new: u32,
    /// Starts by the number of channels that had been updated, up to all but one.
    reached: [u32; CHANNELS],
}

impl Seen {
    fn plus(mut self, other: Self) -> Self {
        self.cuts += other.cuts;
        self.old += other.old;
        self.new += other.new;
        self.reached.iter_mut().zip(other.reached).for_each(|(one, other)| *one += other);
        self
    }
}

/// A logger with a flash of its own, which is started again and again.
struct Logger<'a> {
    firmware: &'a Firmware<'a>,
    here: PathBuf,
    number: u32,
    /// The board whose power was cut: it starts again with what is in its flash. In place of one that was not cut, the next emulator is
    /// started with the file.
    running: Option<Site>,
}

/// A start.
struct Started {
    found: Found,
    /// Instructions of storing a new zero for every channel, where the power was not cut.
    update: Option<u64>,
}

impl Logger<'_> {
    fn cut_often(mut self) -> Result<Seen, String> {
        fs::create_dir_all(&self.here).map_err(at(&self.here))?;
        erased(&self.here)?;
        let (mut seen, mut found, mut ticks) = (Seen::default(), [None; CHANNELS], None);
        for start in 0.. {
            // Now and then nothing is cut: an update takes longer the fuller the flash is.
            let cut = ticks.filter(|_| start % 16 > 0).map(|ticks: u64| {
                // Spread evenly over an update and a little beyond, in each flash at other places.
                let share = u64::from(start as u32 * FLASHES + self.number) * 618_034 % 1_000_000;
                (ticks * 103 / 100 * share / 1_000_000).max(1)
            });
            let Started { found: now, update } = self.start(start, cut)?;
            if start == 0 {
                if now != [None; CHANNELS] {
                    return Err(format!("an erased flash has records: {now:?}"));
                }
            } else {
                let reached = judge(found, start - 1, now)?;
                (seen.new, seen.old) = (seen.new + reached as u32, seen.old + (CHANNELS - reached) as u32);
                if let Some(count) = seen.reached.get_mut(reached) {
                    *count += 1;
                }
            }
            found = now;
            match update {
                Some(instructions) => ticks = Some(instructions / INSTRUCTIONS_PER_TICK),
                None => seen.cuts += 1,
            }
            if seen.cuts == CUTS / FLASHES {
                break;
            }
        }
        Ok(seen)
    }

    /// What a start finds; then every channel gets another zero, which is stored.
    fn start(&mut self, start: i32, cut: Option<u64>) -> Result<Started, String> {
        let file = self.here.join("cut");
        match cut {
            Some(ticks) => fs::write(&file, format!("{ticks}\n")).map_err(at(&file))?,
            None => drop(fs::remove_file(&file)),
        }
        let world = World { codes: core::array::from_fn(|channel| code_at(channel, start)), ..at_rest() };
        let mut site = match self.running.take() {
            Some(site) => {
                *site.wire.world() = world;
                site
            }
            None => {
                let name = format!("{}-cut-{}", self.firmware.core.name, self.number);
                Site::start(self.firmware, &self.here, &name, world, true, &[])?
            }
        };
        let mut found = [None; CHANNELS];
        for (channel, (found, words)) in found.iter_mut().zip(site.boot()?).enumerate() {
            *found = stored_by(channel, &words)?;
        }
        let zeroed = site.client.ask("zero all 1")?;
        if !zeroed.starts_with("ok zero all ") {
            return Err(format!("zero all 1: {zeroed}"));
        }
        if cut.is_some() {
            site.client.send("save 2026-03-14")?;
            // The reply comes where the cut is after the update.
            let replies = site.client.next_start()?;
            if !replies.is_empty() && replies != ["ok save 8"] {
                return Err(format!("save, cut: {replies:?}"));
            }
            self.running = Some(site);
            return Ok(Started { found, update: None });
        }
        site.client.expect("save 2026-03-14", "ok save 8")?;
        let status = site.client.ask("status")?;
        let update = status.split(' ').find_map(|word| word.strip_prefix("save=")?.parse().ok());
        Ok(Started { found, update: Some(update.ok_or(status)?) })
    }
}

/// The code at rest in a start.
fn code_at(channel: usize, start: i32) -> i32 {
    TABLE[channel].balance.codes.sum as i32 + start * 100
}

/// The start whose zero was found; none without a record. Anything else is no record of this logger.
fn stored_by(channel: usize, words: &str) -> Result<Option<i32>, String> {
    if words == "factory calibration, none is stored zero=none span=1.000000000" {
        return Ok(None);
    }
    let parsed = words.strip_prefix("stored 2026-03-14 zero=").and_then(|rest| {
        let code: i32 = rest.split_once("/1 at=")?.0.parse().ok()?;
        let above = code - code_at(channel, 0);
        (above % 100 == 0 && rest.ends_with(" span=1.000000000")).then_some(above / 100)
    });
    parsed.map(Some).ok_or_else(|| format!("channel {channel}: {words}"))
}

/// How many channels a start has stored: each in its turn, and each record is the one from before or the start's.
fn judge(before: Found, start: i32, now: Found) -> Result<usize, String> {
    let reached = now.iter().take_while(|now| **now == Some(start)).count();
    if before[reached..] == now[reached..] {
        Ok(reached)
    } else {
        Err(format!("start {start} after {before:?} has left {now:?}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn old_or_new_in_turn_and_nothing_else() {
        let before = [Some(7); CHANNELS];
        let mut now = before;
        assert_eq!(judge(before, 9, now), Ok(0));
        (now[0], now[1]) = (Some(9), Some(9));
        assert_eq!(judge(before, 9, now), Ok(2));
        for wrong in [None, Some(6), Some(8), Some(9)] {
            let mut now = now;
            now[5] = wrong;
            assert!(judge(before, 9, now).is_err(), "{now:?}");
        }
        assert_eq!(judge([None; CHANNELS], 0, [None; CHANNELS]), Ok(0));
    }
}
