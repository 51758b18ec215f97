//! Enumerations that are written as words: reading, writing and the fault for a word that is nearly right, in one place.

/// Declares an enumeration whose values are words of the manifest.
macro_rules! words {
    ($(#[$meta:meta])* $name:ident, $kind:literal { $( $(#[doc = $about:literal])+ $variant:ident = $word:literal ),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $( $(#[doc = $about])+ $variant ),+ }

        impl $name {
            /// All values, in order.
            pub const ALL: &'static [$name] = &[ $( $name::$variant ),+ ];

            /// The word of the manifest.
            pub const fn word(self) -> &'static str {
                match self { $( $name::$variant => $word ),+ }
            }
        }

        impl base::keys::Described for $name {
            fn shape() -> base::keys::Shape {
                let words = [ $( base::keys::Word { word: $word, doc: concat!($($about),+).trim_ascii() } ),+ ];
                base::keys::Shape::Words(words.to_vec())
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.word())
            }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::Unread;

            fn from_str(text: &str) -> Result<$name, $crate::Unread> {
                $name::ALL.iter().copied().find(|value| value.word() == text).ok_or_else(|| {
                    $crate::Unread::word($kind, text, $name::ALL.iter().map(|value| value.word()))
                })
            }
        }

        $crate::words::as_text!($name, $kind);
    };
}

/// Reads and writes a type as text by its `FromStr` and `Display`.
macro_rules! as_text {
    ($name:ident, $kind:literal) => {
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
                out.collect_str(self)
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(input: D) -> Result<$name, D::Error> {
                struct Text;
                impl serde::de::Visitor<'_> for Text {
                    type Value = $name;

                    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                        f.write_str(concat!("a ", $kind, " in quotes"))
                    }

                    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<$name, E> {
                        text.parse().map_err(E::custom)
                    }
                }
                input.deserialize_str(Text)
            }
        }
    };
}

pub(crate) use as_text;
pub(crate) use words;
