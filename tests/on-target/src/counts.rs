//! What a sample costs: instructions, bytes, stack, and how far off it is, the library beside its peers.

use core::hint::black_box;
use core::mem::size_of_val;

use firmware::board::{Counter, stack};
use gaugewright::fixed::{self, Temperature};
use gaugewright::{Channel, float, reference};

use crate::channels::{COMPENSATED, LINEAR};
use crate::commissioning;
use crate::kernels::*;
use crate::peers::naive_double::NaiveDouble;
use crate::peers::naive_single::NaiveSingle;
use crate::peers::notebooks::{MILD, WIDE, channel};
use crate::peers::table::Table;
use crate::sweep::Random;
use crate::thermometers::{K_FIXED, K_SINGLE, PLATINUM_FIXED, PLATINUM_SINGLE};

/// Different samples of a count, how often each is called (often enough for a tick of the timer to weigh far less
/// than an instruction), and those of an error.
const SAMPLES: usize = 32;
const ROUNDS: u32 = 64;
const ERROR_SAMPLES: usize = 400;

/// Rounds of two instructions each, to see that they are counted right.
const CALIBRATION: u32 = 100_000;

type Input = (i32, Temperature);
type Inputs = [Input; SAMPLES];
/// A path, with whatever it returns.
type Path<K, R> = fn(&K, i32, Temperature) -> R;

const WIDE_CHANNEL: Channel = channel(&WIDE);
const MILD_CHANNEL: Channel = channel(&MILD);

static FIXED: [fixed::Kernel; 2] = [WIDE_CHANNEL.fixed(), MILD_CHANNEL.fixed()];
static SINGLE: [float::Kernel<f32>; 2] = [WIDE_CHANNEL.float32(), MILD_CHANNEL.float32()];
static LINEAR_KERNEL: fixed::Kernel = LINEAR.fixed();
static ROOMY: fixed::Kernel<5, 3> = WIDE_CHANNEL.fixed();
static TWO: fixed::CompensatedKernel = COMPENSATED.compensated_fixed();

/// Instructions of many calls, in hundredths a call; those of the loop included.
#[inline(never)]
fn hundredths(counter: &mut Counter, inputs: &Inputs, call: impl Fn(Input)) -> u64 {
    let all = counter.instructions(|| {
        for _ in 0..ROUNDS {
            for &input in black_box(inputs) {
                call(input);
            }
        }
    });
    let calls = u64::from(ROUNDS) * SAMPLES as u64;
    (all * 100 + calls / 2) / calls
}

/// Instructions of a call: the call itself, the path, its return. Rounded.
fn instructions<K, R>(counter: &mut Counter, inputs: &Inputs, kernel: &K, path: Path<K, R>) -> u64 {
    let (path, empty) = (black_box(path), black_box(nothing as extern "C" fn(*const (), i32, i32)));
    let all = hundredths(counter, inputs, |(code, t)| {
        path(kernel, code, t);
    });
    let bare = hundredths(counter, inputs, |(code, t)| empty((&raw const *kernel).cast(), code, t.to_bits()));
    // The empty one is a call and a return.
    (all.saturating_sub(bare) + 200 + 50) / 100
}

/// What one call of a path takes.
struct Cost {
    /// With every input in range, and with the worst of those that are not.
    in_range: u64,
    flagged: Option<u64>,
    /// With the worst of all.
    stack: usize,
}

