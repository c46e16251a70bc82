//! The program as a user runs it: status, stdout, stderr and files.
//!
//! 0: done, 1: a definition or a file falls short, 2: wrong usage. Results stand on stdout,
//! everything else on stderr.

mod centre;
mod check_and_shapes;
mod compare;
mod draw;
mod families;
mod folders;
mod json;
mod measuring_sheet;
mod new;
mod outright;
mod parts;
mod scale;
mod sheets;
mod streams;
mod unreadable;
mod verify;
