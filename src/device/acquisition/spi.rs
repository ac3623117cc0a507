//! A converter on SPI.

use embedded_hal::delay::DelayNs;
use embedded_hal::spi::{ErrorType, Operation, SpiDevice};

use super::{Fault, Polling, Ready, Source, Word};
use crate::device::Error;

/// Codes of a converter on SPI. `SPI` is a `SpiDevice` of `embedded-hal` or `embedded-hal-async`; a bus of its own without
/// chip select becomes one with `embedded-hal-bus`. `READY` is a [`ReadyPin`](super::ReadyPin) or `()`, `D` a delay.
///
/// A read waits for the pin, makes one transaction and decodes its bytes. If these are [`Fault::NotReady`] it looks again, as
/// long as its [`Polling`] lasts. In `async` the level of the pin is awaited without an end, which is for the caller to set.
///
/// ```
/// use embedded_hal_mock::eh1::{delay::NoopDelay, digital, spi};
/// use gaugewright::device::acquisition::{Coding, Polling, ReadyPin, Source, SpiSource, Word, WordLayout};
///
/// const WORD: Word = WordLayout::new(24, Coding::TwosComplement).refuse_all_ones().word();
/// # let bus = spi::Mock::new(&[
/// #     spi::Transaction::transaction_start(),
/// #     spi::Transaction::write_vec(vec![0x12]),
/// #     spi::Transaction::read_vec(vec![0x00, 0x10, 0x01]),
/// #     spi::Transaction::transaction_end(),
/// # ]);
/// # let pin = digital::Mock::new(&[
/// #     digital::Transaction::get(digital::State::High), digital::Transaction::get(digital::State::Low)]);
/// # let (mut bus_after, mut pin_after) = (bus.clone(), pin.clone());
/// // `bus`, `pin` and the delay are those of your board. The converter answers to the byte 0x12.
/// let mut source = SpiSource::new(bus, ReadyPin::low(pin), NoopDelay::new(), &WORD)
///     .command(&[0x12])
///     .polling(Polling { polls: 100, interval_us: 50 });
/// assert_eq!(source.read(), Ok(0x1001));
/// # bus_after.done();
/// # pin_after.done();
/// ```
#[derive(Clone, Copy, Debug)]
pub struct SpiSource<'a, SPI, READY, D> {
    spi: SPI,
    ready: READY,
    delay: D,
    word: &'a Word,
    command: &'a [u8],
    full_duplex: bool,
    polling: Polling,
}

impl<'a, SPI, READY, D> SpiSource<'a, SPI, READY, D> {
    /// A converter that sends its word when it is clocked, and is looked at once.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, SpiSource, Word, WordLayout};
    /// const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    /// let source = SpiSource::new((), (), (), &WORD);
    /// ```
    pub const fn new(spi: SPI, ready: READY, delay: D, word: &'a Word) -> Self {
        let polling = Polling { polls: 0, interval_us: 0 };
        Self { spi, ready, delay, word, command: &[], full_duplex: false, polling }
    }

    /// Bytes that are sent before the word, with the same chip select.
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, SpiSource, Word, WordLayout};
    /// # const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    /// let source = SpiSource::new((), (), (), &WORD).command(&[0x42]);
    /// ```
    #[must_use]
    pub const fn command(mut self, command: &'a [u8]) -> Self {
        self.command = command;
        self
    }

    /// The command is sent while the word is received: the transfer has the length of the word, and ends with zeros. A command
    /// that is longer gives [`Fault::Length`] at each read.
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, SpiSource, Word, WordLayout};
    /// // Ten bits at the end of three bytes, while the channel is selected in the first two.
    /// const WORD: Word = WordLayout::new(10, Coding::Unsigned).at_byte(1).word();
    /// let source = SpiSource::new((), (), (), &WORD).command(&[0x01, 0x80]).full_duplex();
    /// ```
    #[must_use]
    pub const fn full_duplex(mut self) -> Self {
        self.full_duplex = true;
        self
    }

    /// How long a read waits for a new value.
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, Polling, SpiSource, Word, WordLayout};
    /// # const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    /// let source = SpiSource::new((), (), (), &WORD).polling(Polling { polls: 10, interval_us: 1_000 });
    /// ```
    #[must_use]
    pub const fn polling(mut self, polling: Polling) -> Self {
        self.polling = polling;
        self
    }

    /// The bus, to set up the converter.
    ///
    /// ```
    /// # use gaugewright::device::acquisition::{Coding, SpiSource, Word, WordLayout};
    /// # const WORD: Word = WordLayout::new(16, Coding::TwosComplement).word();
    /// let mut source = SpiSource::new(7, (), (), &WORD);
    /// assert_eq!(*source.bus(), 7);
    /// ```
    pub const fn bus(&mut self) -> &mut SPI {
        &mut self.spi
    }

    /// The bytes of a transfer, with what is sent in them.
    fn bytes<'b, E>(&self, buffer: &'b mut [u8; Word::MOST_BYTES]) -> Result<&'b mut [u8], Error<E>> {
        let needed = self.word.bytes();
        let sent = if self.full_duplex { self.command } else { &[] };
        let length = Fault::Length { given: sent.len(), needed };
        let bytes = buffer.get_mut(..needed).ok_or(Error::Word(length))?;
        if sent.len() > needed {
            return Err(Error::Word(length));
        }
        bytes.fill(0);
        bytes.iter_mut().zip(sent).for_each(|(byte, sent)| *byte = *sent);
        Ok(bytes)
    }
}

impl<SPI: SpiDevice, READY: Ready, D: DelayNs> Source for SpiSource<'_, SPI, READY, D> {
    type Value = i32;
    type Bus = <SPI as ErrorType>::Error;

    fn read(&mut self) -> Result<i32, Error<Self::Bus>> {
        let mut buffer = [0; Word::MOST_BYTES];
        let mut looks = 0;
        loop {
            if self.ready.is_ready().map_err(Error::Pin)? {
                let bytes = self.bytes(&mut buffer)?;
                if self.full_duplex {
                    self.spi.transfer_in_place(bytes)
                } else if self.command.is_empty() {
                    self.spi.read(bytes)
                } else {
                    self.spi.transaction(&mut [Operation::Write(self.command), Operation::Read(bytes)])
                }
                .map_err(Error::Bus)?;
                if let Some(code) = self.word.new_code(bytes)? {
                    return Ok(code);
                }
            }
            self.delay.delay_us(self.polling.again(&mut looks)?);
        }
    }
}

#[cfg(feature = "embedded-hal-async")]
impl<SPI, READY, D> super::AsyncSource for SpiSource<'_, SPI, READY, D>
where
    SPI: embedded_hal_async::spi::SpiDevice,
    READY: super::AsyncReady,
    D: embedded_hal_async::delay::DelayNs,
{
    type Value = i32;
    type Bus = <SPI as ErrorType>::Error;

    async fn read_async(&mut self) -> Result<i32, Error<Self::Bus>> {
        let mut buffer = [0; Word::MOST_BYTES];
        let mut looks = 0;
        loop {
            self.ready.wait().await.map_err(Error::Pin)?;
            let bytes = self.bytes(&mut buffer)?;
            if self.full_duplex {
                self.spi.transfer_in_place(bytes).await
            } else if self.command.is_empty() {
                self.spi.read(bytes).await
            } else {
                self.spi.transaction(&mut [Operation::Write(self.command), Operation::Read(bytes)]).await
            }
            .map_err(Error::Bus)?;
            if let Some(code) = self.word.new_code(bytes)? {
                return Ok(code);
            }
            self.delay.delay_us(self.polling.again(&mut looks)?).await;
        }
    }
}
