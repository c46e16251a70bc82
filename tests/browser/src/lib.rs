//! The page in a real browser, driven as a person drives it: by what stands on it, by touch and by
//! keys, on a desktop and on a phone.
//!
//! Run by `.ci/run`, which names the program, the browser and axe-core's file:
//! `TRIMLOFT`, `CHROMIUM` and `AXE`.

#![cfg(test)]

mod answers;
mod hands;
mod keyboard;
mod stage;
mod way;
