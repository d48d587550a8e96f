//! Diluting with water that is not empty.
//!
//! A bucket diluted with tap water goes towards the tap's own content, not towards nothing:
//! mixing a share `f` of bucket with `1 − f` of top-up gives `c = f·c_bucket + (1 − f)·c_water`,
//! hence `f = (c_target − c_water)/(c_bucket − c_water)`. This is conservation of mass and needs
//! no source. It holds for feed strength (where the top-up counts as 0) and for any dissolved
//! total. It is not exact for conductivity, which is a little below proportional to concentration;
//! go through [`crate::product::Product`] for a target EC.

use guardcell_error::{Code, Error};
use guardcell_units::quantity::{MassConcentration, Ratio, Volume, in_mg_per_l, mg_per_l};
use guardcell_units::uom::si::{ratio::ratio, volume::liter};

/// The share of the bucket in a mixture of bucket and top-up water, 0 to 1.
///
/// # Errors
/// [`Code::Unreachable`] where the target lies outside what the two can give, with what
/// would help; [`Code::OutOfRange`] for a negative or non-finite concentration.
///
/// ```
/// use guardcell_solution::dilution::bucket_share;
/// use guardcell_units::{quantity::mg_per_l, uom::si::ratio::ratio};
/// // 300 mg/L to 150 mg/L of everything dissolved, with a tap that holds 50 mg/L:
/// let f = bucket_share(mg_per_l(150.0), mg_per_l(300.0), mg_per_l(50.0))?;
/// assert!((f.get::<ratio>() - 0.4).abs() < 1e-12);
/// # Ok::<(), guardcell_solution::Error>(())
/// ```
pub fn bucket_share(
    target: MassConcentration,
    bucket: MassConcentration,
    top_up: MassConcentration,
) -> Result<Ratio, Error> {
    share(in_mg_per_l(target), in_mg_per_l(bucket), in_mg_per_l(top_up)).map(Ratio::new::<ratio>)
}

/// A fill of a mister: what to pour in, and what is then in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fill {
    /// From the bucket.
    pub from_bucket: Volume,
    /// Top-up water.
    pub top_up: Volume,
    /// What to pour away first, where too much is left over to reach the target.
    pub pour_out: Volume,
    /// The concentration that results.
    pub concentration: MassConcentration,
}

/// Fills an empty mister to `volume` at `target` from a bucket and top-up water.
///
/// # Errors
/// As [`bucket_share`].
///
/// ```
/// use guardcell_solution::dilution::fill;
/// use guardcell_units::quantity::{Volume, mg_per_l};
/// use guardcell_units::uom::si::volume::milliliter;
/// let f = fill(
///     Volume::new::<milliliter>(800.0),
///     mg_per_l(150.0),
///     mg_per_l(300.0),
///     mg_per_l(0.0),
/// )?;
/// assert!((f.from_bucket.get::<milliliter>() - 400.0).abs() < 1e-9);
/// # Ok::<(), guardcell_solution::Error>(())
/// ```
pub fn fill(
    volume: Volume,
    target: MassConcentration,
    bucket: MassConcentration,
    top_up: MassConcentration,
) -> Result<Fill, Error> {
    let empty = Contents { volume: Volume::new::<liter>(0.0), concentration: mg_per_l(0.0) };
    step_down(empty, volume, target, bucket, top_up)
}

/// What is left in a mister.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contents {
    /// How much.
    pub volume: Volume,
    /// How concentrated.
    pub concentration: MassConcentration,
}

/// Brings a mister that still holds something to `volume` at `target`, with as little from the
/// bucket as possible: left-over first, then bucket and top-up water.
///
/// # Errors
/// As [`bucket_share`]; [`Code::OutOfRange`] where the left-over is more than the volume.
///
/// ```
/// use guardcell_solution::dilution::{Contents, step_down};
/// use guardcell_units::quantity::{Volume, mg_per_l};
/// use guardcell_units::uom::si::volume::milliliter;
/// // 250 mL at 300 mg/L left; the next fill is 500 mL at 150 mg/L: only water is needed.
/// let left = Contents {
///     volume: Volume::new::<milliliter>(250.0),
///     concentration: mg_per_l(300.0),
/// };
/// let f = step_down(
///     left,
///     Volume::new::<milliliter>(500.0),
///     mg_per_l(150.0),
///     mg_per_l(300.0),
///     mg_per_l(0.0),
/// )?;
/// assert!(f.from_bucket.get::<milliliter>().abs() < 1e-9);
/// assert!((f.top_up.get::<milliliter>() - 250.0).abs() < 1e-9);
/// # Ok::<(), guardcell_solution::Error>(())
/// ```
pub fn step_down(
    left: Contents,
    volume: Volume,
    target: MassConcentration,
    bucket: MassConcentration,
    top_up: MassConcentration,
) -> Result<Fill, Error> {
    let (v, v0) = (volume.get::<liter>(), left.volume.get::<liter>());
    let (t, b, w) = (in_mg_per_l(target), in_mg_per_l(bucket), in_mg_per_l(top_up));
    let c0 = in_mg_per_l(left.concentration);
    if !(v.is_finite() && v > 0.0) {
        return Err(Error::new(
            Code::OutOfRange,
            format!("the volume to fill is {v} L"),
            "give a volume above 0",
        ));
    }
    if !(v0.is_finite() && (0.0..=v * (1.0 + 1e-9)).contains(&v0)) {
        return Err(Error::new(
            Code::OutOfRange,
            format!("{v0} L are left, the fill is {v} L"),
            "fill to at least what is left, or pour some out",
        ));
    }
    if !(c0.is_finite() && c0 >= 0.0) {
        return Err(Error::new(
            Code::OutOfRange,
            format!("the left-over has {c0} mg/L"),
            "give a number of at least 0",
        ));
    }
    share(t, b, w)?;
    // Masses above the top-up's own content, which every litre has anyway.
    let need = v * (t - w);
    let have = v0 * (c0 - w);
    let tolerance = 1e-12 * (v * (t.abs() + b.abs() + w.abs())).max(1e-12);
    let (kept, x) = if (b - w).abs() < f64::EPSILON * (b.abs() + w.abs()) {
        (if (c0 - w).abs() < 1e-12 { v0 } else { 0.0 }, 0.0)
    } else {
        let x = (need - have) / (b - w);
        if x < -tolerance {
            // Too strong a left-over for this volume: keep only as much as the target holds.
            (need / (c0 - w), 0.0)
        } else if v0 + x > v * (1.0 + 1e-12) {
            // Too weak a left-over to reach the target even with pure bucket: keep the part k
            // with k(c0 − w) + (v − k)(b − w) = need.
            let k = (need - v * (b - w)) / (c0 - b);
            (k.clamp(0.0, v0), (v - k).max(0.0))
        } else {
            (v0, x.max(0.0))
        }
    };
    let water = (v - kept - x).max(0.0);
    let liters = |n: f64| Volume::new::<liter>(n);
    Ok(Fill {
        from_bucket: liters(x),
        top_up: liters(water),
        pour_out: liters((v0 - kept).max(0.0)),
        concentration: mg_per_l((kept * c0 + x * b + water * w) / v),
    })
}

