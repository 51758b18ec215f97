//! Sentences with holes, and what is counted.

/// A sentence in the forms of a language's plurals, in the order of CLDR: zero, one, two, few, many, other, those that whole numbers
/// take in the language. The last serves for all others. `{n}` is the number.
pub type Count = &'static [&'static str];

/// A sentence with its holes filled.
pub fn fill(sentence: &str, holes: &[(&str, &str)]) -> String {
    let mut out = String::with_capacity(sentence.len() + 16);
    let mut rest = sentence;
    while let Some((before, hole)) = rest.split_once('{') {
        let (name, after) = hole.split_once('}').unwrap_or((hole, ""));
        let value = holes.iter().find(|(key, _)| *key == name).map(|(_, value)| *value);
        debug_assert!(value.is_some(), "nothing fills {{{name}}} in “{sentence}”");
        out.push_str(before);
        out.push_str(value.unwrap_or_default());
        rest = after;
    }
    out.push_str(rest);
    out
}

/// Declares the sentences of a document: a struct with a field each, and a list of all for tests.
macro_rules! sentences {
    ($(#[$about:meta])* $name:ident { $($plain:ident),+ $(,)? } counts { $($count:ident),* $(,)? }) => {
        $(#[$about])*
        ///
        /// What a sentence is for, its English says.
        #[allow(missing_docs)]
        #[derive(Debug)]
        pub struct $name {
            $(pub $plain: &'static str,)+
            $(pub $count: $crate::Count,)*
        }

        #[cfg(test)]
        impl $name {
            /// Every sentence by its name, in all forms.
            pub fn all(&self) -> Vec<(&'static str, Vec<&'static str>)> {
                vec![$((stringify!($plain), vec![self.$plain]),)+ $((stringify!($count), self.$count.to_vec()),)*]
            }

            /// What is counted, by its name.
            pub fn counts(&self) -> Vec<(&'static str, $crate::Count)> {
                vec![$((stringify!($count), self.$count),)*]
            }
        }
    };
}

pub(crate) use sentences;
