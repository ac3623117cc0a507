//! A logger that is set up on site: eight channels over `embedded-hal`, commands over a serial line, calibration in flash. All of it but the
//! board: the buses, the flash and the clock are the caller's, so that it runs on the host too, where it is tested.
//!
//! | part | holds |
//! |---|---|
//! | [`channels`] | what the firmware has of each channel |
//! | [`line`] | requests and replies |
//! | [`store`] | records in flash |
//!
//! A calibration is in use as soon as it is made, and stored by `save`. What is refused changes nothing: the kernels in use stay, and
//! so do the records in flash.

pub mod channels;
pub mod line;
pub mod store;

use core::cell::Cell;
use core::fmt::{self, Debug, Display};

use embedded_hal::digital::OutputPin;
use embedded_storage_async::nor_flash::NorFlash;
use gaugewright::Flags;
use gaugewright::device::Error as SampleError;
use gaugewright::device::acquisition::{AsyncSource, Input, Source};
use gaugewright::device::record::{Date, Identity, Record};
use gaugewright::fixed::{self, MeanCode, Span, Temperature, Zero};
use gaugewright::temperature;

use channels::TABLE;
use line::{Channels, LineError, Reply, Request, line};
use store::{Store, StoreError};

/// Channels of the logger.
pub const CHANNELS: usize = 8;
/// Of every channel: a curve of degree five, a gauge factor with a slope.
pub type Kernel = fixed::Kernel<5, 1>;
/// The kernels in use. Each is replaced whole, between two samples.
pub type Kernels = [Cell<Kernel>; CHANNELS];

/// Scans a second.
pub const RATE: u32 = 100;
/// A temperature is stale after so many scans: each thermometer is read once in [`CHANNELS`] of them.
pub const AGE_LIMIT: u32 = RATE;
/// Scans in which a bridge settles after its shunt was switched.
const SETTLING: u32 = 2;

/// The kernels to begin with.
pub fn kernels() -> Kernels {
    core::array::from_fn(|channel| Cell::new(TABLE[channel].factory))
}

/// What a channel is connected to.
pub struct Connection<S, T, P> {
    /// Of codes.
    pub source: S,
    pub thermometer: T,
    /// High: the shunt is across arm 2.
    pub shunt: P,
}

/// What the board tells of itself.
#[derive(Clone, Copy)]
pub struct Board {
    /// Nanoseconds, which run on and wrap.
    pub clock: fn() -> u32,
    /// Bytes of stack that were used at most.
    pub stack: fn() -> usize,
    /// Bytes of the serial line that were lost.
    pub lost: fn() -> u32,
}

/// What a start has found in flash.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Found {
    Nothing,
    Stored(Date),
    Refused(StoreError),
}

impl Display for Found {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing => f.write_str("factory calibration, none is stored"),
            Self::Stored(date) => {
                write!(f, "stored {:04}-{:02}-{:02}", date.year(), date.month(), date.day())
            }
            Self::Refused(error) => write!(f, "factory calibration, as the stored one is refused: {error}"),
        }
    }
}

/// A channel of the logger.
struct State<'a, S, T, P, E> {
    input: Input<'a, Cell<Kernel>, S, T>,
    shunt: P,
    found: Found,
    zero: Option<Zero>,
    span: Span,
    /// Since it was loaded or stored.
    changed: bool,
    last: Result<(i32, fixed::Reading), SampleError<E>>,
    samples: u32,
    failed: u32,
    temperatures_failed: u32,
}

impl<S, T, P, E> State<'_, S, T, P, E> {
    fn calibration(&self) -> Calibration {
        Calibration(self.zero, self.span)
    }
}

/// What takes more than one scan.
enum Job {
    Zero { number: u16, channels: Channels, count: u32, taken: u32, sums: [i64; CHANNELS] },
    Shunt { number: u16, channel: usize, count: u32, scans: u32, without: i64, with: i64 },
}

/// Nanoseconds that were taken, with the interrupts on the way.
#[derive(Clone, Copy, Default)]
struct Times {
    load: u32,
    /// The shortest: what a scan takes without interrupts.
    scan: u32,
    zero: u32,
    save: u32,
}

/// What a command has come to.
enum Done {
    Zero(Channels, Zero),
    Shunt(usize, Span),
    Span(usize, Span),
    Saved(u32),
}

impl Display for Done {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Zero(channels, zero) => write!(f, "zero {channels}{}", Zeroed(*zero)),
            Self::Shunt(channel, span) => write!(f, "shunt {channel} span={}", Ratio(*span)),
            Self::Span(channel, span) => write!(f, "span {channel} span={}", Ratio(*span)),
            Self::Saved(records) => write!(f, "save {records}"),
        }
    }
}

