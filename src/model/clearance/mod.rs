//! How far a part and the edge of its opening must stand apart, and why.
//!
//! Each side gets `gap + thermal + combine(position, centre, marking, cutting, print)`: the gap
//! that shall remain, a known movement, and what may go wrong by chance. All of them are
//! half-widths in mm, `centre` an expanded uncertainty: the true value lies within so much to either side.

mod budget;
mod each_way;
mod term;

pub use budget::{Budget, Combine, Kind, Row};
pub use each_way::EachWay;
pub use term::{
    INCH_DECIMALS, MM_DECIMALS, PRINTER_ERROR, Reason, SCALE_ERROR, Temperatures, Term,
    accepted_readings, accepted_readings_in_words, centre_term, default_cutting, default_gap,
    default_marking, default_position, print_term, thermal_term,
};
