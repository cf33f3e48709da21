//! From what was weighed, read and titrated to the figures of the house: its melt, its syrups and juices, its
//! hand, each with what is not known of it.

pub mod regression;
