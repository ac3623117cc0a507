//! A converter or the register of a thermometer on I2C.

use embedded_hal::delay::DelayNs;
use embedded_hal::i2c::{ErrorType, I2c};

use super::{Polling, Source, Word};
use crate::device::Error;

/// Codes of a converter, or values of a thermometer's register, on I2C. `I2C` is a bus of `embedded-hal` or
/// `embedded-hal-async`, `D` a delay.
///
/// A read sends the command, if there is one, and receives the word after a repeated start. If the word is
/// [`Fault::NotReady`](super::Fault::NotReady) it looks again, as long as its [`Polling`] lasts. A device that does not
/// acknowledge is an error of the bus. What starts a measurement is sent through [`bus`](Self::bus).
///
/// ```
/// use embedded_hal_mock::eh1::{delay::NoopDelay, i2c};
/// use gaugewright::device::acquisition::{Coding, I2cSource, Source, Word, WordLayout};
///
/// // 12 bits on the left of two bytes.
/// const WORD: Word = WordLayout::new(12, Coding::TwosComplement).shifted(4).word();
/// # let bus = i2c::Mock::new(&[i2c::Transaction::write_read(0x48, vec![0x00], vec![0xe7, 0x00])]);
/// # let mut bus_after = bus.clone();
/// // `bus` and the delay are those of your board. The device has address 0x48, the register number 0.
/// let mut source = I2cSource::new(bus, 0x48, NoopDelay::new(), &WORD).command(&[0x00]);
/// assert_eq!(source.read(), Ok(-400));
/// # bus_after.done();
/// ```
#[derive(Clone, Copy, Debug)]
pub struct I2cSource<'a, I2C, D> {
    i2c: I2C,
    address: u8,
    delay: D,
    word: &'a Word,
    command: &'a [u8],
    polling: Polling,
}

impl<'a, I2C, D> I2cSource<'a, I2C, D> {
    /// A device at an address of seven bits that sends its word when it is read, and is looked at once.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, I2cSource, Word, WordLayout};
    /// const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    /// let source = I2cSource::new((), 0x48, (), &WORD);
    /// ```
    pub const fn new(i2c: I2C, address: u8, delay: D, word: &'a Word) -> Self {
        let polling = Polling { polls: 0, interval_us: 0 };
        Self { i2c, address, delay, word, command: &[], polling }
    }

    /// Bytes that are sent before the word: the number of a register.
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, I2cSource, Word, WordLayout};
    /// # const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    /// let source = I2cSource::new((), 0x48, (), &WORD).command(&[0x00]);
    /// ```
    #[must_use]
    pub const fn command(mut self, command: &'a [u8]) -> Self {
        self.command = command;
        self
    }

    /// How long a read waits for a new value.
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, I2cSource, Polling, Word, WordLayout};
    /// # const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    /// let source = I2cSource::new((), 0x48, (), &WORD).polling(Polling { polls: 10, interval_us: 1_000 });
    /// ```
    #[must_use]
    pub const fn polling(mut self, polling: Polling) -> Self {
        self.polling = polling;
        self
    }

    /// The bus, to set up the device.
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, I2cSource, Word, WordLayout};
    /// # const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    /// let mut source = I2cSource::new(7, 0x48, (), &WORD);
    /// assert_eq!(*source.bus(), 7);
    /// ```
    pub const fn bus(&mut self) -> &mut I2C {
        &mut self.i2c
    }
}

impl<I2C: I2c, D: DelayNs> Source for I2cSource<'_, I2C, D> {
    type Value = i32;
    type Bus = <I2C as ErrorType>::Error;

    fn read(&mut self) -> Result<i32, Error<Self::Bus>> {
        let mut buffer = [0; Word::MOST_BYTES];
        let (bytes, _) = buffer.split_at_mut_checked(self.word.bytes()).unwrap_or_default();
        let mut looks = 0;
        loop {
            if self.command.is_empty() {
                self.i2c.read(self.address, bytes)
            } else {
                self.i2c.write_read(self.address, self.command, bytes)
            }
            .map_err(Error::Bus)?;
            if let Some(code) = self.word.new_code(bytes)? {
                return Ok(code);
            }
            self.delay.delay_us(self.polling.again(&mut looks)?);
        }
    }
}

#[cfg(feature = "embedded-hal-async")]
impl<I2C: embedded_hal_async::i2c::I2c, D: embedded_hal_async::delay::DelayNs> super::AsyncSource
    for I2cSource<'_, I2C, D>
{
    type Value = i32;
    type Bus = <I2C as ErrorType>::Error;

    async fn read_async(&mut self) -> Result<i32, Error<Self::Bus>> {
        let mut buffer = [0; Word::MOST_BYTES];
        let (bytes, _) = buffer.split_at_mut_checked(self.word.bytes()).unwrap_or_default();
        let mut looks = 0;
        loop {
            if self.command.is_empty() {
                self.i2c.read(self.address, bytes).await
            } else {
                self.i2c.write_read(self.address, self.command, bytes).await
            }
            .map_err(Error::Bus)?;
            if let Some(code) = self.word.new_code(bytes)? {
                return Ok(code);
            }
            self.delay.delay_us(self.polling.again(&mut looks)?).await;
        }
    }
}
