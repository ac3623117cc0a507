//! What a sample costs: instructions, bytes, stack, and how far off it is, the library beside its peers.

use core::cell::RefCell;
use core::mem::size_of_val;

use firmware::board::Counter;
use gaugewright::device::acquisition::PointQueue;
use gaugewright::fixed::{self, Temperature};
use gaugewright::{Channel, float, reference};

use crate::kernels::*;
use on_target::acquisition::{Correcting, RECEIVED, REGISTER};
use on_target::call::countdown;
use on_target::channels::{FIXED_COMPENSATED, SINGLE_COMPENSATED};
use on_target::cost::{BLOCK, BROKEN, CALIBRATION, Cost, Inputs, clear_input, inputs, is_logged};
use on_target::paths::{LINEAR_KERNEL, ROSETTE_FIXED, ROSETTE_SINGLE, fixed_grids, single_grids};
use on_target::peers::naive_double::NaiveDouble;
use on_target::peers::naive_single::NaiveSingle;
use on_target::peers::notebooks::{MILD, WIDE, channel};
use on_target::peers::table::Table;
use on_target::sweep::Random;
use on_target::thermometers::{K_FIXED, K_SINGLE, PLATINUM_FIXED, PLATINUM_SINGLE};

/// Samples of an error.
const ERROR_SAMPLES: usize = 400;

const WIDE_CHANNEL: Channel = channel(&WIDE);
const MILD_CHANNEL: Channel = channel(&MILD);

static FIXED: [fixed::Kernel; 2] = [WIDE_CHANNEL.fixed(), MILD_CHANNEL.fixed()];
static SINGLE: [float::Kernel<f32>; 2] = [WIDE_CHANNEL.float32(), MILD_CHANNEL.float32()];
static ROOMY: fixed::Kernel<5, 3, 1> = WIDE_CHANNEL.fixed();

