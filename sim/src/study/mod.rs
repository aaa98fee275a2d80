//! Published studies as data, run on the real model.
