//! A session on site: what a test engineer does with the logger, and what can go wrong there.

use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

use firmware::field::channels::TABLE;
use firmware::field::{CHANNELS, Kernel};
use gaugewright::fixed::{MeanCode, Span, Temperature, Zero};

use super::client::{Client, Listening};
use super::world::{Converter, Wire, World};
use crate::cores::Core;
use crate::emulator::{Board, Firmware, Running, read};
use crate::monitor::{Monitor, Socket};

const README: &str = "examples/firmware/README.md";

/// A logger that runs, and all that it is connected to.
pub struct Site {
    pub client: Client,
    pub wire: Wire,
    running: Running,
}

impl Site {
    /// Starts a firmware in a folder. With `flash`, a file of that folder, its flash outlives the emulator.
    pub fn start(
        firmware: &Firmware<'_>,
        here: &Path,
        name: &str,
        world: World,
        flash: bool,
        more: &[&str],
    ) -> Result<Self, String> {
        let wire = Wire::new(here, world)?;
        let listening = Listening::new(name)?;
        let serial = listening.option();
        let drive = ["-drive", "if=pflash,format=raw,unit=1,file=flash.img"];
        let (program, drive) = if flash { ("-bios", &drive[..]) } else { ("-kernel", &[][..]) };
        let more = [drive, more].concat();
        let running = firmware.start_on(&Board { folder: here, serial: &serial, program, more: &more })?;
        Ok(Self { client: listening.accept()?, wire, running })
    }

    /// What a start has found of each channel.
    pub fn boot(&mut self) -> Result<[String; CHANNELS], String> {
        let mut found: [String; CHANNELS] = Default::default();
        for (channel, found) in found.iter_mut().enumerate() {
            let words = self.client.reply(0).map_err(|error| self.last_words(error))?;
            *found = words
                .strip_prefix(&format!("boot {channel} "))
                .ok_or_else(|| format!("not what is found of channel {channel}: {words}"))?
                .to_owned();
        }
        Ok(found)
    }

    /// An error, and what a firmware that has ended reported.
    fn last_words(&mut self, mut error: String) -> String {
        while let Ok(Some(line)) = self.running.line() {
            error += "; ";
            error += &line;
        }
        error
    }
}

/// Eight channels at rest, each at another temperature.
pub fn at_rest() -> World {
    let codes =
        core::array::from_fn(|channel| TABLE[channel].balance.codes.sum as i32 + 1_000 * channel as i32);
    let by_shunt = TABLE.each_ref().map(|line| {
        // The least change is that of a span of 1.25. This bridge's is 1.01.
        let change = line.shunt.change();
        let least = if change.lowest.abs() < change.highest.abs() { change.lowest } else { change.highest };
        (i64::from(least) * 125 / 101) as i32
    });
    World {
        codes,
        temperatures: core::array::from_fn(|channel| 128 * (15 + channel as i16) + 3),
        by_shunt,
        shunted: [false; CHANNELS],
        converters: [Converter::Well; CHANNELS],
        absent_thermometers: [false; CHANNELS],
    }
}

/// What the logger should compute with: the kernels of the host.
struct Expected {
    zeros: [Option<Zero>; CHANNELS],
    spans: [Span; CHANNELS],
}

impl Expected {
    fn kernel(&self, channel: usize) -> Result<Kernel, String> {
        let (of, span) = (&TABLE[channel], self.spans[channel]);
        match self.zeros[channel] {
            None if span == Span::ONE => Ok(of.factory),
            zero => of.adjustable.with(zero.unwrap_or(of.balance), span).map_err(|error| error.to_string()),
        }
    }

    /// The words for a zero.
    fn zero(&self, channel: usize) -> String {
        match self.zeros[channel] {
            None => "zero=none".to_owned(),
            Some(Zero { codes: MeanCode { sum, count }, temperature }) => {
                format!("zero={sum}/{count} at={:.0}", temperature.celsius().0 * 1_000.0)
            }
        }
    }

    /// The words for a calibration.
    fn words(&self, channel: usize) -> String {
        format!("{} span={:.9}", self.zero(channel), self.spans[channel].ratio())
    }
}

fn temperature(world: &World, channel: usize) -> Temperature {
    Temperature::from_bits(i32::from(world.temperatures[channel]) << 13)
}

