//! The typeface: letter widths, outlines, and which letters it has.
