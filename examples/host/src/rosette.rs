//! What a channel file says of rosettes.

use crate::channel_file::rosette::{Layout, Rosette};
use crate::channel_file::{ChannelFile, Description, Problem};
use crate::contradictions::{MICROSTRAIN, uncertainty_not_in_millionths};
use crate::describe::gauge;
use crate::figures::ends;
use crate::keys::told_of_rosette;
use crate::setup::{NOT_A_NAME, is_name};
use gaugewright::rosette::{self, GridUncertainty, PlaneStrain, Residual, StrainEstimate};
use gaugewright::units::{Degrees, Microstrain};

/// Declared where a grid's channel states no limit: the whole format of a strain.
const WIDEST: f64 = 125_000.0;

/// What the strains of a rosette's grids are together.
#[derive(Clone, Copy)]
pub struct Combined {
    pub strain: PlaneStrain<f64>,
    /// Where an uncertainty is stated.
    pub estimate: Option<StrainEstimate<f64>>,
    /// Of four grids and more whose uncertainty is stated.
    pub residual: Option<Residual<f64>>,
}

/// From the strains of the grids, plain ratios, in the order of the rosette's channels.
pub type Combine = Box<dyn Fn(&[f64]) -> Combined + Send + Sync>;

/// Every problem of the file's rosettes.
pub fn problems(file: &ChannelFile) -> Vec<Problem> {
    let mut problems = Vec::new();
    for (place, words) in file.rosettes.iter().enumerate() {
        let mut problem = |text: String| {
            let text = format!("rosette {:?}: {text}", words.name);
            problems.push(Problem { line: Some(words.line), channel: None, text });
        };
        if !is_name(&words.name) {
            problem(NOT_A_NAME.to_string());
        }
        if file.rosettes[..place].iter().any(|other| other.name == words.name) {
            problem("another rosette has this name".to_string());
        }
        if file.channels.iter().any(|channel| channel.name == words.name) {
            problem("a channel has this name".to_string());
        }
        if let Err(text) = combine(words, &file.channels) {
            problem(text);
        }
    }
    problems
}

/// Of a rosette that states an uncertainty, the ones that it does not state, which are taken as exact.
pub fn not_stated(words: &Rosette) -> Vec<&'static str> {
    let inputs = [
        (words.grid_uncertainty_microstrain, "strains of the grids"),
        (words.angle_uncertainty_degrees, "angles of the grids"),
        (words.alignment_uncertainty_degrees, "alignment"),
    ];
    let is_any = inputs.iter().any(|(stated, _)| stated.is_some());
    inputs.into_iter().filter(|(stated, _)| is_any && stated.is_none()).map(|(_, name)| name).collect()
}

/// What makes a state of strain of a rosette's grids.
///
/// # Errors
/// What the file says twice or not at all, and what the library refuses.
pub fn combine(words: &Rosette, channels: &[Description]) -> Result<Combine, String> {
    match words.channels.len() {
        2 => combine_grids::<2>(words, channels),
        3 => combine_grids::<3>(words, channels),
        4 => combine_grids::<4>(words, channels),
        5 => combine_grids::<5>(words, channels),
        6 => combine_grids::<6>(words, channels),
        _ => Err("channels has two to six names".to_string()),
    }
}