/// The words of a reply. One text for all, as each line that is made takes its own room on the stack.
struct Told<E>(Result<Done, E>);

impl<E: Display> Display for Told<E> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.0 {
            Ok(done) => write!(f, "ok {done}"),
            Err(error) => write!(f, "error {error}"),
        }
    }
}

/// Why nothing was changed.
enum Refusal<E> {
    Busy,
    Sample { channel: usize, error: SampleError<E> },
    Flagged { channel: usize, flags: Flags },
    NoTemperature { channel: usize },
    Wiring { channel: usize, fault: Option<gaugewright::installation::Fault> },
    Invalid { channel: usize, error: gaugewright::Error },
    Pin { channel: usize },
    Store { channel: usize, error: StoreError },
}

impl<E: Debug> Display for Refusal<E> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Busy => f.write_str("the command before is not finished"),
            Self::Sample { channel, error } => write!(f, "channel {channel}: {error}"),
            Self::Flagged { channel, flags } => write!(f, "channel {channel}: a sample is flagged: {flags}"),
            Self::NoTemperature { channel } => write!(f, "channel {channel}: no temperature"),
            Self::Wiring { channel, fault: Some(fault) } => {
                write!(f, "channel {channel}: the mean is that of a fault: {fault}")
            }
            Self::Wiring { channel, fault: None } => {
                write!(f, "channel {channel}: the bridge cannot give this mean at rest")
            }
            Self::Invalid { channel, error } => write!(f, "channel {channel}: {error}"),
            Self::Pin { channel } => write!(f, "channel {channel}: the shunt cannot be switched"),
            Self::Store { channel, error } => write!(f, "channel {channel}: {error}"),
        }
    }
}

/// The logger. `S` gives codes, `T` temperatures, `P` are pins, `F` is the flash.
pub struct Logger<'a, S, T, P, E, F: NorFlash, const PAGES: usize> {
    kernels: &'a Kernels,
    states: [State<'a, S, T, P, E>; CHANNELS],
    store: Store<F, PAGES>,
    board: Board,
    job: Option<Job>,
    scans: u32,
    /// Begun too late, so that one was left out.
    missed: u32,
    lines_refused: u32,
    times: Times,
}

