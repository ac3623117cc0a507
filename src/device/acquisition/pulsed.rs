//! A converter on two pins.

use core::convert::Infallible;

use embedded_hal::delay::DelayNs;
use embedded_hal::digital::{Error as _, ErrorKind, InputPin, OutputPin};

use super::{Fault, Polling, Source, Word};
use crate::device::Error;

/// Codes of a converter without chip select, on a clock that the device drives and a data line that the converter drives: low
/// when a value is ready, then a bit after each rising edge of the clock.
///
/// There are eight pulses for each byte of the word, and those that [`pulses_after`](Self::pulses_after) states. An interrupt
/// that holds the clock high for long puts many such converters to sleep: keep it out. In `async`, waiting for the
/// data line is asynchronous, and the pulses are not.
///
/// ```
/// use embedded_hal_mock::eh1::{delay::NoopDelay, digital::{Mock, State::{High, Low}, Transaction}};
/// use gaugewright::device::acquisition::{Coding, PulsedSource, Source, Word, WordLayout};
///
/// const WORD: Word = WordLayout::new(8, Coding::TwosComplement).word();
/// # let clock = Mock::new(&[High, Low].repeat(9).into_iter().map(Transaction::set).collect::<Vec<_>>());
/// # let levels = [Low, High, High, High, High, High, High, Low, High, High];
/// # let data = Mock::new(&levels.map(Transaction::get));
/// # let (mut clock_after, mut data_after) = (clock.clone(), data.clone());
/// // `clock`, `data` and the delay are those of your board.
/// let mut source = PulsedSource::new(clock, data, NoopDelay::new(), &WORD).pulses_after(1);
/// assert_eq!(source.read(), Ok(-3));
/// # clock_after.done();
/// # data_after.done();
/// ```
#[derive(Clone, Copy, Debug)]
pub struct PulsedSource<'a, CLOCK, DATA, D> {
    clock: CLOCK,
    data: DATA,
    delay: D,
    word: &'a Word,
    pulses_after: u8,
    half_period_ns: u32,
    polling: Polling,
}

impl<'a, CLOCK, DATA, D> PulsedSource<'a, CLOCK, DATA, D> {
    /// A converter that is looked at once, with no pulses after the word and a clock that is high and low for a microsecond
    /// each.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, PulsedSource, Word, WordLayout};
    /// const WORD: Word = WordLayout::new(24, Coding::TwosComplement).word();
    /// let source = PulsedSource::new((), (), (), &WORD);
    /// ```
    pub const fn new(clock: CLOCK, data: DATA, delay: D, word: &'a Word) -> Self {
        let polling = Polling { polls: 0, interval_us: 0 };
        Self { clock, data, delay, word, pulses_after: 0, half_period_ns: 1_000, polling }
    }

    /// Pulses after the word, by which many such converters choose gain and input of the next value. After them the data line
    /// has to be high, or it is stuck: [`Fault::DataLineLow`].
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, PulsedSource, Word, WordLayout};
    /// # const WORD: Word = WordLayout::new(24, Coding::TwosComplement).word();
    /// let source = PulsedSource::new((), (), (), &WORD).pulses_after(1);
    /// ```
    #[must_use]
    pub const fn pulses_after(mut self, pulses: u8) -> Self {
        self.pulses_after = pulses;
        self
    }

    /// Nanoseconds for which the clock is high, and low.
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, PulsedSource, Word, WordLayout};
    /// # const WORD: Word = WordLayout::new(24, Coding::TwosComplement).word();
    /// let source = PulsedSource::new((), (), (), &WORD).half_period_ns(500);
    /// ```
    #[must_use]
    pub const fn half_period_ns(mut self, nanoseconds: u32) -> Self {
        self.half_period_ns = nanoseconds;
        self
    }

    /// How long a read waits for the data line to be low.
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, Polling, PulsedSource, Word, WordLayout};
    /// # const WORD: Word = WordLayout::new(24, Coding::TwosComplement).word();
    /// let source = PulsedSource::new((), (), (), &WORD).polling(Polling { polls: 150, interval_us: 1_000 });
    /// ```
    #[must_use]
    pub const fn polling(mut self, polling: Polling) -> Self {
        self.polling = polling;
        self
    }
}

impl<CLOCK: OutputPin, DATA: InputPin, D: DelayNs> PulsedSource<'_, CLOCK, DATA, D> {
    /// One pulse, and the data line at its end.
    fn pulse(&mut self) -> Result<bool, ErrorKind> {
        self.clock.set_high().map_err(|error| error.kind())?;
        self.delay.delay_ns(self.half_period_ns);
        // The clock does not stay high, whatever the data line gives.
        let level = self.data.is_high().map_err(|error| error.kind());
        self.clock.set_low().map_err(|error| error.kind())?;
        self.delay.delay_ns(self.half_period_ns);
        level
    }

    fn clock_out(&mut self) -> Result<i32, Error<Infallible>> {
        let mut buffer = [0; Word::MOST_BYTES];
        let (bytes, _) = buffer.split_at_mut_checked(self.word.bytes()).unwrap_or_default();
        for byte in &mut *bytes {
            for _ in 0..8 {
                *byte = *byte << 1 | u8::from(self.pulse().map_err(Error::Pin)?);
            }
        }
        let mut is_high = true;
        for _ in 0..self.pulses_after {
            is_high = self.pulse().map_err(Error::Pin)?;
        }
        if !is_high {
            return Err(Error::Word(Fault::DataLineLow));
        }
        self.word.decode(bytes).map_err(Error::Word)
    }
}

impl<CLOCK: OutputPin, DATA: InputPin, D: DelayNs> Source for PulsedSource<'_, CLOCK, DATA, D> {
    type Value = i32;
    type Bus = Infallible;

    fn read(&mut self) -> Result<i32, Error<Infallible>> {
        let mut looks = 0;
        while !self.data.is_low().map_err(|error| Error::Pin(error.kind()))? {
            self.delay.delay_us(self.polling.again(&mut looks)?);
        }
        self.clock_out()
    }
}

#[cfg(feature = "embedded-hal-async")]
impl<CLOCK, DATA, D> super::AsyncSource for PulsedSource<'_, CLOCK, DATA, D>
where
    CLOCK: OutputPin,
    DATA: InputPin + embedded_hal_async::digital::Wait,
    D: DelayNs,
{
    type Value = i32;
    type Bus = Infallible;

    async fn read_async(&mut self) -> Result<i32, Error<Infallible>> {
        self.data.wait_for_low().await.map_err(|error| Error::Pin(error.kind()))?;
        self.clock_out()
    }
}
