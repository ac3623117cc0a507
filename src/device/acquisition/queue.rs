//! Between an interrupt and the main loop: samples one way, operating points the other. Fixed memory, no lock, no `unsafe`.

use heapless::spsc::{Consumer, Producer, Queue};

use super::Input;
use crate::kernel::fixed::{CompensatedKernel, Kernel, OperatingPoint, Reading};
use crate::sample::Flags;

/// A queue from an interrupt to the main loop that counts what it had no room for. It holds `N - 1` values;
/// `N` is 2 or more, and costs least if it is a power of two.
///
/// Each value has a number. A value that finds the queue full is lost, its number is left out, and the receiver reports how many
/// were lost before the value that it gets. So nothing is shared but the queue of `heapless`, and cores without
/// compare-and-swap are served too. It takes `N` times four bytes and a value, and eight bytes on a 32-bit core: 136 for 16
/// codes.
///
/// ```
/// use gaugewright::device::acquisition::{Received, SampleQueue};
///
/// let mut queue = SampleQueue::<i32, 3>::new();
/// let (mut interrupt, mut main) = queue.split();
/// // Room for two.
/// assert_eq!([10, 11, 12, 13].map(|code| interrupt.send(code)), [true, true, false, false]);
/// assert_eq!(main.receive(), Some(Received { value: 10, lost: 0 }));
/// assert!(interrupt.send(14));
/// assert_eq!(main.receive(), Some(Received { value: 11, lost: 0 }));
/// assert_eq!(main.receive(), Some(Received { value: 14, lost: 2 }));
/// assert_eq!(main.receive(), None);
/// ```
#[derive(Debug)]
pub struct SampleQueue<T, const N: usize>(Queue<(u32, T), N>);

impl<T, const N: usize> SampleQueue<T, N> {
    /// An empty queue, for a `static` too.
    ///
    /// ```
    /// let queue = gaugewright::device::acquisition::SampleQueue::<i32, 16>::new();
    /// ```
    #[must_use]
    pub const fn new() -> Self {
        Self(Queue::new())
    }

    /// The two ends. Values that were left in the queue are dropped.
    ///
    /// The example is that of [`SampleQueue`].
    pub fn split(&mut self) -> (SampleSender<'_, T, N>, SampleReceiver<'_, T, N>) {
        while self.0.dequeue().is_some() {}
        let (producer, consumer) = self.0.split();
        (SampleSender { producer, number: 0 }, SampleReceiver { consumer, expected: 0 })
    }
}

impl<T, const N: usize> Default for SampleQueue<T, N> {
    fn default() -> Self {
        Self::new()
    }
}

/// The interrupt's end of a [`SampleQueue`].
pub struct SampleSender<'q, T, const N: usize> {
    producer: Producer<'q, (u32, T), N>,
    number: u32,
}

impl<T, const N: usize> SampleSender<'_, T, N> {
    /// Whether there was room. If there was not, the value is lost, and counted.
    ///
    /// The example is that of [`SampleQueue`].
    #[inline]
    pub fn send(&mut self, value: T) -> bool {
        let sent = self.producer.enqueue((self.number, value)).is_ok();
        self.number = self.number.wrapping_add(1);
        sent
    }
}

/// The main loop's end of a [`SampleQueue`].
pub struct SampleReceiver<'q, T, const N: usize> {
    consumer: Consumer<'q, (u32, T), N>,
    expected: u32,
}

/// A value from a [`SampleQueue`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Received<T> {
    /// The sample.
    pub value: T,
    /// Samples lost between the one before and this one, modulo 2^32.
    pub lost: u32,
}

impl<T, const N: usize> SampleReceiver<'_, T, N> {
    /// The oldest value in the queue.
    ///
    /// The example is that of [`SampleQueue`].
    pub fn receive(&mut self) -> Option<Received<T>> {
        let (number, value) = self.consumer.dequeue()?;
        let lost = number.wrapping_sub(self.expected);
        self.expected = number.wrapping_add(1);
        Some(Received { value, lost })
    }
}

