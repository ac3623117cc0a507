//! One input of a logger: strain with flags, from codes and temperatures that come at rates of their own.

use core::cell::Cell;

use super::Source;
use crate::device::Error;
use crate::kernel::{fixed, float};
use crate::numeric::Float;
use crate::sample::{Flags, Reading, Temperature};
use crate::temperature::{self, LastReading};

/// A kernel that takes `N` temperatures: one, or two if the compensating gauge has its own.
///
/// ```
/// use gaugewright::{device::acquisition::StrainKernel, example::CHANNEL, fixed::{self, Temperature}};
/// static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// let at = Temperature::from_bits(35 << 20);
/// assert_eq!(KERNEL.strain(1_000, [at]), KERNEL.reading(1_000, at));
/// ```
pub trait StrainKernel<const N: usize> {
    /// The number format of strain.
    type Strain;

    /// Strain for a code at these temperatures.
    fn strain(&self, code: i32, at: [Temperature; N]) -> Reading<Self::Strain>;
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> StrainKernel<1>
    for fixed::Kernel<DEGREE, FACTOR, PRODUCT>
{
    type Strain = fixed::Strain;

    #[inline]
    fn strain(&self, code: i32, [at]: [Temperature; 1]) -> fixed::Reading {
        self.reading(code, at)
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> StrainKernel<2>
    for fixed::CompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    type Strain = fixed::Strain;

    #[inline]
    fn strain(&self, code: i32, [at, compensating]: [Temperature; 2]) -> fixed::Reading {
        self.reading(code, at, compensating)
    }
}

impl<T: Float, const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> StrainKernel<1>
    for float::Kernel<T, DEGREE, FACTOR, PRODUCT>
{
    type Strain = T;

    #[inline]
    fn strain(&self, code: i32, [at]: [Temperature; 1]) -> float::Reading<T> {
        self.reading(code, at)
    }
}

impl<T: Float, const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> StrainKernel<2>
    for float::CompensatedKernel<T, DEGREE, FACTOR, PRODUCT>
{
    type Strain = T;

    #[inline]
    fn strain(&self, code: i32, [at, compensating]: [Temperature; 2]) -> float::Reading<T> {
        self.reading(code, at, compensating)
    }
}

/// A kernel that is replaced while the logger runs: by that of another zero or span, between two samples.
///
/// ```
/// use core::cell::Cell;
/// use gaugewright::{device::acquisition::Input, example::STRUT, temperature::{self, ThermometerFlags}};
/// use gaugewright::fixed::{AdjustableKernel, Kernel, Span, Temperature, Zero};
/// static ON_SITE: AdjustableKernel = STRUT.fixed_adjustable((-50_000, 50_000), (Span::ONE, Span::ONE));
/// let kernel = Cell::<Kernel>::new(STRUT.fixed());
/// let mut input = Input::new(&kernel, (), [()], [100]);
/// let temperature = Temperature::from_bits(20 << 20);
/// input.update([temperature::Reading { temperature, flags: ThermometerFlags::CLEAR }], 0);
/// // The code at rest becomes zero.
/// let zero = Zero { codes: 20_000.into(), temperature };
/// kernel.set(ON_SITE.with(zero, Span::ONE)?);
/// assert_eq!(input.reading(20_000, 0).unwrap().strain.nanostrain(), 0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
impl<K: StrainKernel<N> + Copy, const N: usize> StrainKernel<N> for Cell<K> {
    type Strain = K::Strain;

    #[inline]
    fn strain(&self, code: i32, at: [Temperature; N]) -> Reading<K::Strain> {
        self.get().strain(code, at)
    }
}

/// One input of a logger: a kernel, a source of codes, and `N` thermometers, each with the age at which its temperature is
/// stale.
///
/// A reading is complete or it is an error. If the temperature is stale, or a thermometer raised a flag, the reading has
/// [`Flags::TEMPERATURE_DOUBTFUL`]: a thermometer that fails is seen even where the error of
/// [`read_temperatures`](Self::read_temperatures) is not looked at. Time is a counter of the caller in any unit, which runs on
/// and wraps; call [`read`](Self::read) at least once in every `u32::MAX` less the age limit. An input takes 4 bytes on a
/// 32-bit core and 20 for each thermometer, beside source and thermometers.
///
/// ```
/// use gaugewright::device::{Error, acquisition::{Input, Source}};
/// use gaugewright::temperature::{self, ThermometerFlags};
/// use gaugewright::{Flags, example::STRUT, fixed::{self, Temperature}, units::Nanostrain};
/// # struct Codes;
/// # impl Source for Codes {
/// #     type Value = i32;
/// #     type Bus = ();
/// #     fn read(&mut self) -> Result<i32, Error<()>> { Ok(299_224) }
/// # }
/// # struct Sensor(u32);
/// # impl Source for Sensor {
/// #     type Value = temperature::Reading;
/// #     type Bus = ();
/// #     fn read(&mut self) -> Result<temperature::Reading, Error<()>> {
/// #         self.0 += 1;
/// #         if self.0 > 1 { return Err(Error::Bus(())) }
/// #         Ok(temperature::Reading { temperature: Temperature::from_bits(-(125 << 19)), flags: ThermometerFlags::CLEAR })
/// #     }
/// # }
/// # let (codes, sensor) = (Codes, Sensor(0));
///
/// static KERNEL: fixed::Kernel = STRUT.fixed_within(Nanostrain(0.5));
///
/// // `codes` is a source of codes, and `sensor` one of temperatures, which are stale after 500 ticks.
/// let mut input = Input::new(&KERNEL, codes, [sensor], [500]);
/// assert_eq!(input.read(0), Err(Error::NoTemperature { thermometer: 0 }));
///
/// input.read_temperatures(10)?;
/// let reading = input.read(20)?;
/// assert_eq!(reading.strain.nanostrain(), 1_000_000);
/// assert!(reading.flags.is_clear());
///
/// // The sensor fails: its last temperature serves until it is stale.
/// assert!(input.read_temperatures(300).is_err());
/// assert!(input.read(510)?.flags.is_clear());
/// assert_eq!(input.read(511)?.flags, Flags::TEMPERATURE_DOUBTFUL);
/// # Ok::<(), Error<()>>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Input<'a, K, S, T, const N: usize = 1> {
    /// Where the codes come from; `()` where they are given to [`reading`](Self::reading).
    pub source: S,
    /// Where the temperatures come from, in number and order as the kernel takes them; `()` where they are given to
    /// [`update`](Self::update).
    pub thermometers: [T; N],
    pub(super) kernel: &'a K,
    temperatures: [LastReading; N],
}

impl<'a, K, S, T, const N: usize> Input<'a, K, S, T, N> {
    /// An input whose temperatures are stale when they are older than `age_limits`, in ticks of the caller's counter.
    ///
    /// ```
    /// use gaugewright::{device::acquisition::Input, example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let input = Input::new(&KERNEL, (), [()], [100]);
    /// ```
    pub const fn new(kernel: &'a K, source: S, thermometers: [T; N], age_limits: [u32; N]) -> Self {
        let mut temperatures = [LastReading::new(0); N];
        let mut k = 0;
        while k < N {
            temperatures[k] = LastReading::new(age_limits[k]);
            k += 1;
        }
        Self { source, thermometers, kernel, temperatures }
    }

