//! The door: arguments in, files and words out; no science.
fn main() {}
