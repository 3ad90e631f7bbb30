//! The project's native tool.
fn main() {}
