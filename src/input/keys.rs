//! What a file may hold, as data: each table of it with its keys, each key once.
//!
//! The readers, the schema for editors and the page of keys all follow these tables. A table stands
//! with the struct that is read from it.

/// Kilograms in an avoirdupois pound, exactly (NIST SP 811, appendix B.8).
pub const POUND: f64 = 0.453_592_37;

/// A table of a file, or the file itself.
#[derive(Debug)]
pub struct Keys {
    /// What it is for.
    pub about: &'static str,
    /// Its keys, in the order that messages list them.
    pub keys: &'static [Key],
    /// Keys of which one alone may be given, each with those that go with it.
    pub ways: Option<&'static Ways>,
}

/// One key.
#[derive(Debug)]
pub struct Key {
    /// As files write it.
    pub name: &'static str,
    /// What it is for, a plain sentence; blanks at its ends don't count.
    pub about: &'static str,
    /// What may stand there.
    pub kind: Kind,
    /// Whether it must be there.
    pub need: Need,
}

/// Whether a key must be there.
#[derive(Debug, Clone, Copy)]
pub enum Need {
    /// It must.
    Required,
    /// It may be left out.
    Optional,
    /// It may be left out, and this then stands for it, in the unit of its kind.
    Default(fn() -> String),
}

/// Keys of which one alone may be given.
#[derive(Debug)]
pub struct Ways {
    /// All of them.
    pub each: &'static [Way],
    /// What is wrong where none is given; `None` where none need be.
    pub none: Option<&'static str>,
    /// What is wrong where two are: what comes before their names.
    pub two: &'static str,
    /// What to do.
    pub hint: &'static str,
}

/// One of such keys.
#[derive(Debug)]
pub struct Way {
    /// Its name.
    pub key: &'static str,
    /// Keys that must stand beside it.
    pub needs: &'static [&'static str],
    /// Keys that may.
    pub may: &'static [&'static str],
}

impl Way {
    /// Whether a key goes with it.
    pub(super) fn takes(&self, key: &str) -> bool {
        self.needs.contains(&key) || self.may.contains(&key)
    }
}

