//! Trimloft held against the outside: the library's files as other programs read them, and the
//! program as a user runs it.

mod common;

mod asked;
mod bowed_edge;
mod centre_coverage;
mod centre_pattern;
mod cli;
mod contour_areas;
mod cuts;
mod cutter;
mod development;
mod front_page;
mod full_size_in_pdf;
mod full_size_in_svg;
mod gallery;
mod inches;
mod keys_page;
mod kit;
mod letters;
mod marks_by_role;
mod mutated;
mod odd_input;
mod one_acceptance;
mod orientation;
mod overlaps;
mod pages_are_the_papers;
mod papers;
mod parts;
mod photographed;
mod read_out;
mod readme;
mod rooms;
mod same_input_same_bytes;
mod samples;
mod scanned_sheets;
mod schema;
#[cfg(unix)]
mod serve;
mod sheets_give_back_the_cut_line;
mod spoiled;
mod which;
