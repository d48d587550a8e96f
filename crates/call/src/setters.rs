//! Methods that set one field of a request and hand it back.

/// Declares methods that set a field of a type and return it, so that a request is written as a
/// chain: `name(field: Type)` takes the value, `name(field <- Type)` whatever becomes one (a `&str`
/// for a `String`), and `name(field?: Type)` the value or an `Option` of it, for a caller that may
/// have none.
///
/// ```
/// #[derive(Default)]
/// struct Tray {
///     name: Option<String>,
///     plants: u8,
/// }
///
/// guardcell_call::setters! { Tray {
///     /// The same with a name.
///     with_name(name <- String);
///     /// The same with this many plants.
///     with_plants(plants: u8);
/// } }
///
/// let tray = Tray::default().with_name("seedlings").with_plants(24);
/// assert_eq!((tray.name.as_deref(), tray.plants), (Some("seedlings"), 24));
/// ```
#[macro_export]
macro_rules! setters {
    ($type:ty { $($(#[$doc:meta])* $name:ident($field:ident $($kind:tt)*);)* }) => {
        impl $type {
            $($crate::setters! { @method $(#[$doc])* $name $field $($kind)* })*
        }
    };
    (@method $(#[$doc:meta])* $name:ident $field:ident : $kind:ty) => {
        $(#[$doc])*
        #[must_use]
        pub fn $name(mut self, $field: $kind) -> Self {
            self.$field = ::core::convert::From::from($field);
            self
        }
    };
    (@method $(#[$doc:meta])* $name:ident $field:ident <- $kind:ty) => {
        $(#[$doc])*
        #[must_use]
        pub fn $name(mut self, $field: impl ::core::convert::Into<$kind>) -> Self {
            let value: $kind = $field.into();
            self.$field = ::core::convert::From::from(value);
            self
        }
    };
    (@method $(#[$doc:meta])* $name:ident $field:ident ? : $kind:ty) => {
        $(#[$doc])*
        #[must_use]
        pub fn $name(mut self, $field: impl ::core::convert::Into<Option<$kind>>) -> Self {
            self.$field = $field.into();
            self
        }
    };
}
