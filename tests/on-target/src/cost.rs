//! What one call of a path costs: instructions, bytes of its constants, stack.

use core::cell::RefCell;
use core::hint::black_box;
use core::sync::atomic::{AtomicBool, Ordering::Relaxed};

use firmware::board::{Counter, stack};
use gaugewright::fixed::{self, Temperature};
use gaugewright::{Error, Flags, float};
use semihosting::fs::File;

use crate::call::nothing;
use crate::sweep::Random;

/// Different samples of a count, how often each is called (often enough for a tick of the timer to weigh far less
/// than an instruction; of one sample alone the count is whole, so that a quarter of one does).
const SAMPLES: usize = 32;
const ROUNDS: u32 = 64;
const ROUNDS_OF_ONE: u32 = 16;
/// Where the calls are logged: those of the first round are looked at, and what runs between two paths is taken for a part of the last call.
const ROUNDS_LOGGED: u32 = 2;

/// Blocks of a count.
const BLOCK_CALLS: u64 = 8;

/// Rounds of two instructions each, to see that they are counted right.
pub const CALIBRATION: u32 = 100_000;

static LOGGED: AtomicBool = AtomicBool::new(false);

/// Looks whether the host has a file by which it tells that the emulator logs the calls: to be called once, at the start.
pub fn ask_for_log() {
    LOGGED.store(File::open(c"calls-are-logged").is_ok(), Relaxed);
}

/// Whether the emulator logs the calls. Then the first ones of each path with inputs in range are all that is wanted, and the figures count
/// for nothing.
pub fn is_logged() -> bool {
    LOGGED.load(Relaxed)
}

pub type Input = (i32, Temperature);
pub type Inputs = [Input; SAMPLES];
/// A path, with whatever it returns.
pub type Path<K, R> = fn(&K, i32, Temperature) -> R;

/// Samples of a block.
pub const BLOCK: usize = 256;

/// Samples of a count: eight blocks, or as many short ones as have these.
const SAMPLES_OF_BLOCKS: usize = BLOCK_CALLS as usize * BLOCK;

/// Samples of a short block.
const SHORT_BLOCK: usize = 16;

/// A kernel or a point, up to 256 samples for it, and room for their readings.
pub struct Block<K, R> {
    pub kernel: K,
    pub codes: [i32; BLOCK],
    pub temperatures: [Temperature; BLOCK],
    pub readings: RefCell<[R; BLOCK]>,
    pub marks: RefCell<[u32; BLOCK / 32]>,
    pub length: usize,
}

pub type FixedBlock<K> = Block<K, fixed::Reading>;
pub type SingleBlock<K> = Block<K, float::Reading<f32>>;
/// Where the codes become strains in their place: they are copied to the readings before.
pub type InPlace<K> = Block<K, i32>;

impl<K, R> Block<K, R> {
    #[inline(always)]
    pub fn fill(
        &self,
        readings: impl FnOnce(&K, &[i32], &[Temperature], &mut [R]) -> Result<(), Error>,
    ) -> bool {
        let Ok(mut room) = self.readings.try_borrow_mut() else { return false };
        let inputs = (self.codes.get(..self.length), self.temperatures.get(..self.length));
        let ((Some(codes), Some(temperatures)), Some(room)) = (inputs, room.get_mut(..self.length)) else {
            return false;
        };
        readings(&self.kernel, codes, temperatures, room).is_ok()
    }

    /// A peer's formula for each sample.
    #[inline(always)]
    pub fn each(&self, strain: impl Fn(&K, i32, Temperature) -> R) -> bool {
        self.fill(|kernel, codes, temperatures, room| {
            for ((&code, &t), strains) in codes.iter().zip(temperatures).zip(room) {
                *strains = strain(kernel, code, t);
            }
            Ok(())
        })
    }
}

impl<K> InPlace<K> {
    #[inline(always)]
    pub fn correct(&self, correct: impl FnOnce(&K, &mut [i32], &mut [u32]) -> Result<Flags, Error>) -> bool {
        let Ok(mut marks) = self.marks.try_borrow_mut() else { return false };
        let Some(marks) = marks.get_mut(..self.length.div_ceil(32)) else { return false };
        self.fill(|kernel, _, _, block| correct(kernel, block, marks).map(|_| ()))
    }
}

/// Instructions of many calls, in hundredths a call; those of the loop included.
#[inline(never)]
fn hundredths(counter: &mut Counter, inputs: &Inputs, rounds: u32, call: impl Fn(Input)) -> u64 {
    let all = counter.instructions(|| {
        for _ in 0..rounds {
            for &input in black_box(inputs) {
                call(input);
            }
        }
    });
    let calls = u64::from(rounds) * SAMPLES as u64;
    (all * 100 + calls / 2) / calls
}

