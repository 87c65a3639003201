//! The statistics of the shop, held against published tables, examples and properties.

#[cfg(test)]
mod capability;
#[cfg(test)]
mod charts;
#[cfg(test)]
mod described;
#[cfg(test)]
mod figures;
#[cfg(test)]
mod gauge;
#[cfg(test)]
mod published;
#[cfg(test)]
mod tables;
#[cfg(test)]
mod tolerance;
#[cfg(test)]
mod variables;
