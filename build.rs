//! Makes cargo look at the materials: they are compiled in as they stand, and a new file would otherwise go unseen.

fn main() {
    println!("cargo::rerun-if-changed=materials");
}