impl<'a, S, T, P, E, F, const PAGES: usize> Logger<'a, S, T, P, E, F, PAGES>
where
    P: OutputPin,
    E: Copy + Debug,
    F: NorFlash,
{
    /// Before the first scan, with the factory's calibration.
    #[inline(never)]
    pub fn new(
        kernels: &'a Kernels,
        mut connect: impl FnMut(usize) -> Connection<S, T, P>,
        store: Store<F, PAGES>,
        board: Board,
    ) -> Self {
        let states = core::array::from_fn(|channel| {
            let Connection { source, thermometer, shunt } = connect(channel);
            State {
                input: Input::new(&kernels[channel], source, [thermometer], [AGE_LIMIT]),
                shunt,
                found: Found::Nothing,
                zero: None,
                span: Span::ONE,
                changed: false,
                last: Err(SampleError::NoTemperature { thermometer: 0 }),
                samples: 0,
                failed: 0,
                temperatures_failed: 0,
            }
        });
        let times = Times { scan: u32::MAX, ..Times::default() };
        Self { kernels, states, store, board, job: None, scans: 0, missed: 0, lines_refused: 0, times }
    }

    /// Disconnects every shunt, as the start may have come while one was connected. Loads every calibration, and gives `tell` a line for
    /// each channel.
    pub async fn load(&mut self, mut tell: impl FnMut(&Reply)) {
        let since = (self.board.clock)();
        for (channel, state) in self.states.iter_mut().enumerate() {
            state.found = match self.store.load(channel, TABLE[channel].description).await {
                Ok(None) => Found::Nothing,
                Ok(Some(Record { kernel, identity, .. })) => {
                    (state.zero, state.span) = (identity.zero, identity.span);
                    self.kernels[channel].set(kernel);
                    Found::Stored(identity.date)
                }
                Err(error) => Found::Refused(error),
            };
        }
        self.times.load = (self.board.clock)().wrapping_sub(since);
        for (channel, state) in self.states.iter_mut().enumerate() {
            let shunt = if state.shunt.set_low().is_ok() { "" } else { "; the shunt cannot be switched" };
            tell(&line(0, format_args!("boot {channel} {}{}{shunt}", state.found, state.calibration())));
        }
    }

    /// A scan at the time `now`, in scans: one code of each channel, and the temperature of one of them in turn. Gives the
    /// reply to a command that it finishes.
    #[inline(never)]
    pub fn scan(&mut self, now: u32) -> Option<Reply>
    where
        S: Source<Value = i32, Bus = E>,
        T: Source<Value = temperature::Reading, Bus = E>,
    {
        let since = (self.board.clock)();
        for channel in 0..CHANNELS {
            let input = &mut self.states[channel].input;
            let measured = temperature_is_due(channel, self.scans).then(|| input.read_temperatures(now));
            let code = input.source.read();
            self.sampled(channel, now, measured, code);
        }
        self.finish_scan(now, since)
    }

    /// As [`scan`](Self::scan), for `async`.
    pub async fn scan_async(&mut self, now: u32) -> Option<Reply>
    where
        S: AsyncSource<Value = i32, Bus = E>,
        T: AsyncSource<Value = temperature::Reading, Bus = E>,
    {
        let since = (self.board.clock)();
        for channel in 0..CHANNELS {
            let input = &mut self.states[channel].input;
            let measured = if temperature_is_due(channel, self.scans) {
                Some(input.read_temperatures_async(now).await)
            } else {
                None
            };
            let code = input.source.read_async().await;
            self.sampled(channel, now, measured, code);
        }
        self.finish_scan(now, since)
    }

    /// Scans that were left out, as the one before took too long.
    pub fn miss(&mut self, scans: u32) {
        self.missed = self.missed.saturating_add(scans);
    }

    fn sampled(
        &mut self,
        channel: usize,
        now: u32,
        measured: Option<Result<(), SampleError<E>>>,
        code: Result<i32, SampleError<E>>,
    ) {
        let state = &mut self.states[channel];
        if measured.is_some_and(|measured| measured.is_err()) {
            state.temperatures_failed = state.temperatures_failed.saturating_add(1);
        }
        let none = SampleError::NoTemperature { thermometer: 0 };
        state.last =
            code.and_then(|code| state.input.reading(code, now).map(|reading| (code, reading)).ok_or(none));
        let counter = if state.last.is_ok() { &mut state.samples } else { &mut state.failed };
        *counter = counter.saturating_add(1);
    }

    #[inline(never)]
    fn finish_scan(&mut self, now: u32, since: u32) -> Option<Reply> {
        self.scans = self.scans.wrapping_add(1);
        self.times.scan = self.times.scan.min((self.board.clock)().wrapping_sub(since));
        let mut job = self.job.take()?;
        let (number, result) = match &mut job {
            Job::Zero { number, channels, count, taken, sums } => {
                let result = self.add_to_zero(*channels, *count, taken, sums, now);
                (*number, result.map(|zero| zero.map(|zero| Done::Zero(*channels, zero))))
            }
            Job::Shunt { number, channel, count, scans, without, with } => {
                let result = self.add_to_shunt(*channel, *count, scans, without, with);
                (*number, result.map(|span| span.map(|span| Done::Shunt(*channel, span))))
            }
        };
        let told = match (result, &job) {
            (Ok(None), _) => {
                self.job = Some(job);
                return None;
            }
            (Ok(Some(done)), _) => Ok(done),
            // No shunt stays connected, or the reply is that.
            (Err(refusal), Job::Shunt { channel, .. }) => match self.states[*channel].shunt.set_low() {
                Ok(()) => Err(refusal),
                Err(_) => Err(Refusal::Pin { channel: *channel }),
            },
            (Err(refusal), _) => Err(refusal),
        };
        Some(line(number, format_args!("{}", Told(told))))
    }

    /// The code of a sample that can be part of a mean: its temperature is known and new, and it is at no rail.
    fn code(&self, channel: usize) -> Result<i32, Refusal<E>> {
        let (code, reading) =
            self.states[channel].last.map_err(|error| Refusal::Sample { channel, error })?;
        let doubtful = Flags::CODE_AT_RAIL | Flags::TEMPERATURE_DOUBTFUL | Flags::TEMPERATURE_OUTSIDE;
        for (flag, _) in Flags::ALL {
            if doubtful.contains(flag) && reading.flags.contains(flag) {
                return Err(Refusal::Flagged { channel, flags: flag });
            }
        }
        Ok(code)
    }

    /// Adds a sample of each channel; with the last one all of them get their kernels, or none does. Gives the last channel's
    /// zero.
    #[inline(never)]
    fn add_to_zero(
        &mut self,
        channels: Channels,
        count: u32,
        taken: &mut u32,
        sums: &mut [i64; CHANNELS],
        now: u32,
    ) -> Result<Option<Zero>, Refusal<E>> {
        for channel in channels.numbers() {
            sums[channel] += i64::from(self.code(channel)?);
        }
        *taken += 1;
        if *taken < count {
            return Ok(None);
        }
        let since = (self.board.clock)();
        let mut new = [None; CHANNELS];
        for channel in channels.numbers() {
            let codes = MeanCode { sum: sums[channel], count };
            let [reading] = self.states[channel].input.temperatures(now);
            let temperature = reading.ok_or(Refusal::NoTemperature { channel })?.temperature;
            let invalid = |error| Refusal::Invalid { channel, error };
            let report = TABLE[channel].wiring.report(codes).map_err(invalid)?;
            if !report.healthy {
                return Err(Refusal::Wiring { channel, fault: report.explaining().next() });
            }
            let zero = Zero { codes, temperature };
            let span = self.states[channel].span;
            let kernel = TABLE[channel].adjustable.with(zero, span).map_err(invalid)?;
            new[channel] = Some((zero, kernel));
        }
        let mut last = None;
        for (channel, new) in new.iter().enumerate() {
            let Some((zero, kernel)) = new else { continue };
            self.kernels[channel].set(*kernel);
            let state = &mut self.states[channel];
            (state.zero, state.changed) = (Some(*zero), true);
            last = state.zero;
        }
        self.times.zero = (self.board.clock)().wrapping_sub(since);
        Ok(last)
    }

    /// Adds a sample without the shunt, then with it; with the last one gives the span that follows.
    fn add_to_shunt(
        &mut self,
        channel: usize,
        count: u32,
        scans: &mut u32,
        without: &mut i64,
        with: &mut i64,
    ) -> Result<Option<Span>, Refusal<E>> {
        let pin = |_| Refusal::Pin { channel };
        let code = i64::from(self.code(channel)?);
        *scans += 1;
        if *scans <= count {
            *without += code;
            if *scans == count {
                self.states[channel].shunt.set_high().map_err(pin)?;
            }
        } else if *scans > count + SETTLING {
            *with += code;
        }
        if *scans < 2 * count + SETTLING {
            return Ok(None);
        }
        self.states[channel].shunt.set_low().map_err(pin)?;
        let (without, with) = (MeanCode { sum: *without, count }, MeanCode { sum: *with, count });
        let span = TABLE[channel].shunt.span(without, with);
        span.map(Some).map_err(|error| Refusal::Invalid { channel, error })
    }

    /// Answers to a line, at once or, where samples have to be taken for it, with a scan that follows.
    pub async fn answer(&mut self, received: Result<&[u8], LineError>) -> Option<Reply> {
        let (number, request) = match received {
            Ok(bytes) => line::parse(bytes),
            Err(error) => (0, Err(error)),
        };
        match request {
            Ok(Request::Save { date }) => {
                let saved = self.save(date).await;
                Some(line(number, format_args!("{}", Told(saved.map(Done::Saved)))))
            }
            request => self.answer_at_once(number, request),
        }
    }

    /// What needs no storage. (Not inlined, as the following: each reply would take its own room on the stack.)
    #[inline(never)]
    fn answer_at_once(&mut self, number: u16, request: Result<Request, LineError>) -> Option<Reply> {
        match request {
            Err(error) => {
                self.lines_refused = self.lines_refused.saturating_add(1);
                Some(line(number, format_args!("{}", Told(Err(error)))))
            }
            Ok(Request::Read { channel }) => Some(self.last(number, channel)),
            Ok(Request::Status) => Some(self.status(number)),
            Ok(Request::StatusOf { channel }) => Some(self.status_of(number, channel)),
            Ok(request) => {
                let told = match self.change(number, request) {
                    Ok(None) => return None,
                    Ok(Some(done)) => Ok(done),
                    Err(refusal) => Err(refusal),
                };
                Some(line(number, format_args!("{}", Told(told))))
            }
        }
    }

    #[inline(never)]
    fn status(&self, number: u16) -> Reply {
        let Self { scans, missed, lines_refused, times, board, .. } = self;
        let (lost, stack) = ((board.lost)(), (board.stack)());
        let Times { load, scan, zero, save } = times;
        line(
            number,
            format_args!(
                "ok status scans={scans} missed={missed} lines_refused={lines_refused} lost={lost} load={load} scan={scan} \
                 zero={zero} save={save} stack={stack}"
            ),
        )
    }

    #[inline(never)]
    fn status_of(&self, number: u16, channel: usize) -> Reply {
        let state = &self.states[channel];
        let State { found, samples, failed, temperatures_failed, changed, .. } = state;
        let (name, calibration) = (TABLE[channel].name, state.calibration());
        line(
            number,
            format_args!(
                "ok status {channel} {}: {found}{calibration} changed={changed} samples={samples} failed={failed} \
                 temperatures_failed={temperatures_failed}",
                name.as_str(),
            ),
        )
    }

    #[inline(never)]
    fn change(&mut self, number: u16, request: Request) -> Result<Option<Done>, Refusal<E>> {
        self.idle()?;
        match request {
            Request::Zero { channels, count } => {
                self.job = Some(Job::Zero { number, channels, count, taken: 0, sums: [0; CHANNELS] });
                Ok(None)
            }
            Request::Shunt { channel, count } => {
                self.job = Some(Job::Shunt { number, channel, count, scans: 0, without: 0, with: 0 });
                Ok(None)
            }
            Request::Span { channel, span } => {
                let (state, of) = (&mut self.states[channel], &TABLE[channel]);
                let kernel = of.adjustable.with(state.zero.unwrap_or(of.balance), span);
                self.kernels[channel].set(kernel.map_err(|error| Refusal::Invalid { channel, error })?);
                (state.span, state.changed) = (span, true);
                Ok(Some(Done::Span(channel, span)))
            }
            // Answered before.
            Request::Read { .. } | Request::Status | Request::StatusOf { .. } | Request::Save { .. } => {
                Ok(None)
            }
        }
    }

    fn idle(&self) -> Result<(), Refusal<E>> {
        if self.job.is_some() { Err(Refusal::Busy) } else { Ok(()) }
    }

    #[inline(never)]
    fn last(&self, number: u16, channel: usize) -> Reply {
        line(number, format_args!("ok read {channel} {}", Last(&self.states[channel].last)))
    }

    /// Stores what has changed; the number of records.
    async fn save(&mut self, date: Date) -> Result<u32, Refusal<E>> {
        self.idle()?;
        let since = (self.board.clock)();
        let mut saved = 0;
        for (channel, state) in self.states.iter_mut().enumerate() {
            if !state.changed {
                continue;
            }
            let mut identity = Identity::new(TABLE[channel].name, date, TABLE[channel].description);
            (identity.zero, identity.span) = (state.zero, state.span);
            let record = Record::new(self.kernels[channel].get(), identity);
            let stored = self.store.save(channel, &record).await;
            stored.map_err(|error| Refusal::Store { channel, error })?;
            (state.changed, state.found) = (false, Found::Stored(date));
            saved += 1;
        }
        self.times.save = (self.board.clock)().wrapping_sub(since);
        Ok(saved)
    }
}