    /// Temperatures that were read elsewhere, and their time: for a thermometer that several inputs share. One that could not
    /// be read is given as [`ThermometerFlags::OPEN`](temperature::ThermometerFlags::OPEN): it is counted and not kept, and the
    /// last one ages.
    ///
    /// ```
    /// use gaugewright::{device::acquisition::Input, example::CHANNEL, fixed::{self, Temperature}, temperature::*};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let mut input = Input::new(&KERNEL, (), [()], [100]);
    /// input.update([Reading { temperature: Temperature::from_bits(35 << 20), flags: ThermometerFlags::CLEAR }], 0);
    /// assert!(input.reading(1_000, 100).unwrap().flags.is_clear());
    /// ```
    pub fn update(&mut self, readings: [temperature::Reading; N], now: u32) {
        for (last, reading) in self.temperatures.iter_mut().zip(readings) {
            last.update(reading, now);
        }
    }

    /// The last usable temperatures at the time `now`, with the flags of their thermometers and
    /// [`ThermometerFlags::STALE`](temperature::ThermometerFlags::STALE) where it applies: which of them made a reading
    /// doubtful. `None` before the first.
    ///
    /// ```
    /// use gaugewright::{device::acquisition::Input, example::CHANNEL, fixed::{self, Temperature}, temperature::*};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let mut input = Input::new(&KERNEL, (), [()], [100]);
    /// assert_eq!(input.temperatures(0), [None]);
    /// input.update([Reading { temperature: Temperature::from_bits(35 << 20), flags: ThermometerFlags::CLEAR }], 0);
    /// assert_eq!(input.temperatures(101)[0].unwrap().flags, ThermometerFlags::STALE);
    /// ```
    pub fn temperatures(&mut self, now: u32) -> [Option<temperature::Reading>; N] {
        self.temperatures.each_mut().map(|last| last.at(now))
    }

    /// What a sample at the time `now` is paired with, or the thermometer that has no temperature.
    pub(super) fn paired(&mut self, now: u32) -> Result<([Temperature; N], Flags), usize> {
        let mut at = [Temperature::from_bits(0); N];
        let mut flags = Flags::CLEAR;
        for (k, (at, last)) in at.iter_mut().zip(&mut self.temperatures).enumerate() {
            let reading = last.at(now).ok_or(k)?;
            *at = reading.temperature;
            flags |= Flags::TEMPERATURE_DOUBTFUL.when(!reading.flags.is_clear());
        }
        Ok((at, flags))
    }
}

impl<K: StrainKernel<N>, S, T, const N: usize> Input<'_, K, S, T, N> {
    /// Strain for a code that was read elsewhere, at the time `now`; `None` before the first temperature.
    ///
    /// ```
    /// use gaugewright::{device::acquisition::Input, example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// assert_eq!(Input::new(&KERNEL, (), [()], [100]).reading(1_000, 0), None);
    /// ```
    pub fn reading(&mut self, code: i32, now: u32) -> Option<Reading<K::Strain>> {
        self.complete(code, now).ok()
    }