/// The strain of each channel is that which the host computes for its code and temperature, bit for bit.
fn check_readings(site: &mut Site, expected: &Expected) -> Result<(), String> {
    for channel in 0..CHANNELS {
        let world = site.wire.world().clone();
        let code = world.codes[channel];
        let reading = expected.kernel(channel)?.reading(code, temperature(&world, channel));
        let words = format!(
            "ok read {channel} code={code} nanostrain={} flags={}",
            reading.strain.nanostrain(),
            reading.flags
        );
        // A change of temperature is there after at most eight scans.
        until(&mut site.client, &format!("read {channel}"), |reply| reply == words)
            .map_err(|error| format!("{error}, expected: {words}"))?;
    }
    Ok(())
}

/// Asks until the reply is right.
fn until(client: &mut Client, request: &str, right: impl Fn(&str) -> bool) -> Result<String, String> {
    let started = Instant::now();
    loop {
        let reply = client.ask(request)?;
        if right(&reply) {
            return Ok(reply);
        }
        if started.elapsed() > Duration::from_secs(20) {
            return Err(format!("{request} stays {reply:?}"));
        }
        thread::sleep(Duration::from_millis(1));
    }
}

/// The whole session on a core; in one paragraph what was seen, and the figures of the last status.
pub fn check(core: &Core, elf: &Path, here: &Path, flash: bool) -> Result<(String, String), String> {
    let firmware = Firmware { core, elf: elf.into() };
    let name = format!("{}-{}", core.name, elf.file_name().unwrap_or_default().to_string_lossy());
    let monitor = Socket::new(&format!("{name}-monitor"));
    let option = monitor.qmp();
    let mut site = Site::start(&firmware, here, &name, at_rest(), flash, &["-qmp", &option])?;
    let mut expected = Expected { zeros: [None; CHANNELS], spans: [Span::ONE; CHANNELS] };

    let found = site.boot()?;
    for (channel, found) in found.iter().enumerate() {
        let words = format!("factory calibration, none is stored {}", expected.words(channel));
        same("the first start", found, &words)?;
    }
    check_readings(&mut site, &expected)?;
    let refused = refused_lines(&mut site)?;
    zero(&mut site, &mut expected)?;
    shunt_and_span(&mut site, &mut expected)?;
    let faults = faults(&mut site, &expected)?;

    let client = &mut site.client;
    client.expect("save 2026-03-14", "ok save 8")?;
    let figures = client.ask("status")?;
    client.expect("save 2026-03-15", "ok save 0")?;
    let status = client.ask("status 3")?;
    let start =
        format!("ok status 3 fitting keel: stored 2026-03-14 {} changed=false samples=", expected.words(3));
    if !status.starts_with(&start) {
        return Err(format!("status 3: {status:?}, expected: {start:?}"));
    }
    as_the_guide_has_it(&client.seen)?;

    // The next start finds what was stored, and a shunt that is connected.
    site.wire.world().shunted[2] = true;
    let mut restarted = if flash {
        let world = site.wire.world().clone();
        drop(site);
        Site::start(&firmware, here, &name, world, flash, &[])?
    } else {
        Monitor::connect(&monitor)?.reset()?;
        site
    };
    // Every reply had come before, so that the next line is one of the start.
    let found = restarted.boot()?;
    for (channel, found) in found.iter().enumerate() {
        same("the next start", found, &format!("stored 2026-03-14 {}", expected.words(channel)))?;
    }
    if restarted.wire.world().shunted[2] {
        return Err("a shunt is connected after a start".into());
    }
    check_readings(&mut restarted, &expected)?;
    // Loading took longer this time: there was something to load.
    let load = restarted.client.ask("status")?;
    let load = load.split(' ').find(|word| word.starts_with("load=")).ok_or("no load in a status")?;
    let figures: Vec<_> = figures
        .split(' ')
        .filter(|word| ["scan=", "zero=", "save=", "stack="].iter().any(|name| word.starts_with(name)))
        .filter(|word| !word.starts_with("scans="))
        .collect();
    let summary = format!(
        "site logger ({}) on {}: {CHANNELS} channels with the host's bits, zero, shunt, span and storage; {refused} lines and {faults} \
         faults refused, each by its name, with nothing changed; found again after a {}",
        elf.file_name().unwrap_or_default().to_string_lossy(),
        core.name,
        if flash { "power cut" } else { "reset" }
    );
    Ok((summary, format!("{load} {}", figures.join(" "))))
}