/// All thermometers are read in the first scan, then one in each.
fn temperature_is_due(channel: usize, scans: u32) -> bool {
    scans == 0 || channel == scans as usize % CHANNELS
}

/// The last sample of a channel.
struct Last<'a, E>(&'a Result<(i32, fixed::Reading), SampleError<E>>);

impl<E: Debug> Display for Last<'_, E> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            Ok((code, fixed::Reading { strain, flags })) => {
                write!(f, "code={code} nanostrain={} flags={flags}", strain.nanostrain())
            }
            Err(error) => write!(f, "none: {error}"),
        }
    }
}

/// A zero, as it is told.
struct Zeroed(Zero);

impl Display for Zeroed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Zero { codes: MeanCode { sum, count }, temperature } = self.0;
        write!(f, " zero={sum}/{count} at={}", Millicelsius(temperature))
    }
}

/// In thousandths of a degree, rounded.
struct Millicelsius(Temperature);

impl Display for Millicelsius {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", (i64::from(self.0.to_bits()) * 1_000 + (1 << 19)) >> 20)
    }
}

/// A span with nine decimals, rounded.
struct Ratio(Span);

impl Display for Ratio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const ONE: u64 = 1_000_000_000;
        let billionths = (u64::from(self.0.to_bits()) * ONE + (1 << 30)) >> 31;
        write!(f, "{}.{:09}", billionths / ONE, billionths % ONE)
    }
}

/// Zero and span of a channel.
struct Calibration(Option<Zero>, Span);

impl Display for Calibration {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            Some(zero) => Display::fmt(&Zeroed(zero), f)?,
            None => f.write_str(" zero=none")?,
        }
        write!(f, " span={}", Ratio(self.1))
    }
}
