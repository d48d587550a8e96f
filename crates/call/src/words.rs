//! The words of an enum.

/// Gives an enum its values and their words, as they are on the wire and in a table.
///
/// ```
/// #[derive(Clone, Copy, Debug, PartialEq)]
/// enum Shelter { Room, Glass }
/// guardcell_call::words!(Shelter: Room = "room", Glass = "glass");
///
/// assert_eq!(Shelter::ALL, [Shelter::Room, Shelter::Glass]);
/// assert_eq!(Shelter::Glass.word(), "glass");
/// ```
#[macro_export]
macro_rules! words {
    ($type:ident: $($variant:ident = $word:literal),* $(,)?) => {
        impl $type {
            /// Every value, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];

            /// The word on the wire and in a table.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),* }
            }
        }
    };
}