impl Cost {
    /// Of a path of the library, with ranges as those of `fixed`.
    fn of<K, R>(counter: &mut Counter, kernel: &K, path: Path<K, R>, fixed: &fixed::Kernel) -> Self {
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
    fn try_worst<K, R>(&mut self, counter: &mut Counter, kernel: &K, path: Path<K, R>, input: Input) {
        let taken = instructions(counter, &[input; SAMPLES], kernel, path);
        self.flagged = Some(self.flagged.unwrap_or(0).max(taken));
        self.stack = self.stack.max(stack_of(kernel, path, input));
    }

    /// Of what has no range to be outside of.
    fn of_peer<K, R>(counter: &mut Counter, kernel: &K, path: Path<K, R>, inputs: &Inputs) -> Self {
        let in_range = instructions(counter, inputs, kernel, path);
        Self { in_range, flagged: None, stack: stack_of(kernel, path, inputs[0]) }
    }

    fn tell(&self, name: &str, constants: usize, errors: Option<[f32; 2]>) {
        let Self { in_range, flagged, stack } = self;
        // A peer has no flags, and not every path an error of its own.
        let flagged = flagged.map(Figure::of("flagged"));
        let [wide, mild] = [0, 1].map(|which| errors.map(|errors| errors[which]));
        let (wide, mild) = (wide.map(Figure::of("wide")), mild.map(Figure::of("mild")));
        defmt::println!(
            "count {=str} instructions={=u64}{} kernel={=usize} stack={=usize}{}{}",
            name,
            in_range,
            Maybe(flagged),
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
fn inputs(reading: impl Fn(i32, Temperature) -> fixed::Reading, ranges: &fixed::Kernel) -> Inputs {
    let mut random = Random(1);
    core::array::from_fn(|_| clear_input(&reading, ranges, &mut random))
}

fn clear_input(
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

/// The largest distance from the double-precision model of the network, in nanostrain, on both channels.
fn errors(strain: impl Fn(usize, i32, Temperature) -> f64) -> Option<[f32; 2]> {
    let mut worst = [0.0; 2];
    for (which, channel) in [WIDE_CHANNEL, MILD_CHANNEL].iter().enumerate() {
        let model = reference::Model::new(channel).ok()?;
        let mut random = Random(2);
        for _ in 0..ERROR_SAMPLES {
            let kernel = &FIXED[which];
            let (code, t) = clear_input(|code, t| kernel.reading(code, t), kernel, &mut random);
            let off = ((strain(which, code, t) - model.strain(code, t).0) * 1e9) as f32;
            worst[which] = off.abs().max(worst[which]);
        }
    }
    Some(worst)
}

/// The worst of these is out of range in every way.
const BROKEN: Input = (i32::MAX, Temperature::from_bits(i32::MAX));

fn tell_thermometers(counter: &mut Counter) {
    let mut random = Random(3);
    let samples: Inputs = core::array::from_fn(|_| {
        (random.between(700_000, 2_000_000), Temperature::from_bits(random.between(-40 << 20, 85 << 20)))
    });
    macro_rules! cost {
        ($name:literal, $kernel:expr, $path:expr) => {{
            let mut cost = Cost::of_peer(counter, $kernel, $path, &samples);
            cost.try_worst(counter, $kernel, $path, BROKEN);
            cost.tell($name, size_of_val($kernel), None);
        }};
    }
    cost!("platinum_fixed", &PLATINUM_FIXED, platinum_fixed);
    cost!("platinum_f32", &PLATINUM_SINGLE, platinum_f32);
    cost!("thermocouple_fixed", &K_FIXED, thermocouple_fixed);
    cost!("thermocouple_f32", &K_SINGLE, thermocouple_f32);
}

/// A point of a chamber run, and the uncertainty of a reading.
fn tell_commissioning(counter: &mut Counter) {
    let wide = &FIXED[0];
    let samples = inputs(|code, t| wide.reading(code, t), wide);
    if let Some(fit) = commissioning::running() {
        let cost = Cost::of_peer(counter, &fit, fit_f32, &samples);
        cost.tell("fit_f32", size_of_val(&fit), None);
    }
    if let Some((kernel, point)) = commissioning::counted(WIDE_CHANNEL) {
        let mut cost = Cost::of_peer(counter, &kernel, uncertainty_at, &samples);
        cost.try_worst(counter, &kernel, uncertainty_at, BROKEN);
        cost.tell("uncertainty_at", size_of_val(&kernel), None);
        let mut cost = Cost::of_peer(counter, &point, uncertainty_f32, &samples);
        cost.try_worst(counter, &point, uncertainty_f32, BROKEN);
        cost.tell("uncertainty_f32", size_of_val(&point), None);
        if let Ok(point) = point.fixed() {
            let mut cost = Cost::of_peer(counter, &point, uncertainty_fixed, &samples);
            cost.try_worst(counter, &point, uncertainty_fixed, BROKEN);
            cost.tell("uncertainty_fixed", size_of_val(&point), None);
        }
    }
}

/// All of it, a line for each path.
pub fn tell() {
    let counter = &mut Counter::new();
    let counted = counter.instructions(|| countdown(CALIBRATION));
    defmt::println!("calibration known={=u32} counted={=u64}", 2 * CALIBRATION, counted);
    let (wide, single) = (&FIXED[0], &SINGLE[0]);
    let t = Temperature::from_bits(60 << 20);

    let off = errors(|which, code, t| FIXED[which].reading(code, t).strain.strain().0);
    Cost::of(counter, wide, fixed_reading, wide).tell("fixed_reading", size_of_val(wide), off);
    Cost::of(counter, wide, fixed_at, wide).tell("fixed_at", size_of_val(wide), None);
    let off = errors(|which, code, t| FIXED[which].at(t).reading(code).strain.strain().0);
    let point = wide.at(t);
    Cost::of(counter, &point, fixed_point, wide).tell("fixed_point", size_of_val(&point), off);
    let point = LINEAR_KERNEL.at(t);
    let samples = inputs(|code, t| LINEAR_KERNEL.reading(code, t), &LINEAR_KERNEL);
    let cost = Cost::of_peer(counter, &point, fixed_linear, &samples);
    cost.tell("fixed_linear", size_of_val(&point), None);
    if let Some(linear) = point.linear() {
        let cost = Cost::of(counter, &linear, fixed_point_linear, &LINEAR_KERNEL);
        cost.tell("fixed_point_linear", size_of_val(&linear), None);
    }
    let cost = Cost::of(counter, &ROOMY, fixed_reading_5_3, wide);
    cost.tell("fixed_reading_5_3", size_of_val(&ROOMY), None);
    let both = inputs(|code, t| TWO.reading(code, t, t), &FIXED[1]);
    let mut cost = Cost::of_peer(counter, &TWO, fixed_compensated, &both);
    let any = [i32::MIN, i32::MAX].map(Temperature::from_bits);
    for input in [
        (both[0].0, any[0]),
        (both[0].0, any[1]),
        (i32::MIN, both[0].1),
        (i32::MAX, any[0]),
        (i32::MAX, any[1]),
    ] {
        cost.try_worst(counter, &TWO, fixed_compensated, input);
    }
    cost.tell("fixed_compensated", size_of_val(&TWO), None);

    let off = errors(|which, code, t| SINGLE[which].reading(code, t).strain.into());
    Cost::of(counter, single, f32_reading, wide).tell("f32_reading", size_of_val(single), off);
    Cost::of(counter, single, f32_at, wide).tell("f32_at", size_of_val(single), None);
    let off = errors(|which, code, t| SINGLE[which].at(t).reading(code).strain.into());
    let point = single.at(t);
    Cost::of(counter, &point, f32_point, wide).tell("f32_point", size_of_val(&point), off);

    tell_thermometers(counter);
    tell_commissioning(counter);

    let samples = inputs(|code, t| wide.reading(code, t), wide);
    let peers = [NaiveDouble::new(&WIDE), NaiveDouble::new(&MILD)];
    let off = errors(|which, code, t| peers[which].strain(code, t.to_bits()));
    let cost = Cost::of_peer(counter, &peers[0], peer_naive_double, &samples);
    cost.tell("peer_naive_double", size_of_val(&peers[0]), off);
    let peers = [NaiveSingle::new(&WIDE), NaiveSingle::new(&MILD)];
    let off = errors(|which, code, t| peers[which].strain(code, t.to_bits()).into());
    let cost = Cost::of_peer(counter, &peers[0], peer_naive_single, &samples);
    cost.tell("peer_naive_single", size_of_val(&peers[0]), off);
    let peers = [Table::new(&WIDE), Table::new(&MILD)];
    let off = errors(|which, code, t| f64::from(peers[which].strain(code, t.to_bits())) * 1e-9);
    let cost = Cost::of_peer(counter, &peers[0], peer_table, &samples);
    cost.tell("peer_table", size_of_val(&peers[0]), off);
}
