//! Practices, cues, holds and slips: a morning's signs become acts.
