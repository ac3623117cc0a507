//! The live logger (`examples/firmware/src/bin/live.rs`) in QEMU, with a thermometer whose temperature is changed while
//! it runs, and without one.
//!
//! With the thermometer the emulated clock keeps to the real one while the core sleeps, so that the logger cannot run
//! ahead of its temperature. Temperature follows the report and nothing else: it is changed when lines for it have come.

mod expected;
mod judge;
mod line;
#[cfg(test)]
mod tests;

use std::path::Path;

use crate::cores::Core;
use crate::emulator::Firmware;
use crate::monitor::{Monitor, Socket};
use firmware::live::scenario;
use judge::Judged;
use line::Line;

/// The thermometer, on the board's only bus of this name that is free.
const THERMOMETER: &str = "tmp105,id=thermometer,address=0x48,bus=i2c";

/// A temperature that the thermometer is given, in thousandths of a degree, and what it then has to show, in
/// sixteenths. The third needs all twelve bits, the fifth lies beyond the channel's range.
struct Step {
    given: i32,
    shown: i16,
}

const STEPS: [Step; 6] = [
    Step { given: 21_000, shown: 336 },
    Step { given: -40_000, shown: -640 },
    Step { given: 5_563, shown: 89 },
    Step { given: 60_000, shown: 960 },
    Step { given: 110_000, shown: 1_760 },
    Step { given: 20_000, shown: 320 },
];

/// Runs both and judges them: in one paragraph what was seen, or else what is wrong. `elf` is the logger for the core,
/// which has to be one whose board has the bus: M3, M4F or M7.
pub fn check(core: &Core, elf: &Path) -> Result<String, String> {
    let firmware = Firmware { core, elf: elf.into() };
    let told = |when: &str, error: String| format!("live logger, {when}, on {}: {error}", core.name);
    let absent = firmware.report(&[]).and_then(|lines| judge::absent(&lines));
    let absent = absent.map_err(|error| told("no thermometer", error))?;
    let present = followed(&firmware).and_then(|lines| judge::present(&lines, &STEPS));
    let present = present.map_err(|error| told("thermometer", error))?;
    Ok(summary(core, &present, &absent))
}

/// The report of a run in which the temperature goes through all steps.
fn followed(firmware: &Firmware<'_>) -> Result<Vec<String>, String> {
    let socket = Socket::new(firmware.core.name);
    // The later of two settings counts; held (-S) until the first temperature is set.
    let paced = ["-icount", "shift=0,sleep=on", "-S"];
    let options = ["-device", THERMOMETER, "-qmp", &socket.qmp()];
    let mut running = firmware.start(Path::new("."), &[&paced[..], &options[..]].concat())?;
    let mut monitor = Monitor::connect(&socket)?;
    let mut steps = STEPS.iter();
    let mut step = steps.next();
    if let Some(first) = step {
        monitor.set("/machine/peripheral/thermometer", "temperature", first.given)?;
    }
    monitor.go_on()?;
    let mut lines = Vec::new();
    let mut seen = Vec::new();
    while let Some(text) = running.line()? {
        if let (Some(now), Line::Corrected(line)) = (step, Line::parse(&text)?) {
            if line.sixteenths == now.shown && judge::LOADS.contains(&line.code) && !seen.contains(&line.code)
            {
                seen.push(line.code);
            }
            if seen.len() == judge::LOADS.len() {
                seen.clear();
                step = steps.next();
                if let Some(next) = step {
                    monitor.set("/machine/peripheral/thermometer", "temperature", next.given)?;
                }
            }
        }
        lines.push(text);
    }
    running.end()?;
    Ok(lines)
}

fn summary(core: &Core, present: &Judged, absent: &Judged) -> String {
    let of = |name: &str| present.totals.get(name);
    format!(
        "live logger on {}: {} samples a second, {} strains reported at {} temperatures over I2C, each with the \
         host's bits; differences between temperatures within {:.3} nanostrain of the package's thermal output. \
         Injected and counted: address refused {}, data refused {}, bus held {} (stale strains {}), code at rail {}, \
         converter unread {}, queue overrun {}. Temperature outside {}. Without thermometer: {} of {} samples \
         uncorrected, address refused {}.",
        core.name,
        scenario::RATE,
        present.strains,
        STEPS.len(),
        present.worst_difference,
        of("address_refused"),
        of("data_refused"),
        of("bus"),
        of("stale"),
        of("at_rail"),
        of("unread"),
        of("overrun"),
        of("temperature_outside"),
        absent.totals.get("uncorrected"),
        absent.totals.get("samples"),
        absent.totals.get("address_refused"),
    )
}