/// What may stand at a key. Ranges hold their ends.
#[derive(Debug, Clone, Copy)]
pub enum Kind {
    /// The number of the format, 1.
    Format,
    /// A line of text.
    Text,
    /// A line of text that is not blank.
    FilledText,
    /// A word that can name a file anywhere, or nothing.
    Word,
    /// A word that can name a file anywhere.
    FilledWord,
    /// A word that names of files begin with.
    HeadWord,
    /// A day of the calendar.
    Date,
    /// `true` or `false`.
    YesOrNo,
    /// One of a few words; the second knows what may be meant by some others.
    Choice(fn() -> Vec<&'static str>, fn(&str) -> Option<String>),
    /// A name that some table of the program holds.
    Known(&'static Known),
    /// A length: least and greatest, mm.
    Length(f64, f64),
    /// A length that names a thing: least and greatest, mm.
    TradeSize(f64, f64),
    /// An angle: least and greatest, degrees.
    Angle(f64, f64),
    /// A distance with its side.
    Offset,
    /// A shape's value: a length or an angle.
    ShapeValue,
    /// A finding's value: a plain number, a length or a percentage.
    FindingValue,
    /// Arithmetic on a shape's parameters.
    Expression,
    /// A torque: least and greatest, N m.
    Torque(f64, f64),
    /// Another number: least and greatest, in the quantity's unit.
    Number(&'static Quantity, f64, f64),
    /// Two lengths.
    Pair(&'static Pair),
    /// A list.
    List(&'static List),
    /// A table.
    Table(&'static Keys),
    /// A list of tables, with the fewest and the most.
    Tables(&'static Keys, usize, usize),
    /// A table of a shape's values, under the names of its parameters.
    Values,
    /// A table of tables under names that the file chooses, with the most.
    Named(&'static Keys, usize),
}

/// Names that some table of the program holds.
#[derive(Debug)]
pub struct Known {
    /// The names.
    pub names: fn() -> Vec<&'static str>,
    /// Refuses a name that is not among them, with what to do.
    pub find: fn(&str) -> Result<(), (String, String)>,
}

/// A quantity that is no length and no angle.
#[derive(Debug)]
pub struct Quantity {
    /// What it is called, with its article.
    pub name: &'static str,
    /// Its unit, after a blank; empty for a plain number.
    pub unit: &'static str,
    /// How it is written.
    pub hint: &'static str,
    /// Which bare numbers are taken.
    pub bare: Bare,
    /// Units of texts, each with how many of `unit` it is; empty where only numbers are taken.
    pub units: &'static [(&'static str, f64)],
    /// How many of `unit` are one of what the program calculates with.
    pub divisor: f64,
    /// What to do about a number out of range.
    pub beyond: Option<&'static str>,
}

/// Bare numbers of a quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bare {
    /// Any.
    Any,
    /// Whole ones.
    Whole,
    /// None but 0.
    Zero,
}

/// Two lengths that belong together.
#[derive(Debug)]
pub struct Pair {
    /// What they are.
    pub each: &'static str,
    /// Least and greatest of the first, mm.
    pub first: (f64, f64),
    /// Least and greatest of the second, mm.
    pub second: (f64, f64),
    /// How a list of them is written.
    pub example: &'static str,
}

/// A list.
#[derive(Debug)]
pub struct List {
    /// What its items are called.
    pub of: &'static str,
    /// What may stand there.
    pub kind: Kind,
    /// The fewest.
    pub least: usize,
    /// The most.
    pub most: usize,
    /// How it is written.
    pub example: &'static str,
    /// What to do about too few or too many.
    pub wrong_count: Option<&'static str>,
}

/// A whole number, also as things are counted: `4 ×`.
pub(super) static COUNT: Quantity = Quantity {
    name: "a whole number",
    unit: "",
    hint: "write it with digits, without quotes",
    bare: Bare::Whole,
    units: &[("x", 1.0), ("X", 1.0)],
    divisor: 1.0,
    beyond: None,
};

/// A share, held as such and written in percent: bare, 0.3 could be meant either way.
pub(super) static SHARE: Quantity = Quantity {
    name: "a percentage",
    unit: " %",
    hint: "write it with its sign: `\"0.3 %\"`",
    bare: Bare::Zero,
    units: &[("%", 1.0)],
    divisor: 100.0,
    beyond: None,
};

/// A temperature.
pub(super) static TEMPERATURE: Quantity = Quantity {
    name: "a temperature",
    unit: " degC",
    hint: "write `\"20 degC\"`, or a bare number of degrees Celsius",
    bare: Bare::Any,
    units: &[("degC", 1.0), ("°C", 1.0), ("℃", 1.0)],
    divisor: 1.0,
    beyond: None,
};

/// A mass.
pub(super) static MASS: Quantity = Quantity {
    name: "a mass",
    unit: " kg",
    hint: "write `18 kg`, `40 lb`, or a bare number of kilograms",
    bare: Bare::Any,
    units: &[("kg", 1.0), ("lbs", POUND), ("lb", POUND)],
    divisor: 1.0,
    beyond: None,
};

/// A linear expansion.
pub(super) static EXPANSION: Quantity = Quantity {
    name: "a number",
    unit: " millionths per K",
    hint: "write a bare number of millionths per K",
    bare: Bare::Any,
    units: &[],
    divisor: 1.0,
    beyond: None,
};

/// What a printer makes of a length.
pub(super) static SCALE: Quantity = Quantity {
    name: "a scale",
    unit: "",
    hint: "write what was read over what was drawn: `0.994`",
    bare: Bare::Any,
    units: &[],
    divisor: 1.0,
    beyond: Some("more is the print dialog, not the printer: print at actual size and read again"),
};

/// A list of a few lines of text.
pub(super) const fn texts(of: &'static str, kind: Kind, most: usize) -> List {
    List {
        of,
        kind,
        least: 0,
        most,
        example: "write `[\"one\", \"two\"]`",
        wrong_count: None,
    }
}
