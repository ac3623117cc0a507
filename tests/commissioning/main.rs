//! Expansion, matching, prediction, fits and significance.

mod chamber_run;
mod expansion;
mod fit;
mod fit_bad_input;
mod matching;
mod prediction;
mod significance;
mod significance_bad_input;
mod significance_data;
mod significance_search;
mod student;
