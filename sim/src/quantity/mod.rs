//! Units: text to SI and back. A leaf that everyone may use.
