//! What gives values, and how long it waits for one.

use embedded_hal::digital::{Error as _, ErrorKind, InputPin};

use crate::device::Error;

/// What gives a value each time it is asked: a code (`i32`) of a converter, or a
/// [`Reading`](crate::temperature::Reading) of a thermometer. Implement it for what this module has no adapter for.
///
/// ```
/// use gaugewright::device::{Error, acquisition::Source};
///
/// struct Replayed<'a>(core::slice::Iter<'a, i32>);
///
/// impl Source for Replayed<'_> {
///     type Value = i32;
///     type Bus = ();
///     fn read(&mut self) -> Result<i32, Error<()>> {
///         self.0.next().copied().ok_or(Error::Timeout { polls: 0 })
///     }
/// }
/// assert_eq!(Replayed([5].iter()).read(), Ok(5));
/// ```
pub trait Source {
    /// What is read.
    type Value;
    /// The error of the bus.
    type Bus;

    /// A new value. It waits until one is ready, as long as the source's [`Polling`] lasts.
    ///
    /// # Errors
    /// [`Error`]: of the bus, of a pin, of time, or of the bytes. There is no value then.
    fn read(&mut self) -> Result<Self::Value, Error<Self::Bus>>;
}

/// As [`Source`], for `async`. A call that is dropped before it ends has read nothing: put a time limit around it with the timer
/// of your executor.
///
/// ```
/// use gaugewright::device::{Error, acquisition::AsyncSource};
///
/// struct Constant(i32);
///
/// impl AsyncSource for Constant {
///     type Value = i32;
///     type Bus = ();
///     async fn read_async(&mut self) -> Result<i32, Error<()>> {
///         Ok(self.0)
///     }
/// }
/// ```
#[cfg(feature = "embedded-hal-async")]
// Whether a future may move between threads is for the bus's driver to say, as in `embedded-hal-async`.
#[allow(async_fn_in_trait)]
pub trait AsyncSource {
    /// What is read.
    type Value;
    /// The error of the bus.
    type Bus;

    /// A new value, when one is ready.
    ///
    /// # Errors
    /// As [`Source::read`].
    async fn read_async(&mut self) -> Result<Self::Value, Error<Self::Bus>>;
}

/// How long a source waits for a new value: it looks once, then up to `polls` times more, each time after a delay of
/// `interval_us` microseconds (and the time of a transfer, where the word itself shows that it is new). The default is to look
/// once.
///
/// ```
/// use gaugewright::device::acquisition::Polling;
/// // 80 samples a second come every 12.5 ms: two of them missed is an error.
/// const EIGHTY: Polling = Polling { polls: 250, interval_us: 100 };
/// assert_eq!(Polling::default(), Polling { polls: 0, interval_us: 0 });
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Polling {
    /// Number of looks after the first.
    pub polls: u32,
    /// Microseconds before each of them.
    pub interval_us: u32,
}

impl Polling {
    /// Microseconds before the next look, or the error after the last one.
    pub(super) fn again<E>(self, looks: &mut u32) -> Result<u32, Error<E>> {
        if *looks == self.polls {
            return Err(Error::Timeout { polls: self.polls });
        }
        *looks += 1;
        Ok(self.interval_us)
    }
}

/// A pin that shows that a new value is ready, by its level. It may be the data line itself, where a converter without chip
/// select pulls it low when it is ready.
///
/// ```
/// use embedded_hal_mock::eh1::digital::{Mock, State, Transaction};
/// use gaugewright::device::acquisition::ReadyPin;
/// let mut pin = Mock::new(&[Transaction::get(State::Low)]);
/// let ready = ReadyPin::low(pin.clone());
/// # let mut ready = ready;
/// # assert!(embedded_hal::digital::InputPin::is_low(&mut ready.pin).unwrap());
/// # pin.done();
/// ```
#[derive(Clone, Copy, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ReadyPin<P> {
    /// The pin.
    pub pin: P,
    is_low: bool,
}

impl<P> ReadyPin<P> {
    /// Ready when low, as most converters have it.
    ///
    /// ```
    /// let ready = gaugewright::device::acquisition::ReadyPin::low(());
    /// ```
    pub const fn low(pin: P) -> Self {
        Self { pin, is_low: true }
    }

    /// Ready when high.
    ///
    /// ```
    /// let ready = gaugewright::device::acquisition::ReadyPin::high(());
    /// ```
    pub const fn high(pin: P) -> Self {
        Self { pin, is_low: false }
    }
}

/// [`ReadyPin`], or `()` where no pin shows it.
pub trait Ready {
    #[doc(hidden)]
    fn is_ready(&mut self) -> Result<bool, ErrorKind>;
}

impl Ready for () {
    fn is_ready(&mut self) -> Result<bool, ErrorKind> {
        Ok(true)
    }
}

impl<P: InputPin> Ready for ReadyPin<P> {
    fn is_ready(&mut self) -> Result<bool, ErrorKind> {
        let level = if self.is_low { self.pin.is_low() } else { self.pin.is_high() };
        level.map_err(|error| error.kind())
    }
}

/// As [`Ready`], for `async`.
#[cfg(feature = "embedded-hal-async")]
#[allow(async_fn_in_trait)]
pub trait AsyncReady {
    #[doc(hidden)]
    async fn wait(&mut self) -> Result<(), ErrorKind>;
}

#[cfg(feature = "embedded-hal-async")]
impl AsyncReady for () {
    async fn wait(&mut self) -> Result<(), ErrorKind> {
        Ok(())
    }
}

#[cfg(feature = "embedded-hal-async")]
impl<P: embedded_hal_async::digital::Wait> AsyncReady for ReadyPin<P> {
    async fn wait(&mut self) -> Result<(), ErrorKind> {
        let level = if self.is_low { self.pin.wait_for_low().await } else { self.pin.wait_for_high().await };
        level.map_err(|error| error.kind())
    }
}
