//! The sun: sunrise, sunset and day length.
