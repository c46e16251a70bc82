//! What was read from a key turned into a field of a struct, and structs that say their own keys.

use super::got::{Field, Got};
use super::problem::Placed;
use super::reading::Reading;
use super::value::Value;
use crate::base::fixed;
use crate::base::length::Offset;
use crate::input::value::Torque;
use std::collections::BTreeMap;

/// Fields that hold what was read as it is.
macro_rules! plain {
    ($($type:ty, $got:ident, $absent:expr;)+) => { $(
        impl Field for $type {
            fn of(got: &Placed<Got>, _: &Reading<'_>) -> Option<Self> {
                match &got.value {
                    Got::$got(value) => Some(value.clone()),
                    _ => None,
                }
            }
            fn absent() -> Option<Self> {
                $absent
            }
        }
    )+ };
}

plain! {
    bool, Yes, Some(false);
    f64, Number, None;
    String, Text, Some(String::new());
    Value, Value, None;
    Offset, Offset, None;
    Torque, Torque, None;
    (f64, f64), Pair, None;
    (f64, String), Named, None;
}

impl Field for u32 {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        f64::of(got, reading).map(|whole| whole as Self)
    }
}

impl<T: Field> Field for Placed<T> {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        Some(Self {
            value: T::of(got, reading)?,
            span: got.span.clone(),
        })
    }
}

impl<T: Field> Field for Option<T> {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        T::of(got, reading).map(Some)
    }
    fn absent() -> Option<Self> {
        Some(None)
    }
}

impl<T: Field> Field for Vec<T> {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        match &got.value {
            Got::List(items) => Some(
                items
                    .iter()
                    .filter_map(|item| T::of(item, reading))
                    .collect(),
            ),
            _ => None,
        }
    }
    fn absent() -> Option<Self> {
        Some(vec![])
    }
}

impl Field for BTreeMap<String, Placed<Value>> {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        let Got::Free(values) = &got.value else {
            return None;
        };
        let values = values
            .iter()
            .filter_map(|(name, value)| Some((name.value.clone(), Field::of(value, reading)?)));
        Some(values.collect())
    }
    fn absent() -> Option<Self> {
        Some(Self::new())
    }
}

/// A default as the page of keys and the schema show it.
pub(super) trait Told {
    /// In words of the file.
    fn told(&self) -> String;
}

impl Told for f64 {
    fn told(&self) -> String {
        fixed(*self, 3)
    }
}

impl Told for u32 {
    fn told(&self) -> String {
        self.to_string()
    }
}

/// Enums with `ALL` and `word`, read from one of their words.
macro_rules! choices {
    ($($type:ty),+ $(,)?) => { $(
        impl $crate::input::got::Field for $type {
            fn of(
                got: &$crate::input::Placed<$crate::input::got::Got>,
                _: &$crate::input::reading::Reading<'_>,
            ) -> Option<Self> {
                let $crate::input::got::Got::Text(text) = &got.value else {
                    return None;
                };
                Self::ALL.into_iter().find(|choice| choice.word() == text)
            }
        }
        impl $crate::input::field::Told for $type {
            fn told(&self) -> String {
                self.word().into()
            }
        }
    )+ };
}

/// The kind of a key that takes a word of this enum; for others a hint may know what is meant.
macro_rules! choice {
    ($type:ty) => {
        choice!($type, |_| None)
    };
    ($type:ty, $hint:expr) => {
        $crate::input::keys::Kind::Choice(|| <$type>::ALL.map(<$type>::word).to_vec(), $hint)
    };
}