/// Instructions of a call: the call itself, the path, its return. Rounded.
fn instructions<K, R>(
    counter: &mut Counter,
    inputs: &Inputs,
    rounds: u32,
    kernel: &K,
    path: Path<K, R>,
) -> u64 {
    let (path, empty) = (black_box(path), black_box(nothing as extern "C" fn(*const (), i32, i32)));
    let all = hundredths(counter, inputs, rounds, |(code, t)| {
        path(kernel, code, t);
    });
    let bare = hundredths(counter, inputs, rounds, |(code, t)| {
        empty((&raw const *kernel).cast(), code, t.to_bits());
    });
    // The empty one is a call and a return.
    (all.saturating_sub(bare) + 200 + 50) / 100
}

/// What one call of a path takes.
#[derive(PartialEq, Eq)]
pub struct Cost {
    /// With every input in range, and with the worst of those that are not.
    in_range: u64,
    flagged: Option<u64>,
    /// Of a sample of a short block.
    short: Option<u64>,
    /// With the worst of all.
    stack: usize,
}

impl Cost {
    /// Of a path of the library, with ranges as those of `fixed`.
    pub fn of<K, R>(counter: &mut Counter, kernel: &K, path: Path<K, R>, fixed: &fixed::Kernel) -> Self {
        let mut cost = Self::of_peer(counter, kernel, path, &inputs(|code, t| fixed.reading(code, t), fixed));
        let (first, last) = fixed.codes();
        let (cold, hot) = fixed.temperatures();
        let beyond = [cold.to_bits() - 1, hot.to_bits() + 1].map(Temperature::from_bits);
        let codes = [i32::MIN, first - 1, first, last + 1, i32::MAX];
        for code in codes {
            for t in [cold, beyond[0], beyond[1]] {
                cost.try_worst(counter, kernel, path, (code, t));
            }
        }
        cost
    }

    /// Another input that may be the worst.
    pub fn try_worst<K, R>(&mut self, counter: &mut Counter, kernel: &K, path: Path<K, R>, input: Input) {
        if is_logged() {
            return;
        }
        let taken = instructions(counter, &[input; SAMPLES], ROUNDS_OF_ONE, kernel, path);
        self.flagged = Some(self.flagged.unwrap_or(0).max(taken));
        self.stack = self.stack.max(stack_of(kernel, path, input));
    }

    /// Of what has no range to be outside of.
    pub fn of_peer<K, R>(counter: &mut Counter, kernel: &K, path: Path<K, R>, inputs: &Inputs) -> Self {
        let rounds = if is_logged() { ROUNDS_LOGGED } else { ROUNDS };
        let in_range = instructions(counter, inputs, rounds, kernel, path);
        Self { in_range, flagged: None, short: None, stack: stack_of(kernel, path, inputs[0]) }
    }

    /// Of one sample of a block, rounded, set-up included: of 256 and of 16, all in range, and of 256 that are all `broken`, where there are
    /// such; and the stack of a block. `place` puts the samples where a path reads them, and is not counted.
    #[inline(never)]
    pub fn of_block<K: Copy, R: Copy>(
        counter: &mut Counter,
        (kernel, path): (&K, Path<Block<K, R>, bool>),
        blank: R,
        place: impl Fn(&Block<K, R>),
        broken: &[i32],
        mut input: impl FnMut() -> Input,
    ) -> Self {
        let mut block = Block {
            kernel: *kernel,
            codes: [0; BLOCK],
            temperatures: [Temperature::from_bits(0); BLOCK],
            readings: RefCell::new([blank; BLOCK]),
            marks: RefCell::new([0; BLOCK / 32]),
            length: BLOCK,
        };
        for (code, t) in block.codes.iter_mut().zip(&mut block.temperatures) {
            (*code, *t) = input();
        }
        let (path, t) = (black_box(path), Temperature::from_bits(0));
        let mut sample = |block: &Block<K, R>| {
            let calls = SAMPLES_OF_BLOCKS / block.length;
            let mut filled = 0;
            let all = counter.instructions(|| {
                for _ in 0..calls {
                    place(black_box(block));
                    filled += usize::from(path(block, 0, t));
                }
            });
            let placing = counter.instructions(|| (0..calls).for_each(|_| place(black_box(block))));
            // What is refused has no cost.
            let samples = SAMPLES_OF_BLOCKS as u64;
            if filled == calls { (all.saturating_sub(placing) + samples / 2) / samples } else { u64::MAX }
        };
        let in_range = sample(&block);
        block.length = SHORT_BLOCK;
        let short = Some(sample(&block));
        block.length = BLOCK;
        place(&block);
        let mut stack = stack_of(&block, path, (0, t));
        let mut flagged = None;
        for code in broken {
            block.codes = [*code; BLOCK];
            flagged = flagged.max(Some(sample(&block)));
            place(&block);
            stack = stack.max(stack_of(&block, path, (0, t)));
        }
        Self { in_range, flagged, short, stack }
    }