/// Hands operating points from the main loop to an interrupt, each of them whole: the interrupt corrects with a copy of its own,
/// and takes a new one between two samples or two blocks.
///
/// A block looks at the queue once, which does not show beside its samples; a sample at a time pays a look and a count
/// (`tests/on-target/recorded.md` in the repository has both).
/// There is room for one point on the way. The queue takes 80 bytes on a 32-bit core, the interrupt's end 48.
///
/// ```
/// use gaugewright::device::acquisition::{Input, PointQueue};
/// use gaugewright::temperature::{Reading, ThermometerFlags};
/// use gaugewright::{Flags, example::STRUT, fixed::{self, Temperature}};
///
/// static KERNEL: fixed::Kernel = STRUT.fixed();
///
/// // The main loop has a first temperature.
/// let mut input = Input::new(&KERNEL, (), [()], [500]);
/// input.update([Reading { temperature: Temperature::from_bits(20 << 20), flags: ThermometerFlags::CLEAR }], 0);
///
/// // After 1000 samples without a new point the interrupt flags its readings.
/// let mut queue = PointQueue::new();
/// let (mut points, mut interrupt) = queue.split(input.point(1).unwrap(), 1_000);
///
/// // The main loop, on each temperature update:
/// input.update([Reading { temperature: Temperature::from_bits(-(125 << 19)), flags: ThermometerFlags::CLEAR }], 9);
/// points.send(input.point(10).unwrap()).unwrap();
///
/// // The interrupt, for each sample:
/// assert_eq!(interrupt.reading(299_224).strain.nanostrain(), 1_000_000);
///
/// // Or for each half of a buffer, in its place: codes before, strains in Q34 after.
/// let mut half = [299_224, 0, i32::MAX];
/// let mut flagged = [Flags::CLEAR; 3];
/// let all = interrupt.correct(&mut half, |sample, flags| flagged[sample] = flags);
/// assert_eq!(fixed::Strain::from_bits(half[0]).nanostrain(), 1_000_000);
/// assert_eq!((all, flagged), (Flags::CODE_AT_RAIL, [Flags::CLEAR, Flags::CLEAR, Flags::CODE_AT_RAIL]));
/// ```
#[derive(Debug)]
pub struct PointQueue(Queue<OperatingPoint, 2>);

impl PointQueue {
    /// An empty queue, for a `static` too.
    ///
    /// ```
    /// let queue = gaugewright::device::acquisition::PointQueue::new();
    /// ```
    #[must_use]
    pub const fn new() -> Self {
        Self(Queue::new())
    }

    /// The main loop's end, and the interrupt's, which starts at `first` and flags its readings
    /// [`Flags::TEMPERATURE_DOUBTFUL`] after more than `limit` samples without a new point.
    ///
    /// The example is that of [`PointQueue`].
    pub fn split(&mut self, first: OperatingPoint, limit: u32) -> (PointSender<'_>, Corrector<'_>) {
        while self.0.dequeue().is_some() {}
        let (points, consumer) = self.0.split();
        (PointSender(points), Corrector { points: consumer, point: first, left: limit, limit })
    }
}

impl Default for PointQueue {
    fn default() -> Self {
        Self::new()
    }
}

/// The main loop's end of a [`PointQueue`].
pub struct PointSender<'q>(Producer<'q, OperatingPoint, 2>);

impl PointSender<'_> {
    /// Sends a point to the interrupt.
    ///
    /// # Errors
    /// The point itself, if the interrupt has not yet taken the one before: send one again later.
    ///
    /// ```
    /// use gaugewright::{device::acquisition::PointQueue, example::CHANNEL, fixed::{self, Temperature}};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let mut queue = PointQueue::new();
    /// let [first, point] = [20, 35].map(|celsius| KERNEL.at(Temperature::from_bits(celsius << 20)));
    /// let (mut points, mut interrupt) = queue.split(first, 100);
    /// assert_eq!(points.send(point), Ok(()));
    /// assert_eq!(points.send(point), Err(point));
    /// assert_eq!(interrupt.reading(0), point.reading(0));
    /// assert_eq!(points.send(point), Ok(()));
    /// ```
    // The point comes back as it is: there is no box without an allocator.
    #[allow(clippy::result_large_err)]
    pub fn send(&mut self, point: OperatingPoint) -> Result<(), OperatingPoint> {
        self.0.enqueue(point)
    }
}

