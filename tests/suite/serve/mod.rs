//! A folder served, from the outside: requests on the wire, files in the folder.

mod asked;
mod gate;
mod held;
mod many_hands;
mod picture;
mod prints;
mod random;
mod served;
