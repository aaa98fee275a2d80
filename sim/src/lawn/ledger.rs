//! The account of water, nitrogen and carbon: stores change only through moves that it sees.

use serde::{Deserialize, Serialize};

use super::state::Pool;

/// The account of one substance over one track, in mm of water or g/m2 of nitrogen or carbon:
/// `stored_change = entered - left` up to rounding.
#[derive(Clone, Copy, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Account {
    /// All that came in.
    pub entered: f64,
    /// All that went out.
    pub left: f64,
    /// Stock at the end less stock at the start.
    pub stored_change: f64,
    /// The worst daily |stored change - entered + left|.
    pub worst_day: f64,
}

/// One substance's book for one track; every amount in mm of water, or g/m2 of nitrogen or carbon.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Book {
    entered: f64,
    left: f64,
    first_stock: f64,
    last_stock: f64,
    day_entered: f64,
    day_left: f64,
    worst_day: f64,
    worst_share: f64,
}

impl Book {
    /// Adds `amount` (not below 0) from outside to a store.
    #[inline]
    pub fn enter(&mut self, store: &mut f64, amount: f64) {
        let amount = amount.max(0.0);
        *store += amount;
        self.day_entered += amount;
    }

    /// Takes up to `amount` out of a store and out of the lawn; returns what really left.
    #[inline]
    pub fn leave(&mut self, store: &mut f64, amount: f64) -> f64 {
        let amount = amount.clamp(0.0, store.max(0.0));
        *store -= amount;
        self.day_left += amount;
        amount
    }

    /// What passes through without touching a store (rain that runs off at once).
    #[inline]
    pub fn pass(&mut self, amount: f64) {
        self.day_entered += amount;
        self.day_left += amount;
    }

    /// Opens the account with today's stock.
    pub fn open(&mut self, stock: f64) {
        *self = Book { first_stock: stock, last_stock: stock, ..Book::default() };
    }

    /// Closes a day with the evening's stock, and notes how far it is from balance.
    pub fn close_day(&mut self, stock: f64) {
        let residual = (stock - self.last_stock - self.day_entered + self.day_left).abs();
        let scale = stock.abs() + self.day_entered + self.day_left;
        // `f64::max` would drop a NaN, and with it the news.
        let residual = if residual.is_nan() { f64::INFINITY } else { residual };
        self.worst_day = self.worst_day.max(residual);
        if scale > 0.0 {
            self.worst_share = self.worst_share.max(residual / scale);
        }
        self.entered += self.day_entered;
        self.left += self.day_left;
        self.day_entered = 0.0;
        self.day_left = 0.0;
        self.last_stock = stock;
    }

    /// The worst daily residual as a share of stock and throughput.
    pub fn worst_share(&self) -> f64 {
        self.worst_share
    }

    /// The account so far.
    pub fn account(&self) -> Account {
        Account {
            entered: self.entered,
            left: self.left,
            stored_change: self.last_stock - self.first_stock,
            worst_day: self.worst_day,
        }
    }
}

/// Moves up to `amount` (not below 0) from one store to another; returns what moved.
#[inline]
pub fn shift(from: &mut f64, to: &mut f64, amount: f64) -> f64 {
    let amount = amount.clamp(0.0, from.max(0.0));
    *from -= amount;
    *to += amount;
    amount
}

/// The three books.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Ledger {
    /// mm.
    pub water: Book,
    /// g N/m2.
    pub nitrogen: Book,
    /// g C/m2.
    pub carbon: Book,
}

impl Ledger {
    /// Enters what plants bring from outside, g/m2; they hold it themselves.
    pub fn bring_in(&mut self, brought: Pool) {
        let (mut carbon, mut nitrogen) = (0.0, 0.0);
        self.carbon.enter(&mut carbon, brought.c);
        self.nitrogen.enter(&mut nitrogen, brought.n);
    }
}