    fn complete(&mut self, code: i32, now: u32) -> Result<Reading<K::Strain>, usize> {
        let (at, doubtful) = self.paired(now)?;
        let reading = self.kernel.strain(code, at);
        Ok(Reading { strain: reading.strain, flags: reading.flags | doubtful })
    }

    /// A sample: the code is read, and paired with the temperatures at the time `now`.
    ///
    /// # Errors
    /// Those of the source; [`Error::NoTemperature`] before the first temperature. There is no reading then.
    ///
    /// The example is that of [`Input`].
    pub fn read(&mut self, now: u32) -> Result<Reading<K::Strain>, Error<S::Bus>>
    where
        S: Source<Value = i32>,
    {
        let code = self.source.read()?;
        self.complete(code, now).map_err(|thermometer| Error::NoTemperature { thermometer })
    }

    /// As [`read`](Self::read), for `async`.
    ///
    /// # Errors
    /// As [`read`](Self::read).
    ///
    /// ```
    /// use gaugewright::device::{Error, acquisition::{AsyncSource, Input}};
    /// use gaugewright::{example::CHANNEL, fixed};
    /// # struct Codes;
    /// # impl AsyncSource for Codes {
    /// #     type Value = i32;
    /// #     type Bus = ();
    /// #     async fn read_async(&mut self) -> Result<i32, Error<()>> { Ok(1_000) }
    /// # }
    ///
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// async fn logger(now: u32) -> Result<(), Error<()>> {
    ///     // `Codes` is a source of codes.
    ///     let mut input = Input::new(&KERNEL, Codes, [()], [100]);
    ///     let reading = input.read_async(now).await?;
    ///     assert!(reading.flags.is_clear());
    ///     Ok(())
    /// }
    /// ```
    #[cfg(feature = "embedded-hal-async")]
    pub async fn read_async(&mut self, now: u32) -> Result<Reading<K::Strain>, Error<S::Bus>>
    where
        S: super::AsyncSource<Value = i32>,
    {
        let code = self.source.read_async().await?;
        self.complete(code, now).map_err(|thermometer| Error::NoTemperature { thermometer })
    }
}

impl<K, S, T: Source<Value = temperature::Reading>, const N: usize> Input<'_, K, S, T, N> {
    /// Reads every thermometer, at the time `now`. Where one fails, its last temperature stays and ages.
    ///
    /// # Errors
    /// The first error of a thermometer; the others have been read.
    ///
    /// The example is that of [`Input`].
    pub fn read_temperatures(&mut self, now: u32) -> Result<(), Error<T::Bus>> {
        let mut result = Ok(());
        for (thermometer, last) in self.thermometers.iter_mut().zip(&mut self.temperatures) {
            result = result.and(thermometer.read().map(|reading| last.update(reading, now)));
        }
        result
    }
}

#[cfg(feature = "embedded-hal-async")]
impl<K, S, T: super::AsyncSource<Value = temperature::Reading>, const N: usize> Input<'_, K, S, T, N> {
    /// As [`read_temperatures`](Self::read_temperatures), for `async`.
    ///
    /// # Errors
    /// As [`read_temperatures`](Self::read_temperatures).
    ///
    /// ```
    /// use gaugewright::device::{Error, acquisition::{AsyncSource, Input}};
    /// use gaugewright::{example::CHANNEL, fixed, temperature::Reading};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// async fn sense<T: AsyncSource<Value = Reading>>(thermometer: T) -> Result<(), Error<T::Bus>> {
    ///     let mut input = Input::new(&KERNEL, (), [thermometer], [100]);
    ///     input.read_temperatures_async(0).await
    /// }
    /// ```
    pub async fn read_temperatures_async(&mut self, now: u32) -> Result<(), Error<T::Bus>> {
        let mut result = Ok(());
        for (thermometer, last) in self.thermometers.iter_mut().zip(&mut self.temperatures) {
            let read = thermometer.read_async().await;
            result = result.and(read.map(|reading| last.update(reading, now)));
        }
        result
    }
}

// As documented, wherever this is built for a core of 32 bits.
#[cfg(target_pointer_width = "32")]
const _: () = {
    assert!(size_of::<Input<'_, fixed::Kernel, (), (), 1>>() == 24);
    assert!(size_of::<Input<'_, fixed::CompensatedKernel, (), (), 2>>() == 44);
};