/// The largest distance from the double-precision model of the network, in nanostrain, on both channels.
fn errors(strain: impl Fn(usize, i32, Temperature) -> f64) -> Option<[f32; 2]> {
    if is_logged() {
        return None;
    }
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

fn tell_thermometers(counter: &mut Counter) {
    let mut random = Random(3);
    let samples: Inputs = core::array::from_fn(|_| {
        (random.between(700_000, 2_000_000), Temperature::from_bits(random.between(-40 << 20, 85 << 20)))
    });
    let worst = &[BROKEN];
    Cost::told(counter, "platinum_fixed", &PLATINUM_FIXED, platinum_fixed, &samples, worst);
    Cost::told(counter, "platinum_f32", &PLATINUM_SINGLE, platinum_f32, &samples, worst);
    Cost::told(counter, "thermocouple_fixed", &K_FIXED, thermocouple_fixed, &samples, worst);
    Cost::told(counter, "thermocouple_f32", &K_SINGLE, thermocouple_f32, &samples, worst);
}

fn tell_compensated(counter: &mut Counter) {
    let (two, single) = (&FIXED_COMPENSATED, &SINGLE_COMPENSATED);
    let both = inputs(|code, t| two.reading(code, t, t), &FIXED[1]);
    let [cold, hot] = [i32::MIN, i32::MAX].map(Temperature::from_bits);
    let (code, t) = both[0];
    let worst = &[(code, cold), (code, hot), (i32::MIN, t), (i32::MAX, cold), (i32::MAX, hot)];
    Cost::told(counter, "fixed_compensated", two, fixed_compensated, &both, worst);
    Cost::told(counter, "fixed_compensated_at", two, fixed_compensated_at, &both, worst);
    Cost::told(counter, "f32_compensated", single, f32_compensated, &both, worst);
    Cost::told(counter, "f32_compensated_at", single, f32_compensated_at, &both, worst);
}

/// The way to three strains from two numbers is in the count, in `f32` with its three conversions.
fn tell_rosettes(counter: &mut Counter) {
    let mut random = Random(5);
    let samples: Inputs = core::array::from_fn(|_| {
        (
            random.between(-170_000_000, 170_000_000),
            Temperature::from_bits(random.between(-170_000_000, 170_000_000)),
        )
    });
    let (code, t) = samples[0];
    let (fixed, single) = (&ROSETTE_FIXED, &ROSETTE_SINGLE);
    let state = &fixed.reading(fixed_grids(code, t)).strain;
    let single_state = &single.reading(single_grids(code, t)).strain;
    let worst = &[(i32::MIN, Temperature::from_bits(i32::MAX))];
    Cost::told(counter, "rosette_fixed", fixed, rosette_fixed, &samples, worst);
    Cost::told(counter, "rosette_fixed_principal", state, rosette_fixed_principal, &samples, worst);
    Cost::told(counter, "rosette_f32", single, rosette_f32, &samples, worst);
    Cost::told(counter, "rosette_f32_principal", single_state, rosette_f32_principal, &samples, worst);
}

/// A word, a register, and samples corrected at the newest point of a queue: one at a time, and a block where it lies.
fn tell_acquisition(counter: &mut Counter) {
    let (wide, none) = (&FIXED[0], [(0, Temperature::from_bits(0)); 32]);
    Cost::of_peer(counter, &RECEIVED, word, &none).tell("word", size_of_val(&RECEIVED.word), None);
    let mut random = Random(6);
    let registers: Inputs =
        core::array::from_fn(|_| (random.between(-1_280, 2_000), Temperature::from_bits(0)));
    Cost::told(counter, "temperature_register", &REGISTER, temperature_register, &registers, &[]);

    let t = Temperature::from_bits(60 << 20);
    let point = wide.at(t);
    let samples = inputs(|code, _| point.reading(code), wide);
    let mut queue = PointQueue::new();
    let (_points, corrector) = queue.split(point, u32::MAX);
    let correcting = Correcting { corrector: RefCell::new(corrector), block: RefCell::new([0; BLOCK]) };
    let corrector = &correcting.corrector;
    Cost::told(counter, "corrector_reading", corrector, corrector_reading, &samples, &[(i32::MIN, t)]);
    let cost = Cost::in_place(counter, &correcting, corrector_block, || {
        let mut random = Random(4);
        let mut block = correcting.block.borrow_mut();
        block.fill_with(|| clear_input(|code, _| point.reading(code), wide, &mut random).0);
    });
    cost.tell("corrector_block", size_of_val(&correcting.corrector), None);
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
    Cost::told(counter, "fixed_linear", &point, fixed_linear, &samples, &[]);
    if let Some(linear) = point.linear() {
        let cost = Cost::of(counter, &linear, fixed_point_linear, &LINEAR_KERNEL);
        cost.tell("fixed_point_linear", size_of_val(&linear), None);
    }
    let cost = Cost::of(counter, &ROOMY, fixed_reading_any, wide);
    cost.tell("fixed_reading_any", size_of_val(&ROOMY), None);
    let off = errors(|which, code, t| SINGLE[which].reading(code, t).strain.into());
    Cost::of(counter, single, f32_reading, wide).tell("f32_reading", size_of_val(single), off);
    Cost::of(counter, single, f32_at, wide).tell("f32_at", size_of_val(single), None);
    let off = errors(|which, code, t| SINGLE[which].at(t).reading(code).strain.into());
    let point = single.at(t);
    Cost::of(counter, &point, f32_point, wide).tell("f32_point", size_of_val(&point), off);

    tell_compensated(counter);
    tell_rosettes(counter);
    tell_thermometers(counter);
    tell_acquisition(counter);

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

    macro_rules! block {
        ($path:ident, $peer:expr, $blank:expr) => {{
            let mut random = Random(4);
            let input = || clear_input(|code, t| wide.reading(code, t), wide, &mut random);
            let cost = Cost::of_block(counter, ($peer, $path), $blank, |_| (), &[], input);
            cost.tell(stringify!($path), size_of_val($peer), None);
        }};
    }
    block!(peer_naive_double_block, &NaiveDouble::new(&WIDE), 0.0);
    block!(peer_naive_single_block, &NaiveSingle::new(&WIDE), 0.0);
    block!(peer_table_block, &Table::new(&WIDE), 0);
}