/// The interrupt's end of a [`PointQueue`]: corrects samples.
pub struct Corrector<'q> {
    points: Consumer<'q, OperatingPoint, 2>,
    point: OperatingPoint,
    /// Samples until the point is too old.
    left: u32,
    limit: u32,
}

impl Corrector<'_> {
    /// The newest point, for so many samples.
    #[inline(always)]
    fn point_for(&mut self, samples: u32) -> &OperatingPoint {
        if self.points.ready() {
            self.renew();
        }
        match self.left.checked_sub(samples) {
            Some(left) => self.left = left,
            None => self.flag(),
        }
        &self.point
    }

    // Out of line, so that the usual sample does not pay for it.
    #[cold]
    #[inline(never)]
    fn renew(&mut self) {
        if let Some(point) = self.points.dequeue() {
            self.point = point;
            self.left = self.limit;
        }
    }

    #[cold]
    #[inline(never)]
    fn flag(&mut self) {
        self.left = 0;
        self.point = self.point.flagged(Flags::TEMPERATURE_DOUBTFUL);
    }

    /// Strain for a code at the newest operating point.
    ///
    /// The example is that of [`PointQueue`].
    #[inline]
    pub fn reading(&mut self, code: i32) -> Reading {
        self.point_for(1).reading(code)
    }

    /// A block of codes, in its place: each becomes its strain in Q34 ([`Strain::to_bits`](crate::fixed::Strain::to_bits)), by the
    /// same bits as [`reading`](Self::reading). One point serves the block, and its age is that of the block's last sample.
    /// `flagged` gets place and flags of each sample that has any; the result has the flags of all.
    ///
    /// The example is that of [`PointQueue`].
    pub fn correct(&mut self, block: &mut [i32], flagged: impl FnMut(usize, Flags)) -> Flags {
        self.point_for(u32::try_from(block.len()).unwrap_or(u32::MAX)).correct(block, flagged)
    }
}

impl<S, T, const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    Input<'_, Kernel<DEGREE, FACTOR, PRODUCT>, S, T, 1>
{
    /// The operating point at the time `now`, for an interrupt; its readings have [`Flags::TEMPERATURE_DOUBTFUL`] where those
    /// of the input would. `None` before the first temperature.
    ///
    /// The example is that of [`PointQueue`].
    pub fn point(&mut self, now: u32) -> Option<OperatingPoint> {
        let ([at], doubtful) = self.paired(now).ok()?;
        Some(self.kernel.at(at).flagged(doubtful))
    }
}

impl<S, T, const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    Input<'_, CompensatedKernel<DEGREE, FACTOR, PRODUCT>, S, T, 2>
{
    /// The operating point of both temperatures at the time `now`, as that of an input with one.
    ///
    /// ```
    /// use gaugewright::{device::acquisition::Input, example::COMPENSATED, fixed};
    /// static KERNEL: fixed::CompensatedKernel = COMPENSATED.fixed();
    /// assert!(Input::new(&KERNEL, (), [(), ()], [100, 100]).point(0).is_none());
    /// ```
    pub fn point(&mut self, now: u32) -> Option<OperatingPoint> {
        let ([at, compensating], doubtful) = self.paired(now).ok()?;
        Some(self.kernel.at(at, compensating).flagged(doubtful))
    }
}

// As documented, wherever this is built for a core of 32 bits.
#[cfg(target_pointer_width = "32")]
const _: () = {
    assert!(size_of::<SampleQueue<i32, 16>>() == 136);
    assert!(size_of::<PointQueue>() == 80 && size_of::<Corrector<'_>>() == 48);
};
