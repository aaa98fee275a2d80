//! The small folds that outcomes are made of: one number grown day by day.

/// The largest value so far; 0 before the first.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Peak(f64);

impl Peak {
    pub(super) fn take(&mut self, value: f64) {
        self.0 = self.0.max(value);
    }

    pub(super) fn value(self) -> f64 {
        self.0
    }
}

/// The smallest value so far; 0 where there was none.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Low(Option<f64>);

impl Low {
    pub(super) fn take(&mut self, value: f64) {
        self.0 = Some(self.0.map_or(value, |low| low.min(value)));
    }

    pub(super) fn value(self) -> f64 {
        self.0.unwrap_or(0.0)
    }
}

/// The mean of what was taken; 0 where nothing was.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Mean {
    sum: f64,
    count: u32,
}

impl Mean {
    pub(super) fn take(&mut self, value: f64) {
        self.sum += value;
        self.count += 1;
    }

    pub(super) fn value(self) -> f64 {
        if self.count == 0 { 0.0 } else { self.sum / f64::from(self.count) }
    }
}

/// The first and the last value.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Ends {
    first: Option<f64>,
    last: f64,
}

impl Ends {
    pub(super) fn take(&mut self, value: f64) {
        self.first.get_or_insert(value);
        self.last = value;
    }

    pub(super) fn last(self) -> f64 {
        self.last
    }

    pub(super) fn change(self) -> f64 {
        self.last - self.first.unwrap_or(self.last)
    }
}
