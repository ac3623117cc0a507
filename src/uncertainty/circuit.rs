//! What inputs of the circuit do to its signal.

use super::input::Input;
use super::inputs::StandardUncertainties;
use crate::channel::{Bridge, Source};
use crate::error::Error;
use crate::kernel::model::ChannelModel;
use crate::units::Ratio;

/// The inputs that are in the circuit.
pub(super) const CIRCUIT: [Input; 7] = [
    Input::LeadResistance,
    Input::LeadTemperature,
    Input::PoissonRatio,
    Input::Ratio,
    Input::Noise,
    Input::Quantisation,
    Input::BalanceNoise,
];

/// By how much a signal `y` moves with one standard uncertainty more of each: `a + b y + c y^2`, in the order of
/// [`CIRCUIT`].
///
/// The map is `y = g x / (1 - h x)` for a change of ratio `x`. At the same `x` a change of its constants moves it by
/// `y dg / g + y^2 dh / g`; a change of `x` itself by `g (1 + y h / g)^2 dx`.
pub(super) fn rows(
    inputs: &StandardUncertainties,
    model: &ChannelModel,
) -> Result<[[f64; 3]; CIRCUIT.len()], Error> {
    let channel = &inputs.channel;
    let (gain, bend) = (model.map.gain, model.map.bend());
    let moved = [gain, 2.0 * gain * bend, gain * bend * bend];
    let [mut lead, mut warm, mut poisson, mut at_balance] = [[0.0; 3]; 4];
    if let Source::Codes(bridge, _) = channel.source {
        let through = |low: Bridge, high: Bridge, r: (f64, f64), apart: f64| -> Result<[f64; 3], Error> {
            let (low, high) = (low.map(Ratio(r.0))?, high.map(Ratio(r.1))?);
            Ok([0.0, (high.gain - low.gain) / apart / gain, (high.curvature - low.curvature) / apart / gain])
        };
        let r = model.at_balance;
        // Steps of a ten-thousandth: what is left of third order is a hundred-millionth.
        let step = 1e-4 * bridge.gauge;
        let with = |lead: f64| Bridge { lead, ..bridge };
        let low = (bridge.lead - step).max(0.0);
        let high = bridge.lead + step;
        lead = through(with(low), with(high), (r, r), high - low)?;
        let with = |poisson: f64| Bridge { poisson, ..bridge };
        poisson = through(with(bridge.poisson - 1e-4), with(bridge.poisson + 1e-4), (r, r), 2e-4)?;
        at_balance = through(bridge, bridge, (r - 1e-5, r + 1e-5), 2e-5)?;
        warm = warmed(&bridge, r)?;
    }
    let scaled = |row: [f64; 3], by: f64| row.map(|element| element * by);
    let uncertain = |input: Input| inputs.standard(input);
    // With the ratio of a code that of the unbalance changes too.
    let ratio = {
        let unbalance = scaled(at_balance, model.at_balance);
        [0.0, 1.0 + unbalance[1], bend + unbalance[2]]
    };
    let tare = [-moved[0], at_balance[1] - moved[1], at_balance[2] - moved[2]];
    Ok([
        scaled(lead, uncertain(Input::LeadResistance)),
        scaled(warm, uncertain(Input::LeadTemperature)),
        scaled(poisson, uncertain(Input::PoissonRatio)),
        scaled(ratio, uncertain(Input::Ratio)),
        scaled(moved, uncertain(Input::Noise) * model.step),
        scaled(moved, uncertain(Input::Quantisation) * model.step),
        scaled(tare, uncertain(Input::BalanceNoise) * model.step),
    ])
}

/// For a degree: the change of the map, less what the change of ratio at rest looks like.
fn warmed(bridge: &Bridge, at_balance: f64) -> Result<[f64; 3], Error> {
    let leads = |rise: f64| bridge.on_other_leads(&bridge.with_warm_leads(rise), Ratio(at_balance));
    let ((map, colder, cold), (_, warmer, warm)) = (leads(-1.0)?, leads(1.0)?);
    let half = |high: f64, low: f64| (high - low) / 2.0;
    let (signal, bend) = (map.gain * half(warmer, colder), map.bend());
    Ok([
        -signal,
        half(warm.gain, cold.gain) / map.gain - 2.0 * bend * signal,
        half(warm.curvature, cold.curvature) / map.gain - bend * bend * signal,
    ])
}
