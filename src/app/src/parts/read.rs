//! Reading what was typed: to a value, or to a sentence that says what is wrong and what would be right.

pub use season::typed::*;
