//! Power cuts of a logger that updates its records, in flash that outlives the emulator: each start has to find, for each channel,
//! the record from before the update or the one from after it.

use std::fs;
use std::path::Path;

use crate::cores::CORES;
use crate::emulator::{Firmware, at};

/// The board whose flash outlives the emulator.
pub const CORE: &str = "RV32IMAC";
const CHANNELS: usize = 8;
const CUTS: u32 = 1_000;
/// Emulators at once, each with its own flash.
const FLASHES: u32 = 2;
/// Of the flash's file, as the board wants it.
const BYTES: usize = 32 << 20;
/// The timer ticks once in so many instructions.
const INSTRUCTIONS_PER_TICK: u64 = 100;
/// More ticks than any update takes.
const UNCUT: u32 = 1_000_000_000;

/// The number of the last update of each channel, if it has one.
type Found = [Option<u32>; CHANNELS];

/// The summary, or what was wrong.
pub fn check(folder: &Path) -> Result<String, String> {
    let core = CORES.iter().find(|core| core.name == CORE).ok_or("no such core")?;
    let firmware = Firmware { core, elf: folder.join(CORE).join("stored") };
    let seen = std::thread::scope(|scope| {
        let started: Vec<_> = (0..FLASHES)
            .map(|flash| {
                scope.spawn({
                    let firmware = &firmware;
                    move || cuts(firmware, folder, flash)
                })
            })
            .collect();
        started
            .into_iter()
            .map(|one| one.join().unwrap_or_else(|_| Err("a flash panicked".into())))
            .collect::<Result<Vec<_>, _>>()
    })?;
    let total = seen.into_iter().fold(Seen::default(), Seen::plus);
    let Seen { cuts, old, new, reached } = total;
    if cuts < CUTS || reached.iter().any(|starts| *starts < CUTS / 20) {
        return Err(format!("the cuts do not reach every update: {total:?}"));
    }
    Ok(format!(
        "{}: {cuts} power cuts during updates of {CHANNELS} records: each was whole at the next start, {new} times the new one and {old} \
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

fn cuts(firmware: &Firmware, folder: &Path, flash: u32) -> Result<Seen, String> {
    let here = folder.join(format!("stored-{flash}"));
    fs::create_dir_all(&here).map_err(at(&here))?;
    let image = here.join("flash.img");
    fs::write(&image, vec![0xff; BYTES]).map_err(at(&image))?;

    let (mut found, _) = start(firmware, &here, UNCUT)?;
    if found != [None; CHANNELS] {
        return Err(format!("{CORE}: an erased flash has records: {found:?}"));
    }
    let (mut seen, mut starts, mut ticks) = (Seen::default(), 0_u32, None);
    found = [Some(0); CHANNELS];
    while seen.cuts < CUTS / FLASHES {
        // Now and then nothing is cut: an update takes longer the fuller the flash is.
        let cut = ticks.filter(|_| starts % 16 > 0).map(|ticks: u64| {
            // Spread evenly over an update and a little beyond, in each flash at other places.
            let share = u64::from(starts * FLASHES + flash) * 618_034 % 1_000_000;
            (ticks * 103 / 100 * share / 1_000_000).max(1) as u32
        });
        let (now, updated) = start(firmware, &here, cut.unwrap_or(UNCUT))?;
        let reached = judge(found, now)?;
        (seen.new, seen.old) = (seen.new + reached as u32, seen.old + (CHANNELS - reached) as u32);
        if let Some(count) = seen.reached.get_mut(reached) {
            *count += 1;
        }
        match updated {
            Some(instructions) => ticks = Some(instructions / INSTRUCTIONS_PER_TICK),
            None => seen.cuts += 1,
        }
        (found, starts) = (now, starts + 1);
    }
    Ok(seen)
}

/// What a start finds, and the instructions of its update if it came to its end.
fn start(firmware: &Firmware, here: &Path, ticks: u32) -> Result<(Found, Option<u64>), String> {
    let cut = here.join("cut");
    fs::write(&cut, format!("{ticks}\n")).map_err(at(&cut))?;
    let mut running = firmware.start(here, &["-drive", "if=pflash,format=raw,unit=1,file=flash.img"])?;
    let (mut found, mut loaded, mut updated) = ([None; CHANNELS], false, None);
    // A cut may come in the middle of a line, but not before everything was found.
    while let Ok(Some(line)) = running.line() {
        let mut words = line.split(' ');
        match (words.next(), words.next(), words.next(), words.next()) {
            (Some("channel"), Some(channel), Some(what), number) => {
                let place = channel.parse::<usize>().ok().and_then(|channel| found.get_mut(channel));
                let number = number.map(str::parse);
                match (place, what, number) {
                    (Some(place), "update", Some(Ok(number))) => *place = Some(number),
                    (Some(place), "none", None) => *place = None,
                    _ => return Err(format!("{CORE}: {line}")),
                }
            }
            (Some("loaded"), None, None, None) => loaded = true,
            (Some("updated"), Some("in"), Some(instructions), _) => updated = instructions.parse().ok(),
            _ => return Err(format!("{CORE}: {line}")),
        }
    }
    running.end()?;
    if loaded { Ok((found, updated)) } else { Err(format!("{CORE}: does not come to load its records")) }
}

/// How many channels were updated since: each in its turn, and each record is the old one or the new one.
fn judge(before: Found, now: Found) -> Result<usize, String> {
    let reached = before.iter().zip(&now).take_while(|(before, now)| is_next(before, now)).count();
    if before[reached..] == now[reached..] {
        Ok(reached)
    } else {
        Err(format!("{CORE}: after {before:?} a start found {now:?}"))
    }
}

fn is_next(before: &Option<u32>, now: &Option<u32>) -> bool {
    match (before, now) {
        (None, Some(0)) => true,
        (Some(before), Some(now)) => before + 1 == *now,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn old_or_new_in_turn_and_nothing_else() {
        let before = [Some(7); CHANNELS];
        let mut now = before;
        assert_eq!(judge(before, now), Ok(0));
        (now[0], now[1]) = (Some(8), Some(8));
        assert_eq!(judge(before, now), Ok(2));
        for wrong in [None, Some(6), Some(9), Some(8)] {
            let mut now = now;
            now[5] = wrong;
            assert!(judge(before, now).is_err(), "{now:?}");
        }
        assert_eq!(judge([None; CHANNELS], [None; CHANNELS]), Ok(0));
    }
}
