//! Before a channel measures: choosing the gauge, predicting or measuring its thermal output and gauge factor, and
//! finding out which corrections matter.

pub mod expansion;
pub mod fit;
pub mod matching;
pub mod prediction;
pub mod significance;