/// The replies that the README of the firmware shows have come.
fn as_the_guide_has_it(seen: &[String]) -> Result<(), String> {
    let text = read(Path::new(README))?;
    let replies: Vec<_> = text
        .lines()
        .filter_map(|line| line.split_once(' ').filter(|(number, _)| number.parse::<u16>().is_ok()))
        .filter(|(_, words)| words.starts_with("ok ") || words.starts_with("boot "))
        .collect();
    match replies.iter().find(|(_, words)| !seen.iter().any(|seen| seen == words)) {
        Some((_, words)) => {
            let command: Vec<_> = words.split(' ').take(3).collect();
            let near = seen.iter().rfind(|seen| seen.starts_with(&command.join(" ")));
            Err(format!("{README} has a reply that has not come: {words}; what came: {near:?}"))
        }
        None if replies.len() < 6 => Err(format!("{README} has {} replies", replies.len())),
        None => Ok(()),
    }
}

fn same(when: &str, found: &str, expected: &str) -> Result<(), String> {
    if found == expected { Ok(()) } else { Err(format!("{when}: {found:?}, expected: {expected:?}")) }
}

/// Lines that are no request; how many.
fn refused_lines(site: &mut Site) -> Result<usize, String> {
    let numbered = [
        ("weigh 3", "no such command: read, status, zero, shunt, span, save"),
        ("read", "channel is missing"),
        ("read 8", "channel is 8, allowed: 0 to 7"),
        ("read -1", "channel is no number"),
        ("read 1 2", "more words than the command takes"),
        ("zero all 0", "count is 0, allowed: 1 to 65536"),
        ("zero 1 65537", "count is 65537, allowed: 1 to 65536"),
        ("zero 1 1234567890", "count is no number"),
        ("shunt 4", "count is missing"),
        ("span 2 1.5", "span correction is 1.5, allowed: 0.8 to 1.25"),
        ("span 2 2.0", "span is 2, allowed: 0 to 1"),
        ("span 2 1.x", "span is no number"),
        ("save 2027-02-29", "day of a date is 29, allowed: 1 to 28"),
        ("save 2027-02", "day is missing"),
        ("save tomorrow", "year is no number"),
    ];
    for (request, why) in numbered {
        site.client.expect(request, &format!("error {why}"))?;
    }
    let raw = [
        ("7 read 1 #0000", "error the checksum is 0000, that of the line is ".to_owned()),
        ("7 read 1", "error the line does not end with a checksum, as ` #1d0f`".to_owned()),
        ("", "error the line does not end with a checksum, as ` #1d0f`".to_owned()),
        (&"x".repeat(100), "error the line has more than 64 bytes, or some were lost".to_owned()),
    ];
    for (line, why) in &raw {
        site.client.send_raw(&format!("{line}\r\n"))?;
        let reply = site.client.reply(0)?;
        if !reply.starts_with(why) {
            return Err(format!("{line}: {reply:?}, expected: {why:?}"));
        }
    }
    Ok(numbered.len() + raw.len())
}

fn zero(site: &mut Site, expected: &mut Expected) -> Result<(), String> {
    let world = site.wire.world().clone();
    let of = |channel: usize, count: u32| Zero {
        codes: MeanCode { sum: i64::from(world.codes[channel]) * i64::from(count), count },
        temperature: temperature(&world, channel),
    };
    expected.zeros[2] = Some(of(2, 5));
    site.client.expect("zero 2 5", &format!("ok zero 2 {}", expected.zero(2)))?;
    check_readings(site, expected)?;
    for channel in 0..CHANNELS {
        expected.zeros[channel] = Some(of(channel, 64));
    }
    site.client.expect("zero all 64", &format!("ok zero all {}", expected.zero(7)))?;
    check_readings(site, expected)
}

