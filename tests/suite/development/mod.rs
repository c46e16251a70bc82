//! Patterns of panels that lean and curve: what is cut lets a straight part through.

mod outlines;
mod read;
mod round_trip;
mod sheet;
mod thick;

/// A fascia of 1,400 x 500 mm seen from behind, with this surface and these tables.
fn fascia(thickness: f64, surface: &str, tables: &str) -> String {
    format!(
        "format = 1\n[pattern]\nnumber = \"T-1\"\ntitle = \"Test\"\n[panel]\nname = \"Fascia\"\n\
         width = 1400\nheight = 500\nthickness = {thickness}\ndatum_edge = \"down\"\n\
         seen_from = \"behind\"\npage_up = \"up\"\n[panel.surface]\n{surface}\n{tables}"
    )
}

/// A clearance of `gap` and nothing else.
fn only_gap(gap: f64) -> String {
    format!("[clearance]\ngap = {gap}\nposition = 0\nmarking = 0\ncutting = 0\nprint = 0\n")
}