    /// Of one sample of a block that a path corrects where it lies, rounded; `fill` is not counted.
    #[inline(never)]
    pub fn in_place<K, R>(
        counter: &mut Counter,
        kernel: &K,
        path: Path<K, Option<R>>,
        fill: impl Fn(),
    ) -> Self {
        let (path, t) = (black_box(path), Temperature::from_bits(0));
        let (mut all, mut corrected) = (0, 0);
        for _ in 0..BLOCK_CALLS {
            fill();
            all += counter.instructions(|| corrected += u64::from(path(kernel, 0, t).is_some()));
        }
        fill();
        let samples = corrected * BLOCK as u64;
        let in_range = if corrected == BLOCK_CALLS { (all + samples / 2) / samples } else { u64::MAX };
        Self { in_range, flagged: None, short: None, stack: stack_of(kernel, path, (0, t)) }
    }

    /// Measures and tells a path of its own ranges: with inputs in range, and with others that may be the worst.
    pub fn told<K, R>(
        counter: &mut Counter,
        name: &str,
        kernel: &K,
        path: Path<K, R>,
        inputs: &Inputs,
        worst: &[Input],
    ) {
        let mut cost = Self::of_peer(counter, kernel, path, inputs);
        for input in worst {
            cost.try_worst(counter, kernel, path, *input);
        }
        cost.tell(name, size_of_val(kernel), None);
    }

    pub fn tell(&self, name: &str, constants: usize, errors: Option<[f32; 2]>) {
        let Self { in_range, flagged, short, stack } = self;
        // A peer has no flags, and not every path an error of its own.
        let (flagged, short) = (flagged.map(Figure::of("flagged")), short.map(Figure::of("sixteen")));
        let [wide, mild] = [0, 1].map(|which| errors.map(|errors| errors[which]));
        let (wide, mild) = (wide.map(Figure::of("wide")), mild.map(Figure::of("mild")));
        defmt::println!(
            "count {=str} instructions={=u64}{}{} kernel={=usize} stack={=usize}{}{}",
            name,
            in_range,
            Maybe(flagged),
            Maybe(short),
            constants,
            stack,
            Maybe(wide),
            Maybe(mild)
        );
    }
}

/// A figure with its name, which may be left out.
struct Figure<T> {
    name: &'static str,
    value: T,
}

struct Maybe<T>(Option<Figure<T>>);

impl<T> Figure<T> {
    fn of(name: &'static str) -> impl Fn(T) -> Self {
        move |value| Self { name, value }
    }
}

impl<T: defmt::Format> defmt::Format for Maybe<T> {
    fn format(&self, f: defmt::Formatter<'_>) {
        if let Some(Figure { name, value }) = &self.0 {
            defmt::write!(f, " {=str}={}", name, value);
        }
    }
}

fn stack_of<K, R>(kernel: &K, path: Path<K, R>, (code, t): Input) -> usize {
    let path = black_box(path);
    stack::taken_by(|| {
        path(kernel, black_box(code), black_box(t));
    })
}

/// Samples in range.
pub fn inputs(reading: impl Fn(i32, Temperature) -> fixed::Reading, ranges: &fixed::Kernel) -> Inputs {
    let mut random = Random(1);
    core::array::from_fn(|_| clear_input(&reading, ranges, &mut random))
}

pub fn clear_input(
    reading: impl Fn(i32, Temperature) -> fixed::Reading,
    ranges: &fixed::Kernel,
    random: &mut Random,
) -> Input {
    let (first, last) = ranges.codes();
    let (cold, hot) = ranges.temperatures();
    loop {
        let t = Temperature::from_bits(random.between(cold.to_bits(), hot.to_bits()));
        let code = random.between(first, last);
        if reading(code, t).flags.is_clear() {
            return (code, t);
        }
    }
}

/// The worst of these is out of range in every way.
pub const BROKEN: Input = (i32::MAX, Temperature::from_bits(i32::MAX));
