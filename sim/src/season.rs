//! The loop over days: the only place that knows both program and lawn.
