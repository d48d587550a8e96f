//! Values without parts, for visitors that look at lists and objects alone.

/// The visits of a visitor without a value to which numbers, texts, booleans and null mean nothing.
macro_rules! skipped_scalars {
    () => {
        skipped_scalars! {
            visit_bool(bool);
            visit_i64(i64);
            visit_u64(u64);
            visit_f64(f64);
            visit_str(&str);
        }

        fn visit_unit<E: serde::de::Error>(self) -> Result<(), E> {
            Ok(())
        }
    };
    ($($method:ident($type:ty);)*) => {$(
        fn $method<E: serde::de::Error>(self, _: $type) -> Result<(), E> {
            Ok(())
        }
    )*};
}

pub(super) use skipped_scalars;
