//! Shape families: parameters, expressions, outline.
