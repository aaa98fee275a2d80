//! The lawn: its state and its processes.