fn combine_grids<const N: usize>(words: &Rosette, channels: &[Description]) -> Result<Combine, String> {
    let told = |error| told_of_rosette(words, error);
    let key = "grid_uncertainty_microstrain";
    let slip =
        words.grid_uncertainty_microstrain.and_then(|it| uncertainty_not_in_millionths(key, MICROSTRAIN, it));
    if let Some(text) = slip {
        return Err(text);
    }
    let (rosette, _) = rosette::<N>(words, channels)?;
    let kernel = rosette.try_float64().map_err(told)?;
    let (grid, angle, whole) = (
        words.grid_uncertainty_microstrain,
        words.angle_uncertainty_degrees,
        words.alignment_uncertainty_degrees,
    );
    let grids = GridUncertainty::independent([Microstrain(grid.unwrap_or(0.0)); N]).map_err(told)?;
    let angles = rosette
        .angle_uncertainty([Degrees(angle.unwrap_or(0.0)); N], Degrees(whole.unwrap_or(0.0)))
        .map_err(told)?;
    let covariance = grid.or(angle).or(whole).map(|_| kernel.covariance(&grids));
    let check = grid.filter(|_| N > 3).map(|_| rosette.residual_check(&grids)).transpose().map_err(told)?;
    Ok(Box::new(move |strains| {
        let strains: [f64; N] = std::array::from_fn(|grid| strains[grid]);
        let strain = kernel.strain(strains);
        Combined {
            strain,
            estimate: covariance.map(|of_grids| strain.estimate(&(of_grids + angles.covariance(&strain)))),
            residual: check.map(|check| check.largest(strains)),
        }
    }))
}

/// The rosette, and the largest strain that its grids are declared for.
///
/// # Errors
/// As [`combine`], and where the file has another number of grids.
pub fn rosette<const N: usize>(
    words: &Rosette,
    channels: &[Description],
) -> Result<(rosette::Rosette<N>, Microstrain), String> {
    let grids = grids(words, channels)?;
    let angles: Vec<Degrees> = angles(words)?.into_iter().map(Degrees).collect();
    let gauges: Vec<_> = grids.iter().map(|grid| gauge(&grid.gauge)).collect();
    let (Ok(angles), Ok(gauges)) = (angles.try_into(), gauges.try_into()) else {
        return Err(format!("has {} grids, not {N}", grids.len()));
    };
    let rosette = rosette::Rosette::<N>::at_angles(angles).gauges(&gauges);
    let limits = grids.iter().map(|grid| grid.strain_within_microstrain.unwrap_or(WIDEST));
    let within = Microstrain(limits.fold(0.0, f64::max));
    rosette.fixed_error(within).map_err(|error| told_of_rosette(words, error))?;
    Ok((rosette, within))
}

/// Of the grids, in degrees.
///
/// # Errors
/// Where the file states none, or twice, or not as many as grids.
pub fn angles(words: &Rosette) -> Result<Vec<f64>, String> {
    let angles = match (words.layout, &words.angles_degrees) {
        (Some(Layout::Rectangular), None) => {
            rosette::Rosette::rectangular().angles().map(|angle| angle.0).to_vec()
        }
        (Some(Layout::Delta), None) => rosette::Rosette::delta().angles().map(|angle| angle.0).to_vec(),
        (None, Some(angles)) => angles.clone(),
        _ => return Err("needs one of layout and angles_degrees".to_string()),
    };
    if angles.len() != words.channels.len() {
        return Err(format!("has {} channels and {} angles", words.channels.len(), angles.len()));
    }
    let (low, high) = ends(angles.iter().copied());
    if high - low > 0.0 && high - low <= std::f64::consts::TAU {
        return Err(format!(
            "angles_degrees is {angles:?}: all grids lie within {:.3} degrees, which is no rosette; angles in radians would be {:.1?} \
             degrees",
            high - low,
            angles.iter().map(|angle| angle.to_degrees()).collect::<Vec<_>>()
        ));
    }
    Ok(angles)
}

/// The channels of the grids.
///
/// # Errors
/// For a name that no channel has, for one that stands there twice, and for a channel that corrects for transverse sensitivity itself.
pub fn grids<'a>(words: &Rosette, channels: &'a [Description]) -> Result<Vec<&'a Description>, String> {
    let mut grids: Vec<&Description> = Vec::new();
    for name in &words.channels {
        let channel = channels.iter().find(|channel| channel.name == *name);
        let channel = channel.ok_or_else(|| format!("no channel is named {name:?}"))?;
        if grids.iter().any(|grid| grid.name == *name) {
            return Err(format!("channels has {name:?} twice"));
        }
        if channel.strain_ratio.is_some() {
            return Err(format!("channel {name:?} has a strain_ratio, and a rosette finds it"));
        }
        grids.push(channel);
    }
    Ok(grids)
}