fn shunt_and_span(site: &mut Site, expected: &mut Expected) -> Result<(), String> {
    for channel in [0, 4, 6] {
        let world = site.wire.world().clone();
        let count = 16;
        let mean = |code: i32| MeanCode { sum: i64::from(code) * 16, count };
        let (without, with) =
            (mean(world.codes[channel]), mean(world.codes[channel] + world.by_shunt[channel]));
        let span = TABLE[channel].shunt.span(without, with).map_err(|error| error.to_string())?;
        let words = format!("{:.9}", span.ratio());
        site.client
            .expect(&format!("shunt {channel} {count}"), &format!("ok shunt {channel} span={words}"))?;
        if site.wire.world().shunted[channel] {
            return Err(format!("the shunt of channel {channel} stays connected"));
        }
        site.client.expect(&format!("span {channel} {words}"), &format!("ok span {channel} span={words}"))?;
        let nanos: i64 = words.replace('.', "").parse().map_err(|_| words.clone())?;
        expected.spans[channel] = Span::of_codes(nanos, 1_000_000_000).map_err(|error| error.to_string())?;
    }
    // Under load.
    site.wire.world().codes[0] += 300_000;
    check_readings(site, expected)?;
    site.wire.world().codes[0] -= 300_000;
    Ok(())
}

/// Faults of converters, thermometers and bridges; how many. Nothing is changed by any.
fn faults(site: &mut Site, expected: &Expected) -> Result<usize, String> {
    let mut count = 0;
    let converters = [
        (Converter::NeverReady, "no new sample after 10 polls"),
        (Converter::BadReference, "the status bits are 0x40, which is not their good value"),
        (Converter::WrongChecksum, "the checksum is "),
        (Converter::AllOnes, "every bit is one: the line is stuck high, or nothing is connected"),
    ];
    for (fault, why) in converters {
        site.wire.world().converters[5] = fault;
        until(&mut site.client, "read 5", |reply| reply.starts_with(&format!("ok read 5 none: {why}")))?;
        for request in ["zero 5 3", "zero all 3", "shunt 5 3"] {
            let reply = site.client.ask(request)?;
            if !reply.starts_with(&format!("error channel 5: {why}")) {
                return Err(format!("{request} with {fault:?}: {reply}"));
            }
        }
        count += 1;
    }
    site.wire.world().converters[5] = Converter::Well;

    // A thermometer that dies: its last temperature serves until it is stale.
    site.wire.world().absent_thermometers[1] = true;
    let reply = until(&mut site.client, "read 1", |reply| reply.ends_with("flags=temperature doubtful"))?;
    if !reply.contains(" nanostrain=") {
        return Err(format!("a thermometer that dies: {reply}"));
    }
    site.client.expect("zero 1 3", "error channel 1: a sample is flagged: temperature doubtful")?;
    site.wire.world().absent_thermometers[1] = false;
    count += 1;

    // A bridge that is open, and one that reads what no bridge of its resistors gives.
    let whole = site.wire.world().codes;
    site.wire.world().codes[3] = 8_388_607;
    until(&mut site.client, "read 3", |reply| reply.contains("code=8388607 "))?;
    site.client.expect("zero 3 3", "error channel 3: a sample is flagged: code at rail")?;
    site.wire.world().codes[3] = 7_000_000;
    until(&mut site.client, "read 3", |reply| reply.contains("code=7000000 "))?;
    let reply = site.client.ask("zero 3 3")?;
    if !reply.starts_with("error channel 3: ") {
        return Err(format!("a bridge far off: {reply}"));
    }
    site.wire.world().codes = whole;
    count += 2;

    // A command while another one is carried out; readings go on.
    let number = site.client.send("zero 6 300")?;
    site.client.expect("span 6 1.0", "error the command before is not finished")?;
    let reply = site.client.ask("read 6")?;
    if !reply.starts_with("ok read 6 code=") {
        return Err(format!("a reading meanwhile: {reply}"));
    }
    site.wire.world().converters[6] = Converter::AllOnes;
    let reply = site.client.reply(number)?;
    if !reply.starts_with("error channel 6: every bit is one") {
        return Err(format!("a converter that fails in the middle of a zero: {reply}"));
    }
    site.wire.world().converters[6] = Converter::Well;
    count += 1;

    until(&mut site.client, "read 1", |reply| reply.ends_with("flags=clear"))?;
    check_readings(site, expected)?;
    Ok(count)
}
