//! Bands and outcomes in, pictures out.
