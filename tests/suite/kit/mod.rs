//! Kits issued by the program, held against the outside: what is on the disk, whole or not at all.

pub mod bench;
mod hostile;
mod interrupted;
mod issued;
mod outside;
mod shared;
mod take_over;
