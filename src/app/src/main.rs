//! The program that the page loads.

fn main() {
    screens::run();
}