fn share(target: f64, bucket: f64, water: f64) -> Result<f64, Error> {
    for (what, c) in [("target", target), ("bucket", bucket), ("top-up", water)] {
        if !(c.is_finite() && c >= 0.0) {
            return Err(Error::new(
                Code::OutOfRange,
                format!("the {what} concentration is {c} mg/L"),
                "give a number of at least 0",
            ));
        }
    }
    let (low, high) = (bucket.min(water), bucket.max(water));
    let slack = 1e-9 * high.max(1e-9);
    if target > high + slack {
        return Err(Error::new(
            Code::Unreachable,
            format!(
                "{target} mg/L cannot come from {bucket} mg/L in the bucket and {water} mg/L in the top-up water"
            ),
            format!("mix a bucket of at least {target} mg/L"),
        ));
    }
    if target < low - slack {
        return Err(Error::new(
            Code::Unreachable,
            format!(
                "{target} mg/L is below the top-up water's own {water} mg/L: dilution goes towards the water, not to nothing"
            ),
            "top up with rain or reverse-osmosis water, or take a higher target",
        ));
    }
    if high - low <= slack {
        return Ok(1.0);
    }
    Ok(((target - water) / (bucket - water)).clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell_units::uom::si::volume::milliliter;
    use proptest::prelude::*;

    fn ml(v: f64) -> Volume {
        Volume::new::<milliliter>(v)
    }

    #[test]
    fn below_the_tap_is_impossible() {
        let e = bucket_share(mg_per_l(100.0), mg_per_l(900.0), mg_per_l(300.0)).unwrap_err();
        assert!(e.to_string().contains("rain"));
        let e = bucket_share(mg_per_l(1000.0), mg_per_l(900.0), mg_per_l(300.0)).unwrap_err();
        assert!(e.to_string().contains("at least 1000"));
    }

    #[test]
    fn too_strong_a_left_over_is_poured_out() {
        let left = Contents { volume: ml(400.0), concentration: mg_per_l(300.0) };
        let f =
            step_down(left, ml(500.0), mg_per_l(150.0), mg_per_l(300.0), mg_per_l(0.0)).unwrap();
        assert!((f.pour_out.get::<milliliter>() - 150.0).abs() < 1e-9);
        assert!((in_mg_per_l(f.concentration) - 150.0).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn mass_and_volume_balance(
            v in 10.0..2000.0f64, left in 0.0..1.0f64, c0 in 0.0..800.0f64,
            t in 0.0..1.0f64, b in 50.0..800.0f64, w in 0.0..49.0f64,
        ) {
            let target = w + t * (b - w);
            let contents = Contents { volume: ml(v * left), concentration: mg_per_l(c0.max(w)) };
            let f = step_down(contents, ml(v), mg_per_l(target), mg_per_l(b), mg_per_l(w)).unwrap();
            let kept = v * left - f.pour_out.get::<milliliter>();
            let total = kept + f.from_bucket.get::<milliliter>() + f.top_up.get::<milliliter>();
            prop_assert!((total - v).abs() < 1e-6 * v);
            prop_assert!((in_mg_per_l(f.concentration) - target).abs() < 1e-6 * b);
        }

        #[test]
        fn more_water_never_strengthens(t1 in 0.0..1.0f64, t2 in 0.0..1.0f64, b in 50.0..800.0f64, w in 0.0..49.0f64) {
            let share_at = |t: f64| bucket_share(mg_per_l(w + t * (b - w)), mg_per_l(b), mg_per_l(w)).unwrap();
            prop_assert!((t1 <= t2) == (share_at(t1) <= share_at(t2)) || (t1 - t2).abs() < 1e-12);
        }
    }
}