/// The keys of a table, and with `struct` the struct that they are read into as well.
///
/// A key is a line `name: Type = kind;`, with `required`, `or(default)` that is told, or
/// `usual(default)` that is not, after a comma. Its doc comment says what it is for, to people who
/// write the file too. A key that is called otherwise than its field stands in brackets after it.
/// Keys that are no field stand in `beside`. `check` sees each field as an `Option`, before any that
/// is missing ends the reading, and may put another in its place.
macro_rules! keys {
    (@need) => { $crate::input::keys::Need::Optional };
    (@need required) => { $crate::input::keys::Need::Required };
    (@need usual ($default:expr)) => { $crate::input::keys::Need::Optional };
    (@need or ($default:expr)) => {
        $crate::input::keys::Need::Default(|| $crate::input::field::Told::told(&$default))
    };
    (@or $got:expr;) => { $got };
    (@or $got:expr; required) => { $got };
    (@or $got:expr; $way:ident ($default:expr)) => { $got.or_else(|| Some($default)) };
    (@name $field:ident) => { stringify!($field) };
    (@name $field:ident $key:literal) => { $key };
    (@file file) => {
        $crate::input::keys::Key {
            name: "format",
            about: "The format of the file; there is but one so far.",
            kind: $crate::input::keys::Kind::Format,
            need: $crate::input::keys::Need::Required,
        }
    };
    (
        $(#[doc = $about:literal])+
        $vis:vis const $name:ident $(, $ways:expr)?;
        $(
            $(#[doc = $key_about:literal])+
            $field:ident = $kind:expr $(, $need:ident $(($default:expr))?)?;
        )+
    ) => {
        $(#[doc = $about])+
        $vis const $name: $crate::input::keys::Keys = $crate::input::keys::Keys {
            about: concat!($($about),+),
            keys: &[$($crate::input::keys::Key {
                name: stringify!($field),
                about: concat!($($key_about),+),
                kind: $kind,
                need: keys!(@need $($need $(($default))?)?),
            }),+],
            ways: [$(Some($ways),)? None][0],
        };
    };
    (
        $(#[doc = $about:literal])+
        #[derive($($derive:ident),+)]
        pub struct $name:ident $($file:ident)? {
            $(
                $(#[doc = $key_about:literal])+
                $field:ident $(($key:literal))?: $type:ty = $kind:expr
                $(, $need:ident $(($default:expr))?)?;
            )+
        }
        $(beside {
            $(
                $(#[doc = $beside_about:literal])+
                $beside:ident = $beside_kind:expr;
            )+
        })?
        $(check($table:ident, $reading:ident) { $($check:tt)* })?
    ) => {
        $(#[doc = $about])+
        #[derive($($derive),+)]
        pub struct $name {
            $($(#[doc = $key_about])+ pub $field: $type,)+
        }

        impl $name {
            /// Its keys.
            pub const KEYS: $crate::input::keys::Keys = $crate::input::keys::Keys {
                about: concat!($($about),+),
                keys: &[$(keys!(@file $file),)? $($crate::input::keys::Key {
                    name: keys!(@name $field $($key)?),
                    about: concat!($($key_about),+),
                    kind: $kind,
                    need: keys!(@need $($need $(($default))?)?),
                },)+ $($($crate::input::keys::Key {
                    name: stringify!($beside),
                    about: concat!($($beside_about),+),
                    kind: $beside_kind,
                    need: $crate::input::keys::Need::Optional,
                },)+)?],
                ways: None,
            };
        }

        impl $crate::input::got::Field for $name {
            fn of(
                got: &$crate::input::Placed<$crate::input::got::Got>,
                reading: &$crate::input::reading::Reading<'_>,
            ) -> Option<Self> {
                let table = got.value.table()?;
                $(
                    let $field: Option<$type> = keys!(
                        @or table.get(keys!(@name $field $($key)?), reading);
                        $($need $(($default))?)?
                    );
                )+
                $(
                    let ($table, $reading) = (table, reading);
                    $($check)*
                )?
                Some(Self { $($field: $field?),+ })
            }
        }
    };
}

/// The same of what has a shape and stands by centreline and datum edge: its own keys before those of
/// shape and place, and, in `then`, those after.
macro_rules! solid_keys {
    (
        $(#[doc = $about:literal])+
        #[derive($($derive:ident),+)]
        pub struct $name:ident { $($before:tt)* }
        then { $($after:tt)* }
    ) => {
        keys! {
            $(#[doc = $about])+
            #[derive($($derive),+)]
            pub struct $name {
                $($before)*
                /// Name of its shape family, as it is seen from your side.
                shape: Placed<String> = Kind::FilledWord, required;
                /// Values of the shape.
                with: BTreeMap<String, Placed<Value>> = Kind::Values;
                /// Offset from the centreline, to a side of the vehicle.
                centre_offset: Placed<Offset> = Kind::Offset, required;
                /// From the datum edge to the shape's origin, mm.
                from_datum: Placed<f64> = ANY_LENGTH, required;
                $($after)*
            }
        }
    };
}

pub(super) use {choice, choices, keys, solid_keys};
