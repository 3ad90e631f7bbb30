//! Random bits for ids.

/// 128 random bits; all zero if the browser gives none, which it always does.
pub fn bits() -> u128 {
    let mut bytes = [0; 16];
    match getrandom::fill(&mut bytes) {
        Ok(()) => u128::from_le_bytes(bytes),
        // Math.random is in every browser; ids only need to differ.
        Err(_) => [1_u128, 2, 3].iter().fold(0, |bits, _| {
            (bits << 42) ^ ((js_sys::Math::random() * 4e12) as u128)
        }),
    }
}
