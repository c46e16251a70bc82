//! The solved pattern: outlines on the panel, and every finding.
